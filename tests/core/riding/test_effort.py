"""Air, road power, speed at a power and steepest grade, against published figures and SciPy."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from pydantic import ValidationError

from cogwright.core.riding.air import density, warmer_than_standard
from cogwright.core.riding.drive import efficiency_of
from cogwright.core.riding.efforts import least_cadence, short
from cogwright.core.riding.grades import ride_of
from cogwright.core.riding.resistance import (
    B0,
    B1,
    Resistance,
    coasting_speed,
    resistance_of,
    road_force,
    road_power,
    speed_at_cadence,
    speed_at_power,
    steepest_grade,
)
from cogwright.core.riding.rider_fields import RIDER_FIELDS
from cogwright.core.setup.model import Rider, Setup
from cogwright.core.study import study
from scipys import brentq
from support import make

RESISTANCES = st.builds(
    Resistance,
    mass_kg=st.floats(25, 400),
    crr=st.floats(0.0005, 0.1),
    cda_m2=st.floats(0.05, 2.0),
    air=st.floats(0.6, 1.3),
    efficiency=st.floats(0.5, 1.0),
    headwind=st.just(0.0) | st.floats(-20.0, 20.0),
)


@pytest.mark.parametrize(("km", "share"), [(1, 0.9075), (2, 0.8217), (3, 0.7423), (4, 0.6689)])
def test_air_thins_with_height_as_the_standard_atmosphere_says(km: int, share: float) -> None:
    """Published ratios of the standard atmosphere (grade A), printed to four places."""
    assert density(km * 1000.0) / 1.2250 == pytest.approx(share, abs=1e-4)


def test_sea_level_density_is_the_standard_one() -> None:
    """ISO 2533: 1.2250 kg/m^3 (grade A)."""
    assert density(0.0) == pytest.approx(1.2250)


def test_martin_worked_example() -> None:
    """Martin et al. 1998, worked example (grade A): 213 W, by its steady part plus the speeding up.

    The wheel radius that turns I into mass is not among the recorded values; 0.311 m is recalled from the
    paper (grade B), and 10 % more or less of it moves the result by 0.02 W only.
    """
    speed = 471.8 / 56.42
    headwind = 2.94 * math.cos(math.radians(340 - 310))
    of = Resistance(90.0, 0.0032, 0.2565 + 0.0044, 1.2234, 0.976, headwind)
    gained = 0.5 * (90.0 + 0.14 / 0.311**2) * (8.45**2 - 8.28**2) / 56.42
    assert road_power(speed, 0.003, of) + gained / 0.976 == pytest.approx(213.0, abs=0.5)


def test_climb_at_five_percent_from_a_handbook() -> None:
    """200 lb up 5 % (tangent) at 15 mph without drag: 0.4 hp (grade A), printed to one place."""
    of = Resistance(200 * 0.45359237, 0.0, 1e-12, 1.225, 1.0)
    watts = road_force(0.05, of) * 15 * 0.44704
    assert watts / 745.7 == pytest.approx(0.4, abs=0.005)


@pytest.mark.parametrize(
    ("rpm", "development", "power", "of", "grade"),
    [
        (60, 34 / 34 * 2.136, 250, Resistance(85, 0.005, 0.40, 1.225, 0.976), 13.187),
        (70, 32 / 51 * 2.29, 200, Resistance(95, 0.006, 0.45, 1.1117, 0.97), 11.833),
    ],
)
def test_steepest_grade_without_bearings(
    monkeypatch: pytest.MonkeyPatch,
    rpm: float,
    development: float,
    power: float,
    of: Resistance,
    grade: float,
) -> None:
    """Two cases that were computed elsewhere in closed form and by SciPy's brentq, both without bearings."""
    monkeypatch.setattr("cogwright.core.riding.resistance.B0", 0.0)
    monkeypatch.setattr("cogwright.core.riding.resistance.B1", 0.0)
    found = steepest_grade(speed_at_cadence(development, rpm), power, of)
    assert 100 * found == pytest.approx(grade, abs=5e-4)


