"""The drawer: opens over the lower part of the screen to choose, type, read or answer."""

from collections.abc import Callable
from typing import TYPE_CHECKING

from textual import events
from textual.app import ComposeResult
from textual.containers import Vertical
from textual.message import Message

from cogwright.app.pickers.content import Choice, Content
from cogwright.app.pickers.drawer_lines import DrawerLines
from cogwright.app.theme import Theme
from cogwright.app.widgets.rows import Rows
from cogwright.present.lines import Look

if TYPE_CHECKING:
    from textual.widgets import Input

#: Keys that move in the list even while text is typed.
_MOVES = {"up", "down", "pageup", "pagedown"}
_SIDEWAYS = {"left": -1, "right": 1}
#: Keys that edit the text, and the actions of the library's line that do it.
_EDITING = {
    "left": "cursor_left",
    "right": "cursor_right",
    "home": "home",
    "end": "end",
    "backspace": "delete_left",
    "delete": "delete_right",
    "ctrl+u": "delete_left_all",
    "ctrl+k": "delete_right_all",
    "ctrl+w": "delete_left_word",
    "ctrl+a": "home",
    "ctrl+e": "end",
}


class Drawer(Vertical):
    """Shows one Content and takes all keys meanwhile. Esc and F10 close it, and q where no text is typed."""

    DEFAULT_CSS = """
    Drawer { dock: bottom; display: none; height: 8; }
    Drawer Input { height: 1; border: none; padding: 0 1; background: transparent; color: $foreground; }
    Drawer Input:focus { border: none; }
    """
    can_focus = True

    def __init__(self, theme: Theme) -> None:
        super().__init__(id="drawer")
        self._theme = theme
        self.content: Content | None = None
        self.index = 0
        self._look = Look()
        self._narrowed = ""

    def compose(self) -> ComposeResult:
        """The list; `furnish` adds the line for text."""
        yield Rows(self._theme, id="drawer-rows")

    async def furnish(self) -> None:
        """Add the line for text, whose import the first frame does not wait for."""
        from cogwright.app.pickers.typed import Typed

        line_ = Typed(id="drawer-input", select_on_focus=False)
        line_.cursor_blink = False
        await self.mount(line_)

    @property
    def is_open(self) -> bool:
        """Whether the drawer shows something."""
        return self.content is not None

    @property
    def _input(self) -> "Input":
        from textual.widgets import Input

        return self.query_one("#drawer-input", Input)

    @property
    def _takes_text(self) -> bool:
        return self.content is not None and self.content.takes_text

    @property
    def shown(self) -> list[Choice]:
        """The choices that the filter lets through: those that hold every word typed."""
        if self.content is None:
            return []
        if not self.content.filter:
            return list(self.content.choices)
        words = self._input.value.lower().split()
        return [c for c in self.content.choices if all(word in c.words for word in words)]

    def open(self, content: Content, look: Look) -> None:
        """Show a content; what was shown before is gone."""
        self.content, self.index, self._look = content, content.start, look
        takes, self._narrowed = self._takes_text, content.value
        self._input.display = takes
        self._input.value = content.value
        self._input.cursor_position = len(content.value)
        self.styles.height = self._drawn(content, look).height
        self.display = True
        self.screen.set_focus(self._input if takes else self)  # at once: a burst of keys may close it
        self._moved()

    def update(self, content: Content) -> None:
        """Show other rows in the place of those there, `content.start` chosen; no callback is called."""
        self.content, self.index = content, content.start
        self.post_message(self.Changed())

    def close(self) -> None:
        """Close without choosing."""
        left, self.content = self.content, None
        self.display = False
        self.screen.set_focus(None)
        if left is not None and left.leave is not None:
            left.leave()

    def _drawn(self, content: Content, look: Look) -> DrawerLines:
        return DrawerLines(content, self.shown, self.index, look)

    def room(self) -> int:
        """Rows that it takes of the screen now."""
        return self._drawn(self.content, self._look).height if self.content else 0

    def draw(self, look: Look, theme: Theme) -> None:
        """Show the content in the room there is."""
        other, self._theme, self._look = look.width != self._look.width, theme, look
        if self.content is None:
            return
        if other and self.content.fitted is not None:
            self.content = self.content.fitted()
        drawn = self._drawn(self.content, look)
        if self.styles.height is None or self.styles.height.value != drawn.height:
            self.styles.height = drawn.height
        self.query_one("#drawer-rows", Rows).show(drawn.lines(), theme)

    def _moved(self) -> None:
        shown, last = self.shown, len(self.shown) - 1
        if self.content and self.content.pick is None:  # text to read
            last = self._drawn(self.content, self._look).last_top
        self.index = min(max(self.index, 0), max(last, 0))
        if self.content and self.content.move and shown:
            self.content.move(shown[self.index].value)
        self.post_message(self.Changed())

    class Changed(Message):
        """The drawer has something else to show."""

    def press(self, event: events.Key) -> None:
        """A key while it is open."""
        if self.content is None:
            return
        key = event.key
        if key in {"escape", "f10"} or (key == "q" and not self._takes_text):
            self.app.notify_foot("")  # type: ignore[attr-defined]
            self.close()
            self.post_message(self.Changed())
        elif key in self.content.stays:
            self.content.stays[key]()
        elif key in self.content.answers:
            self._finish(self.content.answers[key])
        elif key == "enter":
            self._enter(self.content)
        elif self._takes_text and key not in _MOVES:
            self._type(event)
        else:
            self._scroll(self.content, key)

    def _type(self, event: events.Key) -> None:
        """A character, or a key that edits, into the line for text."""
        if event.is_printable and event.character:
            self._input.insert_text_at_cursor(event.character)
        elif event.key in _EDITING:
            getattr(self._input, f"action_{_EDITING[event.key]}")()
        self._narrow(self._input.value)

    def _narrow(self, text: str) -> None:
        """What was typed narrows the list, from its top."""
        if self.content is not None and self.content.filter and text != self._narrowed:
            self._narrowed, self.index = text, 0
            self._moved()

    def _finish(self, then: Callable[[], None]) -> None:
        """Close, then do what was chosen: it may open the drawer again."""
        self.content = None
        self.display = False
        self.screen.set_focus(None)
        then()
        self.post_message(self.Changed())

    def _scroll(self, content: Content, key: str) -> None:
        page = max(self._drawn(content, self._look).room - 1, 1)
        by = {"up": -1, "down": 1, "pageup": -page, "pagedown": page, "home": -9999, "end": 9999}
        if not self._takes_text:
            by |= {"k": -1, "j": 1, "space": page}
        if content.sideways is not None and key in _SIDEWAYS:
            content.sideways(_SIDEWAYS[key])
        elif key in by:
            self.index += by[key]
            self._moved()

    def on_input_changed(self, event: "Input.Changed") -> None:
        """What was pasted narrows the list too."""
        event.stop()
        self._narrow(self._input.value)

    def _enter(self, content: Content) -> None:
        """Take the chosen row, or hand the text on; a refusal is shown."""
        if content.pick and self.shown:
            pick, value = content.pick, self.shown[self.index].value
            self._finish(lambda: pick(value))
        elif content.typed:
            self._hand_on(content, self._input.value)

    def _hand_on(self, content: Content, text: str) -> None:
        assert content.typed is not None
        self.content = None
        refusal = content.typed(text)
        if refusal is not None:
            self.content = content
            self.app.notify_foot(refusal)  # type: ignore[attr-defined]
        elif self.content is None:
            self.display = False
            self.screen.set_focus(None)
        self.post_message(self.Changed())

    def on_click(self, event: events.Click) -> None:
        """A click on a row takes it."""
        if self.content is None or not self.content.pick:
            return
        choice = self._drawn(self.content, self._look).choice_at(event.y)
        if choice is not None:
            pick = self.content.pick
            self._finish(lambda: pick(choice.value))
