"""Actions on the bench: pick a sprocket, change its teeth, add, remove, undo."""

from collections.abc import Callable
from typing import Final

from cogwright.app.controllers.delete import bring_back
from cogwright.app.controllers.editing import edit
from cogwright.app.controllers.facts import fill_in, marked_unknown
from cogwright.app.controllers.registry import does
from cogwright.app.state.opened import EntryKind, Key, Question, TextEntry, Typed, do
from cogwright.app.state.session import riveted
from cogwright.app.state.store import SessionStore
from cogwright.core.common.errors import EditRefused, InputError
from cogwright.core.setup.edits import AddSprocket, RemoveSprocket, SetTeeth, Together
from cogwright.core.setup.model import MAX_TEETH, MIN_TEETH
from cogwright.core.setup.sprockets import Where, riveted_with
from cogwright.core.setup.teeth_lists import teeth_in
from cogwright.core.setup.unusual import is_unusual, unusual_words
from cogwright.present.cursor import Cursor
from cogwright.present.panels.head import FIT

#: Puts sprockets of so many teeth on. Raises EditRefused.
PutOn = Callable[[SessionStore, tuple[int, ...]], object]


#: Actions that pick a sprocket: after them digits are its teeth.
PICKING: Final = frozenset({"pick-left", "pick-right", "pick-other"})


@does("pick-left")
def pick_left(store: SessionStore) -> None:
    """The sprocket to the left."""
    store.replace(store.session.chosen(store.session.work.beside(-1)))


@does("pick-right")
def pick_right(store: SessionStore) -> None:
    """The sprocket to the right."""
    store.replace(store.session.chosen(store.session.work.beside(1)))


@does("pick-other")
def pick_other(store: SessionStore) -> None:
    """From rings to cogs and back."""
    store.replace(store.session.chosen(store.session.work.across()))


@does("teeth-up")
def teeth_up(store: SessionStore) -> None:
    """The next larger tooth count."""
    _step(store, True)


@does("teeth-down")
def teeth_down(store: SessionStore) -> None:
    """The next smaller tooth count."""
    _step(store, False)


def _step(store: SessionStore, up: bool) -> None:
    teeth = store.session.work.neighbour(up)
    if teeth is None:
        store.say(f"Sprockets here have {MIN_TEETH} to {MAX_TEETH} teeth.")
        return
    put(store, teeth)


def put(store: SessionStore, teeth: int) -> None:
    """Another sprocket in the place of the chosen one; a riveted cog says so. Raises EditRefused."""
    session, here = store.session, store.session.cursor
    others = riveted_with(session.bench, here.teeth) if here.where == "cog" else ()
    changed = session.edit(SetTeeth(here.where, here.teeth, teeth), Cursor(here.where, teeth))
    store.replace(changed.say(riveted(here.teeth, others)) if others else changed)


@does("type-teeth")
def ask_teeth(store: SessionStore) -> None:
    """The tooth count of the chosen sprocket; in the Fit view, the fact that the marked check lacks.

    A sprocket that is picked goes first there too, as it does with digits.
    """
    session = store.session
    unknown = marked_unknown(session) if session.view == FIT and not session.picked else None
    if unknown is not None and unknown.lacks:
        fill_in(store, unknown)
    else:
        type_teeth(store, "")


def type_teeth(store: SessionStore, begun: str) -> None:
    """The tooth count of the chosen sprocket, of which a digit may have been typed already."""
    here = store.session.cursor
    store.open(TextEntry(_TEETH, f"Teeth in place of {here.where} {here.teeth}", Typed(begun, len(begun))))


def _take_teeth(store: SessionStore, text: str, _: None) -> str | None:
    return _put_on(store, text, store.session.cursor.where, _put_one)


def _put_one(store: SessionStore, teeth: tuple[int, ...]) -> None:
    if len(teeth) > 1:
        raise EditRefused(f"that is {len(teeth)} tooth counts for one sprocket: c puts a whole cassette on")
    put(store, teeth[0])
    store.change(picked=False)


def _put_on(store: SessionStore, text: str, where: Where, then: PutOn) -> str | None:
    """Typed tooth counts to something that puts them on; why not, if they are none or cannot be put on.

    What is hardly meant is asked about first.
    """
    try:
        teeth = teeth_in(text)
    except InputError as error:
        return f"{error}."
    odd = next((n for n in teeth if is_unusual(where, n)), None)
    if odd is None:
        return _refusal(store, then, teeth)
    said = f"{unusual_words(where, odd).capitalize()}: is it meant?"
    yes = Key("y", "yes, put it on", do(_put_on_all_the_same, then, teeth))
    store.open(Question("So many teeth?", said, (yes,)))
    return None


def _put_on_all_the_same(store: SessionStore, then: PutOn, teeth: tuple[int, ...]) -> None:
    if refusal := _refusal(store, then, teeth):
        store.say(refusal)


def _refusal(store: SessionStore, then: PutOn, teeth: tuple[int, ...]) -> str | None:
    """Put sprockets on; why not, if they cannot be."""
    try:
        then(store, teeth)
    except EditRefused as refusal:
        return f"{refusal}."
    return None


@does("add")
def add(store: SessionStore) -> None:
    """Add a ring or cog; type its teeth."""
    where, work = store.session.cursor.where, store.session.work
    near = work.neighbour(True) or work.neighbour(False)
    store.open(
        TextEntry(_ADDED, f"Teeth of the {where} to add, or of several", Typed.ready(str(near or "")), where)
    )


def _take_added(store: SessionStore, text: str, where: Where) -> str | None:
    return _put_on(store, text, where, do(_add_all, where))


def _add_all(store: SessionStore, teeth: tuple[int, ...], where: Where) -> None:
    """One sprocket, or several as one edit."""
    adding = tuple(AddSprocket(where, n) for n in teeth)
    change = adding[0] if len(adding) == 1 else Together(adding, f"add {where}s {' '.join(map(str, teeth))}")
    store.replace(store.session.edit(change, Cursor(where, teeth[-1])))


_TEETH: Final = EntryKind(_take_teeth)
_ADDED: Final = EntryKind(_take_added)


@does("remove")
def remove(store: SessionStore) -> None:
    """Take the chosen sprocket off."""
    here = store.session.cursor
    edit(store, RemoveSprocket(here.where, here.teeth))


@does("undo")
def undo(store: SessionStore) -> None:
    """One edit back; a file that was deleted after the last one comes back first."""
    deleted, booked = store.session.deleted, store.session.work.undone_booking
    if booked is not None:
        from cogwright.app.controllers.booking import unbook

        unbook(store, booked)
    elif deleted is not None and len(store.session.history.past) <= deleted.edits:
        bring_back(store, deleted)
    else:
        store.replace(store.session.undo())


@does("redo")
def redo(store: SessionStore) -> None:
    """One edit forward."""
    booked = store.session.work.redone_booking
    if booked is not None:
        from cogwright.app.controllers.booking import book_again

        book_again(store, booked)
    else:
        store.replace(store.session.redo())
