"""The pieces that a cassette may be made of: every tooth count, or what is on the bike and in the bin."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field

from cogwright.core.common.errors import CogwrightError
from cogwright.core.proposing.ladder import CassettePiece
from cogwright.core.setup.cassette import pieces
from cogwright.core.setup.model import Setup


@dataclass(frozen=True, slots=True)
class Offer:
    """What a piece costs and what it is called; `price` None when nobody wrote it down."""

    price: float | None
    name: str


@dataclass(frozen=True, slots=True)
class Pool:
    """Pieces to choose from; `offers` prices the new ones by their cogs, and is empty without prices."""

    pieces: tuple[CassettePiece, ...]
    offers: Mapping[tuple[int, ...], Offer] = field(default_factory=dict)
    currency: str = ""

    def cost(self, among: Iterable[CassettePiece]) -> float | None:
        """Price of the new ones among the pieces; None when one of them has none."""
        prices = [
            self.offers[piece.cogs].price if piece.cogs in self.offers else None
            for piece in among
            if piece.new
        ]
        return sum_known(prices)

    def names(self, among: Iterable[CassettePiece]) -> tuple[str, ...]:
        """Names of the new ones among the pieces."""
        return tuple(
            self.offers[piece.cogs].name for piece in among if piece.new and piece.cogs in self.offers
        )


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


def pieces_on(setup: Setup) -> tuple[CassettePiece, ...]:
    """The pieces of the cassette on the bike; a carrier in the file counts where all its cogs are there."""
    there = pieces(setup.rear.carriers, setup.rear.cogs)
    return tuple(CassettePiece(teeth, new=False) for teeth in there)


def all_tooth_counts(setup: Setup) -> Pool:
    """Every tooth count between the ends of the cassette, loose, besides the pieces on the bike."""
    have = pieces_on(setup)
    on = {piece.cogs for piece in have}
    low, high = setup.rear.cogs[0], setup.rear.cogs[-1]
    return Pool((*have, *(CassettePiece((n,)) for n in range(low, high + 1) if (n,) not in on)))


def pinned(pool: Pool, setup: Setup, pins: Iterable[int]) -> tuple[Pool, tuple[int, ...]]:
    """The pool without the pieces that would push a pinned cog out, and every cog that stays with the pins.

    A riveted cog stays with its whole carrier. Raises CogwrightError for a pin that is not on the bike.
    """
    wanted = set(pins)
    strangers = wanted - set(setup.rear.cogs)
    if strangers:
        named = ", ".join(map(str, sorted(strangers)))
        there = " ".join(map(str, setup.rear.cogs))
        raise CogwrightError(f"no cog of {named} teeth can stay: the cassette has {there}")
    kept = [piece for piece in pieces_on(setup) if wanted.intersection(piece.cogs)]
    stay = {n for piece in kept for n in piece.cogs}
    others = [piece for piece in pool.pieces if piece not in kept and not stay.intersection(piece.cogs)]
    return Pool((*kept, *others), pool.offers, pool.currency), tuple(sorted(stay))
