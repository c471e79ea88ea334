"""Help, the list of all actions, the panel of all keys."""

from typing import Final

from cogwright.app.actions import ACTIONS, key_name
from cogwright.app.controllers.registry import CONTROLLERS, does
from cogwright.app.pickers.scene import Scene, each
from cogwright.app.state.opened import ActionSearch, ListKind, PickList
from cogwright.app.state.session import Session
from cogwright.app.state.store import SessionStore
from cogwright.present.lines import Line
from cogwright.present.panels.help import HelpEntry, entry_line, entry_lines, help_entries

#: On a screen as low as this all rows are for what is found.
LOW: Final = 15


@does("palette")
def palette(store: SessionStore) -> None:
    """Every action by name."""
    store.open(ActionSearch())


@does("help")
def help_(store: SessionStore) -> None:
    """Keys and words, found by what is typed."""
    store.open(
        PickList(HELP, "Help - type what you look for, Enter does it", help_entries(_rows(store.session)))
    )


@does("keys")
def keys(store: SessionStore) -> None:
    """The library's panel of all keys, put beside the bench or taken away."""
    store.change(keys_beside=not store.session.keys_beside)


def _rows(session: Session) -> list[HelpEntry]:
    """The actions with their keys, as the help lists them."""
    return [
        HelpEntry(a.group, " ".join(map(key_name, session.keymap[a.id])), a.name, a.help, a.also, a.id)
        for a in ACTIONS
    ]


def _line(entry: HelpEntry, scene: Scene) -> Line:
    return entry_line(entry, scene.look)


def _about(entry: HelpEntry, scene: Scene) -> list[Line]:
    return entry_lines(entry, scene.look)


def _words(entry: HelpEntry) -> str:
    return f"{entry.group} {entry.keys} {entry.name} {entry.text} {entry.also}"


def _take(store: SessionStore, entry: HelpEntry, _: None) -> None:
    """An action is done; a word has nothing to do."""
    if entry.action:
        CONTROLLERS[entry.action](store)


HELP: Final = ListKind(
    each(_line),
    _take,
    words=_words,
    about=_about,
    about_room=lambda height: 3 if height > LOW else 0,
    share=1.0,
)
