"""Proposals as lines: the list with its figures, and for one of them what is gained, bought and to mind."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from cogwright.core.common.safe_text import pad
from cogwright.core.proposing.proposal import Proposal
from cogwright.present.lines import Line, Look, Page, Role, Span, clip, line, spread, wrap

#: Below this width lost range, price and fit stand in the reasons only.
NARROW: Final = 60
#: Cells that are worth giving to the marks.
LEAST_MARKS: Final = 6
_MILLION: Final = 1_000_000
_LEFT: Final = {"rings", "what", "fit", "marks"}
_NOTHING: Final = {
    "even": "No cassette of these ends and this number of cogs is more even: none out of {}.",
    "single": "There is no ring to propose out of {}: give a bin with rings, or none for every tooth count.",
    "plan": "There is nothing for this bike in {}: give its parts a price.",
}


def nothing_words(kind: str, source: str, cogs: int = 3) -> str:
    """What to say when a search out of a source finds nothing, for a bike with so many cogs.

    >>> nothing_words("even", "all tooth counts", cogs=1)
    'There is nothing to even out: one cog. The steps of a hub gear are built into it.'
    """
    if kind == "even" and cogs == 1:
        return "There is nothing to even out: one cog. The steps of a hub gear are built into it."
    return _NOTHING[kind].format(source)


def proposals_page(proposals: Sequence[Proposal], look: Look, cursor: int = 0) -> Page:
    """The list under its head, the row at the cursor marked, and the reasons for that one below."""
    rows = list_rows(proposals, look)
    marked = tuple(_marked(row, look) if at == cursor else line("  ", row) for at, row in enumerate(rows))
    block = reason_lines(proposals[cursor], look) if proposals else []
    return Page((line("  ", list_head(proposals, look)),), (*marked, (), *block), cursor)


def _marked(row: Line, look: Look) -> Line:
    text = "".join(span.text for span in row)
    return (Span(pad(f"{look.glyphs.bullet} {text}", look.width), Role.CURSOR),)


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
    rows = (columns.row(_cells(rank, one), _roles(one)) for rank, one in enumerate(proposals, 1))
    return [clip(row, look.width - 2) for row in rows]


def _cells(rank: int, one: Proposal) -> dict[str, str]:
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
        "fit": _fit(one),
        "marks": ", ".join(one.marks),
    }


def _signed(percent: float) -> str:
    """A change in whole %, and none as 0.

    >>> _signed(28.6), _signed(-14.3), _signed(-0.2)
    ('+29', '-14', '0')
    """
    whole = round(percent)
    return f"{whole:+d}" if whole else "0"


def _fit(one: Proposal) -> str:
    """How many checks are bad; a question mark where some could not be made."""
    if one.problems:
        return f"{len(one.problems)} bad"
    return "ok ?" if one.unchecked else "ok"


def _price(one: Proposal) -> str:
    return "-" if one.cost is None else f"{one.cost:.2f}"


def _roles(one: Proposal) -> dict[str, Role]:
    lost, limit = one.lost, one.setup.limits.jump_pct
    fit = Role.PROBLEM if one.problems else Role.UNKNOWN if one.unchecked else Role.OK
    roles = {"fit": fit, "marks": Role.TITLE}
    roles |= {"low": Role.LOST, "low_change": Role.LOST} if lost and lost.low > 1e-9 else {}
    roles |= {"high": Role.LOST, "high_change": Role.LOST} if lost and lost.high > 1e-9 else {}
    roles |= {"step": Role.JUMP} if one.worst_step_pct > limit + 1e-9 else {}
    return roles


def cogs_words(one: Proposal) -> str:
    """The cogs in a few words: all of them for another cassette of the same ends, else ends and swaps."""
    if one.kind == "cassette":
        return " ".join(map(str, one.cogs))
    swaps = ", ".join(swap.say() for swap in one.swaps)
    if one.kind in {"one-swap", "two-swaps"}:
        return swaps
    whole = f"{one.cogs[0]}-{one.cogs[-1]}" if len(one.cogs) > 1 else str(one.cogs[0])
    return f"{whole} of {len(one.cogs)}" + (f": {swaps}" if swaps else "")


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
            spans += [Span(pad(cells[name], room, right=name not in _LEFT), roles.get(name, Role.TEXT))]
            spans += [Span("  " if name == "fit" else " ")]
        return tuple(spans)


def _columns(proposals: Sequence[Proposal], look: Look) -> _Columns:
    """What matters least goes first where there is no room; what is left over goes to the marks."""
    rings = max([5, *(len(" ".join(map(str, one.rings))) for one in proposals)])
    wanted = max([4, *(len(cogs_words(one)) for one in proposals)])
    # A single ring is a trade between both ends, so that each end's change stands beside it.
    both = bool(proposals) and all(one.change for one in proposals)
    figures = {"low": 5, "low_change": 4, "high": 6, "high_change": 4} if both else {"low": 5, "high": 6}
    figures["step"] = 6
    price = max([4, *(len(_price(one)) for one in proposals)])
    if look.width >= NARROW:
        figures |= {"cost": price, "fit": 5} if both else {"lost": 6, "cost": price, "fit": 5}
    free = look.width - 2 - (2 + rings + 3) - sum(room + 1 for room in figures.values()) - 1
    widths = {"rank": 2, "rings": rings, "what": max(min(wanted, free), 4), **figures}
    rest = free - widths["what"] - 1
    return _Columns(widths | ({"marks": rest} if rest >= LEAST_MARKS else {}))


def reason_lines(one: Proposal, look: Look) -> list[Line]:
    """Why a proposal stands in the list, what it takes, what does not fit and what to mind."""
    out = _said("", [one.title], Role.TITLE, look)
    out += _said("*", [", ".join(one.marks)] if one.marks else [], Role.KEY, look)
    role = Role.TEXT if one.meets else Role.CAUTION
    out += _said("-", one.reasons, role, look)
    if one.fits:
        price = "" if one.cost is None else f"; {one.cost:.2f} {one.currency} in all".replace("  ", " ")
        out += _said("+", [f"to fit: {'; '.join(one.fits)}{price}"], Role.TEXT, look)
    elif one.cost is None:
        out += _said("+", ["price not known: no bin, or a part in it without one"], Role.DIM, look)
    out += _said("!", [f"does not fit: {problem}" for problem in one.problems], Role.PROBLEM, look)
    return out + _said("?", _to_mind(one), Role.CAUTION, look)


def _to_mind(one: Proposal) -> list[str]:
    """What to mind, and what could not be checked."""
    names = ", ".join(one.unchecked)
    return [*one.notes, *([f"not checked for want of facts: {names}"] if names else [])]


def _said(sign: str, sentences: Sequence[str], role: Role, look: Look) -> list[Line]:
    out: list[Line] = []
    for sentence in sentences:
        body = wrap(f"{sign} {sentence}".strip(), look.width - 1, role, "  ")
        out += [line(" ", each) for each in body]
    return out


def brief_lines(one: Proposal, look: Look) -> list[Line]:
    """What decides about a proposal, in the look's height; the last line says how many more there are.

    What does not fit comes first, then the reasons, the parts, and what to mind.
    """
    room = look.height
    bad = [problem.partition(":")[0] for problem in one.problems]
    said = _said("!", [f"does not fit: {', '.join(bad)} (w says why)"] if bad else [], Role.PROBLEM, look)
    said += _said("", ["; ".join(one.reasons)], Role.TEXT if one.meets else Role.CAUTION, look)
    said += _said("", [f"to fit: {', '.join(one.fits)}"] if one.fits else [], Role.DIM, look)
    mind = "; ".join(_to_mind(one))
    said += _said("", [mind] if mind else [], Role.CAUTION, look)
    if len(said) <= room:
        return said
    more = line(Span(f"w: {len(said) - room} more ", Role.KEY))
    return [*said[: room - 1], spread(said[room - 1], more, look.width)][:room]


@dataclass(frozen=True, slots=True)
class Sought:
    """How far a search is: its name, what it chooses from, how many were looked at, what was found."""

    kind: str
    source: str
    done: int = 0
    total: int = 0
    found: int = 0
    meets: bool = True

    @property
    def finished(self) -> bool:
        """Whether everything has been looked at."""
        return 0 < self.total <= self.done


NAMES: Final = {"even": "Even out", "single": "Single ring", "plan": "Plan"}
_OF: Final = {"even": "cassettes", "single": "cassettes", "plan": "changes"}


def sought_title(sought: Sought) -> str:
    """The title over the list.

    >>> sought_title(Sought("plan", "drawers", 1_230_000, 5_000_000, 7))
    'Plan: 1.2 of 5.0 million changes looked at, 7 found so far'
    >>> sought_title(Sought("plan", "drawers", 5_000_000, 5_000_000, 7))
    'Plan: 7 that nothing beats, of 5.0 million out of drawers'
    """
    name = NAMES[sought.kind]
    if not sought.finished:
        if sought.kind == "even" or not sought.total:
            return f"{name}: looking, out of {sought.source}"
        looked = f"{_share(sought.done, sought.total)} {_OF[sought.kind]} looked at"
        return f"{name}: {looked}, {sought.found} found so far"
    if sought.kind == "plan":
        return f"{name}: {_plan_words(sought)}"
    return f"{name}: {sought.found or 'nothing'} found, out of {sought.source}"


def _plan_words(sought: Sought) -> str:
    if not sought.meets:
        return f"none of {_count(sought.total)} meets all limits; the nearest misses"
    return f"{sought.found} that nothing beats, of {_count(sought.total)} out of {sought.source}"


def _share(done: int, total: int) -> str:
    if total >= _MILLION:
        return f"{done / _MILLION:.1f} of {_count(total)}"
    return f"{_count(done)} of {_count(total)}"


def _count(many: int) -> str:
    """A count as people read it.

    >>> _count(189_720), _count(7_426_125)
    ('189 720', '7.4 million')
    """
    return f"{many / _MILLION:.1f} million" if many >= _MILLION else f"{many:,}".replace(",", " ")


def propose_text(
    title: str,
    proposals: Sequence[Proposal],
    look: Look,
    most: int | None = None,
    *,
    under: str = "",
    nothing: str = "",
) -> list[Line]:
    """A report: the first `most` and all with a mark; the reasons for the first and the marked of those.

    `under` stands under the title, `nothing` in the place of a list.
    """
    out = [clip(line(Span(title, Role.TITLE)), look.width)]
    out += [*wrap(under, look.width, Role.DIM), ()]
    if not proposals:
        return [*out, *wrap(nothing, look.width)]
    rows = list_rows(proposals, look)
    listed = [at for at, one in enumerate(proposals) if at < (most or len(rows)) or one.marks]
    out += [list_head(proposals, look), *(rows[at] for at in listed)]
    for at, one in enumerate(proposals[: most or len(rows)]):
        if one.marks or at == 0:
            out += [(), line(Span(f"{at + 1:>2}", Role.KEY)), *reason_lines(one, look)]
    left_out = len(rows) - len(listed)
    return [*out, (), line(f"{left_out} more: --most {len(rows)} lists all.")] if left_out else out
