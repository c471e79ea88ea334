"""A line to type: how it looks, and what its keys do."""

from dataclasses import replace
from typing import Final

from cogwright.app.pickers.drawer_frame import DrawerFrame, Wanted, drawer_frame
from cogwright.app.pickers.pick_list import LEAVING
from cogwright.app.pickers.scene import Scene, row_look
from cogwright.app.state.opened import BACK, TextEntry, Typed
from cogwright.app.state.session import Session
from cogwright.app.state.store import SessionStore
from cogwright.present.panels.foot import FootKey

_ACCEPT: Final = FootKey("Enter", "accept", "enter")
_FRESH: Final = FootKey("type", "in its place")


def entry_frame(session: Session, of: TextEntry) -> DrawerFrame:
    """The entry as lines."""
    head = of.kind.head(Scene(session, row_look(session), of.note)) if of.kind.head else ()
    keys = (_ACCEPT, *[_FRESH] * of.typed.fresh, BACK)
    return drawer_frame(Wanted(of.title, session.room, head=head, keys=keys, typed=of.typed))


def press_in_entry(store: SessionStore, of: TextEntry, key: str) -> None:
    """A key that types nothing while an entry is the topmost."""
    if key in LEAVING:
        store.replace(store.session.popped().say(""))
    elif key == "enter":
        _accept(store, of)


def type_on(store: SessionStore, of: TextEntry, typed: Typed) -> None:
    """Another text typed."""
    store.replace(store.session.swapped(replace(of, typed=typed)))


def _accept(store: SessionStore, of: TextEntry) -> None:
    """Hand the text on; if it is refused the line stays, and why is said."""
    over = store.session.over
    store.close()
    refusal: str | None = of.kind.accept(store, of.typed.text, of.note)
    if refusal is not None:
        store.change(over=over, message=refusal)
