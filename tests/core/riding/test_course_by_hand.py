"""What a ride on a course is told as: stretches, places, shifts and words, by hand."""

import math
from typing import Any

import pytest

from cogwright.core.gears.gears import gears_of
from cogwright.core.riding.course import Course, Piece, from_pieces
from cogwright.core.riding.course_ride import (
    CourseRide,
    _limits,
    _pieces,
    _start,
    _stretches,
    course_ride,
    on_course,
    pedalled_speed,
)
from cogwright.core.riding.gear_choice import GearChooser
from cogwright.core.riding.grades import _change, _top_words, gear_ride, in_words, ride_of, short_words
from cogwright.core.riding.legs import Legs, Motion, Run, SpeedLimits
from cogwright.core.riding.resistance import coasting_speed, resistance_of, speed_at_power
from cogwright.core.setup.model import Rider, Setup
from cogwright.core.shifting.levers import levers_of
from cogwright.core.study import study
from support import make

BIKE = make((30, 46), (11, 15, 20), rollout_mm=2000)
ROAD = from_pieces("x", [Piece(100.0, 0.05, "wall"), Piece(100.0, -0.08, "drop"), Piece(100.0, 0.02)], 0.0)


def motion(**legs: tuple[float, ...]) -> Motion:
    """Three pieces of 100 m; times by what the legs do."""
    by_legs = {one: legs.get(one.name.lower(), (0.0, 0.0, 0.0)) for one in Legs}
    seconds = tuple(math.fsum(by_legs[one][at] for one in Legs) for at in range(3))
    return Motion(seconds, by_legs, (100.0, 60.0, 0.0), (), (5.0,) * 4, 0.0, 0.0)


def ride(of: Motion, *cogs: int, out: dict[Any, str] | None = None) -> CourseRide:
    gears = gears_of(BIKE)
    at = tuple(next(g for g in gears if (g.ring, g.cog) == (46, cog)) for cog in cogs)
    return CourseRide(ROAD, gears, of, (5.0,) * 3, at, levers_of(BIKE), 0.0, out or {})


def test_times_and_shifts_add_up() -> None:
    found = ride(
        motion(
            pedal=(10.0, 0.0, 5.0),
            grind=(5.0, 1.0, 0.0),
            roll=(0.0, 7.0, 0.0),
            walk=(0.0, 0.0, 3.0),
            spin=(0.0, 0.0, 2.0),
            stand=(4.0, 0.0, 0.0),
        ),
        20,
        15,
        11,
    )
    assert found.seconds == (19.0, 8.0, 10.0)
    assert (found.total_s, found.grinding_s, found.rolling_s, found.walking_s, found.spinning_s,
     found.standing_s) == (
        37.0, 6.0, 7.0, 3.0, 2.0, 4.0,
    )  # fmt: skip
    assert found.outside_s == 15.0
    spent = {gear.cog: seconds for gear, seconds in found.time_in_gear if gear.ring == 46}
    assert spent == {20: 19.0, 15: 1.0, 11: 7.0}
    assert [(move.front, move.rear_clicks) for move in found.shifts] == [(0, 1), (0, 1)]
    assert (found.front_shifts, found.rear_shifts) == (0, 2)
    assert ride(motion(), 20, 20, 20).shifts == ()


def test_speeds_are_those_of_what_is_pedalled() -> None:
    """100 m in 20 s; of 100 m 60 in 12 of 20 s; where nothing is pedalled all of it."""
    of = motion(pedal=(20.0, 12.0, 0.0), roll=(0.0, 8.0, 0.0), walk=(0.0, 0.0, 50.0))
    assert [pedalled_speed(of, at, 100.0) for at in range(3)] == [5.0, 5.0, 2.0]


def runs(*of: tuple[Legs, float, float, float, float]) -> Motion:
    found = motion()
    told = tuple(Run(legs, start, end, 10.0, slow, fast) for legs, start, end, slow, fast in of)
    return Motion(*(getattr(found, name) if name != "runs" else told for name in Motion.__dataclass_fields__))


@pytest.mark.parametrize(("gap", "told"), [(99.9, 1), (100.0, 2)])
def test_stretches_that_nearly_touch_are_told_as_one(gap: float, told: int) -> None:
    of = runs(
        (Legs.GRIND, 0.0, 50.0, 2.0, 3.0),
        (Legs.PEDAL, 50.0, 50.0 + gap, 3.0, 4.0),
        (Legs.GRIND, 50.0 + gap, 250.0, 1.0, 2.5),
    )
    found = _stretches(ride(of, 20, 20, 20), Legs.GRIND)
    assert len(found) == told
    assert sum(one.seconds for one in found) == 20.0
    assert (found[0].start_m, found[-1].end_m) == (0.0, 250.0)
    assert _stretches(ride(of, 20, 20, 20), Legs.WALK) == ()


