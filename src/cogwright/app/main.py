"""The app: keys and the mouse go to the store, sessions come from it and are drawn."""

import gc
import os
from asyncio import Lock, get_running_loop
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, ClassVar, Final

from textual import events
from textual.app import ComposeResult
from textual.binding import Binding, BindingType

from cogwright.app import hint
from cogwright.app.actions import ACTIONS, key_name
from cogwright.app.chosen import chosen
from cogwright.app.colours import COLOURS, ascii_only, choose, textual_theme
from cogwright.app.drawing import CSS, BenchWidgets
from cogwright.app.host import AppHost
from cogwright.app.layout import frame_of
from cogwright.app.pointing import BenchPointing
from cogwright.app.safety.crash import Stopping
from cogwright.app.safety.drafts import RETRY_S, DraftKeeper
from cogwright.app.state.beginning import first_beginning
from cogwright.app.state.session import Session
from cogwright.app.state.store import SessionStore
from cogwright.app.terminal.messages import Ambiguous, AmbiguousWidth, PasteCut
from cogwright.app.widgets.drawn import PlainScreen
from cogwright.core.common.safe_text import shown_name
from cogwright.options import Options
from cogwright.present import plot
from cogwright.present.lines import ASCII, SOLID, UNICODE, Look
from cogwright.present.panels.screen import WIDE

if TYPE_CHECKING:
    from cogwright.app.interaction import Interaction

#: So long after a change it is asked, s, that the draft be kept when the drawing is out: to ask takes time as
#: well, for which the drawing would have to wait.
DRAFT_S: Final = 0.005


