"""Lists to choose from: how they look, and what keys and mouse do in them."""

from collections.abc import Sequence
from dataclasses import replace
from typing import Final

from cogwright.app.actions import key_name
from cogwright.app.pickers.drawer_frame import DrawerFrame, Wanted, drawer_frame, in_sight
from cogwright.app.pickers.scene import BAR, Scene, scene_of
from cogwright.app.state.opened import BACK, PickList, Typed
from cogwright.app.state.session import Session
from cogwright.app.state.store import SessionStore
from cogwright.present.lines import Line, Role, Span
from cogwright.present.panels.foot import FootKey

#: Keys that leave everything that can be open; where no text is typed q does too.
LEAVING: Final = frozenset({"escape", "f10"})
#: A list that shows its values on the bench takes this share of the screen, or so many rows, at the most.
_SHARE, _ROWS = 2 / 5, 7
#: Rows that a list leaves to head, foot and the ends of the chart, where it has so many itself.
_PICTURE, _LIST = 14, 8


def list_frame(session: Session, of: PickList) -> DrawerFrame:
    """The list as lines."""
    kind, scene, look = of.kind, scene_of(session, of), session.room
    nothing = not of.shown and of.narrows and bool(of.values or of.typed.text)
    said = (Span(f"   {kind.nothing}", Role.DIM),)
    rows: Sequence[Line] = [said] if nothing else kind.rows(of.shown, scene)
    most = kind.most(look.height)
    if kind.beside_chart or kind.look_at is not None:
        most = min(most, max(look.height - _PICTURE, _LIST))
    if kind.look_at is not None:
        most = min(most, max(int(look.height * _SHARE), _ROWS, kind.least))
    wide = replace(scene, look=look.narrower(BAR))
    return drawer_frame(
        Wanted(
            title=of.title,
            look=look,
            rows=rows,
            head=kind.head(scene) if kind.head else (),
            about_room=kind.about_room(look.height),
            about=lambda height: _about(of, replace(wide, look=wide.look.of_height(height))),
            keys=_keys(of, scene),
            typed=of.typed if of.narrows else None,
            at=None if nothing else of.at,
            top=of.top,
            most=most,
            least=kind.least,
        )
    )


def _about(of: PickList, scene: Scene) -> Sequence[Line]:
    return of.kind.about(of.shown[of.at], scene) if of.kind.about and of.shown else ()


def _keys(of: PickList, scene: Scene) -> list[FootKey]:
    own = [FootKey(key_name(key.key), key.word, key.key) for key in of.kind.keys(scene) if key.word]
    first = of.kind.foot if of.shown else ()
    return [*first, *own, BACK, *[FootKey("type", "to narrow")] * of.narrows]


def press_in_list(store: SessionStore, of: PickList, key: str) -> None:
    """A key while a list is the topmost."""
    deeds = {each.key: each.deed for each in of.kind.keys(scene_of(store.session, of))}
    if key in LEAVING or (key == "q" and not of.narrows):
        leave_list(store, of)
    elif key in deeds:
        deeds[key](store)
    elif key == "enter":
        take_marked(store, of)
    else:
        page = max(list_frame(store.session, of).room - 1, 1)
        by = {
            "up": -1,
            "down": 1,
            "pageup": -page,
            "pagedown": page,
            "home": -len(of.shown),
            "end": len(of.shown),
        }
        if not of.narrows:
            by |= {"k": -1, "j": 1, "space": page}
        if key in by:
            mark(store, of, of.at + by[key])


def mark(store: SessionStore, of: PickList, at: int) -> None:
    """The mark to a row, which is kept in sight; what the list does with what is marked follows."""
    at = min(max(at, 0), max(len(of.shown) - 1, 0))
    frame = list_frame(store.session, of)
    top = in_sight(frame.top, at, len(of.shown), frame.room)
    _go(store, replace(of, at=at, top=top))


def scroll_list(store: SessionStore, of: PickList, top: int) -> None:
    """Rows moved by the wheel or the scroll bar: the mark stays in sight."""
    room = list_frame(store.session, of).room
    top = in_sight(top, None, len(of.shown), room)
    _go(store, replace(of, top=top, at=min(max(of.at, top), top + room - 1)))


def narrow(store: SessionStore, of: PickList, typed: Typed) -> None:
    """Another text typed: the mark goes to the first of what holds it."""
    if typed.text == of.typed.text:
        store.replace(store.session.swapped(replace(of, typed=typed)))
    else:
        _go(store, replace(of, typed=typed, at=0, top=0))


def _go(store: SessionStore, of: PickList) -> None:
    store.replace(store.session.swapped(of))
    if of.kind.look_at is not None and of.shown:
        of.kind.look_at(store, of.shown[of.at], of.note)
    elif of.kind.look_at is not None:
        store.replace(store.session.unlooked().say(""))


def take_marked(store: SessionStore, of: PickList) -> None:
    """What Enter means: the list is closed, unless it stays, and its kind deals with the marked value."""
    if of.shown:
        if not of.kind.stays:
            store.close()
        of.kind.take(store, of.shown[of.at], of.note)


def leave_list(store: SessionStore, of: PickList) -> None:
    """Closed without taking anything."""
    store.replace(store.session.popped().say(""))
    if of.kind.leave is not None:
        of.kind.leave(store, of.note)
