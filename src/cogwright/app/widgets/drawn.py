"""Widgets that are all their own lines: no border, no padding, no style sheet between them and the screen."""

from typing import TYPE_CHECKING

from textual.containers import Horizontal
from textual.geometry import Region
from textual.screen import Screen
from textual.selection import Selection
from textual.strip import Strip
from textual.widget import Widget

if TYPE_CHECKING:
    _Base = Widget
else:
    _Base = object


class Drawn(_Base):
    """For a widget that makes a strip a row. The library's way round it costs more than the strips do."""

    def strip_at(self, y: int, selection: Selection | None) -> Strip:
        """The row `y` of the widget, as wide as that; `selection` is what the mouse has marked in it."""
        raise NotImplementedError

    def render_line(self, y: int) -> Strip:
        """See Widget."""
        return self.strip_at(y, self.text_selection)

    def render_lines(self, crop: Region) -> list[Strip]:
        """See Widget: the rows of a part of it."""
        selection = self.text_selection
        strips = [self.strip_at(y, selection) for y in crop.line_range]
        if crop.x or crop.width != self.size.width:
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
