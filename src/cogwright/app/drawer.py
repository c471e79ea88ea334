"""The drawer's widgets, which stand below the rest. The first frame does not wait for them."""

from textual.widget import Widget

from cogwright.app.colours import Colours
from cogwright.app.layout import BenchFrame
from cogwright.app.pickers.drawer_frame import DrawerFrame
from cogwright.app.pointing import DrawerPointing
from cogwright.app.widgets.choice_list import ChoiceList
from cogwright.app.widgets.lines import Lines
from cogwright.app.widgets.spot_lines import SpotLines
from cogwright.app.widgets.type_line import TypeLine
from cogwright.present.lines import Look


class DrawerWidgets:
    """From top to bottom: title and head, rows, what is said of one, the line for text, the keys."""

    def __init__(self, at: DrawerPointing) -> None:
        self._head, self._about = Lines("drawer-head"), Lines("drawer-about")
        self._rows = ChoiceList(at.row, at.rows, "drawer-rows")
        self.line = TypeLine(at.text_typed, "drawer-line")
        self._keys = SpotLines(at.press, "drawer-keys")

    def all(self) -> list[Widget]:
        """All of them, to be mounted."""
        return [self._head, self._rows, self._about, self.line, self._keys]

    def show(self, frame: BenchFrame, look: Look, colours: Colours) -> None:
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
