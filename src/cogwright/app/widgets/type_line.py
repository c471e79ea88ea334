"""The line for text in the drawer: the library's own, which shows what the store says and tells it more."""

from collections.abc import Callable
from typing import Final

from textual.widgets import Input
from textual.widgets.input import Selection

from cogwright.app.state.opened import Typed
from cogwright.core.common.safe_text import clean

#: Keys that edit the text, and the actions of the library's line that do it.
EDITING: Final = {
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


class TypeLine(Input, inherit_bindings=False):
    """`changed` is called when keys or the mouse have changed it, not for what `show` brings.

    No key comes to it by itself, so the library lists none as its own.
    """

    DEFAULT_CSS = """
    TypeLine { height: 1; border: none; padding: 0 1; background: transparent; display: none; }
    TypeLine:focus { border: none; background: transparent; background-tint: $background 0%; }
    """

    def __init__(self, changed: Callable[[Typed], None], id: str | None = None) -> None:
        super().__init__(id=id, select_on_focus=False)
        self.cursor_blink = False
        self._changed = changed
        self._told = Typed()
        self._showing = False

    def show(self, typed: Typed) -> None:
        """Show a text, and the place in it."""
        self._told, self._showing = typed, True
        self.value = typed.text
        self.selection = Selection(0, typed.at) if typed.fresh else Selection.cursor(typed.at)
        self._showing = False

    def press(self, typed: Typed, key: str, character: str | None) -> None:
        """A key that types or edits, on a text that may not be shown yet."""
        self.show(typed)
        if character is not None and character.isprintable():
            self._put_in(character, typed)
        elif key in EDITING:
            getattr(self, f"action_{EDITING[key]}")()
        self._tell()

    def paste(self, typed: Typed, text: str) -> None:
        """The first line of a text, put in where the next character would go."""
        self.show(typed)
        self._put_in(clean((text.splitlines() or [""])[0]), typed)
        self._tell()

    def _put_in(self, text: str, typed: Typed) -> None:
        """Text at the cursor, or in the place of what nobody has touched yet."""
        if typed.fresh and text:
            self.value = ""
        self.insert_text_at_cursor(text)

    def validate_value(self, value: str) -> str:
        """No character that a terminal would obey, wherever it comes from."""
        return clean(value)

    def watch_selection(self) -> None:
        """The mouse may have put the cursor elsewhere."""
        if not self._showing and self.value == self._told.text:
            self._tell()

    def _tell(self) -> None:
        typed = Typed(self.value, self.cursor_position)
        if typed != self._told:
            self._told = typed
            self._changed(typed)
