"""Lines of text with roles as strips, which is what Textual draws."""

from collections.abc import Iterator
from functools import lru_cache
from typing import Final

from rich.segment import Segment
from rich.style import Style
from textual.selection import Selection
from textual.strip import Strip

from cogwright.app.colours import FILLED, Colours
from cogwright.core.common.safe_text import clean
from cogwright.present.lines import Line, plain

#: What the mouse has marked.
MARKED: Final = Style(reverse=True)


@lru_cache(maxsize=4096)
def strip_of(of: Line, width: int, colours: Colours) -> Strip:
    """A line as a strip of exactly so many cells."""
    strip = Strip(_segments(of, colours)).adjust_cell_length(width, colours.ground)
    return strip.simplify()


def _segments(of: Line, colours: Colours) -> Iterator[Segment]:
    """A line's pieces; a blank takes the style of what stands before it, which saves sending one."""
    style, filled = colours.ground, False
    for text, role in of:
        if not text:
            continue
        if filled or role in FILLED or not text.isspace():
            style, filled = colours.style(role), role in FILLED
        yield Segment(clean(text), style)


def selectable(strip: Strip, y: int, selection: Selection | None) -> Strip:
    """A row's strip so that the mouse can mark text in it, and with what it has marked."""
    span = selection.get_span(y) if selection is not None else None
    if span is not None:
        start, end = span[0], strip.cell_length if span[1] == -1 else span[1]
        parts = (strip.crop(0, start), strip.crop(start, end).apply_style(MARKED), strip.crop(end))
        strip = Strip.join(parts)
    return strip.apply_offsets(0, y)


def selected(lines: list[Line], selection: Selection) -> tuple[str, str]:
    """The text that is marked in lines, and what ends it."""
    return selection.extract("\n".join(map(plain, lines))), "\n"
