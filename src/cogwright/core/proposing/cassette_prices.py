"""What cogs cost, fast: the worth of the way that an order sheet takes to them, for thousands of cassettes.

The rule is that of `worksheet.cassettes`; here every lookup in the bin is made once. A test holds both
against each other.
"""

from typing import NamedTuple

from cogwright.core.parts import search
from cogwright.core.parts.bin import Bin, Part
from cogwright.core.setup.cassette import pieces
from cogwright.core.setup.model import Rear
from cogwright.core.worksheet.cassettes import MOST_PIECES, Worth

PricedCogs = tuple[int, ...]
_NOTHING = Worth(0, 0, 0.0, 0)
_TO_BUY = Worth(2, 1, 0.0, 1)


class _Whole(NamedTuple):
    """A cassette of the bin: its cogs, those of its carriers, and what it is worth alone."""

    cogs: frozenset[int]
    ordered: tuple[int, ...]
    riveted: frozenset[int]
    worth: Worth


class CassettePrices:
    """What any cogs are worth from one cassette and one bin."""

    def __init__(self, base: Rear, stock: Bin) -> None:
        self._base, self._stock = base, stock
        self._had = {carriers: pieces(carriers, base.cogs) for carriers in (base.carriers,)}
        self._of_kind: dict[object, tuple[_Whole, ...]] = {}
        self._pieces: dict[tuple[PricedCogs, str | None], Worth] = {}

    def worth(
        self,
        cogs: tuple[int, ...],
        carriers: tuple[PricedCogs, ...],
        family: str | None,
        driver: str | None,
        renewed: bool = False,
    ) -> Worth:
        """What the best way to these cogs is worth; facts that only one side knows are no difference.

        A renewed cassette comes whole, even if its cogs are the old ones.
        """
        base = self._base
        same = search.alike(base.family, family) and search.alike(base.cassette_driver, driver)
        best = self._swapped(cogs, carriers, family) if same and len(cogs) == len(base.cogs) else None
        if best == _NOTHING and not renewed:
            return best
        if best is None and len(cogs) == 1:
            best = self._piece(cogs, family)
        elif renewed:
            best = None
        wanted = frozenset(cogs)
        for whole in self._cassettes(carriers, family, driver):
            missing = wanted - whole.cogs
            if len(missing) > search.MOST_LOOSE or not whole.riveted <= wanted:
                continue
            worth = self._made_up(whole, sorted(missing), family) if missing else whole.worth
            if worth is not None and (missing or whole.ordered == cogs) and (best is None or worth < best):
                best = worth
        return _TO_BUY if best is None else best

    def _swapped(
        self, cogs: tuple[int, ...], carriers: tuple[PricedCogs, ...], family: str | None
    ) -> Worth | None:
        """The cassette on the bike with loose pieces swapped; None where that is too much work."""
        base = self._base
        if len(set(cogs).difference(base.cogs)) > MOST_PIECES and not (carriers or base.carriers):
            return None
        riveted = base.carriers or carriers
        if riveted not in self._had:
            self._had[riveted] = pieces(riveted, base.cogs)
        had, want = self._had[riveted], pieces(carriers or base.carriers, cogs)
        new = [piece for piece in want if piece not in had]
        if len(new) > MOST_PIECES and len(cogs) > 1:
            return None
        return _together([self._piece(piece, family) for piece in new])

    def _piece(self, piece: PricedCogs, family: str | None) -> Worth:
        key = (piece, family)
        if key not in self._pieces:
            found: Part | None
            if len(piece) == 1:
                found = search.cog(self._stock, piece[0], family)
            else:
                found = search.carrier(self._stock, piece, family)
            self._pieces[key] = _worth(found)
        return self._pieces[key]

    def _made_up(self, whole: _Whole, missing: list[int], family: str | None) -> Worth | None:
        """A cassette with loose cogs of the bin; None where it has not got them."""
        cogs = [self._piece((n,), family) for n in missing]
        return None if any(cog.source == _TO_BUY.source for cog in cogs) else _together([whole.worth, *cogs])

    def _cassettes(
        self, carriers: tuple[PricedCogs, ...], family: str | None, driver: str | None
    ) -> tuple[_Whole, ...]:
        """The bin's cassettes that could be part of such a one."""
        key = (carriers, family, driver)
        if key not in self._of_kind:
            self._of_kind[key] = tuple(
                _Whole(
                    frozenset(part.cogs),
                    part.cogs,
                    frozenset(n for carrier in part.carriers for n in carrier),
                    _worth(part),
                )
                for part in self._stock.cassettes
                if (not carriers or sorted(part.carriers) == sorted(carriers))
                and search.alike(part.family, family)
                and search.alike(part.driver, driver)
            )
        return self._of_kind[key]


def _worth(part: Part | None) -> Worth:
    if part is None:
        return _TO_BUY
    price = part.price
    return Worth(0 if part.count else 1, int(price is None), round(price or 0.0, 6), 1)


def _together(worths: list[Worth]) -> Worth:
    return Worth(
        max((one.source for one in worths), default=0),
        sum(one.unpriced for one in worths),
        round(sum(one.price for one in worths), 6),
        sum(one.parts for one in worths),
    )