@given(RESISTANCES, st.floats(20, 2000), st.floats(0.5, 25))
def test_steepest_grade_is_where_scipy_finds_the_power(of: Resistance, power: float, speed: float) -> None:
    """Brent's method on the force balance written with sine and cosine, as printed in the paper."""

    def missing(slope: float) -> float:
        lift = of.mass_kg * 9.80665 * (math.sin(slope) + of.crr * math.cos(slope))
        drag = 0.5 * of.air * of.cda_m2 * (speed + of.headwind) * abs(speed + of.headwind)
        return speed * (lift + drag) + speed * (91 + 8.7 * speed) / 1000 - power * of.efficiency

    low, high = -math.pi / 4, math.pi / 4
    found = steepest_grade(speed, power, of)
    if missing(low) > 0:
        assert found == -1.0
    elif missing(high) < 0:
        assert found == 1.0
    else:
        assert found == pytest.approx(math.tan(brentq(missing, low, high, xtol=1e-14)), abs=1e-8)


@given(RESISTANCES, st.floats(20, 2000), st.floats(-0.6, 0.6))
def test_speed_at_power_is_where_scipy_finds_it(of: Resistance, power: float, grade: float) -> None:
    """Brent's method on the printed equation, bracketed far beyond any speed on wheels."""

    def missing(speed: float) -> float:
        lift = of.mass_kg * 9.80665 * (math.sin(math.atan(grade)) + of.crr * math.cos(math.atan(grade)))
        drag = 0.5 * of.air * of.cda_m2 * (speed + of.headwind) * abs(speed + of.headwind)
        return speed * (lift + drag) + speed * (91 + 8.7 * speed) / 1000 - power * of.efficiency

    expected = brentq(missing, 1e-9, 1e4, xtol=1e-13, rtol=1e-14)
    assert speed_at_power(power, grade, of) == pytest.approx(expected, rel=1e-9)


@given(RESISTANCES, st.floats(-0.6, 0.6))
def test_coasting_takes_no_power(of: Resistance, grade: float) -> None:
    """At the coasting speed the road asks for nothing; where it is zero, the road would have to fall more."""
    speed = coasting_speed(grade, of)
    if speed > 0:
        assert road_power(speed, grade, of) == pytest.approx(0.0, abs=1e-6 * of.weight * speed)
    else:
        assert grade >= -of.crr - 0.001 or of.headwind > 0


@given(RESISTANCES, st.floats(20, 1000), st.floats(1.0, 20.0))
def test_steepest_grade_and_speed_at_power_are_inverse(of: Resistance, power: float, speed: float) -> None:
    """On the steepest grade that a power holds at a speed, that power gives that speed."""
    grade = steepest_grade(speed, power, of)
    if abs(grade) < 1.0:
        assert speed_at_power(power, grade, of) == pytest.approx(speed, rel=1e-6)


def test_a_wind_from_behind_carries_and_one_in_front_holds_up() -> None:
    """In a wind of the rider's own speed from behind the air asks for nothing; head-on for both squared."""
    still, behind, ahead = (Resistance(86.0, 0.006, 0.4, 1.225, 1.0, wind) for wind in (0.0, -8.0, 8.0))
    rest = 8.0 * (86.0 * 9.80665 * 0.006 + B0 + B1 * 8.0)
    assert road_power(8.0, 0.0, behind) == pytest.approx(rest)
    assert road_power(8.0, 0.0, still) == pytest.approx(rest + 0.5 * 1.225 * 0.4 * 8.0**3)
    assert road_power(8.0, 0.0, ahead) == pytest.approx(rest + 0.5 * 1.225 * 0.4 * 16.0**2 * 8.0)


@pytest.mark.parametrize(("celsius", "share"), [(15.0, 1.0), (0.0, 288.15 / 273.15), (35.0, 288.15 / 308.15)])
def test_warm_air_is_thinner(celsius: float, share: float) -> None:
    """At the same pressure density goes with 1 / T (gas law); the standard atmosphere has 15 degrees C."""
    assert density(0.0, warmer_than_standard(celsius, 0.0)) == pytest.approx(1.225 * share)


def test_the_standard_day_is_the_standard_day_at_any_height() -> None:
    """ISO 2533: 6.5 K less a km, so 2.0 degrees C at 2,000 m leaves the density as it is there."""
    warmer = warmer_than_standard(2.0, 2000.0)
    assert abs(warmer) < 0.01
    assert density(2000.0, warmer) == pytest.approx(1.225 * 0.8217, rel=1e-4)


def bike(**tables: object) -> Setup:
    return make((42,), (19,), **tables)


