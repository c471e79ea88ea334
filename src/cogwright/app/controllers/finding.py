"""Help, the list of all actions, the panel of all keys."""

from cogwright.app.actions import ACTIONS, key_name
from cogwright.app.controllers.registry import does
from cogwright.app.state.opened import Palette, Reading
from cogwright.app.state.session import Session
from cogwright.app.state.store import SessionStore
from cogwright.present.lines import Line, Look
from cogwright.present.panels.help import help_lines


@does("palette")
def palette(store: SessionStore) -> None:
    """Every action by name."""
    store.open(Palette())


@does("help")
def help_(store: SessionStore) -> None:
    """Keys and words."""
    store.open(Reading("Help", _help_lines))


@does("keys")
def keys(store: SessionStore) -> None:
    """The library's panel of all keys, put beside the bench or taken away."""
    store.change(keys_beside=not store.session.keys_beside)


def _help_lines(session: Session, look: Look) -> list[Line]:
    rows = [(a.group, " ".join(map(key_name, session.keymap[a.id])), a.name, a.help) for a in ACTIONS]
    return help_lines(rows, look)
