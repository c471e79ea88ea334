"""The library's command palette over the registry of actions: it finds them by some of their letters."""

import asyncio
from collections.abc import Callable, Mapping
from contextlib import suppress
from typing import ClassVar, Final

from rich.segment import Segment
from rich.style import Style
from textual.app import ComposeResult
from textual.await_complete import AwaitComplete
from textual.command import (
    Command,
    CommandInput,
    CommandList,
    CommandPalette,
    DiscoveryHit,
    Hit,
    Hits,
    Provider,
    SearchIcon,
)
from textual.content import Content
from textual.fuzzy import Matcher
from textual.message_pump import MessagePump
from textual.strip import Strip
from textual.widgets import OptionList
from textual.worker import WorkerError

from cogwright.app.actions import ACTIONS, Action, key_name
from cogwright.app.pickers.pick_list import LEAVING
from cogwright.app.pickers.scene import MARK
from cogwright.app.widgets.scroll_bar import bar_of
from cogwright.app.widgets.type_line import EDITING
from cogwright.core.common.safe_text import clean
from cogwright.present.lines import Glyphs

#: Keys of the palette's list, and what the library calls what they do; all others type or edit.
_MOVES: Final = {
    "up": "command_list('cursor_up')",
    "down": "cursor_down",
    "pageup": "command_list('page_up')",
    "pagedown": "command_list('page_down')",
}
#: What people call an action counts as much as a whole word of its name.
_CALLED: Final = 30.0
_NOTHING: Final = "no action is called that"


class MarkedList(CommandList):
    """The library's list with a sign before the chosen action, reversed in the terminal's own colours."""

    def __init__(self, glyphs: Glyphs) -> None:
        super().__init__()
        self._glyphs = glyphs

    def action_page_up(self) -> None:
        """Where there is no room for the list there are no pages: the library's own fails then."""
        if self.scrollable_content_region:
            super().action_page_up()  # type: ignore[no-untyped-call]

    def action_page_down(self) -> None:
        """See `action_page_up`."""
        if self.scrollable_content_region:
            super().action_page_down()  # type: ignore[no-untyped-call]

    def render_line(self, y: int) -> Strip:
        """See Widget."""
        strip = super().render_line(y)
        if self.highlighted is None or _option(strip) != self.highlighted:
            return strip
        if y == 0 or _option(super().render_line(y - 1)) != self.highlighted:
            sign = Segment(f" {self._glyphs.bullet} ", next(iter(strip)).style)
            strip = Strip.join([Strip([sign]), strip.crop(MARK)])
        return strip.apply_style(Style(reverse=True)) if self.app.current_theme.ansi else strip


def _option(strip: Strip) -> int | None:
    """Which option a row belongs to."""
    first = next(iter(strip), None)
    found: int | None = first.style.meta.get("option") if first is not None and first.style else None
    return found


