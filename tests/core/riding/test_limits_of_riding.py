"""Limits of the rules of riding, on both sides and by hand: files, gears kept, air, bands, short efforts."""

import math
from dataclasses import replace
from typing import Any

import pytest

from cogwright.core.gears.gears import gears_of
from cogwright.core.riding.air import density, standard_celsius, warmer_than_standard
from cogwright.core.riding.bands import _gaps, bands_of
from cogwright.core.riding.course import Piece, from_pieces, from_points, interpolate
from cogwright.core.riding.course_file import CourseFile
from cogwright.core.riding.efforts import least_cadence, short, sustained, walking_speed
from cogwright.core.riding.gear_choice import GearChooser, Leg, ridden
from cogwright.core.riding.legs import Legs, Run
from cogwright.core.riding.needed import Climb, answer_on, needed_for
from cogwright.core.riding.resistance import (
    Resistance,
    cadence,
    coasting_speed,
    speed_at_cadence,
    speed_at_power,
    steepest_grade,
)
from cogwright.core.riding.wanted import wanted_speeds
from cogwright.core.setup.model import Rider
from cogwright.core.study import study
from scipys import brentq
from support import make


def accepted(**tables: Any) -> bool:
    try:
        CourseFile.model_validate({"name": "x", **tables})
    except ValueError:
        return False
    return True


@pytest.mark.parametrize(
    ("points", "taken"),
    [
        ([(0.0, 0.0), (10.0, 5.0)], True),  # just 50 %
        ([(0.0, 0.0), (10.0, 5.1)], False),
        ([(0.0, 0.0), (10.0, -5.0)], True),
        ([(0.0, 0.0), (10.0, -5.1)], False),
        ([(10.0, 0.0), (10.0, 0.0)], False),  # distances rise
        ([(10.0, 0.0), (9.0, 0.0)], False),
        ([(0.0, 0.0)], False),
        ([(0.0, -430.0), (5000.0, -430.0)], True),
        ([(0.0, -431.0), (5000.0, -430.0)], False),
        ([(0.0, 9000.0), (5000.0, 9000.0)], True),
        ([(0.0, 9001.0), (5000.0, 9000.0)], False),
        ([(0.0, 0.0), (5_000_000.0, 0.0)], True),
        ([(0.0, 0.0), (5_000_001.0, 0.0)], False),
        ([(-1.0, 0.0), (50.0, 0.0)], False),
    ],
)
def test_points_that_a_course_may_have(points: list[tuple[float, float]], taken: bool) -> None:
    assert accepted(points=points) is taken


@pytest.mark.parametrize(("metres", "taken"), [(10.0, True), (9.9, False)])
def test_a_recorded_track_reaches_10_m_and_may_be_as_steep_as_it_is_noisy(metres: float, taken: bool) -> None:
    assert accepted(points=[(5.0, 0.0), (5.0 + metres, 9.0)], recorded=True) is taken


@pytest.mark.parametrize(
    ("length", "grade", "taken"),
    [(1.0, 50.0, True), (0.9, 0.0, False), (1.0, -50.0, True), (1.0, 50.1, False), (1.0, -50.1, False),
     (5_000_000.0, 0.0, True), (5_000_001.0, 0.0, False)],
)  # fmt: skip
def test_pieces_that_a_course_may_have(length: float, grade: float, taken: bool) -> None:
    assert accepted(pieces=[{"length_m": length, "grade_pct": grade}]) is taken


def test_a_course_has_one_road_with_one_set_of_heights() -> None:
    pieces, points = [{"length_m": 100.0, "grade_pct": 5.0}], [(0.0, 1.0), (100.0, 2.0)]
    assert accepted(pieces=pieces, start_height_m=5.0)
    assert not accepted(pieces=pieces, points=points)
    assert not accepted()
    assert not accepted(pieces=pieces, recorded=True)
    assert not accepted(points=points, start_height_m=5.0)
    assert not accepted(points=points, start_height_m=0.0)