def test_a_stretch_has_the_farthest_cadence_and_the_steepest_place() -> None:
    """Ground at 1 m/s in 30x20, 3 m a turn: 20 rpm; spun at 9 m/s in 46x11: 64.6 rpm."""
    of = runs((Legs.GRIND, 0.0, 290.0, 1.0, 3.0), (Legs.SPIN, 0.0, 290.0, 5.0, 9.0))
    [ground], [spun] = (
        _stretches(ride(of, 20, 20, 20), Legs.GRIND),
        _stretches(ride(of, 20, 20, 20), Legs.SPIN),
    )
    assert (ground.rpm, ground.steepest, ground.place) == (pytest.approx(20.0), -0.08, "drop")
    assert spun.rpm == pytest.approx(60.0 * 9.0 / (2.0 * 46 / 11))
    gears = gears_of(BIKE)
    out = {gears[0]: "x", gears[-1]: "x"}
    [other] = _stretches(ride(of, 20, 20, 20, out=out), Legs.GRIND)
    assert other.rpm == pytest.approx(60.0 / gears[1].development_m)


@pytest.mark.parametrize(
    ("start", "end", "grades"),
    [
        (0.0, 100.0, [0.05]), (0.0, 114.9, [0.05]), (0.0, 115.1, [0.05, -0.08]), (84.0, 200.0, [0.05, -0.08]),
        (86.0, 200.0, [-0.08]), (290.0, 300.0, [0.02]), (95.0, 105.0, [-0.08]),
        (0.0, 300.0, [0.05, -0.08, 0.02]),
    ],
)  # fmt: skip
def test_pieces_of_a_stretch_are_not_those_it_merely_touches(
    start: float, end: float, grades: list[float]
) -> None:
    """With less than 15 m of it."""
    assert [piece.grade for piece in _pieces(ROAD, start, end)] == grades


def test_limits_of_speed_on_a_bike() -> None:
    """The easiest gear at 60 and 40 rpm, the hardest at 105; walking pace, and what is liked downhill."""
    rider = Rider(walk_kmh=3.6, descent_kmh=72.0)
    chooser = GearChooser(gears_of(BIKE), BIKE, rider)
    found = _limits(chooser, BIKE, rider)
    assert (found.grind, found.spin, found.least, found.downhill, found.hold) == (
        pytest.approx(3.0), pytest.approx(2.0 * 46 / 11 * 105 / 60), pytest.approx(2.0), 20.0, False,
    )  # fmt: skip
    assert _limits(chooser, BIKE, Rider(walk_kmh=9.0)).least == 2.5
    slow = Rider(descent_kmh=5.0)
    assert _limits(chooser, BIKE, slow).downhill == speed_at_power(190.0, 0.0, resistance_of(BIKE, slow))
    tiny = make((10,), (40,), rollout_mm=2000)
    low = GearChooser(gears_of(tiny), tiny, Rider(walk_kmh=9.0))
    assert _limits(low, tiny, Rider(walk_kmh=9.0)).least == pytest.approx(0.9 * low.top_speed)


def test_where_a_course_is_begun() -> None:
    """At the steady speed, but no faster than the legs or the fall turn the bike, or than is liked."""
    of, rider = resistance_of(BIKE), BIKE.rider
    limits = SpeedLimits(3.0, 6.0, 2.0, 9.0, hold=False)
    up = speed_at_power(190.0, 0.05, of)
    assert _start(0.05, of, rider, limits) == up < 6.0
    assert _start(0.0, of, rider, limits) == 6.0
    assert _start(-0.06, of, rider, limits) == 9.0
    assert _start(-0.06, of, rider, SpeedLimits(3.0, 6.0, 2.0, 99.0, hold=False)) == coasting_speed(-0.06, of)
    assert _start(-0.06, of, rider, SpeedLimits(3.0, 6.0, 2.0, 99.0, hold=True)) == 6.0


def test_bench_and_baseline_on_a_course() -> None:
    alone = on_course(study(BIKE), ROAD)
    assert (alone.baseline, alone.gap_s, alone.course) == (None, None, ROAD)
    both = on_course(study(BIKE, make((28,), (20,), rollout_mm=2000)), ROAD)
    assert both.baseline is not None
    assert both.gap_s == both.bench.total_s - both.baseline.total_s
    assert both.bench.coast_saves_s == 0.0
    rolls = BIKE.rider.model_copy(update={"descent_kmh": 150.0})
    holds = rolls.model_copy(update={"hold_descents": True})
    fall = from_pieces("x", [Piece(2000.0, -0.08)], 0.0)
    held, rolled = course_ride(fall, BIKE, holds), course_ride(fall, BIKE, rolls)
    assert held.coast_saves_s == pytest.approx(held.total_s - rolled.total_s)
    assert held.coast_saves_s > 0.0


