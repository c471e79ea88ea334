"""Air, road power, speed at a power and steepest grade, against published figures and SciPy."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import brentq

from cogwright.core.riding.air import density
from cogwright.core.riding.resistance import (
    Resistance,
    coasting_speed,
    road_force,
    road_power,
    speed_at_cadence,
    speed_at_power,
    steepest_grade,
)

RESISTANCES = st.builds(
    Resistance,
    mass_kg=st.floats(25, 400),
    crr=st.floats(0.0005, 0.1),
    cda_m2=st.floats(0.05, 2.0),
    air=st.floats(0.6, 1.3),
    efficiency=st.floats(0.5, 1.0),
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
    of = Resistance(90.0, 0.0032, 0.2565 + 0.0044, 1.2234, 0.976)
    gained = 0.5 * (90.0 + 0.14 / 0.311**2) * (8.45**2 - 8.28**2) / 56.42
    assert road_power(speed, 0.003, of, headwind) + gained / 0.976 == pytest.approx(213.0, abs=0.5)


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
        drag = 0.5 * of.air * of.cda_m2 * speed**2
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
        drag = 0.5 * of.air * of.cda_m2 * speed**2
        return speed * (lift + drag) + speed * (91 + 8.7 * speed) / 1000 - power * of.efficiency

    expected = brentq(missing, 1e-3, 1e4, xtol=1e-12, rtol=1e-14)
    # From zero: where a descent alone is faster, the root beyond it is the only one (see the docstring).
    assert speed_at_power(power, grade, of) == pytest.approx(expected, rel=1e-9)


@given(RESISTANCES, st.floats(-0.6, 0.6))
def test_coasting_takes_no_power(of: Resistance, grade: float) -> None:
    """At the coasting speed the road asks for nothing; where it is zero, the road would have to fall more."""
    speed = coasting_speed(grade, of)
    if speed > 0:
        assert road_power(speed, grade, of) == pytest.approx(0.0, abs=1e-6 * of.weight * speed)
    else:
        assert grade >= -of.crr - 0.001


@given(RESISTANCES, st.floats(20, 1000), st.floats(1.0, 20.0))
def test_steepest_grade_and_speed_at_power_are_inverse(of: Resistance, power: float, speed: float) -> None:
    """On the steepest grade that a power holds at a speed, that power gives that speed."""
    grade = steepest_grade(speed, power, of)
    if abs(grade) < 1.0:
        assert speed_at_power(power, grade, of) == pytest.approx(speed, rel=1e-6)
