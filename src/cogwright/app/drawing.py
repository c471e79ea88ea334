"""The widgets of the bench, and how they show a frame. Drawing changes no state and writes no file."""

from typing import Final

from textual.app import ComposeResult
from textual.widget import Widget

from cogwright.app.colours import Colours
from cogwright.app.layout import BenchFrame
from cogwright.app.pointing import BenchPointing
from cogwright.app.widgets.drawn import PlainRow
from cogwright.app.widgets.lines import Lines
from cogwright.app.widgets.page import PageView
from cogwright.app.widgets.spot_lines import SpotLines
from cogwright.app.widgets.view_tabs import ViewTabs
from cogwright.present.lines import Look

CSS: Final = """
PlainScreen {
    overflow: hidden; layout: vertical; layers: default above;
    background: $background; color: $foreground;
}
#middle { height: 0; }
#side { width: 0; }
"""


class BenchWidgets:
    """The screen from top to bottom: each widget shows its part of a frame."""

    def __init__(self, at: BenchPointing) -> None:
        self._head = SpotLines(at.sprocket, "head")
        self._views = ViewTabs(at.view)
        self._body, self._side = PageView(at.scroll, "view"), Lines("side")
        self._middle = PlainRow(self._body, self._side, id="middle")
        self._foot = SpotLines(at.action, "foot")

    def compose(self) -> ComposeResult:
        """All of them."""
        yield from (self._head, self._views, self._middle, self._foot)

    async def fill(self) -> None:
        """What the first frame did not wait for."""
        await self._views.fill()

    def show(self, frame: BenchFrame, view: int, look: Look, colours: Colours) -> None:
        """Show a frame; `view` is the number of the one that is looked at."""
        self._head.show_spots(frame.head, colours)
        self._views.display = bool(frame.views)
        self._views.name_views(frame.views, view, colours, look)
        _tall(self._middle, len(frame.body.seen))
        self._body.show(frame.body, colours, look.glyphs)
        if self._side.styles.width is None or self._side.styles.width.value != frame.side_width:
            self._side.styles.width = frame.side_width
        self._side.show(frame.side, colours)
        self._foot.show_spots(frame.foot, colours)


def _tall(widget: Widget, rows: int) -> None:
    """Give a widget so many rows, if it has not that already: another height is another layout."""
    if widget.styles.height is None or widget.styles.height.value != rows:
        widget.styles.height = rows