def test_the_air_of_a_course_is_that_of_its_height() -> None:
    """A course without a height takes the rider's; its own height wins."""
    high = BIKE.rider.model_copy(update={"height_m": 3000.0})
    flat: dict[float | None, Course] = {
        h: from_pieces("x", [Piece(3000.0, 0.0)], h) for h in (None, 0.0, 3000.0)
    }
    times = {h: course_ride(course, BIKE, high).total_s for h, course in flat.items()}
    assert times[None] == pytest.approx(times[3000.0])
    assert times[0.0] > times[3000.0], "thinner air is faster"


@pytest.mark.parametrize(
    ("now", "before", "says"),
    [
        (40.0, None, "You spin out at 40 km/h."), (40.04, 40.0, "You spin out at 40 km/h, as before."),
        (41.0, 40.0, "You spin out at 41 instead of 40 km/h."),
        (40.4, 40.0, "You spin out at 40.4 instead of 40.0 km/h."),
    ],
)  # fmt: skip
def test_spinning_out_in_words(now: float, before: float | None, says: str) -> None:
    assert _top_words(now, before) == says


def test_a_change_of_grade_in_words() -> None:
    assert _change(10.04, 10.0) == "10.0 % as before"
    assert _change(12.0, 10.0) == "10.0 % (was 12.0)"
    assert [short_words(Rider(short_s=s)) for s in (59.0, 60.0, 90.0, 600.0)] == [
        "for 59 seconds", "for 1 minute", "for 1.5 minutes", "for 10 minutes",
    ]  # fmt: skip


def test_a_ride_in_words_with_and_without_a_baseline() -> None:
    alone = in_words(ride_of(study(BIKE)))
    assert alone[0].startswith("Steepest all day ")
    assert alone[0].count("%") == 2
    both = in_words(ride_of(study(BIKE, make((30, 46), (11, 15, 24), rollout_mm=2000))))
    assert "(was " in both[0]
    assert both[1].endswith("as before.")
    assert len(alone) == 2


def test_gears_that_a_chain_is_too_short_for_are_promises() -> None:
    short = make((30, 46), (11, 15, 34), frame={"chainstay_mm": 430.0}, chain={"links": 102})
    found = in_words(ride_of(study(short)))
    assert len(found) == 2
    shorter = make((46,), (11, 15, 34), frame={"chainstay_mm": 430.0}, chain={"links": 102})
    [promise] = in_words(ride_of(study(shorter)))[2:]
    assert promise == "Only with a longer chain: this one is too short for 46x34."


def test_a_gear_for_the_rider() -> None:
    """30x20 of 2 m a turn: 3 m; at 85 rpm 255 m a minute."""
    of, rider = resistance_of(BIKE), BIKE.rider
    found = gear_ride(gears_of(BIKE)[0], rider, of)
    assert found.happy_kmh == pytest.approx(3.0 * 85 * 60 / 1000)
    held = found.steepest_pct / 100.0
    assert speed_at_power(190.0, held, of) == pytest.approx(3.0 * 60 / 60)
    briefly = found.steepest_short_pct / 100.0
    assert speed_at_power(266.0, briefly, of) == pytest.approx(3.0 * 50 / 60)
    assert ride_of(study(BIKE)).spin_out_kmh == pytest.approx(2.0 * 46 / 11 * 105 * 60 / 1000)


def setup_of(**rider: Any) -> Setup:
    return make((30, 46), (11, 15, 20), rollout_mm=2000, rider=rider)


def test_the_baseline_is_ridden_by_the_same_rider_on_its_own_bike() -> None:
    light, heavy = setup_of(), setup_of(load_kg=30.0, mass_kg=50.0)
    found = ride_of(study(light, heavy))
    assert found.base_steepest_pct is not None
    assert found.base_steepest_short_pct is not None
    assert found.base_steepest_pct < found.steepest_pct
    assert found.base_steepest_short_pct < found.steepest_short_pct
    assert found.base_spin_out_kmh == found.spin_out_kmh
    alone = ride_of(study(light))
    assert (alone.base_steepest_pct, alone.base_steepest_short_pct, alone.base_spin_out_kmh) == (
        None,
        None,
        None,
    )