def test_a_course_out_of_a_file_says_what_the_file_says() -> None:
    """5 % along 100 m of road; points as they stand; recorded ones are smoothed, and say so."""
    pieces = CourseFile.model_validate(
        {"name": "x", "notes": "n", "start_height_m": 7.0, "pieces": [{"length_m": 100.0, "grade_pct": 5.0}]}
    ).course("a.toml")
    assert (pieces.pieces, pieces.start_height_m) == ((Piece(100.0, 0.05),), 7.0)
    assert (pieces.name, pieces.notes, pieces.file) == ("x", "n", "a.toml")
    points = [(20.0 * at, float(at % 2)) for at in range(40)]
    for recorded in (False, True):
        course = CourseFile.model_validate({"name": "x", "points": points, "recorded": recorded}).course()
        assert (course.climb_doubt_m is not None) is recorded
        assert course.how.startswith("recorded") is recorded


def test_climb_and_grades_of_a_course_by_hand() -> None:
    """300 m up 30 m, level, down 10 m, on the map; without a height of its start it counts from 0."""
    course = from_points("x", [(0.0, 5.0), (300.0, 35.0), (400.0, 35.0), (500.0, 25.0)])
    assert course.ascent_m == pytest.approx(30.0)
    assert course.mean_grade == pytest.approx(20.0 / 500.0)
    assert course.steepest == pytest.approx(0.1)
    assert course.length_m == pytest.approx(math.hypot(300, 30) + 100 + math.hypot(100, 10))
    assert course.height_at(0.0) == 5.0
    assert course.climb_doubt_m is None
    assert from_pieces("x", [Piece(100.0, 0.0)]).heights_m == (0.0, 0.0)
    assert from_pieces("x", [Piece(100.0, 0.0)]).start_height_m is None
    assert from_pieces("x", [Piece(100.0, 0.0)]).how == "as given in the course file"
    assert from_points("x", [(0.0, 0.0), (9.0, 0.0)], how="drawn").how == "drawn"
    assert interpolate([0.0, 1.0, 3.0], [0.0, 10.0, 30.0], [0.5, 1.0, 2.0, 3.0, 4.0]) == [5, 10, 20, 30, 30]


BIKE = make((40,), (10, 16, 20, 32), rollout_mm=2000)  # 2.5, 4, 5 and 8 m


def taken(*legs: tuple[float, float, float], bike: Any = BIKE) -> list[int]:
    """The cog on each leg of (m, rpm in 5 m, s)."""
    chooser = GearChooser(gears_of(bike), bike, bike.rider)
    return [gear.cog for gear in ridden(chooser, [Leg(m, 5.0 * rpm / 60.0, s) for m, rpm, s in legs])]


@pytest.mark.parametrize(
    ("metres", "seconds", "changed"),
    [(30.0, 10.0, True), (29.9, 10.0, False), (30.0, 9.9, False), (100.0, 100.0, True)],
)
def test_a_gear_is_changed_for_30_m_and_10_s(metres: float, seconds: float, changed: bool) -> None:
    """85 rpm in 5 m; 72 rpm there are 90 in 4 m, and neither grind."""
    legs = (1000.0, 85.0, 200.0), (metres, 72.0, seconds), (1000.0, 85.0, 200.0)
    assert taken(*legs) == [16, 20 if changed else 16, 16]


def test_legs_that_want_the_same_side_count_together_and_other_ones_end_the_wish() -> None:
    """Twice 20 m and 6 s to an easier gear; not with a leg between that wants none, or a harder one."""
    easy, here, hard = (20.0, 72.0, 6.0), (20.0, 85.0, 6.0), (20.0, 104.0, 6.0)
    ends = (1000.0, 85.0, 200.0)
    assert taken(ends, easy, easy, ends) == [16, 20, 20, 16]
    assert taken(ends, easy, here, easy, here, ends) == [16] * 6
    assert taken(ends, easy, hard, easy, hard, ends) == [16] * 6
    assert taken(ends, hard, (20.0, 120.0, 6.0)) == [16, 16, 10], "what would spin is left at once"
    assert taken(ends, easy) == [16, 16], "the road ends before"


@pytest.mark.parametrize(("rpm", "cog"), [(60.0, 16), (59.9, 20), (105.0, 16), (105.1, 10)])
def test_a_gear_is_left_at_once_outside_of_the_liked_cadences(rpm: float, cog: int) -> None:
    assert taken((1000.0, 85.0, 200.0), (5.0, rpm, 1.0), (1000.0, 85.0, 200.0))[1] == cog


