"""Keys, and what stands open over the bench: all that the first frame does not wait for."""

from collections.abc import Callable
from typing import Final

from textual.screen import Screen

from cogwright.app import router
from cogwright.app.colours import Colours
from cogwright.app.controllers import registry
from cogwright.app.controllers.starting import offer_start
from cogwright.app.drawer import DrawerWidgets
from cogwright.app.layout import BenchFrame
from cogwright.app.overlays import Overlays
from cogwright.app.pointing import DrawerPointing
from cogwright.app.rides_worker import RidesWorker
from cogwright.app.safety.file_watch import EVERY_S, Watch
from cogwright.app.state.store import SessionStore
from cogwright.app.terminal.terminal_app import TerminalApp

#: How often the bench's file is looked at, s.
WATCH_S: Final = EVERY_S


class Interaction:
    """One for an app. `draw` shows the session at once."""

    def __init__(self, app: TerminalApp, store: SessionStore, draw: Callable[[], None]) -> None:
        registry.load()
        self._store = store
        at = DrawerPointing(store, self.press)
        self._drawer = DrawerWidgets(at)
        self._overlays = Overlays(app, store, draw, self.act, self.press)
        self.look_at_file = Watch(store).look
        store.subscribe(RidesWorker(store).follow)

    async def mount(self, screen: Screen[object]) -> None:
        """Put the drawer below the bench."""
        await screen.mount_all(self._drawer.all())

    def show(self, frame: BenchFrame, colours: Colours) -> None:
        """Show what stands open."""
        self._drawer.show(frame, self._store.session.room, colours)
        self._overlays.show(frame, colours)

    def begin(self) -> None:
        """Where there was nothing to open, ask what to begin with."""
        offer_start(self._store)

    async def key(self, key: str, character: str | None) -> None:
        """Deal with a key, whole."""
        palette = await self._overlays.palette()
        if palette is not None:
            await palette.press(key, character)
        else:
            router.press(self._store, self._drawer.line, key, character)

    async def paste(self, text: str) -> None:
        """Deal with a pasted text."""
        palette = await self._overlays.palette()
        if palette is not None:
            await palette.paste(text)
        else:
            router.paste(self._store, self._drawer.line, text)

    def press(self, key: str) -> None:
        """A key that the mouse has pressed in a foot."""
        router.press(self._store, self._drawer.line, key, key if len(key) == 1 else None)

    def act(self, action: str) -> None:
        """An action of the registry."""
        router.act(self._store, action)
