"""The modal screen on which questions are asked and texts are read."""

from collections.abc import Callable

from textual.app import ComposeResult
from textual.containers import Vertical
from textual.screen import ModalScreen

from cogwright.app.colours import Colours
from cogwright.app.screens.sheet_frame import SheetFrame
from cogwright.app.widgets.lines import Lines
from cogwright.app.widgets.page import PageView
from cogwright.app.widgets.spot_lines import SpotLines
from cogwright.present.lines import Look


class Sheet(ModalScreen[None]):
    """Shows a frame over the lower part of the screen. Keys are dealt with before they would come here."""

    DEFAULT_CSS = """
    Sheet { align: left bottom; background: transparent; overflow: hidden; }
    Sheet > Vertical { height: auto; background: $background; }
    """
    AUTO_FOCUS = ""

    def __init__(
        self, ready: Callable[[], None], scroll: Callable[[int], None], press: Callable[[str], None]
    ) -> None:
        super().__init__()
        self._ready, self._scroll, self._press = ready, scroll, press
        self.up = False

    def compose(self) -> ComposeResult:
        """Title, text, keys."""
        with Vertical():
            yield Lines("sheet-said")
            yield Lines("sheet-title")
            yield PageView(self._scroll, "sheet-text")
            yield SpotLines(self._press, "sheet-keys")

    def on_mount(self) -> None:
        """It can be drawn now."""
        self.up = True
        self._ready()

    def show(self, frame: SheetFrame, look: Look, colours: Colours) -> None:
        """Show a frame."""
        self.query_one("#sheet-said", Lines).show(frame.said, colours)
        self.query_one("#sheet-title", Lines).show((frame.title,), colours)
        self.query_one("#sheet-text", PageView).show(frame.text, colours, look.glyphs)
        self.query_one("#sheet-keys", SpotLines).show_spots(frame.keys, colours)