def test_mass_tyres_and_drive_are_the_bikes_own_and_the_rest_the_riders() -> None:
    """A bike ridden by another's rider keeps its own kg, load, rolling and drive."""
    other = bike(
        rider={"bike_kg": 20.0, "load_kg": 5.0, "crr": 0.01, "chain_efficiency": 0.9, "mass_kg": 60.0}
    )
    by = bike(rider={"mass_kg": 80.0, "bike_kg": 9.0, "cda_m2": 0.3, "headwind_kmh": 36.0}).rider
    of = resistance_of(other, by)
    assert of == Resistance(105.0, 0.01, 0.3, 1.225, 0.9, 10.0)


def test_a_hub_gear_passes_on_less_than_a_chain_alone_unless_the_file_says_otherwise() -> None:
    """97.6 % on a clean chain (Martin et al. 1998); 95 % with a hub gear is common practice (P)."""
    hub = {"hub_ratios": [0.733, 1.0, 1.364]}
    assert efficiency_of(bike()) == 0.976
    assert efficiency_of(bike(rear=hub)) == 0.95
    assert efficiency_of(bike(rear=hub, rider={"chain_efficiency": 0.93})) == 0.93
    assert resistance_of(bike(rear=hub)).efficiency == 0.95


def test_belts_differ_from_chains_and_hub_gears_from_neither_alike() -> None:
    """96.5 and 94 % are common practice (P): a little under a chain, with and without a hub gear."""
    hub, belt = {"hub_ratios": [0.733, 1.0, 1.364]}, {"pitch_mm": 11.0, "teeth": 118}
    found = [efficiency_of(bike(belt=belt)), efficiency_of(bike(rear=hub, belt=belt))]
    assert found == [0.965, 0.94]
    assert efficiency_of(bike()) > found[0]
    assert efficiency_of(bike(rear=hub)) > found[1]


def test_two_efforts() -> None:
    """By hand: 1.4 * 190 = 266 W at 50 rpm, on 34/28 * 2.1 m = 2.55 m a turn, so at 2.125 m/s.

    266 * 0.976 / 2.125 = 122.2 N, less 0.5 * 1.225 * 0.4 * 2.125^2 = 1.1 N and bearings of 0.11 N leaves
    121.0 N on 86 * 9.80665 = 843.4 N: sin(theta + atan 0.006) = 0.1434, so 13.87 %. All day 190 W at 60 rpm,
    2.55 m/s: 72.7 - 1.6 - 0.1 = 71.0 N, 0.0842, so 7.84 %.
    """
    ride = ride_of(study(make((34,), (28,), rollout_mm=2100)))
    assert ride.steepest_pct == pytest.approx(7.84, abs=0.02)
    assert ride.steepest_short_pct == pytest.approx(13.87, abs=0.02)


def test_the_short_effort_can_be_given() -> None:
    given = Rider(short_power_w=300.0, short_cadence_rpm=45.0, short_s=120.0)
    assert short(given) == (300.0, 45.0, 120.0)
    assert short(Rider(cadence_rpm=(45.0, 70.0, 95.0))).rpm == 45.0
    assert least_cadence(Rider(cadence_rpm=(35.0, 70.0, 95.0))) == 35.0
    assert least_cadence(Rider()) == 40.0, "P: common practice, and the sitting cadence is 60"


@pytest.mark.parametrize(
    ("wrong", "said"),
    [
        ({"short_power_w": 150.0}, "less power"),
        ({"least_cadence_rpm": 61.0}, "least cadence"),
        ({"cadence_rpm": (60.0, 60.0, 90.0)}, "do not rise"),
    ],
)
def test_efforts_that_contradict_each_other_are_refused(wrong: dict[str, object], said: str) -> None:
    with pytest.raises(ValidationError, match=said):
        Rider(**wrong)  # type: ignore[arg-type]


def test_a_step_of_a_riders_number_is_what_a_hand_would_turn() -> None:
    """P: one rpm, one kilogram of the rider and half a one of the bike, five watts."""
    setup = make((34,), (28,))
    steps = {"preferred cadence": 1.0, "high cadence": 1.0, "rider": 1.0, "bike": 0.5, "sustained power": 5.0}
    fields = {field.label: field for field in RIDER_FIELDS}
    for label, step in steps.items():
        moved = fields[label].nudge(setup, up=True).apply(setup)
        assert fields[label].value(moved) - fields[label].value(setup) == pytest.approx(step), label
