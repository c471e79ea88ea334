"""Which gear a rider takes along a road: nearest to the happy cadence, and not changed for a few metres."""

from bisect import bisect_right
from collections.abc import Iterator, Sequence
from itertools import pairwise
from typing import Final, NamedTuple

from cogwright.core.gears.against_baseline import hole_limit_pct
from cogwright.core.gears.gears import Gear
from cogwright.core.riding.resistance import cadence, speed_at_cadence
from cogwright.core.setup.model import Rider, Setup

#: A gear is changed only for a stretch that lasts this long in m and in s. Our own rule.
HOLD_M: Final = 30.0
HOLD_S: Final = 10.0


class Leg(NamedTuple):
    """A stretch of road ridden at one speed: m, m/s, s."""

    length_m: float
    speed: float
    seconds: float


class GearChooser:
    """Which gear a rider takes at a speed: the one whose cadence is nearest to the happy one.

    The ring is left alone as long as a gear on it keeps the cadence within half a jump of the happy one, as
    holes are judged (`hole_limit_pct`): riders change the front only for something. Our own rule.
    """

    def __init__(self, gears: Sequence[Gear], setup: Setup, rider: Rider) -> None:
        self.gears = gears
        self.grinding, self.happy, self.spinning = rider.cadence_rpm
        self.low_speed = speed_at_cadence(gears[0].development_m, self.grinding)
        self.top_speed = speed_at_cadence(gears[-1].development_m, self.spinning)
        self._band = self.happy * hole_limit_pct(setup.limits.jump_pct) / 100.0
        self._all = _Nearest(range(len(gears)), gears, self.happy)
        self._rings = {
            ring: _Nearest([i for i, gear in enumerate(gears) if gear.ring == ring], gears, self.happy)
            for ring in {gear.ring for gear in gears}
        }

    def first(self, speed: float) -> int:
        """The gear to start in at a speed in m/s, as its place among the gears."""
        return self._all.nearest(speed)

    def choose(self, speed: float, at: int) -> int:
        """The gear that a rider in gear `at` wants at a speed in m/s."""
        here = self._rings[self.gears[at].ring].nearest(speed)
        if abs(self._rpm(speed, here) - self.happy) <= self._band:
            return here
        best = self._all.nearest(speed)
        same = self.gears[here].development_m == self.gears[best].development_m
        return here if same else best

    def pressing(self, speed: float, at: int) -> bool:
        """Whether gear `at` must be left at once, as it would grind or spin."""
        return not self.grinding <= self._rpm(speed, at) <= self.spinning

    def _rpm(self, speed: float, at: int) -> float:
        return cadence(speed, self.gears[at].development_m)


class _Nearest:
    """Some of the gears, and between each two the speed at which both are equally far from the happy cadence.

    60 v / a - c = c - 60 v / b gives v = (c / 60) * 2 a b / (a + b), the harmonic mean of the developments.
    """

    def __init__(self, places: Sequence[int], gears: Sequence[Gear], happy: float) -> None:
        self.places = places
        found = [gears[i].development_m for i in places]
        self.between = [speed_at_cadence(2.0 * a * b / (a + b), happy) for a, b in pairwise(found)]

    def nearest(self, speed: float) -> int:
        """The gear whose cadence is nearest to the happy one at a speed in m/s."""
        return self.places[bisect_right(self.between, speed)]


def ridden(chooser: GearChooser, legs: Sequence[Leg]) -> tuple[Gear, ...]:
    """The gear on every leg of a road."""
    return tuple(chooser.gears[at] for at in places_ridden(chooser, legs))


def places_ridden(chooser: GearChooser, legs: Sequence[Leg]) -> Iterator[int]:
    """The same as places among the chooser's gears."""
    at = chooser.first(legs[0].speed)
    for i, leg in enumerate(legs):
        want = chooser.choose(leg.speed, at)
        if want != at and (chooser.pressing(leg.speed, at) or _lasts(chooser, legs, i, at)):
            at = want
        yield at


def _lasts(chooser: GearChooser, legs: Sequence[Leg], i: int, at: int) -> bool:
    """Whether a change from gear `at` on leg i stays wanted, to the same side, for long enough."""
    harder = chooser.choose(legs[i].speed, at) > at
    length = time = 0.0
    for k in range(i, len(legs)):
        want = chooser.choose(legs[k].speed, at)
        if want == at or (want > at) != harder:
            return False
        length += legs[k].length_m
        time += legs[k].seconds
        if length >= HOLD_M and time >= HOLD_S:
            return True
    return False
