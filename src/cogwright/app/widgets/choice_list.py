"""The rows of a list to choose from, and text in the drawer: drawn as lines, pointed at as options."""

from collections.abc import Callable
from typing import Final

from textual.content import Content
from textual.selection import Selection
from textual.strip import Strip
from textual.widget import Widget
from textual.widgets import OptionList
from textual.widgets.option_list import Option

from cogwright.app.colours import DARK, Colours
from cogwright.app.pickers.drawer_frame import DrawerFrame, marked
from cogwright.app.pickers.scene import BAR, MARK
from cogwright.app.widgets.drawn import Drawn
from cogwright.app.widgets.placed import Placed
from cogwright.app.widgets.strips import strip_of
from cogwright.present.lines import Line, Look, clip, line

#: Stands for a row in the library's list, of which the line is drawn here.
_ROW: Final = Content(" ")


class ChoiceList(Drawn, Placed, OptionList, can_focus=False):
    """Shows the rows of a drawer that are in sight. `take` is called with the row that the mouse chooses."""

    DEFAULT_CSS = """
    ChoiceList {
        height: 1; max-height: 100%; padding: 0; border: none; background: transparent;
        overflow-x: hidden; overflow-y: scroll; scrollbar-size-vertical: 1;
    }
    """

    def __init__(
        self, take: Callable[[int], None], scroll: Callable[[int], None], id: str | None = None
    ) -> None:
        super().__init__(id=id, markup=False)
        self._take, self.scroll = take, scroll
        self._seen: list[Line] = []
        self._chooses = False
        self._colours = DARK

    def show(self, frame: DrawerFrame, look: Look, colours: Colours) -> None:
        """Show the rows of a frame that are in sight."""
        before, whole = self._seen, colours is not self._colours
        if frame.room != self.room:
            self.styles.height = frame.room
        self.room, self.top, self._colours = frame.room, frame.top, colours
        self._seen, self._chooses = _seen(frame, look), frame.at is not None
        if len(frame.rows) != self.option_count:
            self.set_options([Option(_ROW) for _ in frame.rows])
        # The library counts rows as it draws them, not here: a layout would bring the old count back
        self.set_reactive(Widget.virtual_size, self.virtual_size.with_height(len(frame.rows)))
        self.highlighted, self.scroll_y = frame.at, self.top
        self.show_bar(self.vertical_scrollbar, len(frame.rows), self.room, look.glyphs)
        if whole or len(before) != len(self._seen):
            self.refresh()
        else:
            self.redraw_changed(before, self._seen)

    def scroll_to_highlight(self, top: bool = False) -> None:
        """The store keeps the marked row in sight."""

    def watch_highlighted(self, highlighted: int | None) -> None:
        """The store is told when a row is chosen, not when the mark has moved: it moved it."""

    def strip_at(self, y: int, width: int, _: Selection | None) -> Strip:
        """See Drawn."""
        strip = strip_of(self._seen[y] if y < len(self._seen) else (), width, self._colours)
        at = self.top + y
        return strip.apply_meta({"option": at}) if self._chooses and at < self.option_count else strip

    def action_select(self) -> None:
        """A row was clicked."""
        if self.highlighted is not None:
            self._take(self.highlighted)


def _seen(frame: DrawerFrame, look: Look) -> list[Line]:
    """The lines in sight, one a row, the chosen one marked."""
    rows = list(frame.rows[frame.top : frame.top + frame.room])
    if frame.at is not None:
        cut = [clip(row, look.width - MARK - BAR) for row in rows]
        rows = [
            marked(row, look) if at == frame.at else line(" " * MARK, row)
            for at, row in enumerate(cut, frame.top)
        ]
    return [*rows, *[()] * (frame.room - len(rows))]
