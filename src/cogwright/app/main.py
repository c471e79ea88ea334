"""The app: keys in, sessions on, lines out. All that is done is in the `do_*` modules."""

import gc
import os
from asyncio import Lock
from collections.abc import Iterator, Sequence
from contextlib import suppress
from dataclasses import replace
from pathlib import Path

from textual import events
from textual.app import ComposeResult

from cogwright.app import hint
from cogwright.app.actions import BY_ID
from cogwright.app.controllers import handlers
from cogwright.app.layout import whole_screen
from cogwright.app.mouse import clicked
from cogwright.app.pickers.content import Content
from cogwright.app.pickers.drawer import Drawer
from cogwright.app.safety.crash import Stopping
from cogwright.app.safety.drafts import Keeper
from cogwright.app.safety.file_watch import EVERY_S, Watch
from cogwright.app.settings import read_settings
from cogwright.app.state.opening import first_session
from cogwright.app.state.session import Session
from cogwright.app.terminal.messages import PasteCut
from cogwright.app.theme import Theme, ascii_only, choose
from cogwright.app.widgets.rows import Rows
from cogwright.core.common.errors import CogwrightError, InputError
from cogwright.core.setup.model import Setup
from cogwright.options import Options
from cogwright.present.lines import ASCII, UNICODE, Look
from cogwright.present.panels.screen import Screen
from cogwright.store.documents import Document
from cogwright.store.shelf import ShelfEntry, read_shelf


