"""What becomes of the cogs: loose pieces, a whole cassette, or one made up with loose cogs."""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

from cogwright.core.common.words import listed
from cogwright.core.parts import search
from cogwright.core.parts.bin import Bin, CarrierPart, CassettePart, CogPart
from cogwright.core.setup.cassette import pieces
from cogwright.core.setup.differences import known_to_differ
from cogwright.core.setup.model import Rear
from cogwright.core.worksheet.sheet import Change, Item, Job, Source, off_bike, onto_bike

#: Swapping more loose pieces than this is the work of a whole cassette. Our own rule.
MOST_PIECES: Final = 3
CogsTogether = tuple[int, ...]


@dataclass(frozen=True, slots=True, order=True)
class Worth:
    """What one way to the cogs is judged by, less is better: where its parts come from, then their price.

    `source` is 0 when all lie in the drawers, 1 when some must be ordered, 2 when the bin has not got one.
    """

    source: int
    unpriced: int
    price: float
    parts: int


def worth_of(items: tuple[Item, ...]) -> Worth:
    """What a way is worth by the parts that go on."""
    return Worth(
        max(map(_far, items), default=0),
        sum(item.price is None for item in items),
        round(sum(item.price or 0.0 for item in items), 6),
        len(items),
    )


def _far(item: Item) -> int:
    return 0 if item.source is Source.STOCK else 1 if item.part is not None else 2


def cassette_change(base: Rear, bench: Rear, stock: Bin, renewed: bool = False) -> Change | None:
    """The job of the cogs with the parts that it takes, the best way; None when they stay as they are.

    A renewed cassette is a whole one, whether its cogs are the old ones or not.
    """
    off, on = swapped(base, bench)
    if not (off or on or renewed or known_to_differ(base, bench, "family", "cassette_driver")):
        return None
    found = _ways(base, bench, stock, off, on)
    ways = [way for way in found if way.job is Job.CASSETTE or not renewed]
    if not ways:
        return _whole(base, bench, (onto_bike(cassette_name(bench), None),), stock)
    return min(ways, key=lambda way: worth_of(way.on))


def _ways(
    base: Rear, bench: Rear, stock: Bin, off: list[CogsTogether], on: list[CogsTogether]
) -> Iterator[Change]:
    """Every way to the cogs but a cassette that nobody knows of; of equal ones the first is taken."""
    if swappable(base, bench, len(on)):
        gone = tuple(off_bike(_piece_name(p), _piece(stock, p, base.family)) for p in off)
        come = tuple(onto_bike(_piece_name(p), _piece(stock, p, bench.family)) for p in on)
        yield Change(Job.COGS, gone, come, listed(item.what for item in come) if come else "the cassette")
    elif len(bench.cogs) == 1:
        cog = onto_bike(cassette_name(bench), _piece(stock, bench.cogs, bench.family))
        yield _whole(base, bench, (cog,), stock)
    exact = search.cassette(stock, bench)
    if exact is not None:
        yield _whole(base, bench, (onto_bike(cassette_name(bench), exact),), stock)
    for part, cogs in search.cassettes_and_cogs(stock, bench):
        yield _whole(base, bench, _made_up(bench, part, cogs), stock)


def swappable(base: Rear, bench: Rear, new_pieces: int) -> bool:
    """Whether loose pieces can make the new cogs of the old ones."""
    if len(base.cogs) != len(bench.cogs) or known_to_differ(base, bench, "family", "cassette_driver"):
        return False
    return len(bench.cogs) == 1 or new_pieces <= MOST_PIECES


def _whole(base: Rear, bench: Rear, on: tuple[Item, ...], stock: Bin) -> Change:
    before = off_bike(cassette_name(base), search.cassette(stock, base))
    return Change(Job.CASSETTE, (before,), on, cassette_name(bench))


def _made_up(rear: Rear, part: CassettePart, cogs: tuple[CogPart, ...]) -> tuple[Item, ...]:
    spare = [n for n in part.cogs if n not in rear.cogs]
    note = f"without its {listed(spare)}" if spare else ""
    return (onto_bike(part.name, part, note), *(onto_bike(f"cog {c.teeth}", c) for c in cogs))


def swapped(base: Rear, bench: Rear) -> tuple[list[CogsTogether], list[CogsTogether]]:
    """Pieces that leave the cassette and pieces that come; carriers that one side names hold for both."""
    had = pieces(base.carriers or bench.carriers, base.cogs)
    want = pieces(bench.carriers or base.carriers, bench.cogs)
    return [p for p in had if p not in want], [p for p in want if p not in had]


def _piece(stock: Bin, piece: CogsTogether, family: str | None) -> CogPart | CarrierPart | None:
    return search.cog(stock, piece[0], family) if len(piece) == 1 else search.carrier(stock, piece, family)


def _piece_name(piece: CogsTogether) -> str:
    return f"cog {piece[0]}" if len(piece) == 1 else f"carrier {'-'.join(map(str, piece))}"


def cassette_name(rear: Rear) -> str:
    """What a cassette is called.

    >>> cassette_name(Rear(cogs=(11, 13, 15)))
    'cassette 11-15, 3 cogs'
    """
    if len(rear.cogs) == 1:
        return f"cog {rear.cogs[0]}"
    return f"cassette {rear.cogs[0]}-{rear.cogs[-1]}, {len(rear.cogs)} cogs"
