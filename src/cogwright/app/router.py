"""Which key does what: one after the other, each dealt with whole by what is topmost in the session."""

from collections.abc import Callable
from typing import Any, Final, Protocol

from cogwright.app.controllers.bench import PICKING, type_teeth
from cogwright.app.controllers.registry import CONTROLLERS
from cogwright.app.pickers.drilling import press_in_drill
from cogwright.app.pickers.form import press_in_form, type_in_form
from cogwright.app.pickers.pick_list import LEAVING, narrow, press_in_list
from cogwright.app.pickers.text_entry import press_in_entry, type_on
from cogwright.app.screens.sheet_frame import press_in_sheet
from cogwright.app.state.opened import (
    ActionSearch,
    Drilling,
    Form,
    PickList,
    Question,
    Reading,
    TextEntry,
    Typed,
)
from cogwright.app.state.store import SessionStore
from cogwright.core.common.errors import CogwrightError

#: Keys that move in a list although text is typed over it, and those that end the typing.
_PAST_THE_LINE: Final = frozenset({"up", "down", "pageup", "pagedown", "enter", "escape", "tab"}) | frozenset(
    f"f{number}" for number in range(1, 13)
)
_DIGITS: Final = frozenset("0123456789")
_NO_LINE: Final = "Nothing here takes text: what was pasted is left out."


class EditedLine(Protocol):
    """What edits a line of text, and tells the store of it."""

    def press(self, typed: Typed, key: str, character: str | None) -> None:
        """A key, on that text."""
        ...

    def paste(self, typed: Typed, text: str) -> None:
        """A text put in where the next character would go."""
        ...


def _press_in_palette(store: SessionStore, _: ActionSearch, key: str) -> None:
    """The library's screen has all keys once it is there; until then one can leave."""
    if key in LEAVING:
        store.close()


_KEYS: Final[dict[type, Callable[[SessionStore, Any, str], None]]] = {
    PickList: press_in_list,
    TextEntry: press_in_entry,
    Form: press_in_form,
    Question: press_in_sheet,
    Reading: press_in_sheet,
    Drilling: press_in_drill,
    ActionSearch: _press_in_palette,
}


def press(store: SessionStore, line: EditedLine, key: str, character: str | None) -> None:
    """Deal with a key: the topmost thing has it, or, where none is open, the action that it is bound to."""
    opened = store.session.open
    if opened is None:
        _press_on_bench(store, key)
    elif isinstance(opened, PickList | TextEntry | Form) and _types(opened, key):
        line.press(opened.typed, key, character)
    else:
        _guarded(store, lambda: _KEYS[type(opened)](store, opened, key))


def _press_on_bench(store: SessionStore, key: str) -> None:
    """Digits are the teeth of a sprocket that is picked; else a key is its action's."""
    if store.session.picked and key in _DIGITS:
        type_teeth(store, key)
        return
    action = next((id for id, keys in store.session.keymap.items() if key in keys), None)
    if action is not None:
        act(store, action)
    elif key in LEAVING:
        store.change(picked=False)


def act(store: SessionStore, action: str) -> None:
    """Do an action of the registry; whatever is done but picking, a sprocket is picked no more."""
    if store.session.picked and action not in PICKING:
        store.change(picked=False)
    _guarded(store, lambda: CONTROLLERS[action](store))


def _guarded(store: SessionStore, deed: Callable[[], None]) -> None:
    """Do something; an error that the user can mend is said."""
    try:
        deed()
    except CogwrightError as error:
        store.say(str(error))


def _types(opened: PickList | TextEntry | Form, key: str) -> bool:
    """Whether a key goes into the line for text."""
    return (not isinstance(opened, PickList) or opened.narrows) and key not in _PAST_THE_LINE


def text_typed(store: SessionStore, text: Typed) -> None:
    """The line for text has changed."""
    opened = store.session.open
    if isinstance(opened, PickList):
        narrow(store, opened, text)
    elif isinstance(opened, TextEntry):
        type_on(store, opened, text)
    elif isinstance(opened, Form):
        type_in_form(store, opened, text)


def paste(store: SessionStore, line: EditedLine, text: str) -> None:
    """A pasted text goes into a line for text, or nowhere: it is never taken for keys."""
    opened = store.session.open
    if isinstance(opened, TextEntry | Form) or (isinstance(opened, PickList) and opened.narrows):
        line.paste(opened.typed, text)
    else:
        store.say(_NO_LINE)