def test_bands_leave_a_gap_only_where_the_next_begins_higher() -> None:
    """60 to 100 rpm: with 6 m after 3.6 m the bands touch; with 6.1 m they do not."""
    rider = {"cadence_rpm": [60, 80, 100]}
    for ratio, gaps in ((5 / 3, 0), (5 / 3 * 1.001, 1), (1.2, 0)):
        hub = make((40,), (20,), rollout_mm=2000, rear={"hub_ratios": [1, ratio]}, rider=rider)
        bands = bands_of(study(hub))
        assert len(bands.gaps) == gaps
        assert _gaps(bands.bands) == bands.gaps
    (gap,) = bands_of(study(make((40,), (20,), rear={"hub_ratios": [1, 2]}, rider=rider))).gaps
    assert gap.low_kmh < gap.high_kmh
    assert gap.below.development_m < gap.above.development_m


def test_air_by_the_tables_of_the_standard() -> None:
    """ISO 2533, densities from memory (B): 1.22500, 1.11166, 0.90925 and 0.41351 kg/m^3; 8.5 degrees C
    at 1 km.
    """
    for metres, kg_m3 in ((0.0, 1.225), (1000.0, 1.11166), (3000.0, 0.90925), (10_000.0, 0.41351)):
        assert density(metres) == pytest.approx(kg_m3, rel=2e-5)
    assert standard_celsius(1000.0) == pytest.approx(8.501, abs=0.001)
    assert density(0.0, 288.15) == pytest.approx(1.225 / 2), "twice as warm, half as dense"
    assert warmer_than_standard(None, 500.0) == 0.0
    assert warmer_than_standard(5.0, 0.0) == pytest.approx(-10.0)


def test_efforts_of_a_rider_by_hand() -> None:
    """1.4 times the power at 50 rpm for three minutes, and off the bike under 40, unless the file says
    else.
    """
    rider = Rider(power_w=200.0, cadence_rpm=(60.0, 85.0, 105.0))
    assert sustained(rider) == (200.0, 60.0, math.inf)
    assert short(rider) == (280.0, 50.0, 180.0)
    assert least_cadence(rider) == 40.0
    slow = Rider(power_w=200.0, cadence_rpm=(38.0, 50.0, 70.0))
    assert (short(slow).rpm, least_cadence(slow)) == (38.0, 38.0)
    own = Rider(
        power_w=200.0, short_power_w=333.0, short_cadence_rpm=45.0, short_s=60.0, least_cadence_rpm=31.0
    )
    assert short(own) == (333.0, 45.0, 60.0)
    assert least_cadence(own) == 31.0


@pytest.mark.parametrize(("grade", "speed"), [(-0.3, 1.5), (0.0, 1.5), (0.05, 1.5), (0.3, None)])
def test_walking_is_at_its_pace_but_where_the_climb_is_too_steep(grade: float, speed: float | None) -> None:
    """5.4 km/h are 1.5 m/s; 100 kg up 30 % (sine 0.2873) with 200 W are 200 / 281.8 m/s."""
    rider = Rider(power_w=200.0, walk_kmh=5.4)
    expected = 200.0 / (100.0 * 9.80665 * math.sin(math.atan(0.3))) if speed is None else speed
    assert walking_speed(rider, 100.0, grade) == pytest.approx(expected)


def test_a_run_keeps_its_slowest_and_fastest() -> None:
    run = Run(Legs.PEDAL, 100.0, 100.0)
    for way, seconds in ((10.0, 2.0), (10.0, 5.0), (12.0, 2.0)):
        run.add(way, seconds)
    assert (run.end_m, run.seconds, run.slowest, run.fastest) == (132.0, 9.0, 2.0, 6.0)


def test_speeds_that_a_course_asks_for_are_those_pedalled() -> None:
    """Up 5 % the time is the way over the speed; down 9 % the rider rolls from the start."""
    up, down = Piece(2000.0, 0.05), Piece(3000.0, -0.09)
    [(speed, seconds)] = wanted_speeds(from_pieces("x", [up], 0.0), BIKE, BIKE.rider)
    assert speed * seconds == pytest.approx(2000.0, rel=1e-6)
    assert wanted_speeds(from_pieces("x", [down], 0.0), BIKE, BIKE.rider) == ()
    [ridden] = wanted_speeds(from_pieces("x", [Piece(0.9, 0.05)], 0.0), BIKE, BIKE.rider)
    assert ridden == pytest.approx((speed, 0.9 / speed), rel=1e-3)


