"""A bench on a course: energy, times, gears, grinding and spinning, against SciPy and plain arithmetic."""

import math
import random
from itertools import groupby

import numpy as np
import pytest

from cogwright.core.gears.gears import gears_of
from cogwright.core.riding.course import Course, Piece, from_pieces, from_points
from cogwright.core.riding.course_ride import on_course
from cogwright.core.riding.gear_choice import GearChooser, Leg, ridden
from cogwright.core.riding.grades import ride_of
from cogwright.core.setup.model import Crank, Rear, Rider, Setup, Wheel
from cogwright.core.study import study
from scipys import brentq, solve_ivp

#: Of a clean chain (Martin et al. 1998).
WHEEL, EFFICIENCY = 2.1, 0.976


def bike(rings: tuple[int, ...], cogs: tuple[int, ...], **rider: object) -> Setup:
    """A setup on a wheel of 2.1 m."""
    return Setup(
        name="Yard 7",
        wheel=Wheel(rollout_mm=2100),
        crank=Crank(rings=rings),
        rear=Rear(cogs=cogs),
        rider=Rider(**rider),  # type: ignore[arg-type]
    )


TOURER = bike((30, 46), (11, 13, 15, 17, 19, 21, 23, 25, 28, 31, 34))


def printed_power(speed: float, grade: float, rider: Rider, air: float) -> float:
    """Martin's equation as it is printed, at the pedals; written anew for these tests."""
    mass = rider.mass_kg + rider.bike_kg + rider.load_kg
    slope = math.atan(grade)
    lift = mass * 9.80665 * (math.sin(slope) + rider.crr * math.cos(slope))
    drag = 0.5 * air * rider.cda_m2 * speed**2
    return (speed * (lift + drag) + speed * (91 + 8.7 * speed) / 1000) / EFFICIENCY


def rolling_course(length: float = 20_000.0, step: float = 20.0) -> Course:
    """Smooth hills that no gear of the tourer spins out on."""
    xs = np.arange(0.0, length + step, step)
    return from_points("hills", [(float(x), 300 + 40 * math.sin(x / 1500)) for x in xs])


def test_steady_speed_is_where_a_real_start_ends_up() -> None:
    """Newton's law integrated by solve_ivp from a standing start up 4 % comes to the steady speed."""
    rider = TOURER.rider
    mass = rider.mass_kg + rider.bike_kg + rider.load_kg

    def accelerate(_t: float, v: list[float]) -> list[float]:
        ask = printed_power(v[0], 0.04, rider, 1.225)
        return [(rider.power_w - ask) * EFFICIENCY / (v[0] * mass)]

    ended = solve_ivp(accelerate, (0.0, 300.0), [0.5], rtol=1e-9).y[0][-1]
    [speed] = on_course(study(TOURER), from_pieces("ramp", [Piece(500.0, 0.04)], -10.0)).bench.speeds
    assert speed == pytest.approx(ended, rel=1e-5)


def test_spinning_out_holds_the_speed() -> None:
    """A single speed of 42x16 on a long fall is held at 105 rpm: 5.5125 m a turn, 9.65 m/s."""
    setup = bike((42,), (16,), hold_descents=True)
    ride = on_course(study(setup), from_pieces("fall", [Piece(2000.0, -0.06)])).bench
    assert ride.total_s == pytest.approx(2000 / (42 / 16 * WHEEL * 105 / 60))
    assert ride.spinning_s == ride.total_s
    assert ride.grinding_s == 0.0
    [stretch] = ride.spinning
    assert (stretch.start_m, stretch.end_m, stretch.rpm) == (0.0, 2000.0, pytest.approx(105.0))


def test_letting_it_roll_would_save_what_coasting_takes_less() -> None:
    """The coasting speed solves drag = fall: found by Brent's method on the printed equation."""
    setup = bike((42,), (16,), hold_descents=True)
    rolls = min(50 / 3.6, brentq(lambda v: printed_power(v, -0.06, setup.rider, 1.225), 1.0, 60.0))
    ride = on_course(study(setup), from_pieces("fall", [Piece(2000.0, -0.06)], 60.0)).bench
    assert ride.coast_saves_s == pytest.approx(ride.total_s - 2000 / rolls, rel=0.01)


