"""The hand-out as text and as Markdown."""

from collections.abc import Iterator
from typing import Final

from cogwright.present.lines import Line, Look, Role, Span, clip, line, wrap
from cogwright.present.report.handout import Handout, Passage
from cogwright.present.report.markdown import md
from cogwright.present.views.quote import SIGN, amount_line

#: A page of everyday words is no wider than this: longer lines are hard to read.
_WIDEST: Final = 78


def handout_lines(of: Handout, look: Look) -> list[Line]:
    """The page in lines of at most the look's width."""
    room = min(look.width, _WIDEST)
    return [clip(row, room) for row in _lines(of, room)]


def _lines(of: Handout, room: int) -> Iterator[Line]:
    yield line(Span(of.title, Role.TITLE))
    for said in (*of.under, *of.used):
        yield from wrap(said, room, Role.DIM, "  ")
    for part in of.parts:
        yield ()
        yield line(Span(part.title, Role.HEAD))
        yield from _part(part, room)
    yield ()
    yield from wrap(of.end, room)
    yield ()
    yield line(SIGN)


def _part(part: Passage, room: int) -> Iterator[Line]:
    for said in part.warn:
        yield from wrap(f"! {said}", room, Role.PROBLEM, "  ")
    for amount in part.amounts:
        yield amount_line(amount, room)
    for said in part.said:
        yield from wrap(f"- {said}", room, indent="  ")


def handout_markdown(of: Handout) -> str:
    """The page for a mail or a note."""
    rows = [f"# {md(of.title)}", "", *(f"{md(said)}\n" for said in (*of.under, *of.used))]
    for part in of.parts:
        rows += ["", f"## {md(part.title)}", "", *(f"**{md(said)}**\n" for said in part.warn)]
        rows += [f"- {md(amount.what)}: {md(amount.amount)}" for amount in part.amounts]
        rows += [f"- {md(said)}" for said in part.said]
    return "\n".join([*rows, "", md(of.end)]) + "\n"