def test_a_rider_who_likes_it_slow_downhill_still_rides_as_fast_as_on_the_level() -> None:
    """Down 0.1 % with 5 km/h liked: at the speed of the level, to a share of a percent."""
    rider = BIKE.rider.model_copy(update={"descent_kmh": 5.0})
    level, down = (
        wanted_speeds(from_pieces("x", [Piece(2000.0, grade)], 0.0), BIKE, rider)[0][0]
        for grade in (0.0, -0.001)
    )
    assert down == pytest.approx(level, rel=1e-3)


@pytest.mark.parametrize("over", [0.9999, 1.0001])
def test_a_gear_is_low_enough_at_just_the_development(over: float) -> None:
    needed = needed_for(Climb(8.0), BIKE).development_m
    setup = make((20,), (20,), rollout_mm=1000 * needed * over)
    assert (answer_on(Climb(8.0), setup).gear is not None) is (over < 1.0)


def test_a_climb_briefly_and_with_what_is_asked() -> None:
    day, briefly = needed_for(Climb(8.0), BIKE), needed_for(Climb(8.0, briefly=True), BIKE)
    assert (day.rpm, briefly.rpm, day.load_kg) == (60.0, 50.0, 0.0)
    assert briefly.speed > day.speed
    asked = needed_for(Climb(8.0, 30.0, 70.0), BIKE)
    assert (asked.load_kg, asked.rpm) == (30.0, 70.0)
    assert asked.speed < day.speed, "laden it is slower"
    assert asked.development_m == pytest.approx(60.0 * asked.speed / 70.0)
    assert asked.kmh == pytest.approx(3.6 * asked.speed)


OF = Resistance(86.0, 0.006, 0.4, 1.225, 0.976)


def way_of(speed: float, grade: float, of: Resistance) -> float:
    """Gravity, rolling, air and bearings in N, written anew."""
    slope = math.atan(grade)
    lift = of.mass_kg * 9.80665 * (math.sin(slope) + of.crr * math.cos(slope))
    through = speed + of.headwind
    return lift + 0.5 * of.air * of.cda_m2 * through * abs(through) + 0.091 + 0.0087 * speed


@pytest.mark.parametrize("wind", [0.0, 4.0, -6.0])
def test_steady_speeds_are_scipys_at_any_grade(wind: float) -> None:
    """Rolled and pedalled, from walls to falls; it does not roll where rolling and bearings hold it."""
    of = replace(OF, headwind=wind)
    for grade in range(-30, 31):
        share = grade / 100.0 - 0.0001
        pedalled = speed_at_power(200.0, share, of)
        assert pedalled == pytest.approx(
            brentq(lambda v, g=share: 200.0 * 0.976 / v - way_of(v, g, of), 1e-3, 200.0), rel=1e-9
        )
        rolled = coasting_speed(share, of)
        if way_of(1e-6, share, of) < 0.0:
            assert rolled == pytest.approx(brentq(lambda v, g=share: way_of(v, g, of), 1e-9, 200.0), rel=1e-9)
        else:
            assert rolled == 0.0


@pytest.mark.parametrize("speed", [1.0, 3.0, 8.0])
@pytest.mark.parametrize("wind", [0.0, 4.0, -6.0])
def test_the_steepest_grade_is_where_that_speed_is_steady(speed: float, wind: float) -> None:
    of = replace(OF, headwind=wind)
    for power in (0.0, 100.0, 300.0):
        grade = steepest_grade(speed, power, of)
        if abs(grade) < 1.0:
            assert way_of(speed, grade, of) == pytest.approx(power * 0.976 / speed)
    assert steepest_grade(0.5, 2000.0, of) == 1.0
    assert steepest_grade(60.0, 0.0, of) == -1.0


def test_speeds_and_cadences_of_a_gear() -> None:
    assert speed_at_cadence(6.0, 90.0) == 9.0
    assert cadence(9.0, 6.0) == 90.0
