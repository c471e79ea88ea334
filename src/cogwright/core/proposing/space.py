"""What a plan goes through: ring sets, and cassettes with up to two loose cogs swapped, in groups.

Variants with the same ends, spacing and driver make a group, whichever cassette they are made of: whether
they fit, how long a chain they want and what range they have is the same for all of a group. Within it only
those count that no other one beats in largest step, price and unpriced parts, so that what is searched
further is a small share of all there is, and nothing that could be best is left out.
"""

from bisect import insort
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from itertools import combinations
from math import comb
from operator import truediv

from cogwright.core.fit.rear import broken_carriers, wedged
from cogwright.core.parts.bin import CogPart
from cogwright.core.parts.search import alike, best
from cogwright.core.proposing.choices import CassetteChoice, RingChoice
from cogwright.core.proposing.goal import CENT
from cogwright.core.proposing.kit import RingSet, Variant
from cogwright.core.proposing.kit_fit import CogEnds
from cogwright.core.proposing.kit_prices import KitPrice
from cogwright.core.proposing.ladder import unevenness
from cogwright.core.setup.spacing import Spacing


@dataclass(slots=True)
class Group:
    """Variants with the same ends, and what each costs; `counted` is how many there are."""

    ends: CogEnds
    best: list[tuple[Variant, KitPrice]] = field(default_factory=list)
    counted: int = 0

    def add(self, variant: Variant, price: KitPrice) -> None:
        """Take a variant in, unless one that is there is as good in all."""
        self.counted += 1
        one = (variant, price)
        if any(_beats(other, one) for other in self.best):
            return
        self.best = [other for other in self.best if not _beats(one, other)]
        insort(self.best, one, key=lambda of: (of[0].worst, of[1].cost))


def _beats(one: tuple[Variant, KitPrice], other: tuple[Variant, KitPrice]) -> bool:
    (here, price), (there, other_price) = one, other
    if (
        here.worst > there.worst
        or price.cost > other_price.cost + CENT
        or price.unpriced > other_price.unpriced
    ):
        return False
    if (
        here.worst < there.worst
        or price.cost < other_price.cost - CENT
        or price.unpriced < other_price.unpriced
    ):
        return True
    return unevenness(here.cogs) <= unevenness(there.cogs)


def ring_sets(own: Iterable[RingChoice], offered: Iterable[RingChoice], most: int) -> list[RingSet]:
    """All sets of one to `most` rings out of those on the bike and those offered.

    A ring for the inner bolt circle goes inside of another one only, one that retains the chain alone only.
    The rings on the bike as they are come first, so that of equal changes the one that leaves them alone is
    kept; then those that change least.
    """
    own = tuple(own)
    there = {(ring.teeth, ring.inner) for ring in own}
    choices: dict[tuple[int, bool, bool | None], RingChoice] = {}
    for ring in (*own, *offered):
        choices.setdefault((ring.teeth, ring.inner, ring.retaining), ring)
    ordered = sorted(choices.values(), key=lambda ring: (ring.teeth, ring.inner, not ring.on_bike))
    sets = (rings for size in range(1, most + 1) for rings in combinations(ordered, size))
    found = [(rings, tuple(ring.teeth for ring in rings)) for rings in sets if _stands(rings)]
    changed = [len(there.symmetric_difference((r.teeth, r.inner) for r in rings)) for rings, _ in found]
    order = sorted(range(len(found)), key=changed.__getitem__)
    return [RingSet(*found[at], place) for place, at in enumerate(order)]


def _stands(rings: tuple[RingChoice, ...]) -> bool:
    teeth = {ring.teeth for ring in rings}
    inner = [at for at, ring in enumerate(rings) if ring.inner]
    alone = len(rings) == 1
    retains = not alone and any(ring.retaining for ring in rings)
    return len(teeth) == len(rings) and (not inner or (inner == [0] and not alone)) and not retains


def loose_for(cassette: CassetteChoice, offered: Iterable[CogPart]) -> list[CogPart]:
    """A loose cog of each tooth count that can come onto a cassette: the one that an order sheet takes.

    Nothing goes between riveted cogs, and what the cassette has need not come.
    """
    blocked = set(cassette.cogs).union(*(range(c[0], c[-1]) for c in cassette.carriers))
    found: dict[int, list[CogPart]] = {}
    for cog in offered:
        if cog.teeth not in blocked and alike(cog.family, cassette.family):
            found.setdefault(cog.teeth, []).append(cog)
    return [one for n in sorted(found) if (one := best(found[n])) is not None]


def loose_on(cassette: CassetteChoice) -> list[int]:
    """The cogs of a cassette that are not riveted."""
    return sorted(set(cassette.cogs).difference(*cassette.carriers))


def count_variants(cassette: CassetteChoice, offered: Iterable[CogPart]) -> int:
    """How many variants there are of a cassette.

    >>> cogs = [CogPart(name="cog", teeth=n, price=4.0) for n in (12, 14)]
    >>> count_variants(CassetteChoice((11, 13, 15)), cogs)
    10
    """
    outs, into = len(loose_on(cassette)), len(loose_for(cassette, offered))
    return sum(comb(outs, many) * comb(into, many) for many in range(3))


def variants(cassette: CassetteChoice, offered: Iterable[CogPart]) -> Iterator[Variant]:
    """The cassette as it is, and with one and two of its loose cogs swapped for others."""
    cogs = set(cassette.cogs)
    outs, choices = loose_on(cassette), loose_for(cassette, offered)
    for many in range(3):
        for into in combinations(choices, many):
            come = {cog.teeth for cog in into}
            for out in combinations(outs, many):
                teeth = tuple(sorted(cogs.difference(out) | come))
                worst = max(map(truediv, teeth[1:], teeth), default=1.0)
                yield Variant(worst, teeth, cassette, out, into)


class Ends:
    """The ends that a cassette's variants share with others; `pitch` is that of the bike for so many cogs."""

    def __init__(self, cassette: CassetteChoice, cogs_now: int, pitch_now: Spacing | None) -> None:
        kept = pitch_now if len(cassette.cogs) == cogs_now else None
        pitch = kept if cassette.cog_pitch_mm is None else cassette.cog_pitch_mm
        self._shared = (len(cassette.cogs), cassette.family, cassette.driver, pitch, not cassette.on_bike)
        self._carriers = cassette.carriers
        broken = bool(broken_carriers(cassette.carriers, cassette.cogs))
        self._doubtful = broken or bool(wedged(cassette.carriers, cassette.cogs))

    def of(self, cogs: tuple[int, ...]) -> CogEnds:
        """The ends of one variant."""
        torn = self._doubtful and self._torn(cogs)
        return CogEnds(cogs[0], cogs[-1], *self._shared, torn)

    def _torn(self, cogs: tuple[int, ...]) -> bool:
        return bool(broken_carriers(self._carriers, cogs)) or bool(wedged(self._carriers, cogs))