class ActionPalette(CommandPalette):
    """`chosen` is called with the id of the action that is chosen, or with None when it is left."""

    DEFAULT_CSS = """
    ActionPalette { background: transparent; }
    ActionPalette > Vertical { margin-top: 1; background: $background; }
    ActionPalette #--input { border: none; height: 1; background: $background; }
    ActionPalette #--input.--list-visible { border: none; }
    ActionPalette SearchIcon { color: $role-key; margin: 0 0 0 1; }
    ActionPalette CommandInput { height: 1; padding: 0; border: none; }
    ActionPalette CommandInput:focus { border: none; }
    ActionPalette CommandList { border: none; max-height: 60vh; background: $background; }
    ActionPalette CommandList:focus { border: none; }
    ActionPalette CommandList { scrollbar-size-vertical: 1; }
    ActionPalette CommandList > .option-list--option { padding: 0 3; }
    ActionPalette CommandList > .option-list--option-highlighted {
        color: $block-cursor-foreground; background: $block-cursor-background;
        text-style: $block-cursor-text-style;
    }
    ActionPalette > .command-palette--help-text { color: transparent; text-style: not bold not dim; }
    ActionPalette LoadingIndicator { display: none; }
    """

    def __init__(
        self, keymap: Mapping[str, tuple[str, ...]], glyphs: Glyphs, chosen: Callable[[str | None], None]
    ) -> None:
        super().__init__(
            [type("KeyedActions", (Actions,), {"keymap": keymap})], placeholder="an action by its name"
        )
        self._chosen = chosen
        self._glyphs = glyphs
        self._left = False

    def compose(self) -> ComposeResult:
        """The library's, with a sign before the line that every terminal has."""
        for widget in super().compose():
            if isinstance(widget, SearchIcon):
                widget.icon = self._glyphs.bullet
            yield self._list() if isinstance(widget, CommandList) else widget

    def _list(self) -> MarkedList:
        found = MarkedList(self._glyphs)
        bar = found.vertical_scrollbar
        bar.renderer = bar_of(self._glyphs)  # type: ignore[misc] # as it says one may
        return found

    async def press(self, key: str, character: str | None) -> None:
        """Deal with a key, whole: until it has been, no other one is taken."""
        line = self.query_one(CommandInput)
        if key in LEAVING:
            self._run(None)
            return
        if key == "enter":
            self._take()
            return
        if key in _MOVES:
            await self._laid_out()
            await self.run_action(_MOVES[key])
        elif character is not None and character.isprintable():
            line.insert_text_at_cursor(character)
        elif key in EDITING:
            getattr(line, f"action_{EDITING[key]}")()
        await self.settle()

    async def paste(self, text: str) -> None:
        """The first line of a pasted text, into the line."""
        self.query_one(CommandInput).insert_text_at_cursor(clean((text.splitlines() or [""])[0]))
        await self.settle()

    async def _laid_out(self) -> None:
        """Wait for the drawing that gives the list its room: before that it has no pages."""
        if not self.query_one(CommandList).scrollable_content_region:
            drawn = asyncio.Event()
            if self.call_after_refresh(drawn.set):
                await drawn.wait()

    async def settle(self) -> None:
        """Wait until what was typed has been looked for and the list shows it."""
        for node in (self.query_one(CommandInput), *self.query_one(CommandInput).ancestors):
            if not isinstance(node, MessagePump) or node is self.app:
                break
            passed = asyncio.Event()
            node.call_later(passed.set)
            await passed.wait()
        with suppress(WorkerError):
            await self.workers.wait_for_complete([each for each in self.workers if each.node is self])

    def on_option_list_option_selected(self, event: OptionList.OptionSelected) -> None:
        """A click on an action chooses it, by the same way as a key does."""
        event.stop()
        event.prevent_default()
        self._take()

    def _take(self) -> None:
        option = self.query_one(CommandList).highlighted_option
        if isinstance(option, Command) and option.hit.text != _NOTHING:
            self._run(option.hit.text)

    def _run(self, action: str | None) -> None:
        """Leave, once, and say with what."""
        if not self._left:
            self._left = True
            self.dismiss()
            self._chosen(action)

    def dismiss(self, result: None = None) -> AwaitComplete:
        """See Screen; the mouse may leave it by a press beside it."""
        if not self._left:
            self._left = True
            self._chosen(None)
        return super().dismiss(result)


class Actions(Provider):
    """Every action with its keys; all of them as long as nothing is typed."""

    keymap: ClassVar[Mapping[str, tuple[str, ...]]] = {}

    async def discover(self) -> Hits:
        """See Provider."""
        for action in _listed():
            prompt = self._with_keys(Content(action.name), action)
            yield DiscoveryHit(prompt, lambda: None, action.id, action.help or None)

    async def search(self, query: str) -> Hits:
        """See Provider."""
        matcher = self.matcher(query)
        found = [hit for action in _listed() if (hit := self._hit(action, matcher))]
        for hit in found or [Hit(0.1, Content(_NOTHING), lambda: None, _NOTHING)]:
            yield hit

    def _hit(self, action: Action, matcher: Matcher) -> Hit | None:
        """An action with the letters sought in its name or id, or the words in what else it is called."""
        name, said = matcher.match(action.name), action.help.lower()
        called = _CALLED if action.called(matcher.query) else 0.0
        words = all(word in said for word in matcher.query.lower().split())
        score = max(name, called) or 0.5 * matcher.match(action.id) or 0.5 * words
        if not score:
            return None
        prompt = matcher.highlight(action.name) if name else Content(action.name)
        return Hit(score, self._with_keys(prompt, action), lambda: None, action.id, action.help or None)

    def _with_keys(self, name: Content, action: Action) -> Content:
        keys = " ".join(map(key_name, self.keymap[action.id]))
        return Content.assemble(name, f"   {keys}" if keys else "")


def _listed() -> list[Action]:
    return [action for action in ACTIONS if action.id != "palette"]
