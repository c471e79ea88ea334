"""The one widget that draws: lines of text with roles, of which only the changed ones are drawn again."""

from collections.abc import Iterator, Sequence
from functools import lru_cache
from itertools import zip_longest

from rich.segment import Segment
from textual.geometry import Region
from textual.strip import Strip
from textual.widget import Widget

from cogwright.app.theme import FILLED, Theme
from cogwright.core.common.safe_text import clean
from cogwright.present.lines import Line

_clean = lru_cache(maxsize=4096)(clean)


class Rows(Widget):
    """Shows lines; a new set of lines repaints only the rows that differ."""

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
        rows = [y for y, (a, b) in enumerate(zip_longest(old, self._lines, fillvalue=())) if a != b]
        if rows:
            self.refresh(*(Region(0, y, self.size.width, 1) for y in rows))

    def render_line(self, y: int) -> Strip:
        """One row, filled to the widget's width."""
        of: Line = self._lines[y] if y < len(self._lines) else ()
        strip = Strip(self._segments(of)).adjust_cell_length(self.size.width, self._theme.ground)
        return strip.simplify()

    def _segments(self, of: Line) -> Iterator[Segment]:
        """A line's pieces; a blank takes the style of what stands before it, which saves sending one."""
        style = self._theme.ground
        for text, role in of:
            if role in FILLED or not text.isspace() or style.bgcolor != self._theme.ground.bgcolor:
                style = self._theme.style(role)
            yield Segment(_clean(text), style)
