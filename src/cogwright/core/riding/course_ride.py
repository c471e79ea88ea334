"""A bench on a course: speed, gear and cadence piece by piece, and what they add up to.

Steady state: on every piece the rider has the speed that their power gives there, at once. Starts, bends,
wind, traffic and tiring are not in it; `effort` says how well such a model agrees with the road.
"""

import math
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property, lru_cache
from itertools import groupby, pairwise
from typing import Final

from cogwright.core.chain.left_out import left_out
from cogwright.core.figures import Figures
from cogwright.core.gears.gears import Gear, gears_of
from cogwright.core.riding.course import Course
from cogwright.core.riding.gear_choice import GearChooser, Leg, ridden
from cogwright.core.riding.resistance import cadence, coasting_speed, resistance_of, speed_at_power
from cogwright.core.setup.model import Rider, Setup
from cogwright.core.shifting.levers import Levers, Move, levers_of

#: Stretches with less than this between them are told as one, m.
JOIN_M: Final = 100.0


@dataclass(frozen=True, slots=True)
class Stretch:
    """A part of the course, in m along the road: time in s, grade farthest from flat, extreme cadence.

    `place` is what the course calls its steepest piece, if anything.
    """

    start_m: float
    end_m: float
    seconds: float
    steepest: float
    rpm: float
    place: str = ""


@dataclass(frozen=True)
class CourseRide:
    """One setup on one course. Per piece: speed in m/s, time in s, gear, and whether it grinds or spins.

    `left_out` are the gears that are not ridden, with the reasons.
    """

    course: Course
    gears: tuple[Gear, ...]
    speeds: tuple[float, ...]
    seconds: tuple[float, ...]
    gear_at: tuple[Gear, ...]
    grinds: tuple[bool, ...]
    spins: tuple[bool, ...]
    levers: Levers
    coast_saves_s: float
    left_out: Mapping[Gear, str]

    @cached_property
    def total_s(self) -> float:
        """Time for the whole course, s."""
        return math.fsum(self.seconds)

    @cached_property
    def grinding_s(self) -> float:
        """Time below the grinding cadence in the easiest gear, s."""
        return math.fsum(s for s, grind in zip(self.seconds, self.grinds, strict=True) if grind)

    @cached_property
    def spinning_s(self) -> float:
        """Time for which the hardest gear holds the speed down to its spinning cadence, s."""
        return math.fsum(s for s, spin in zip(self.seconds, self.spins, strict=True) if spin)

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
        """Every gear, easiest first, with the time in it in s."""
        spent = dict.fromkeys(self.gears, 0.0)
        for gear, seconds in zip(self.gear_at, self.seconds, strict=True):
            spent[gear] += seconds
        return tuple(spent.items())

    @cached_property
    def grinding(self) -> tuple[Stretch, ...]:
        """Where the rider grinds."""
        return _stretches(self, self.grinds, worst=min)

    @cached_property
    def spinning(self) -> tuple[Stretch, ...]:
        """Where the hardest gear is spun out."""
        return _stretches(self, self.spins, worst=max)


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
    free, rolling = road_speeds(course, rider)
    speeds = tuple(min(speed, chooser.top_speed) for speed in free)
    seconds = tuple(piece.length_m / v for piece, v in zip(course.pieces, speeds, strict=True))
    return CourseRide(
        course,
        gears,
        speeds,
        seconds,
        ridden(chooser, _legs(course, speeds, seconds)),
        tuple(speed < chooser.low_speed for speed in speeds),
        tuple(speed > chooser.top_speed for speed in free),
        levers_of(setup),
        math.fsum(
            s - piece.length_m / coasts
            for piece, coasts, s in zip(course.pieces, rolling, seconds, strict=True)
            if coasts > chooser.top_speed
        ),
        out,
    )


def _legs(course: Course, speeds: Sequence[float], seconds: Sequence[float]) -> list[Leg]:
    rows = zip(course.pieces, speeds, seconds, strict=True)
    return [Leg(piece.length_m, speed, time) for piece, speed, time in rows]


@lru_cache(maxsize=8)
def road_speeds(course: Course, rider: Rider) -> tuple[tuple[float, ...], tuple[float, ...]]:
    """Per piece, in m/s: the speed that the rider's power gives, and that of rolling without pedalling."""
    base = 0.0 if course.start_height_m is not None else rider.height_m
    powered, rolling = [], []
    for piece, (low, high) in zip(course.pieces, pairwise(course.heights_m), strict=True):
        of = resistance_of(rider, base + (low + high) / 2.0)
        powered.append(speed_at_power(rider.power_w, piece.grade, of))
        rolling.append(coasting_speed(piece.grade, of))
    return tuple(powered), tuple(rolling)


def _stretches(
    ride: CourseRide, where: Sequence[bool], worst: Callable[[Iterable[float]], float]
) -> tuple[Stretch, ...]:
    """The marked pieces as stretches; those that nearly touch are joined, counting marked time alone."""
    starts = ride.course.starts_m
    runs: list[list[int]] = []
    for i in (i for i, marked in enumerate(where) if marked):
        if runs and starts[i] - starts[runs[-1][-1] + 1] < JOIN_M:
            runs[-1].append(i)
        else:
            runs.append([i])
    return tuple(_stretch(ride, run, worst) for run in runs)


def _stretch(ride: CourseRide, run: Sequence[int], worst: Callable[[Iterable[float]], float]) -> Stretch:
    steepest = max((ride.course.pieces[i] for i in run), key=lambda piece: abs(piece.grade))
    return Stretch(
        ride.course.starts_m[run[0]],
        ride.course.starts_m[run[-1] + 1],
        math.fsum(ride.seconds[i] for i in run),
        steepest.grade,
        worst(cadence(ride.speeds[i], ride.gear_at[i].development_m) for i in run),
        steepest.name,
    )
