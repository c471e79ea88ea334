"""A bench on a course: speed, gear and cadence piece by piece, and what they add up to.

The rider has the sustained power all the way, and `motion` says what becomes of it. A start from rest, bends,
traffic and tiring are not in it; `resistance` says how well such a model agrees with the road.
"""

import math
from bisect import bisect_left, bisect_right
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property, lru_cache
from itertools import groupby, pairwise
from typing import Final

from cogwright.core.chain.left_out import left_out
from cogwright.core.common.units import m_per_s
from cogwright.core.figures import Figures
from cogwright.core.gears.gears import Gear, gears_of
from cogwright.core.riding.course import Course, Piece
from cogwright.core.riding.efforts import least_cadence, short, sustained
from cogwright.core.riding.gear_choice import GearChooser, Leg, ridden
from cogwright.core.riding.legs import IDLE, Legs, Motion, Mover, Road, Run, SpeedLimits
from cogwright.core.riding.motion import move
from cogwright.core.riding.resistance import (
    Resistance,
    cadence,
    coasting_speed,
    drag_at,
    resistance_of,
    road_force,
    speed_at_cadence,
    speed_at_power,
)
from cogwright.core.setup.model import Rider, Setup
from cogwright.core.shifting.levers import Levers, Move, levers_of

#: Stretches with less than this between them are told as one, m.
JOIN_M: Final = 100.0


@dataclass(frozen=True, slots=True)
class Stretch:
    """A part of the course, in m along the road: time in s, grade farthest from flat, extreme cadence.

    The cadence is that of the hardest gear where it spins out, else of the easiest one ridden.
    `place` is what the course calls its steepest piece, if anything.
    """

    start_m: float
    end_m: float
    seconds: float
    steepest: float
    rpm: float
    place: str = ""


#: What the legs do outside of the cadences that the rider likes, or without turning the pedals uphill.
OUTSIDE: Final = (Legs.GRIND, Legs.SPIN, Legs.STAND, Legs.WALK)


@dataclass(frozen=True)
class CourseRide:
    """One setup on one course: how it moves, and per piece the mean speed pedalled in m/s and the gear.

    `left_out` are the gears that are not ridden, with the reasons. `coast_saves_s` is what letting the bike
    roll would save a rider who holds the cadence on descents.
    """

    course: Course
    gears: tuple[Gear, ...]
    motion: Motion
    speeds: tuple[float, ...]
    gear_at: tuple[Gear, ...]
    levers: Levers
    coast_saves_s: float
    left_out: Mapping[Gear, str]

    @property
    def seconds(self) -> tuple[float, ...]:
        """Time for each piece, s."""
        return self.motion.seconds

    @cached_property
    def total_s(self) -> float:
        """Time for the whole course, s."""
        return math.fsum(self.seconds)

    def spent_s(self, *legs: Legs) -> float:
        """Time for which the legs do one of these, s."""
        return math.fsum(s for one in legs for s in self.motion.by_legs[one])

    @property
    def grinding_s(self) -> float:
        """Time at the sustained power below the low cadence in the easiest gear, s."""
        return self.spent_s(Legs.GRIND)

    @property
    def spinning_s(self) -> float:
        """Time at the high cadence in the hardest gear with power to spare, s."""
        return self.spent_s(Legs.SPIN)

    @property
    def rolling_s(self) -> float:
        """Time without pedalling downhill, s."""
        return self.spent_s(Legs.ROLL)

    @property
    def standing_s(self) -> float:
        """Time at the short effort, s."""
        return self.spent_s(Legs.STAND)

    @property
    def walking_s(self) -> float:
        """Time on foot, s."""
        return self.spent_s(Legs.WALK)

    @property
    def outside_s(self) -> float:
        """Time outside of the liked cadences: grinding, spinning, standing and walking, s."""
        return self.spent_s(*OUTSIDE)

    @cached_property
    def shifts(self) -> tuple[Move, ...]:
        """Every shift on the way."""
        pairs = pairwise(gear for gear, _ in groupby(self.gear_at))
        return tuple(self.levers.move(a, b) for a, b in pairs)

    @property
    def front_shifts(self) -> int:
        """Shifts that change the ring."""
        return sum(move.front != 0 for move in self.shifts)

    @property
    def rear_shifts(self) -> int:
        """Shifts that change the cog or the hub gear, however many clicks each takes."""
        return sum(bool(move.rear_clicks or move.hub_clicks) for move in self.shifts)

    @cached_property
    def time_in_gear(self) -> tuple[tuple[Gear, float], ...]:
        """Every gear, easiest first, with the time pedalled in it in s: all but rolling and walking."""
        idle = zip(*(self.motion.by_legs[legs] for legs in IDLE), strict=True)
        spent = dict.fromkeys(self.gears, 0.0)
        for gear, seconds, (rolls, walks) in zip(self.gear_at, self.seconds, idle, strict=True):
            spent[gear] += seconds - rolls - walks
        return tuple(spent.items())

    def stretches(self, legs: Legs) -> tuple["Stretch", ...]:
        """Where the legs do this."""
        return _stretches(self, legs)

    @cached_property
    def grinding(self) -> tuple["Stretch", ...]:
        """Where the rider grinds."""
        return self.stretches(Legs.GRIND)

    @cached_property
    def spinning(self) -> tuple["Stretch", ...]:
        """Where the hardest gear is spun out."""
        return self.stretches(Legs.SPIN)


@dataclass(frozen=True)
class OnCourse:
    """Bench and baseline on one course, with the bench's rider on both."""

    bench: CourseRide
    baseline: CourseRide | None

    @property
    def course(self) -> Course:
        """The course."""
        return self.bench.course

    @cached_property
    def gap_s(self) -> float | None:
        """Time of the bench less that of the baseline, s; None without a baseline."""
        return None if self.baseline is None else self.bench.total_s - self.baseline.total_s


