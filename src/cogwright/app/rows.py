"""The one widget that draws: lines of text with roles, of which only what changed is sent."""

from collections.abc import Sequence
from itertools import zip_longest

from rich.cells import cell_len
from rich.segment import Segment
from textual.geometry import Region
from textual.strip import Strip
from textual.widget import Widget

from cogwright.app.theme import FILLED, Theme
from cogwright.core.text import clean
from cogwright.present.lines import Line, Role


class Rows(Widget):
    """Shows lines; each new set of lines repaints only the columns that differ in the rows that differ."""

    DEFAULT_CSS = "Rows { width: 1fr; height: 1fr; }"

    def __init__(self, theme: Theme, id: str | None = None) -> None:
        super().__init__(id=id)
        self._theme = theme
        self._lines: list[Line] = []

    def show(self, lines: Sequence[Line], theme: Theme | None = None) -> None:
        """Show these lines from the top; rows beyond them are blank."""
        old, self._lines = self._lines, list(lines)
        if theme is not None and theme is not self._theme:
            self._theme = theme
            self.refresh()
            return
        regions = [
            region
            for y, (was, now) in enumerate(zip_longest(old, self._lines, fillvalue=()))
            if was != now and (region := changed(was, now, y, self.size.width))
        ]
        if regions:
            self.refresh(*regions)

    def render_line(self, y: int) -> Strip:
        """One row, filled to the widget's width."""
        of: Line = self._lines[y] if y < len(self._lines) else ()
        segments = [Segment(clean(span.text), self._theme.style(span.role)) for span in of]
        return Strip(segments).adjust_cell_length(self.size.width, self._theme.ground)


def changed(was: Line, now: Line, y: int, width: int) -> Region | None:
    """The cells in which two versions of a row differ, as one region; None when none do."""
    before, after = _cells(was, width), _cells(now, width)
    differ = [x for x in range(width) if before[x] != after[x]]
    return Region(differ[0], y, differ[-1] - differ[0] + 1, 1) if differ else None


def _cells(of: Line, width: int) -> list[tuple[str, Role | None]]:
    """What stands in each cell of a row; a wide character fills its second cell with nothing."""
    out: list[tuple[str, Role | None]] = []
    for text, role in of:
        bare = None if role not in FILLED else role
        for char in text:
            size = 1 if char.isascii() else cell_len(char)
            out += [(char, bare if char == " " else role)] + [("", role)] * (size - 1) if size else []
    blank: tuple[str, Role | None] = (" ", None)
    return (out + [blank] * width)[:width]
