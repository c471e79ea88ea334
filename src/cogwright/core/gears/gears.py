"""What each gear does: ratio, development, gear inches, gain ratio, speed."""

import math
from collections.abc import Iterable
from typing import NamedTuple

from cogwright.core.common.units import M_PER_INCH, MIN_PER_H
from cogwright.core.setup.model import Setup
from cogwright.core.setup.sizes import Circumference, circumference


def ratio(ring: int, cog: int, hub: float = 1.0) -> float:
    """Turns of the wheel per turn of the cranks: N / n * h.

    >>> ratio(46, 23)
    2.0
    """
    return ring / cog * hub


def gear_inches(ratio: float, circumference_m: float) -> float:
    """Diameter, in inches, of the wheel that would go as far on one turn: ratio * C / pi / 0.0254.

    17 teeth with 8 on a 28-inch wheel is printed as 59 1/2 (M. E. Ward, Bicycling for Ladies, 1896):

    >>> round(gear_inches(17 / 8, 28 * 0.0254 * math.pi), 1)
    59.5
    """
    return ratio * circumference_m / math.pi / M_PER_INCH


def gain_ratio(ratio: float, circumference_m: float, crank_mm: float) -> float:
    """Way of the bike per way of the pedal: ratio * wheel radius / crank length.

    A 63-inch gear on a 6 1/2-inch crank gains 4.85 (Scientific American Supplement 1025, 1895):

    >>> round(gain_ratio(1.0, 63 * 0.0254 * math.pi, 6.5 * 25.4), 2)
    4.85
    """
    return ratio * circumference_m / (2.0 * math.pi) / (crank_mm / 1000.0)


def speed_kmh(development_m: float, rpm: float) -> float:
    """Speed in km/h at a cadence: development * rpm * 60 / 1000.

    >>> speed_kmh(5.0, 100)
    30.0
    """
    return development_m * rpm * MIN_PER_H / 1000.0


class Gear(NamedTuple):
    """One ring with one cog and one hub ratio. `position` counts the hub's gears from its lowest, from 1."""

    ring: int
    cog: int
    hub: float
    position: int | None
    ratio: float
    development_m: float

    @property
    def label(self) -> str:
        """The gear as it is called: ring x cog, and the hub's gear where it has several."""
        tail = "" if self.position is None else f" h{self.position}"
        return f"{self.ring}x{self.cog}{tail}"


def wheel_of(setup: Setup) -> Circumference:
    """Circumference of the setup's driven wheel."""
    return circumference(setup.wheel.size, setup.wheel.rollout_mm)


def gears_of(setup: Setup) -> tuple[Gear, ...]:
    """All gears of a setup, easiest first; equal ones by ring."""
    wheel = wheel_of(setup)
    hubs = sorted(setup.rear.hub_ratios)
    found = (
        _gear(ring, cog, hub, position if len(hubs) > 1 else None, wheel.m)
        for ring in setup.crank.rings
        for cog in setup.rear.cogs
        for position, hub in enumerate(hubs, 1)
    )
    return sort_gears(found)


def sort_gears(gears: Iterable[Gear]) -> tuple[Gear, ...]:
    """Gears by development; the ring, cog and hub ratio settle a tie, so that the order is stable."""
    return tuple(sorted(gears, key=lambda g: (g.development_m, g.ring, g.cog, g.hub)))


def _gear(ring: int, cog: int, hub: float, position: int | None, wheel_m: float) -> Gear:
    turns = ratio(ring, cog, hub)
    return Gear(ring, cog, hub, position, turns, turns * wheel_m)