def on_course(figures: Figures, course: Course) -> OnCourse:
    """Bench and baseline on a course, with the bench's rider; each is kept for the next call."""
    bench, baseline = figures.bench, figures.baseline
    base = None if baseline is None else course_ride(course, baseline, bench.rider)
    return OnCourse(course_ride(course, bench, bench.rider), base)


@lru_cache(maxsize=8)
def course_ride(course: Course, setup: Setup, rider: Rider) -> CourseRide:
    """A setup on a course under a rider who need not be the setup's own."""
    gears = gears_of(setup)
    out = left_out(setup, gears)
    chooser = GearChooser([gear for gear in gears if gear not in out], setup, rider)
    motion = moved(course, setup, rider, _limits(chooser, setup, rider))
    speeds = tuple(pedalled_speed(motion, i, piece.length_m) for i, piece in enumerate(course.pieces))
    return CourseRide(
        course,
        gears,
        motion,
        speeds,
        ridden(chooser, _legs(course, speeds, motion.seconds)),
        levers_of(setup),
        _coast_saves(course, setup, rider, math.fsum(motion.seconds)),
        out,
    )


def pedalled_speed(motion: Motion, piece: int, length_m: float) -> float:
    """Mean speed in m/s over what is pedalled of a piece, over all of it where nothing is."""
    way, idle = motion.pedalled_m[piece], sum(motion.by_legs[legs][piece] for legs in IDLE)
    return way / (motion.seconds[piece] - idle) if way > 0.0 else length_m / motion.seconds[piece]


def _legs(course: Course, speeds: Sequence[float], seconds: Sequence[float]) -> list[Leg]:
    rows = zip(course.pieces, speeds, seconds, strict=True)
    return [Leg(piece.length_m, speed, time) for piece, speed, time in rows]


def _limits(chooser: GearChooser, setup: Setup, rider: Rider) -> SpeedLimits:
    easiest = chooser.gears[0].development_m
    least = max(m_per_s(rider.walk_kmh), speed_at_cadence(easiest, least_cadence(rider)))
    level = speed_at_power(rider.power_w, 0.0, resistance_of(setup, rider))
    return SpeedLimits(
        grind=chooser.low_speed,
        spin=chooser.top_speed,
        least=min(least, _NEARLY * chooser.top_speed),
        downhill=max(m_per_s(rider.descent_kmh), level),
        hold=rider.hold_descents,
    )


#: However small the gears are, a rider does not get off before they are almost spun out.
_NEARLY: Final = 0.9


def moved(course: Course, setup: Setup, rider: Rider, limits: SpeedLimits) -> Motion:
    of = resistance_of(setup, rider)
    who = Mover(rider, sustained(rider), short(rider), of.mass_kg, of.efficiency, of.headwind, limits)
    base = 0.0 if course.start_height_m is not None else rider.height_m
    middles = [base + (low + high) / 2.0 for low, high in pairwise(course.heights_m)]
    roads = [
        Road(piece.length_m, piece.grade, road_force(piece.grade, of), drag_at(height, rider))
        for piece, height in zip(course.pieces, middles, strict=True)
    ]
    start = resistance_of(setup, rider, middles[0])
    return move(roads, who, _start(course.pieces[0].grade, start, rider, limits))


def _start(grade: float, of: Resistance, rider: Rider, limits: SpeedLimits) -> float:
    """The speed in m/s at which a course is begun: the steady one of its first piece."""
    free = speed_at_power(rider.power_w, grade, of)
    rolls = 0.0 if limits.hold else coasting_speed(grade, of)
    liked = limits.downhill if grade < 0.0 else math.inf
    return min(free, max(limits.spin, rolls), liked)


def _coast_saves(course: Course, setup: Setup, rider: Rider, total_s: float) -> float:
    if not rider.hold_descents:
        return 0.0
    rolling = course_ride(course, setup, rider.model_copy(update={"hold_descents": False}))
    return max(total_s - rolling.total_s, 0.0)


def _stretches(ride: CourseRide, legs: Legs) -> tuple[Stretch, ...]:
    """The runs in which the legs do this as stretches; those that nearly touch are joined."""
    joined: list[list[Run]] = []
    for run in (run for run in ride.motion.runs if run.legs is legs):
        if joined and run.start_m - joined[-1][-1].end_m < JOIN_M:
            joined[-1].append(run)
        else:
            joined.append([run])
    return tuple(_stretch(ride, legs, runs) for runs in joined)


def _stretch(ride: CourseRide, legs: Legs, runs: Sequence[Run]) -> Stretch:
    start, end = runs[0].start_m, runs[-1].end_m
    steepest = max(_pieces(ride.course, start, end), key=lambda piece: abs(piece.grade))
    reached = [gear for gear in ride.gears if gear not in ride.left_out]
    if legs is Legs.SPIN:
        rpm = cadence(max(run.fastest for run in runs), reached[-1].development_m)
    else:
        rpm = cadence(min(run.slowest for run in runs), reached[0].development_m)
    return Stretch(start, end, math.fsum(run.seconds for run in runs), steepest.grade, rpm, steepest.name)


def _pieces(course: Course, start_m: float, end_m: float) -> Sequence[Piece]:
    """The pieces between two places along the road; one that is merely touched is left out."""
    first = min(bisect_right(course.starts_m, start_m + _TOUCH_M), len(course.pieces)) - 1
    last = bisect_left(course.starts_m, end_m - _TOUCH_M)
    return course.pieces[first : max(last, first + 1)]


#: A piece of which a stretch has less than this is not what makes it steep, m.
_TOUCH_M: Final = 15.0
