"""How well gears serve where a bike is ridden: how long none has a liked cadence, on rides or a course."""

from bisect import bisect_left, bisect_right
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from itertools import accumulate
from typing import Final

from cogwright.core.chain.left_out import left_out
from cogwright.core.common.units import S_PER_MIN
from cogwright.core.common.words import count
from cogwright.core.gears.gears import gears_of
from cogwright.core.proposing.proposal import Proposal
from cogwright.core.riding.course import Course
from cogwright.core.riding.evidence.gear_found import Ridden
from cogwright.core.riding.evidence.on_bench import speeds_of
from cogwright.core.riding.wanted import wanted_speeds
from cogwright.core.setup.model import Rider, Setup

LEAST: Final = "serves longest"
#: Times within this of each other are the same, s.
SAME_S: Final = 0.05


@dataclass(frozen=True, eq=False)
class Served:
    """Where gears are to serve: a name for it, and speeds in m/s, rising, with the time in s at each."""

    name: str
    speeds: tuple[float, ...]
    seconds: tuple[float, ...]

    @classmethod
    def on_rides(cls, rides: Sequence[Ridden]) -> "Served":
        """On recorded rides, where they were pedalled."""
        name = rides[0].recording.name if len(rides) == 1 else count(len(rides), "ride")
        return cls.of(name, speeds_of(rides).items())

    @classmethod
    def on_course(cls, course: Course, setup: Setup) -> "Served":
        """On a course, at the speeds that it asks for with a gear for each; bike and rider are a setup's."""
        return cls.of(course.name, wanted_speeds(course, setup, setup.rider))

    @classmethod
    def of(cls, name: str, spent: Iterable[tuple[float, float]]) -> "Served":
        """Of speeds and times in any order."""
        rows = sorted(spent)
        return cls(name, tuple(v for v, _ in rows), tuple(s for _, s in rows))

    @cached_property
    def _sums(self) -> list[float]:
        """Time at all speeds before each."""
        return list(accumulate(self.seconds, initial=0.0))

    @property
    def total_s(self) -> float:
        """All of the time, s."""
        return self._sums[-1]

    def outside_s(self, developments: Iterable[float], rider: Rider) -> float:
        """Time in s for which no gear of these developments in m turns at a cadence that a rider likes.

        At 100 s each at 3 and 10 m/s, 4 m a turn from 60 to 100 rpm serve from 4 to 6.7 m/s, 8 m from 8 to
        13.3 m/s:

        >>> served = Served.of("a", [(3.0, 100.0), (10.0, 100.0)])
        >>> served.outside_s([4.0, 8.0], Rider(cadence_rpm=(60.0, 80.0, 100.0)))
        100.0
        """
        low, _, high = rider.cadence_rpm
        inside, reached = 0.0, 0
        for development in sorted(developments):
            first = max(bisect_left(self.speeds, development * low / S_PER_MIN * _DOWN), reached)
            last = max(bisect_right(self.speeds, development * high / S_PER_MIN * _UP), first)
            inside += self._sums[last] - self._sums[first]
            reached = last
        return max(self.total_s - inside, 0.0)

    def outside_of(self, setup: Setup) -> float:
        """The same for the gears of a setup that are to be ridden, and its rider."""
        gears = gears_of(setup)
        out = left_out(setup, gears)
        return self.outside_s((gear.development_m for gear in gears if gear not in out), setup.rider)

    def say(self, outside_s: float) -> str:
        """That in words."""
        spent = f"{outside_s / S_PER_MIN:.1f} of {self.total_s / S_PER_MIN:.0f} min pedalled"
        return f"on {self.name}: no gear has a liked cadence for {spent}"


#: A speed just at a liked cadence counts as liked.
_DOWN: Final = 1.0 - 1e-9
_UP: Final = 1.0 + 1e-9


def ranked_by(served: Served, proposals: Iterable[Proposal]) -> tuple[Proposal, ...]:
    """Proposals by the time outside of the liked cadences, least first; of equals in the order they come in.

    Those that meet the limits stay before those that do not; each says its time.
    """
    timed = [(round(served.outside_of(one.setup), 1), one) for one in proposals]
    timed.sort(key=lambda pair: (not pair[1].meets, pair[0]))
    return tuple(
        replace(
            one,
            marks=(*((LEAST,) if at == 0 else ()), *one.marks),
            reasons=(served.say(outside), *one.reasons),
        )
        for at, (outside, one) in enumerate(timed)
    )
