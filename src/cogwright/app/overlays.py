"""The screens over the bench, kept to what the session says stands open."""

from collections.abc import Callable

from cogwright.app.colours import Colours
from cogwright.app.layout import BenchFrame
from cogwright.app.screens.palette import ActionPalette
from cogwright.app.screens.sheet import Sheet
from cogwright.app.screens.sheet_frame import scroll_sheet
from cogwright.app.state.opened import ActionSearch, Question, Reading
from cogwright.app.state.store import SessionStore
from cogwright.app.terminal.terminal_app import TerminalApp
from cogwright.app.widgets.keys_beside import KeysBeside


class Overlays:
    """At most one of each. `act` does the action that the palette was left with."""

    def __init__(
        self,
        app: TerminalApp,
        store: SessionStore,
        ready: Callable[[], None],
        act: Callable[[str], None],
        press: Callable[[str], None],
    ) -> None:
        self._app, self._store = app, store
        self._ready, self._act, self._press = ready, act, press
        self._sheet: Sheet | None = None
        self._palette: ActionPalette | None = None
        self._keys: KeysBeside | None = None

    def show(self, frame: BenchFrame, colours: Colours) -> None:
        """Put up what is to be there, and take down what is not."""
        self._show_sheet(frame, colours)
        self._show_keys()
        if isinstance(self._store.session.open, ActionSearch):
            self._app.call_later(self.palette)

    def _show_sheet(self, frame: BenchFrame, colours: Colours) -> None:
        if frame.sheet is None:
            self._leave_sheet()
            return
        if self._sheet is None:
            self._sheet = Sheet(self._ready, self._scroll, self._press)
            self._app.push_screen(self._sheet)
        if self._sheet.up:
            self._sheet.show(frame.sheet, self._store.session.room, colours)

    def _show_keys(self) -> None:
        """The panel of keys, over the right end of the bench."""
        if self._store.session.keys_beside == (self._keys is not None):
            return
        if self._keys is None:
            self._keys = KeysBeside(self._store.session.room.glyphs)
            self._app.screen_stack[0].mount(self._keys)
        else:
            self._keys.remove()
            self._keys = None

    def _leave_sheet(self) -> None:
        if self._sheet is not None:
            self._sheet.dismiss()
            self._sheet = None

    def _scroll(self, top: int) -> None:
        opened = self._store.session.open
        if isinstance(opened, Question | Reading):
            scroll_sheet(self._store, opened, top)

    async def palette(self) -> ActionPalette | None:
        """The palette, put up if it is not yet; None where the session has none."""
        if not isinstance(self._store.session.open, ActionSearch):
            return None
        if self._palette is None:
            self._leave_sheet()  # it may have been answered and not been drawn since
            session = self._store.session
            self._palette = ActionPalette(session.keymap, session.room.glyphs, self._chosen)
            await self._app.push_screen(self._palette)
            await self._palette.settle()
        return self._palette

    def _chosen(self, action: str | None) -> None:
        """The palette has been left."""
        self._palette = None
        if isinstance(self._store.session.open, ActionSearch):
            self._store.close()
        if action is not None:
            self._act(action)
