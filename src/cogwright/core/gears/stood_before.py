"""What stood there before: for each gear of the bench the baseline's gear that it takes the place of."""

import math
from bisect import bisect_left
from collections.abc import Hashable, Mapping, Sequence
from typing import NamedTuple, TypeVar

from cogwright.core.gears.gears import Gear
from cogwright.core.setup.model import Setup

T = TypeVar("T", bound=Hashable)


class Before(NamedTuple):
    """A gear of the baseline; `same_place` where at most the teeth of its sprockets have changed.

    Otherwise it is only the nearest of the old gears.
    """

    gear: Gear
    same_place: bool


def stood_before(
    bench: Setup, base: Setup, gears: Sequence[Gear], base_gears: Sequence[Gear]
) -> Mapping[Gear, Before]:
    """For each of `gears`, those of the bench, its predecessor; both sequences ascend by development."""
    rings = counterparts(bench.crank.rings, base.crank.rings)
    cogs = counterparts(bench.rear.cogs, base.rear.cogs)
    hubs = counterparts(sorted(bench.rear.hub_ratios), sorted(base.rear.hub_ratios))
    old = {(gear.ring, gear.cog, gear.hub): gear for gear in base_gears}

    def before(gear: Gear) -> Before:
        place = rings.get(gear.ring), cogs.get(gear.cog), hubs.get(gear.hub)
        if None not in place and place in old:
            return Before(old[place], same_place=True)
        return Before(nearest(gear, base_gears), same_place=False)

    return {gear: before(gear) for gear in gears}


def counterparts(now: Sequence[T], before: Sequence[T]) -> Mapping[T, T]:
    """What each stood in for: an equal one first; else, of as many as before, the one in its place.

    >>> counterparts((34, 50), (34, 52)), counterparts((11, 13, 36), (11, 13))
    ({34: 34, 50: 52}, {11: 11, 13: 13})
    >>> counterparts((13, 15), (11, 13))
    {13: 13}
    """
    kept = {each: each for each in now if each in before}
    if len(now) != len(before):
        return kept
    moved = {here: there for here, there in zip(now, before, strict=True) if here not in kept}
    return kept | {here: there for here, there in moved.items() if there not in kept}


def nearest(gear: Gear, among: Sequence[Gear]) -> Gear:
    """The nearest of gears that ascend by development, by the logarithm of that."""
    at = bisect_left(among, gear.development_m, key=lambda g: g.development_m)
    return min(among[max(at - 1, 0) : at + 1], key=lambda other: apart(gear, other))


def apart(one: Gear, other: Gear) -> float:
    """How far two gears are apart: the logarithm of the ratio of their developments, never negative."""
    return abs(math.log(one.development_m / other.development_m))