def test_grinding_where_the_easiest_gear_is_below_the_cadence() -> None:
    """1 km at 3 %, 1 km at 12 %, 1 km at 3 %: only the middle grinds in 34x28, with cadence below 60."""
    setup = bike((34, 50), (11, 13, 15, 17, 19, 21, 23, 25, 28))
    course = from_pieces("wall", [Piece(1000.0, 0.03), Piece(1000.0, 0.12), Piece(1000.0, 0.03)])
    ride = on_course(study(setup), course).bench
    speed = brentq(lambda v: printed_power(v, 0.12, setup.rider, 1.225) - 190, 0.1, 60.0)
    [stretch] = ride.grinding
    assert (stretch.start_m, stretch.end_m) == (pytest.approx(1000.0, abs=30), pytest.approx(2000.0, abs=5))
    assert stretch.seconds == pytest.approx(ride.grinding_s)
    assert stretch.seconds == pytest.approx(1000 / speed, rel=3e-2)
    assert stretch.rpm == pytest.approx(60 * speed / (34 / 28 * WHEEL), rel=1e-2)
    assert stretch.steepest == 0.12
    assert ride.gear_at[1].label == "34x28"


def test_grinding_begins_just_past_the_steepest_grade_that_the_ride_names() -> None:
    """The per-gear figure and the course agree on where grinding begins."""
    low = ride_of(study(TOURER)).steepest_pct / 100
    for grade, grinds in ((low - 1e-4, False), (low + 1e-4, True)):
        ride = on_course(study(TOURER), from_pieces("edge", [Piece(500.0, grade)])).bench
        assert (ride.grinding_s > 0) is grinds


def test_each_long_piece_is_ridden_in_the_gear_nearest_to_happy() -> None:
    """One ring: on every long piece no other gear's cadence is nearer to 85 rpm (brute force)."""
    setup = bike((40,), (11, 13, 15, 17, 19, 21, 24, 28, 32, 36, 42))
    rng = random.Random(3)
    course = from_pieces("steps", [Piece(800.0, rng.uniform(-0.03, 0.09)) for _ in range(40)])
    ride = on_course(study(setup), course).bench
    for speed, gear in zip(ride.speeds, ride.gear_at, strict=True):
        off = {g: abs(60 * speed / g.development_m - 85) for g in ride.gears}
        assert off[gear] == pytest.approx(min(off.values()))


def test_a_gear_is_not_changed_for_a_few_metres() -> None:
    """A 20 m bump between long flats is ridden over; 200 m of it are not."""
    setup = bike((40,), (11, 13, 15, 17, 19, 21, 24, 28, 32, 36, 42))
    for bump, changes in ((20.0, 0), (200.0, 2)):
        course = from_pieces("bump", [Piece(1000.0, 0.02), Piece(bump, 0.035), Piece(1000.0, 0.02)])
        assert len(on_course(study(setup), course).bench.shifts) == changes


def legs_of(setup: Setup, *pieces: tuple[float, float]) -> list[Leg]:
    """Pieces of (length, grade) each ridden at its steady speed, by Brent's method."""
    speeds = [
        brentq(lambda v, g=g: printed_power(v, g, setup.rider, 1.225) - 190, 0.1, 60.0) for _, g in pieces
    ]
    return [Leg(m, v, m / v) for (m, _), v in zip(pieces, speeds, strict=True)]


@pytest.mark.parametrize(
    ("grade", "bump", "length", "changes"),
    [
        (0.0, 0.015, 50.0, 0),  # over 30 m, but under 10 s
        (0.0, 0.015, 90.0, 2),
        (0.06, 0.09, 28.0, 0),  # over 10 s, but under 30 m
        (0.06, 0.09, 60.0, 2),
    ],
)
def test_a_change_must_last_both_long_enough_and_far_enough(
    grade: float, bump: float, length: float, changes: int
) -> None:
    """Our own rule: 30 m and 10 s."""
    setup = bike((30,), (11, 13, 15, 17, 19, 21, 24, 28, 32, 36, 42))
    legs = legs_of(setup, (1000.0, grade), (length, bump), (1000.0, grade))
    assert (length > 30.0 and legs[1].seconds > 10.0) is bool(changes)
    gears = ridden(GearChooser(gears_of(setup), setup, setup.rider), legs)
    assert len(list(groupby(gears))) - 1 == changes


