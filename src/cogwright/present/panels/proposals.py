"""Proposals as a list with their figures."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from cogwright.core.common.safe_text import pad
from cogwright.core.common.words import both_ends, count
from cogwright.core.proposing.proposal import Proposal
from cogwright.present.lines import Line, Look, Role, Span, clip

#: Below this width lost range, price and fit stand in the reasons only.
NARROW: Final = 60
#: From this width what the fit checks say stands there in full words.
ROOMY: Final = 92
#: Cells that are worth giving to the marks.
LEAST_MARKS: Final = 6
_LEFT: Final = {"rings", "what", "fit", "marks"}


def list_head(proposals: Sequence[Proposal], look: Look) -> Line:
    """The head of the list; it is two cells narrower than the look, for a cursor."""
    cells = {"rank": "#", "rings": "rings", "what": "cogs", "low": "low m", "high": "high m"}
    cells |= {
        "low_change": "%",
        "high_change": "%",
        "step": "step %",
        "lost": "lost %",
        "cost": _currency(proposals),
        "fit": "fit",
        "marks": "",
    }
    head = _columns(proposals, look).row(cells, {})
    return clip(tuple(Span(span.text, Role.HEAD) for span in head), look.width - 2)


def list_rows(proposals: Sequence[Proposal], look: Look) -> list[Line]:
    """A line a proposal, best first; two cells narrower than the look, for a cursor."""
    columns = _columns(proposals, look)
    short = look.width < ROOMY
    rows = (columns.row(_cells(rank, one, short), _roles(one)) for rank, one in enumerate(proposals, 1))
    return [clip(row, look.width - 2) for row in rows]


def _cells(rank: int, one: Proposal, short: bool) -> dict[str, str]:
    lost, (low, high) = one.lost, one.change or (0.0, 0.0)
    return {
        "rank": str(rank),
        "rings": " ".join(map(str, one.rings)),
        "what": cogs_words(one),
        "low": f"{one.low_m:.2f}",
        "high": f"{one.high_m:.2f}",
        "low_change": _signed(low),
        "high_change": _signed(high),
        "step": f"{one.worst_step_pct:.1f}",
        "lost": f"{abs(lost.range_pct):.1f}" if lost else "-",
        "cost": _price(one),
        "fit": _fit(one, short),
        "marks": ", ".join(one.marks),
    }


def _signed(percent: float) -> str:
    """A change in whole %, and none as 0.

    >>> _signed(28.6), _signed(-14.3), _signed(-0.2)
    ('+29', '-14', '0')
    """
    whole = round(percent)
    return f"{whole:+d}" if whole else "0"


def _fit(one: Proposal, short: bool = False) -> str:
    """The worst that the fit checks say, counted; ok where nothing is to be said and nothing unknown."""
    for found, name in ((one.problems, "problem"), (one.cautions, "caution")):
        if found:
            return f"{len(found)} {name[:4]}" if short else count(len(found), name)
    if one.unchecked:
        return f"{len(one.unchecked)} {'unkn' if short else 'unknown'}"
    return "ok"


def _price(one: Proposal) -> str:
    return "-" if one.cost is None else f"{one.cost:.2f}"


def _roles(one: Proposal) -> dict[str, Role]:
    lost, limit = one.lost, one.setup.limits.jump_pct
    fit = Role.PROBLEM if one.problems else Role.CAUTION if one.cautions else Role.OK
    fit = Role.UNKNOWN if fit is Role.OK and one.unchecked else fit
    roles = {"fit": fit, "marks": Role.TITLE}
    roles |= {"low": Role.LOST, "low_change": Role.LOST} if lost and lost.low > 1e-9 else {}
    roles |= {"high": Role.LOST, "high_change": Role.LOST} if lost and lost.high > 1e-9 else {}
    roles |= {"step": Role.JUMP} if one.worst_step_pct > limit + 1e-9 else {}
    return roles


def cogs_words(one: Proposal) -> str:
    """The cogs in a few words: all of them for another cassette of the same ends, else ends and swaps."""
    if one.kind in {"cassette", "closer-fast"}:
        return " ".join(map(str, one.cogs))
    swaps = ", ".join(swap.say() for swap in one.swaps)
    if one.kind in {"one-swap", "two-swaps"}:
        return swaps
    whole = f"{one.cogs[0]}-{one.cogs[-1]}" if len(one.cogs) > 1 else str(one.cogs[0])
    cogs = f"{whole}, {count(len(one.cogs), 'cog')}" if len(one.cogs) > 1 else whole
    return cogs + (f": {swaps}" if swaps and one.kind == "plan" else "")


def _currency(proposals: Sequence[Proposal]) -> str:
    return next((one.currency for one in proposals if one.currency), "cost")


@dataclass(frozen=True, slots=True)
class _Columns:
    """The columns that there is room for, each with its cells; names set flush left stand in `_LEFT`."""

    widths: dict[str, int]

    def row(self, cells: dict[str, str], roles: dict[str, Role]) -> Line:
        """A line of cells, two between words and figures."""
        spans: list[Span] = []
        for name, room in self.widths.items():
            text = _in_room(name, cells[name], room)
            spans += [Span(pad(text, room, right=name not in _LEFT), roles.get(name, Role.TEXT))]
            spans += [Span("  " if name == "fit" else " ")]
        return tuple(spans)


def _in_room(name: str, text: str, room: int) -> str:
    """A cell's text in whole words: cogs by both ends, marks as many as there is room for."""
    if name == "what":
        return both_ends(text.split(), room)
    if name == "marks":
        while len(text) > room and ", " in text:
            text = text.rpartition(", ")[0]
        return text if len(text) <= room else "*"
    return text


def _columns(proposals: Sequence[Proposal], look: Look) -> _Columns:
    """What matters least goes first where there is no room; what is left over goes to the marks."""
    rings = max([5, *(len(" ".join(map(str, one.rings))) for one in proposals)])
    wanted = max([4, *(len(cogs_words(one)) for one in proposals)])
    # A single ring is a trade between both ends, so that each end's change stands beside it.
    both = bool(proposals) and all(one.change for one in proposals)
    figures = {"low": 5, "low_change": 4, "high": 6, "high_change": 4} if both else {"low": 5, "high": 6}
    figures["step"] = 6
    price = max([4, *(len(_price(one)) for one in proposals)])
    fit = max([3, *(len(_fit(one, look.width < ROOMY)) for one in proposals)])
    if look.width >= NARROW:
        figures |= {"cost": price, "fit": fit} if both else {"lost": 6, "cost": price, "fit": fit}
    free = look.width - 2 - (2 + rings + 3) - sum(room + 1 for room in figures.values()) - 1
    widths = {"rank": 2, "rings": rings, "what": max(min(wanted, free), 4), **figures}
    rest = free - widths["what"] - 1
    return _Columns(widths | ({"marks": rest} if rest >= LEAST_MARKS else {}))