class BenchApp(Stopping):
    """The drivetrain bench."""

    CSS = "Screen { background: transparent; overflow: hidden; } Rows#frame { height: 1fr; }"
    ENABLE_COMMAND_PALETTE = False
    ALLOW_SELECT = False
    AUTO_FOCUS = ""
    TITLE = "cogwright"

    def __init__(self, paths: Sequence[Path], options: Options = Options()) -> None:  # noqa: B008
        settings, self.keymap_now = read_settings(options.keys)
        self.skin: Theme = choose(settings.theme, os.environ)
        super().__init__(ansi_color=True)
        self._by_key = {key: id for id, keys in self.keymap_now.items() for key in keys}
        self.use_mouse = options.mouse and settings.mouse
        wanted = settings.ascii if settings.ascii is not None else ascii_only(os.environ)
        self.glyphs = ASCII if options.ascii or wanted else UNICODE
        self.terminal.asks_width = self.glyphs is UNICODE
        self.folder, self.session = first_session(paths, options)
        self.shelf: tuple[ShelfEntry, ...] = ()
        self.laid = Screen((), 0, 1, 0, 0, 0)
        self._pending = False
        self._settled = False
        self._settling = Lock()
        self.hints = hint.wanted()
        self.keeper = Keeper(self)

    def compose(self) -> ComposeResult:
        """One widget that draws everything, and the drawer."""
        yield Rows(self.skin, id="frame")
        yield Drawer(self.skin)

    def on_mount(self) -> None:
        """The first frame has everything; what only a key asks for comes after it."""
        self.draw()
        self.call_after_refresh(self._settle)

    async def _settle(self) -> None:
        """After the first frame, or before the first key if that is sooner: all that it did not wait for."""
        async with self._settling:  # the first key waits until this is done
            if self._settled:
                return
            gc.freeze()
            gc.enable()
            self._settled = True
            handlers.load()
            await self.drawer.furnish()
            self.keeper.open()
            self.keeper.offer()
            self.set_interval(EVERY_S, Watch(self).look)

    @property
    def drawer(self) -> Drawer:
        """The drawer."""
        return self.query_one(Drawer)

    # What handlers use

    def become(self, session: Session) -> None:
        """Go on to another session, and draw it once all waiting keys are dealt with."""
        if self.hints and session.history.past:
            self.hints = False
            hint.seen()
        self.session = session
        self.redraw()

    def say(self, message: str) -> None:
        """A message at the foot."""
        self.become(self.session.say(message))

    notify_foot = say

    def preview(self, setup: Setup, what: str) -> None:
        """Show a setup without putting it on the bench; `what` it is stands in the title."""
        self.become(replace(self.session, preview=setup, looking=what))

    def unpreview(self) -> None:
        """Show the bench again, without what was said of the thing looked at."""
        self.become(replace(self.session, preview=None, looking="", message=""))

    def drawer_open(self, content: Content) -> None:
        """Open the drawer."""
        self.drawer.open(content, self.look)
        self.redraw()

    def start(self, session: Session) -> None:
        """Put another setup on the bench; its history begins here."""
        kept = self.session
        self.become(replace(session, mode=kept.mode, order=kept.order, stock=kept.stock, course=kept.course))

    def saved(self, document: Document[Setup], message: str) -> None:
        """The bench is on the disk now."""
        self.keeper.forget()
        self.become(replace(self.session, document=document, message=message, alone=False, deleted=None))
        self.keeper.offer_more()

    def scroll(self, by: int) -> None:
        """Scroll the view by rows, within its bounds."""
        top = min(max(self.laid.top + by, 0), self.laid.last_top)
        self.become(self.session.scrolled(top))

    def other_entries(self) -> tuple[ShelfEntry, ...]:
        """The shelf as it is on the disk now."""
        self.shelf = read_shelf(self.folder, self.shelf)
        return self.shelf

    def other_setups(self) -> Iterator[Setup]:
        """The good setups of the folder but the bench's own; none where the folder is gone."""
        with suppress(InputError):
            self.other_entries()
        for entry in self.shelf:
            if entry.setup is not None and entry.path != self.session.path:
                yield entry.setup

    # Drawing

    @property
    def look(self) -> Look:
        """The room there is."""
        return Look(self.size.width, self.size.height, self.glyphs)

    @property
    def hint(self) -> str:
        """The hint of a first start; nothing later on."""
        return hint.text(self.keymap_now) if self.hints else ""

    def redraw(self) -> None:
        """Draw once, after the keys that already wait."""
        if not self._pending:
            self._pending = True
            self.call_later(self.draw)

    def draw(self) -> None:
        """Show the session; while the app is being taken down there is nothing to show it on."""
        self._pending = False
        if not self.is_running:
            return
        self.keeper.keep()
        if self.size.width < 1:
            return
        self.drawer.draw(self.look, self.skin)
        self.laid = whole_screen(self)
        self.query_one("#frame", Rows).show(self.laid.lines, self.skin)

    def on_paste_cut(self, event: PasteCut) -> None:
        """Not all of a paste was taken."""
        self.say(event.text)

    # Keys and mouse

    async def act(self, action: str) -> None:
        """Do an action of the registry."""
        await self._settle()
        if self.drawer.is_open:  # unsaved work is offered before the first key counts
            return
        try:
            handlers.HANDLERS[BY_ID[action].id](self)
        except CogwrightError as error:
            self.say(str(error))

    async def on_event(self, event: events.Event) -> None:
        """Keys are dealt with here, one after the other: passed on to widgets, fast ones could overtake."""
        if not isinstance(event, events.Key):
            await super().on_event(event)
        elif self.drawer.is_open:
            self.drawer.press(event)
        elif event.key in self._by_key:
            await self.act(self._by_key[event.key])

    def on_resize(self, _: events.Resize) -> None:
        """Another size, another layout."""
        self.redraw()

    def on_drawer_changed(self, event: Drawer.Changed) -> None:
        """The drawer has something else to show."""
        event.stop()
        self.redraw()

    def on_click(self, event: events.Click) -> None:
        """A click on a sprocket picks it, on a view's name opens it."""
        if not self.drawer.is_open:
            clicked(self, event.x, event.y)

    def on_mouse_scroll_down(self, _: events.MouseScrollDown) -> None:
        """The wheel scrolls the view."""
        self.scroll(3)

    def on_mouse_scroll_up(self, _: events.MouseScrollUp) -> None:
        """The wheel scrolls the view."""
        self.scroll(-3)
