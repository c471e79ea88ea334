"""The pieces that a cassette may be made of: every tooth count, or what is on the bike and in the bin."""

from collections.abc import Iterable
from dataclasses import dataclass

from cogwright.core.common.errors import CogwrightError
from cogwright.core.proposing.ladder import CassettePiece
from cogwright.core.setup.cassette import pieces
from cogwright.core.setup.model import Setup


@dataclass(frozen=True, slots=True)
class Pool:
    """Pieces to choose from: those on the bike, and new ones."""

    pieces: tuple[CassettePiece, ...]


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
    return Pool((*kept, *others)), tuple(sorted(stay))
