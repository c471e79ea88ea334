"""Wear as lines: what can stay, and what a thousand kilometres cost."""

from collections.abc import Iterator
from typing import Final

from cogwright.core.common.safe_text import cells
from cogwright.core.study import Study
from cogwright.core.wear.costs import Costs, WearWay
from cogwright.core.wear.staying import Fate, WearVerdict, verdicts
from cogwright.present.lines import Column, Line, Look, Role, Span, clip, line, table, told, wrap

_ROLES: Final = {
    Fate.STAYS: Role.OK,
    Fate.DUE: Role.CAUTION,
    Fate.DOUBTFUL: Role.CAUTION,
    Fate.GOES: Role.PROBLEM,
    Fate.UNKNOWN: Role.UNKNOWN,
}
_FATE: Final = max(len(fate) for fate in Fate)
_PART: Final = len("cassette")
RUN_OUT: Final = "A chain that is run out shifts badly and can jump under load: not where somebody can fall."


def wear_lines(study: Study, look: Look) -> Iterator[Line]:
    """What can stay, by what was measured; nothing where nothing was."""
    found = verdicts(study.bench, study.baseline)
    if not found:
        return
    yield line(Span(" What can stay", Role.HEAD))
    for verdict in found:
        yield from _verdict(verdict, look)


def _verdict(verdict: WearVerdict, look: Look) -> Iterator[Line]:
    role = _ROLES[verdict.fate]
    head = line(f" {verdict.part:<{_PART}}  ", Span(f"{verdict.fate:<{_FATE}}", role), "  ")
    indent = _PART + _FATE + 5
    if look.width < 2 * indent:
        yield clip(line(f" {verdict.part}  ", Span(verdict.fate, role)), look.width)
        yield from (line("    ", row) for row in wrap(verdict.say, look.width - 4))
        return
    first, *rest = wrap(verdict.say, look.width - indent)
    yield line(head, first)
    yield from (line(" " * indent, row) for row in rest)


def costs_lines(costs: Costs, look: Look) -> Iterator[Line]:
    """Changing early beside running out, for 1000 km, and what that rests on."""
    yield ()
    yield line(Span(" Wear in 1000 km", Role.HEAD), Span("  an estimate", Role.DIM))
    currency = costs.prices.currency or "cost"
    heads = [Column("", False), Column("chains"), Column("cassettes"), Column("ring sets"), Column(currency)]
    rows = [_row(way) for way in (costs.early, costs.run_out)]
    drawn = table(heads, rows)
    if max(cells("".join(span.text for span in row)) for row in drawn) + 1 > look.width:
        for way in (costs.early, costs.run_out):
            cost = "price unknown" if way.cost is None else f"{way.cost:.2f} {costs.prices.currency}".rstrip()
            yield from told(f"{way.name}: {cost}", look.width)
    else:
        yield from (line(" ", row) for row in drawn)
    yield from told(f"It rests on: {'; '.join(costs.assumptions)}.", look.width, Role.DIM)
    yield from told(RUN_OUT, look.width, Role.CAUTION)


def _row(way: WearWay) -> tuple[str, ...]:
    cost = "unknown" if way.cost is None else f"{way.cost:.2f}"
    return (way.name, f"{way.chains:.2f}", f"{way.cassettes:.2f}", f"{way.rings:.2f}", cost)