def test_the_front_is_left_alone_while_the_ring_serves() -> None:
    """On gentle waves a double stays on its ring, where the nearest gear of all would change it often."""
    course = from_points("waves", [(20.0 * i, 3 * math.sin(i / 20)) for i in range(500)])
    setup = bike((39, 53), (12, 13, 14, 15, 16, 17, 19, 21, 23, 25))
    ride = on_course(study(setup), course).bench
    nearest = [min(ride.gears, key=lambda g: abs(60 * v / g.development_m - 85)).ring for v in ride.speeds]
    assert len(list(groupby(nearest))) > 10
    assert ride.rear_shifts > 10
    assert ride.front_shifts <= 2


def test_the_front_stays_up_to_half_a_jump_from_the_happy_cadence() -> None:
    """A step of 15 % is left at its middle, sqrt(1.15) - 1 = 7.24 % from 85 rpm; 34x16 is nearer there."""
    setup = bike((34, 50), (16, 25))
    gears = gears_of(setup)
    chooser, names = GearChooser(gears, setup, setup.rider), [gear.label for gear in gears]
    at, happy = names.index("50x25"), setup.rider.cadence_rpm[1]
    for off, chosen in ((7.2, "50x25"), (7.27, "34x16")):
        speed = gears[at].development_m * happy * (1.0 + off / 100.0) / 60.0
        assert names[chooser.choose(speed, at)] == chosen


def test_sums_agree() -> None:
    """Times in gears, of pieces and in all are one sum; shifts are the changes between pieces' gears."""
    ride = on_course(study(TOURER), rolling_course()).bench
    assert math.fsum(s for _, s in ride.time_in_gear) == pytest.approx(ride.total_s)
    changes = len(list(groupby(ride.gear_at))) - 1
    assert len(ride.shifts) == changes > 0
    assert max(ride.front_shifts, ride.rear_shifts) <= changes <= ride.front_shifts + ride.rear_shifts


def test_the_baseline_rides_under_the_same_rider_and_differs_only_where_it_spins() -> None:
    """Gears cost time only where they spin out: down 4 % the smaller top gear does."""
    short = bike((34,), (13, 15, 17, 19, 21, 24, 28))
    strong = bike((30, 46), (11, 13, 15, 17, 19, 21, 24, 28, 34), power_w=400.0)
    both = on_course(study(short, strong), from_pieces("x", [Piece(1000.0, 0.08), Piece(1000.0, -0.04)]))
    assert both.baseline is not None
    assert both.bench.seconds[0] == both.baseline.seconds[0]
    assert both.gap_s == pytest.approx(both.bench.seconds[1] - both.baseline.seconds[1])
    assert both.gap_s is not None
    assert 0.0 < both.gap_s < 0.2 * both.bench.seconds[1]


def test_the_baseline_keeps_its_own_mass_load_tyres_and_drive() -> None:
    """The same gears on a bike 20 kg heavier climb slower: on 8 % nearly by the share of the masses."""
    light = bike((30,), (11, 15, 21, 30, 42))
    heavy = bike((30,), (11, 15, 21, 30, 42), load_kg=20.0, mass_kg=60.0)
    hill = from_pieces("hill", [Piece(3000.0, 0.08)], 0.0)
    both = on_course(study(light, heavy), hill)
    assert both.baseline is not None
    assert both.baseline.total_s / both.bench.total_s == pytest.approx(106 / 86, rel=0.02)
    alone = on_course(study(heavy.model_copy(update={"rider": Rider(load_kg=20.0)})), hill).bench
    assert both.baseline.total_s == alone.total_s


