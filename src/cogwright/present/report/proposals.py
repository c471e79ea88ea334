"""Proposals as a report: in text, and as values for JSON. Scripts rely on the keys: add, never rename."""

from collections.abc import Sequence
from typing import Final

from cogwright.core.proposing.common_teeth import RARE
from cogwright.core.proposing.proposal import Proposal
from cogwright.core.proposing.single import SPLITS
from cogwright.core.worksheet.sheet import Item
from cogwright.present.lines import Line, Look, Role, Span, clip, line, wrap
from cogwright.present.panels.proposal_reasons import reason_lines
from cogwright.present.panels.proposals import list_head, list_rows

#: Marks under the words that scripts know them by, where the screen has better ones.
_KNOWN: Final = {SPLITS: "splits loss"}


def propose_text(
    title: str,
    proposals: Sequence[Proposal],
    look: Look,
    most: int | None = None,
    *,
    marked: bool = True,
    under: str = "",
    nothing: str = "",
) -> list[Line]:
    """A report: the first `most`, and without `marked` no other; the reasons for the first and the marked.

    With it those that have a mark are listed wherever they stand; being rare is none to look for. `under`
    stands under the title, `nothing` in the place of a list.
    """
    out = [clip(line(Span(title, Role.TITLE)), look.width)]
    out += [*wrap(under, look.width, Role.DIM), ()]
    if not proposals:
        return [*out, *wrap(nothing, look.width)]
    rows = list_rows(proposals, look)
    first = most or len(rows)
    listed = [at for at, one in enumerate(proposals) if at < first or (marked and _stands_out(one))]
    out += [list_head(proposals, look), *(rows[at] for at in listed)]
    for at, one in enumerate(proposals[:first]):
        if _stands_out(one) or at == 0:
            out += [(), line(Span(f"{at + 1:>2}", Role.KEY)), *reason_lines(one, look)]
    left_out = len(rows) - len(listed)
    return [*out, (), line(f"{left_out} more: --most {len(rows)} lists all.")] if left_out else out


def _stands_out(one: Proposal) -> bool:
    return any(mark != RARE for mark in one.marks)


def part_json(part: Item) -> dict[str, object]:
    """A part that goes on, as its order sheet has it; `part` is what the bin calls it."""
    return {
        "name": part.what,
        "count": 1,
        "price": part.price,
        "from": part.source.value,
        "part": part.part.name if part.part else None,
    }


def proposal_json(one: Proposal) -> dict[str, object]:
    """A proposal as plain values; lengths in m, steps and losses in %."""
    return {
        "kind": one.kind,
        "title": one.title,
        "rings": list(one.rings),
        "cogs": list(one.cogs),
        "worst_step_pct": one.worst_step_pct,
        "low_m": one.low_m,
        "high_m": one.high_m,
        "cost": one.cost,
        "parts": [part_json(part) for part in one.parts],
        "currency": one.currency or None,
        "swaps": [{"out": swap.out, "in": swap.into} for swap in one.swaps],
        "problems": list(one.problems),
        "unchecked": list(one.unchecked),
        "cautions": list(one.cautions),
        "lost_low_pct": one.lost.low_pct if one.lost else None,
        "lost_high_pct": one.lost.high_pct if one.lost else None,
        "lost_range_pct": one.lost.range_pct if one.lost else None,
        "low_change_pct": one.change[0] if one.change else None,
        "high_change_pct": one.change[1] if one.change else None,
        "fits": list(one.fits),
        "marks": [_KNOWN.get(mark, mark) for mark in one.marks],
        "reasons": list(one.reasons),
        "notes": list(one.notes),
        "meets": one.meets,
    }
