"""What a plan chooses from: ring sets, and cassettes with up to two loose cogs swapped.

Variants of a cassette with the same ends make a group: whether they fit, how long a chain they want
and what range they have is the same for all of a group. Within it only those count that no other one
beats in both largest step and price, so that what is searched further is a small share of all there is,
and nothing that could be best is left out.
"""

from bisect import insort
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from itertools import combinations
from math import comb
from operator import truediv
from typing import NamedTuple

from cogwright.core.proposing.choices import CassetteChoice, CogChoice, RingChoice
from cogwright.core.proposing.goal import CENT
from cogwright.core.proposing.ladder import unevenness


class RingSet(NamedTuple):
    """Rings that go on together, ascending, and the price of the new ones."""

    rings: tuple[RingChoice, ...]
    teeth: tuple[int, ...]
    cost: float


class Variant(NamedTuple):
    """A cassette with some loose cogs swapped. `worst` is the largest step as a ratio."""

    worst: float
    cost: float
    cogs: tuple[int, ...]
    cassette: CassetteChoice
    out: tuple[int, ...]
    into: tuple[CogChoice, ...]


@dataclass(slots=True)
class Group:
    """Variants of one cassette with the same ends; `counted` is how many there are."""

    low: int
    high: int
    best: list[Variant] = field(default_factory=list)
    counted: int = 0

    def add(self, variant: Variant) -> None:
        """Take a variant in, unless one that is there is as even and as cheap."""
        self.counted += 1
        if any(_beats(other, variant) for other in self.best):
            return
        self.best = [other for other in self.best if not _beats(variant, other)]
        insort(self.best, variant, key=lambda v: (v.worst, v.cost))


def _beats(one: Variant, other: Variant) -> bool:
    if one.worst > other.worst or one.cost > other.cost + CENT:
        return False
    if one.worst < other.worst or one.cost < other.cost - CENT:
        return True
    return unevenness(one.cogs) <= unevenness(other.cogs)


def ring_sets(own: Iterable[RingChoice], offered: Iterable[RingChoice], most: int) -> list[RingSet]:
    """All sets of one to `most` rings out of those on the bike and those offered.

    A ring for the inner bolt circle goes inside of another one only. The rings on the bike as they are come
    first, so that of equal changes the one that leaves them alone is kept; then those that change least.
    """
    own = tuple(own)
    there = {(ring.teeth, ring.inner) for ring in own}
    cheapest: dict[tuple[int, bool], RingChoice] = {}
    for ring in (*own, *sorted(offered, key=lambda r: r.price or 0.0)):
        cheapest.setdefault((ring.teeth, ring.inner), ring)
    choices = [cheapest[key] for key in sorted(cheapest)]
    sets = (rings for size in range(1, most + 1) for rings in combinations(choices, size))
    found = [
        RingSet(rings, tuple(r.teeth for r in rings), sum(r.price or 0.0 for r in rings))
        for rings in sets
        if _stands(rings)
    ]
    return sorted(found, key=lambda of: len(there.symmetric_difference((r.teeth, r.inner) for r in of.rings)))


def _stands(rings: tuple[RingChoice, ...]) -> bool:
    teeth = {ring.teeth for ring in rings}
    inner = [at for at, ring in enumerate(rings) if ring.inner]
    return len(teeth) == len(rings) and (not inner or (inner == [0] and len(rings) > 1))


def collect(groups: dict[tuple[int, int], Group], variant: Variant) -> None:
    """Put a variant into the group of its ends."""
    ends = (variant.cogs[0], variant.cogs[-1])
    groups.setdefault(ends, Group(*ends)).add(variant)


def loose_for(cassette: CassetteChoice, offered: Iterable[CogChoice]) -> list[CogChoice]:
    """The cheapest loose cog of each tooth count that can come onto a cassette.

    Nothing goes between riveted cogs, and what the cassette has need not come.
    """
    blocked = set(cassette.cogs).union(*(range(c[0], c[-1]) for c in cassette.carriers))
    cheapest: dict[int, CogChoice] = {}
    for cog in sorted(offered, key=lambda c: c.price):
        if cog.teeth not in blocked and cog.goes_with(cassette):
            cheapest.setdefault(cog.teeth, cog)
    return [cheapest[n] for n in sorted(cheapest)]


def loose_on(cassette: CassetteChoice) -> list[int]:
    """The cogs of a cassette that are not riveted."""
    return sorted(set(cassette.cogs).difference(*cassette.carriers))


def count_variants(cassette: CassetteChoice, offered: Iterable[CogChoice]) -> int:
    """How many variants there are of a cassette.

    >>> count_variants(CassetteChoice((11, 13, 15)), [CogChoice(12, "", 4.0), CogChoice(14, "", 4.0)])
    10
    """
    outs, into = len(loose_on(cassette)), len(loose_for(cassette, offered))
    return sum(comb(outs, many) * comb(into, many) for many in range(3))


def variants(cassette: CassetteChoice, offered: Iterable[CogChoice]) -> Iterator[Variant]:
    """The cassette as it is, and with one and two of its loose cogs swapped for others."""
    cogs = set(cassette.cogs)
    outs, choices = loose_on(cassette), loose_for(cassette, offered)
    for many in range(3):
        for into in combinations(choices, many):
            come = {cog.teeth for cog in into}
            cost = sum((cog.price for cog in into), cassette.price or 0.0)
            for out in combinations(outs, many):
                teeth = tuple(sorted(cogs.difference(out) | come))
                worst = max(map(truediv, teeth[1:], teeth), default=1.0)
                yield Variant(worst, cost, teeth, cassette, out, into)
