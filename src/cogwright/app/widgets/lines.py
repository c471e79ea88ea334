"""Lines that do not scroll: title, problems, foot and the like. Only changed rows are drawn again."""

from collections.abc import Sequence

from textual.selection import Selection
from textual.strip import Strip
from textual.widget import Widget

from cogwright.app.colours import DARK, Colours
from cogwright.app.widgets.drawn import Drawn
from cogwright.app.widgets.strips import selectable, selected, strip_of
from cogwright.present.lines import Line


class Lines(Drawn, Widget):
    """Shows lines, as high as there are any; without one it takes no room."""

    DEFAULT_CSS = "Lines { width: 1fr; height: 0; }"

    def __init__(self, id: str | None = None) -> None:
        super().__init__(id=id)
        self._lines: tuple[Line, ...] = ()
        self._colours = DARK

    def show(self, lines: Sequence[Line], colours: Colours) -> None:
        """Show these lines."""
        before, self._lines = self._lines, tuple(lines)
        if len(before) != len(self._lines):
            self.styles.height = len(self._lines)
        if colours is not self._colours:
            self._colours = colours
            self.refresh()
            return
        self.redraw_changed(before, self._lines)

    def strip_at(self, y: int, width: int, selection: Selection | None) -> Strip:
        """See Drawn."""
        of: Line = self._lines[y] if y < len(self._lines) else ()
        return selectable(strip_of(of, width, self._colours), y, selection)

    def get_selection(self, selection: Selection) -> tuple[str, str]:
        """See Widget: the text that is marked, and what ends it."""
        return selected(list(self._lines), selection)

    def selection_updated(self, _: Selection | None) -> None:
        """See Widget."""
        self.refresh()
