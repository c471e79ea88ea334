"""Forms: facts one below another, the marked one with a line to type in; how they look, and their keys."""

from dataclasses import replace
from typing import Any, Final

from cogwright.app.pickers.drawer_frame import DrawerFrame, Wanted, drawer_frame, in_sight
from cogwright.app.pickers.pick_list import LEAVING
from cogwright.app.pickers.scene import BAR, LazyRows, Scene, row_look
from cogwright.app.state.opened import BACK, MOVE, Form, Typed
from cogwright.app.state.session import Session
from cogwright.app.state.store import SessionStore
from cogwright.present.panels.foot import FootKey

_KEYS: Final = (FootKey("Enter", "next", "enter"), MOVE, BACK, FootKey("?", "unknown"))
#: A form takes this share of the screen at the most, and so many rows for what is said of a fact.
_SHARE, _ABOUT, _LEAST = 0.55, 2, 9


def form_frame(session: Session, of: Form) -> DrawerFrame:
    """The form as lines."""
    scene, look = _scene(session, of), session.room
    wide = replace(scene, look=look.narrower(BAR))
    fields = of.kind.fields(session, of.note)
    return drawer_frame(
        Wanted(
            title=of.title,
            look=look,
            rows=LazyRows(fields, lambda field: of.kind.row(field, scene)),
            about_room=_ABOUT,
            about=lambda _: of.kind.about(fields[of.at], wide),
            keys=_KEYS,
            typed=of.typed,
            at=of.at,
            top=of.top,
            most=max(int(look.height * _SHARE), _LEAST),
            least=_LEAST,
        )
    )


def _scene(session: Session, of: Form) -> Scene:
    return Scene(session, row_look(session), of.note, ())


def form_at(session: Session, of: Form, at: int) -> Form:
    """The form with the mark on a field, and what stands there in the line, to be typed over."""
    fields = of.kind.fields(session, of.note)
    at = min(max(at, 0), len(fields) - 1)
    marked = replace(of, at=at, typed=Typed.ready(of.kind.begin(session, fields[at], of.note)))
    frame = form_frame(session, marked)
    return replace(marked, top=in_sight(frame.top, at, len(fields), frame.room))


def press_in_form(store: SessionStore, of: Form, key: str) -> None:
    """A key that types nothing while a form is the topmost."""
    if key in LEAVING:
        _leave(store, of)
    elif key == "enter":
        take(store, of, of.at + 1)
    else:
        page = max(form_frame(store.session, of).room - 1, 1)
        by = {"up": -1, "down": 1, "tab": 1, "pageup": -page, "pagedown": page}
        if key in by:
            go(store, of, of.at + by[key])


def go(store: SessionStore, of: Form, at: int) -> None:
    """The mark to another field; what was typed in this one is taken first."""
    if of.typed.fresh or of.typed.text == _begun(store, of):
        store.replace(store.session.swapped(form_at(store.session, of, at)).say(""))
    else:
        take(store, of, at)


def take(store: SessionStore, of: Form, then: int) -> None:
    """What stands in the line is the answer: taken, and on to another field, or refused and why."""
    field = _field(store, of)
    store.say("")
    refusal: str | None = of.kind.take(store, of.typed.text, field, of.note)
    if refusal is not None:
        store.say(refusal)
    elif isinstance(store.session.open, Form):
        _go_on(store, store.session.open, field, then)


def _go_on(store: SessionStore, of: Form, field: Any, then: int) -> None:
    """On from a field, whose place may be another one now that its answer is known."""
    fields = of.kind.fields(store.session, of.note)
    moved = fields.index(field) - of.at if field in fields else 0
    store.replace(store.session.swapped(form_at(store.session, of, then + moved)))


def answered(store: SessionStore) -> None:
    """A question that a field asked has been answered: on to the next field."""
    of = store.session.open
    if isinstance(of, Form):
        _go_on(store, of, _field(store, of), of.at + 1)


def type_in_form(store: SessionStore, of: Form, typed: Typed) -> None:
    """Another text typed."""
    store.replace(store.session.swapped(replace(of, typed=typed)))


def _field(store: SessionStore, of: Form) -> Any:
    return of.kind.fields(store.session, of.note)[of.at]


def _begun(store: SessionStore, of: Form) -> str:
    return str(of.kind.begin(store.session, _field(store, of), of.note))


def _leave(store: SessionStore, of: Form) -> None:
    """Closed; what was typed and not taken is said, so that nobody thinks it was."""
    touched = not of.typed.fresh and of.typed.text != _begun(store, of)
    lost = f"Not taken: {of.typed.text!r}. Enter takes what is typed." if touched else ""
    store.replace(store.session.popped().say(lost))
    if of.kind.leave is not None:
        of.kind.leave(store, of.note)