def test_a_hub_gear_is_slower_than_a_derailleur_of_the_same_gears() -> None:
    """Uphill nearly by the share of 95 in 97.6 % that reaches the wheel."""
    chain = bike((30,), (15, 20, 30))
    hub = chain.model_copy(update={"rear": Rear(cogs=(20,), hub_ratios=(4 / 3, 1.0, 2 / 3))})
    assert [g.development_m for g in gears_of(hub)] == pytest.approx(
        [g.development_m for g in gears_of(chain)]
    )
    both = on_course(study(hub, chain), from_pieces("hill", [Piece(3000.0, 0.05)], 0.0))
    assert both.baseline is not None
    assert both.bench.total_s / both.baseline.total_s == pytest.approx(0.976 / 0.95, rel=0.005)


def test_air_is_thinner_on_a_high_road() -> None:
    """The same flat road at 2,500 m is faster; without rolling it would be by the densities' cube root."""
    low = on_course(study(TOURER), from_pieces("low", [Piece(5000.0, 0.0)], 0.0)).bench.speeds[0]
    high = on_course(study(TOURER), from_pieces("high", [Piece(5000.0, 0.0)], 2500.0)).bench.speeds[0]
    assert 1.0 < high / low < (1 / 0.7812) ** (1 / 3)


def test_a_course_without_heights_takes_the_riders_height() -> None:
    """The rider's height stands in for the start's, so the air is that of the place."""
    course = from_pieces("flat", [Piece(5000.0, 0.0)])
    there = on_course(study(bike((40,), (14,), height_m=2500.0)), course).bench.speeds[0]
    named = on_course(study(bike((40,), (14,))), from_pieces("flat", [Piece(5000.0, 0.0)], 2500.0))
    assert there == pytest.approx(named.bench.speeds[0])


def test_results_are_kept() -> None:
    """Asking twice gives the same object; another rider gives another."""
    course = rolling_course(1000.0)
    assert on_course(study(TOURER), course).bench is on_course(study(TOURER), course).bench
    other = bike((30, 46), (11, 34), power_w=150.0)
    assert on_course(study(other, TOURER), course).baseline is not on_course(study(TOURER), course).bench


def test_a_gear_that_would_grind_is_left_at_once() -> None:
    """20 m of 12 % are too short to change gear for, but the gear for 2 % would turn under 60 rpm there."""
    setup = bike((30,), (11, 13, 15, 17, 19, 21, 24, 28, 32, 36, 42))
    legs = legs_of(setup, (1000.0, 0.02), (20.0, 0.12), (1000.0, 0.02))
    before, there, _ = ridden(GearChooser(gears_of(setup), setup, setup.rider), legs)
    assert 60 * legs[1].speed / before.development_m < 60
    assert 60 * legs[1].speed / there.development_m >= 60


def test_of_two_equal_gears_the_one_on_the_ring_is_taken() -> None:
    """34x17 and 50x25 are the same gear twice; nobody changes the front for that."""
    setup = bike((34, 50), (17, 25))
    gears = gears_of(setup)
    box = GearChooser(gears, setup, setup.rider)
    for at in (1, 2):
        assert gears[at].development_m == gears[3 - at].development_m
        slow = gears[at].development_m * 70 / 60  # 70 rpm: outside of half a jump of 85, yet nearest
        assert gears[box.choose(slow, at)] == gears[at]


def test_gears_that_are_left_out_are_not_ridden() -> None:
    """A chain too short for the largest pair, and crossed gears by rule of thumb."""
    data = TOURER.model_dump() | {"frame": {"chainstay_mm": 410}, "chain": {"links": 104}}
    short = Setup.model_validate(data)
    steep = from_pieces("up and down", [Piece(200.0, 0.01 * (i % 13) - 0.03) for i in range(200)])
    ride = on_course(study(short), steep).bench
    assert {gear.label for gear in ride.left_out} >= {"46x34", "30x11"}
    assert not set(ride.gear_at) & set(ride.left_out)
    free = {min(ride.gears, key=lambda g: abs(60 * v / g.development_m - 85)) for v in ride.speeds}
    assert free & set(ride.left_out), "without the rule some would be ridden"