class BenchApp(Stopping, inherit_bindings=False):
    """The drivetrain bench."""

    CSS = CSS
    #: The library lists them; what a key does is the router's.
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding(",".join(action.keys), f"act('{action.id}')", action.name, id=action.id) for action in ACTIONS
    ]
    AUTO_FOCUS = ""
    TITLE = "cogwright"

    def __init__(self, paths: Sequence[Path], options: Options = Options()) -> None:  # noqa: B008
        session, mouse = first_session(paths, options)
        super().__init__(ansi_color=True)
        self.terminal.asks_width = session.room.glyphs is SOLID
        self.use_mouse, self.animation_level = mouse, "none"
        self._host = host = AppHost(self, options.keys)
        self.store = SessionStore(session, host)
        self.drafts = host.drafts = DraftKeeper(self.store)
        self._bench = BenchWidgets(BenchPointing(self.store, self._act))
        self._interaction: Interaction | None = None
        self._settling = Lock()
        self._following = self._in_key = self._plotting = False
        self._show_colours(session)
        self.set_keymap({action: ",".join(keys) for action, keys in session.keymap.items()})

    def _show_colours(self, session: Session) -> None:
        """From the first on: a theme that is changed to has all style sheets read once more."""
        for each in COLOURS.values():
            self.register_theme(textual_theme(each))
        self.set_reactive(BenchApp.theme, session.colours)
        self.stylesheet.set_variables(self.get_css_variables())

    def get_default_screen(self) -> PlainScreen:
        """See App."""
        return PlainScreen(id="_default")

    def compose(self) -> ComposeResult:
        """The bench; the drawer follows after the first frame."""
        yield from self._bench.compose()

    def on_mount(self) -> None:
        """The first frame, and then what it did not wait for."""
        self._resized(self.size.width, self.size.height)
        self._draw()
        self.store.subscribe(self._follow_soon)
        self.store.subscribe(self._leave_hint)
        self.call_after_refresh(self._settle)

    async def _settle(self) -> "Interaction":
        """After the first frame, or before the first key if that is sooner: all that it did not wait for."""
        async with self._settling:  # the first key waits until this is done
            if self._interaction is not None:
                return self._interaction
            gc.freeze()
            gc.enable()
            from cogwright.app.interaction import WATCH_S, Interaction

            made = Interaction(self, self.store, self._draw)
            await made.mount(self.screen_stack[0])
            await self._bench.fill()
            self._interaction = made
            self.drafts.open()
            self.drafts.offer()
            made.begin()
            self.set_interval(WATCH_S, made.look_at_file)
            self.set_interval(RETRY_S, self.drafts.retry)
            self._prepare_plots()
            return made

    def _prepare_plots(self) -> None:
        """On a wide screen import what draws plots, in a thread: it takes longer than the first frame may."""
        if self._plotting or self._interaction is None or self.size.width < WIDE:
            return
        self._plotting = True

        def prepare(_: Callable[[], bool]) -> None:
            plot.library()
            self._host.hand_over(lambda: self.store.change(plots=True))

        self._host.in_thread(prepare)

    # Drawing

    def _follow_soon(self) -> None:
        """Draw, then keep the draft, once, after the keys that already wait; nobody waits for the disk."""
        if not self._following:
            self._following = True
            if not self._in_key:
                self.call_later(self._follow)

    def _follow(self) -> None:
        if not self._following:  # a key has seen to it meanwhile
            return
        self._following = False
        self._draw()
        get_running_loop().call_later(DRAFT_S, self.call_after_refresh, self._keep_draft)

    async def _deal_with(self, key: events.Key) -> None:
        """A key; what it has changed is drawn at once if no other waits."""
        self._in_key = True
        try:
            await (await self._settle()).key(key.key, key.character)
        finally:
            self._in_key = False
        if self.screen.selections:  # what was marked is for the key that copies it
            self.screen.clear_selection()
        if self._following and self.message_queue_size:
            self.call_later(self._follow)
        elif self._following:
            self._follow()

    def _keep_draft(self) -> None:
        self.drafts.keep()
        if self.store.session.unprotected == self.drafts.has_all:
            self.store.change(unprotected=not self.drafts.has_all)

    def _draw(self) -> None:
        """Show the session; while the app is being taken down there is nothing to show it on."""
        session = self.store.session
        if not self.is_running or session.room.width < 1:
            return
        frame, look, colours = frame_of(session), session.room, COLOURS[session.colours]
        if self.theme != session.colours:
            self.theme = session.colours
        self._bench.show(frame, session.view, look, colours)
        if self._interaction is not None:
            self._interaction.show(frame, colours)

    def keep_work(self) -> str:
        """See Stopping."""
        self.drafts.keep()
        session = self.store.session
        if not session.edited:
            return "Nothing was unsaved."
        if not self.drafts.has_all:
            return "Unsaved work could not be kept: its folder takes no more."
        where = shown_name(str(session.folder))
        return f"Your unsaved work is kept: start it again on {where}, and t takes it back."

    def _leave_hint(self) -> None:
        """The hint goes with the first edit, for good."""
        if self.store.session.hinting and self.store.session.history.past:
            hint.seen()
            self.store.change(hinting=False)

    # Keys

    async def on_event(self, event: events.Event) -> None:
        """Keys are dealt with here, one by one, whole: passed on to widgets, fast ones would overtake."""
        if isinstance(event, events.Key):
            await self._deal_with(event)
        elif isinstance(event, events.Paste) and not event.is_forwarded:
            await (await self._settle()).paste(event.text)
        else:
            await super().on_event(event)

    def _act(self, action: str) -> None:
        """An action that the mouse points at; there are none before the first frame has settled."""
        if self._interaction is not None:
            self._interaction.act(action)

    def get_key_display(self, binding: Binding) -> str:
        """See App: a key as it is written everywhere else."""
        return key_name(binding.key)

    def action_act(self, action: str) -> None:
        """An action of the registry, for the library's own bindings."""
        self._act(action)

    # The terminal

    def on_text_selected(self) -> None:
        """The mouse has marked something, or only clicked."""
        if self.screen.get_selected_text():
            copy = key_name(self.store.session.keymap["copy"][0])
            self.store.say(f"Marked: {copy} copies it.")

    def on_paste_cut(self, event: PasteCut) -> None:
        """Not all of a paste was taken."""
        self.store.say(event.text)

    def on_ambiguous_width(self, event: AmbiguousWidth) -> None:
        """Where solid blocks may take two cells, narrow characters take their place."""
        room = self.store.session.room
        glyphs = SOLID if event.width is Ambiguous.NARROW else UNICODE
        if room.glyphs not in {ASCII, glyphs}:
            self.store.change(room=room._replace(glyphs=glyphs))

    def on_resize(self, event: events.Resize) -> None:
        """Another size, another session."""
        self._resized(event.size.width, event.size.height)

    def _resized(self, width: int, height: int) -> None:
        room = self.store.session.room._replace(width=width, height=height)
        if room != self.store.session.room:
            self.store.change(room=room)
        self._prepare_plots()


def first_session(paths: Sequence[Path], options: Options) -> tuple[Session, bool]:
    """The session to begin with, and whether the mouse is used."""
    settings = chosen(options.keys)
    folder, begun = first_beginning(paths, options)
    wanted = settings.ascii if settings.ascii is not None else ascii_only(os.environ)
    glyphs = ASCII if options.ascii or wanted else SOLID
    session = Session(
        begun.work,
        folder,
        message=begun.message,
        room=Look(glyphs=glyphs),
        colours=choose(settings.theme, os.environ).name,
        keymap=settings.keymap,
        chart=settings.chart,
        hinting=hint.wanted(),
    )
    return session, options.mouse and settings.mouse
