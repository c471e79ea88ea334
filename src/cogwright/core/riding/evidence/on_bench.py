"""The same ride on other gears: which would have served, at which cadence, and where none would."""

import math
from bisect import bisect_left
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import islice
from typing import Final

from cogwright.core.chain.left_out import left_out
from cogwright.core.gears.gears import Gear, gears_of
from cogwright.core.riding.evidence.gear_found import LONGEST, STANDING, Ridden
from cogwright.core.riding.evidence.use import CLASS_RPM
from cogwright.core.riding.gear_choice import GearChooser, Leg, places_ridden
from cogwright.core.riding.resistance import cadence
from cogwright.core.setup.model import Rider, Setup

#: Before the first gear.
_NONE: Final = -1


@dataclass(frozen=True)
class OnBench:
    """A ride's pedalled moments in the gears of another setup: time in each, and by cadence, s.

    `below_s` and `above_s` are under the low cadence and over the high one in the gear that would have been
    taken; for `without_s` no gear at all keeps the cadence between them. `changes` are changes of gear;
    `left_out` are those not ridden, with the reasons.
    """

    setup: Setup
    times: dict[Gear, float]
    cadences: dict[int, float]
    pedalled_s: float
    below_s: float
    above_s: float
    without_s: float
    changes: int
    left_out: Mapping[Gear, str]


def on_bench(rides: Sequence[Ridden], setup: Setup, rider: Rider) -> OnBench:
    """The rides on a setup under a rider; gears that its chain does not reach, or runs crossed, are out."""
    gears = gears_of(setup)
    out = left_out(setup, gears)
    reached = [gear for gear in gears if gear not in out]
    sums = _Sums(setup, rider, reached)
    for one in rides:
        sums.add(one)
    return OnBench(
        setup,
        dict.fromkeys(gears, 0.0) | dict(zip(reached, sums.times, strict=True)),
        dict(sorted(sums.cadences.items())),
        sum(sums.times),
        sums.below_s,
        sums.above_s,
        sums.without_s,
        sums.changes,
        out,
    )


class _Sums:
    """What rides add up to. A gear is its place among those that are reached: moments are many."""

    def __init__(self, setup: Setup, rider: Rider, reached: Sequence[Gear]) -> None:
        self.chooser = GearChooser(reached, setup, rider)
        self.developments = [gear.development_m for gear in reached]
        self.low, _, self.high = rider.cadence_rpm
        self.times = [0.0] * len(reached)
        self.cadences: dict[int, float] = {}
        self.below_s = self.above_s = self.without_s = 0.0
        self.changes = 0

    def add(self, one: Ridden) -> None:
        """Ride one ride again: the way as a whole chooses the gears, its pedalled moments count."""
        moving = (i for i, state in enumerate(one.found) if state != STANDING and one.lasts[i] > 0.0)
        moving = (i for i in moving if one.recording.speeds[i] > 0.0)
        before = _NONE
        while part := list(islice(moving, LONGEST)):
            before = self._ride(one, part, before)

    def _ride(self, one: Ridden, moving: Sequence[int], before: int) -> int:
        """Ride so many moments after a gear; the gear at their end."""
        speeds = [one.recording.speeds[i] / (1.0 + one.wheel) for i in moving]
        legs = [Leg(v * one.lasts[i], v, one.lasts[i]) for v, i in zip(speeds, moving, strict=True)]
        for i, leg, at in zip(moving, legs, places_ridden(self.chooser, legs), strict=True):
            if one.found[i] >= 0:
                self._count(leg, at)
                self.changes += at != before != _NONE
                before = at
        return before

    def _count(self, leg: Leg, at: int) -> None:
        rpm = cadence(leg.speed, self.developments[at])
        self.times[at] += leg.seconds
        lowest = int(rpm // CLASS_RPM) * CLASS_RPM
        self.cadences[lowest] = self.cadences.get(lowest, 0.0) + leg.seconds
        if rpm < self.low:
            self.below_s += leg.seconds
        elif rpm > self.high:
            self.above_s += leg.seconds
        if not self._serves(leg.speed):
            self.without_s += leg.seconds

    def _serves(self, speed: float) -> bool:
        """Whether some gear keeps the cadence between the low one and the high one."""
        easiest, hardest = 60.0 * speed / self.high, 60.0 * speed / self.low
        first = bisect_left(self.developments, easiest)
        return first < len(self.developments) and self.developments[first] <= hardest


def speeds_of(rides: Sequence[Ridden]) -> dict[float, float]:
    """How long rides were pedalled at each speed, in s by speed in m/s, in steps of a tenth of a km/h."""
    spent: dict[float, float] = {}
    for one in rides:
        for i, state in enumerate(one.found):
            if state >= 0:
                speed = math.floor(36.0 * one.recording.speeds[i] / (1.0 + one.wheel) + 0.5) / 36.0
                spent[speed] = spent.get(speed, 0.0) + one.lasts[i]
    return dict(sorted(spent.items()))
