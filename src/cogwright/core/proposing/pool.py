"""The parts that a cassette may be made of: every tooth count, or what is on the bike and in the bin."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field

from cogwright.core.common.errors import CogwrightError
from cogwright.core.proposing.ladder import Part
from cogwright.core.setup.model import Setup


@dataclass(frozen=True, slots=True)
class Offer:
    """What a part costs and what it is called; `price` None when nobody wrote it down."""

    price: float | None
    name: str


@dataclass(frozen=True, slots=True)
class Pool:
    """Parts to choose from; `offers` prices the new ones by their cogs, and is empty without prices."""

    parts: tuple[Part, ...]
    offers: Mapping[tuple[int, ...], Offer] = field(default_factory=dict)
    currency: str = ""

    def cost(self, parts: Iterable[Part]) -> float | None:
        """Price of the new ones among the parts; None when one of them has none."""
        prices = [
            self.offers[part.cogs].price if part.cogs in self.offers else None for part in parts if part.new
        ]
        return sum_known(prices)

    def names(self, parts: Iterable[Part]) -> tuple[str, ...]:
        """Names of the new ones among the parts."""
        return tuple(self.offers[part.cogs].name for part in parts if part.new and part.cogs in self.offers)


def sum_known(prices: Iterable[float | None]) -> float | None:
    """The sum of prices; None when one of them is not known.

    >>> sum_known([1.5, 2.0]), sum_known([1.5, None])
    (3.5, None)
    """
    total = 0.0
    for price in prices:
        if price is None:
            return None
        total += price
    return total


def parts_of(setup: Setup) -> tuple[Part, ...]:
    """The parts of the cassette on the bike: its carriers and its loose cogs.

    A carrier in the file counts as far as all its cogs are on the bike.
    """
    cogs = set(setup.rear.cogs)
    carriers = [carrier for carrier in setup.rear.carriers if cogs.issuperset(carrier)]
    riveted = {n for carrier in carriers for n in carrier}
    loose = [(n,) for n in sorted(cogs - riveted)]
    return tuple(Part(teeth, new=False) for teeth in sorted([*carriers, *loose]))


def all_tooth_counts(setup: Setup) -> Pool:
    """Every tooth count between the ends of the cassette, loose, besides the parts on the bike."""
    have = parts_of(setup)
    on = {part.cogs for part in have}
    low, high = setup.rear.cogs[0], setup.rear.cogs[-1]
    return Pool((*have, *(Part((n,)) for n in range(low, high + 1) if (n,) not in on)))


def pinned(pool: Pool, setup: Setup, pins: Iterable[int]) -> tuple[Pool, tuple[int, ...]]:
    """The pool without the parts that would push a pinned cog out, and every cog that stays with the pins.

    A riveted cog stays with its whole carrier. Raises CogwrightError for a pin that is not on the bike.
    """
    wanted = set(pins)
    strangers = wanted - set(setup.rear.cogs)
    if strangers:
        named = ", ".join(map(str, sorted(strangers)))
        there = " ".join(map(str, setup.rear.cogs))
        raise CogwrightError(f"no cog of {named} teeth can stay: the cassette has {there}")
    kept = [part for part in parts_of(setup) if wanted.intersection(part.cogs)]
    stay = {n for part in kept for n in part.cogs}
    others = [part for part in pool.parts if part not in kept and not stay.intersection(part.cogs)]
    return Pool((*kept, *others), pool.offers, pool.currency), tuple(sorted(stay))
