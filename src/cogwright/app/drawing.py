"""The widgets of the screen, and how they show a frame. Drawing changes no state and writes no file."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Final

from textual.app import ComposeResult
from textual.widget import Widget

from cogwright.app.colours import Colours
from cogwright.app.layout import Frame
from cogwright.app.pickers.drawer_frame import DrawerFrame
from cogwright.app.state.opened import Typed
from cogwright.app.widgets.choice_list import ChoiceList
from cogwright.app.widgets.drawn import PlainRow
from cogwright.app.widgets.lines import Lines
from cogwright.app.widgets.page import Page
from cogwright.app.widgets.spot_lines import SpotLines
from cogwright.app.widgets.type_line import TypeLine
from cogwright.app.widgets.view_tabs import ViewTabs
from cogwright.present.lines import Look
from cogwright.present.panels.head import Cursor

CSS: Final = """
Screen { overflow: hidden; layout: vertical; background: $background; color: $foreground; }
#middle { height: 0; }
#side { width: 0; }
"""


@dataclass(frozen=True, slots=True)
class Pointed:
    """What the mouse asks for, by what it points at."""

    sprocket: Callable[[Cursor], None]
    view: Callable[[int], None]
    scroll: Callable[[int], None]
    action: Callable[[str], None]
    key: Callable[[str], None]
    row: Callable[[int], None]
    rows: Callable[[int], None]
    typed: Callable[[Typed], None]


class BenchWidgets:
    """The screen from top to bottom: each widget shows its part of a frame."""

    def __init__(self, pointed: Pointed) -> None:
        self._head = SpotLines(pointed.sprocket, "head")
        self._views = ViewTabs(pointed.view)
        self._body, self._side = Page(pointed.scroll, "view"), Lines("side")
        self._middle = PlainRow(self._body, self._side, id="middle")
        self._foot = SpotLines(pointed.action, "foot")

    def compose(self) -> ComposeResult:
        """All of them."""
        yield from (self._head, self._views, self._middle, self._foot)

    def show(self, frame: Frame, view: int, look: Look, colours: Colours) -> None:
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


class DrawerWidgets:
    """The drawer, which stands below the rest. The first frame does not wait for it."""

    def __init__(self, pointed: Pointed) -> None:
        self._head, self._about = Lines("drawer-head"), Lines("drawer-about")
        self._rows = ChoiceList(pointed.row, pointed.rows, "drawer-rows")
        self.line = TypeLine(pointed.typed, "drawer-line")
        self._keys = SpotLines(pointed.key, "drawer-keys")

    def all(self) -> list[Widget]:
        """All of them, to be mounted."""
        return [self._head, self._rows, self._about, self.line, self._keys]

    def show(self, frame: Frame, look: Look, colours: Colours) -> None:
        """Show the drawer of a frame, if it has one."""
        drawer = frame.drawer
        self._head.show((drawer.title, *drawer.head) if drawer else (), colours)
        self._rows.display = drawer is not None and drawer.room > 0
        if drawer is not None:
            self._rows.show(drawer, look, colours)
        self._about.show(drawer.about if drawer else (), colours)
        self._show_line(drawer, behind=frame.sheet is not None)
        self._keys.show_spots(drawer.keys if drawer else (), colours)

    def _show_line(self, drawer: DrawerFrame | None, behind: bool) -> None:
        """The line for text has the focus as long as it is there, so that its cursor shows."""
        typed = drawer.typed if drawer else None
        self.line.display = typed is not None
        if typed is not None:
            self.line.show(typed)
        wanted = typed is not None and not behind
        if self.line.has_focus != wanted:
            self.line.screen.set_focus(self.line if wanted else None)


def _tall(widget: Widget, rows: int) -> None:
    """Give a widget so many rows, if it has not that already: another height is another layout."""
    if widget.styles.height is None or widget.styles.height.value != rows:
        widget.styles.height = rows
