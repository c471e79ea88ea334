"""Widgets that are all their own lines: no border, no padding, no style sheet between them and the screen."""

from collections.abc import Sequence
from itertools import zip_longest
from typing import TYPE_CHECKING

from textual.containers import Horizontal
from textual.geometry import Region
from textual.screen import Screen
from textual.selection import Selection
from textual.strip import Strip
from textual.widget import Widget

from cogwright.present.lines import Line

if TYPE_CHECKING:
    _Base = Widget
else:
    _Base = object


class Drawn(_Base):
    """For a widget that makes a strip a row. The library's way round it costs more than the strips do."""

    def strip_at(self, y: int, width: int, selection: Selection | None) -> Strip:
        """The row `y` of the widget, so many cells wide; `selection` is what the mouse has marked in it."""
        raise NotImplementedError

    def redraw_changed(self, before: Sequence[Line], now: Sequence[Line]) -> None:
        """Have the rows drawn again whose lines have changed, those side by side in one go."""
        rows = [y for y, (was, line) in enumerate(zip_longest(before, now)) if was != line]
        if not rows:
            return
        width = self.size.width
        starts = [y for at, y in enumerate(rows) if not at or rows[at - 1] != y - 1]
        ends = [y for at, y in enumerate(rows) if at + 1 == len(rows) or rows[at + 1] != y + 1]
        self.refresh(*(Region(0, y, width, end - y + 1) for y, end in zip(starts, ends, strict=True)))

    def render_line(self, y: int) -> Strip:
        """See Widget."""
        return self.strip_at(y, self.size.width, self.text_selection)

    def render_lines(self, crop: Region) -> list[Strip]:
        """See Widget: the rows of a part of it."""
        selection, width = self.text_selection, self.size.width
        strips = [self.strip_at(y, width, selection) for y in crop.line_range]
        if crop.x or crop.width != width:
            strips = [strip.crop(crop.x, crop.right) for strip in strips]
        for each in self.app.get_line_filters():
            ground, _ = self.background_colors
            strips = [strip.apply_filter(each, ground) for strip in strips]
        return strips


class PlainScreen(Screen[None], inherit_bindings=False):
    """A screen of one colour below its widgets, without keys of its own."""

    BLANK = True


class PlainRow(Horizontal):
    """Widgets side by side, and nothing of its own."""

    BLANK = True
