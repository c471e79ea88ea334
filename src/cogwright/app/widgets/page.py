"""Lines that scroll: the views, and text to read. Only rows that have changed are drawn again."""

from collections.abc import Callable, Sequence

from textual.geometry import Size
from textual.scroll_view import ScrollView
from textual.selection import Selection
from textual.strip import Strip
from textual.widget import Widget

from cogwright.app.colours import DARK, Colours
from cogwright.app.widgets.drawn import Drawn
from cogwright.app.widgets.placed import Placed
from cogwright.app.widgets.strips import selectable, selected, strip_of
from cogwright.present.lines import Glyphs, Line
from cogwright.present.panels.screen import Body


class PageView(Drawn, Placed, ScrollView, can_focus=False):
    """Shows a body: its head, and below that a room of its rows."""

    DEFAULT_CSS = """
    PageView { width: 1fr; height: 1; overflow-x: hidden; overflow-y: scroll; scrollbar-size-vertical: 1; }
    """

    def __init__(self, scroll: Callable[[int], None], id: str | None = None) -> None:
        super().__init__(id=id)
        self.scroll = scroll
        self._body = Body((), (), 1, 0)
        self._seen: Sequence[Line] = ()
        self._colours = DARK

    def show(self, body: Body, colours: Colours, glyphs: Glyphs) -> None:
        """Show a body."""
        before, whole = self._seen, colours is not self._colours
        self._body, self._colours, self.room, self.top = body, colours, body.room, body.top
        self._seen = body.seen
        if len(self._seen) != len(before):
            self.styles.height = len(self._seen)
        self._show_place(glyphs)
        if whole or len(before) != len(self._seen):
            self.refresh()
        else:
            self.redraw_changed(before, self._seen)

    def _show_place(self, glyphs: Glyphs) -> None:
        """Tell the library how much there is, as it would find it; another count is no other layout."""
        head = len(self._body.head)
        whole = head + max(len(self._body.rows), self.room)
        self.set_reactive(Widget.virtual_size, Size(self.size.width, whole))
        self.set_reactive(Widget.scroll_y, float(self.top))
        self.show_bar(self.vertical_scrollbar, whole, head + self.room, glyphs)

    def strip_at(self, y: int, width: int, selection: Selection | None) -> Strip:
        """See Drawn."""
        of: Line = self._seen[y] if y < len(self._seen) else ()
        at = self._body.place(y)
        return selectable(strip_of(of, width, self._colours), at, selection)

    def get_selection(self, selection: Selection) -> tuple[str, str]:
        """See Widget: the text that is marked, and what ends it."""
        return selected([*self._body.head, *self._body.rows], selection)

    def selection_updated(self, _: Selection | None) -> None:
        """See Widget."""
        self.refresh()
