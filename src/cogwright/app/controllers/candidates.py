"""Keep the bench as a candidate, go from one to the next, save one or all of them as ordinary setups."""

from pathlib import Path
from typing import Final

from cogwright.app.controllers.asking import shown
from cogwright.app.controllers.editing import edit
from cogwright.app.controllers.registry import does
from cogwright.app.pickers.scene import Scene, each
from cogwright.app.state.candidates import Candidate
from cogwright.app.state.opened import Deed, Key, ListKind, PickList
from cogwright.app.state.session import Session
from cogwright.app.state.store import SessionStore
from cogwright.core.common.errors import CogwrightError
from cogwright.core.common.safe_text import pad
from cogwright.core.comparing.naming import LETTERS, changed_name, short_name, what_differs
from cogwright.core.setup.edits import Become
from cogwright.core.setup.model import Setup
from cogwright.present.lines import Line, Role, Span, line
from cogwright.present.panels.foot import FootKey
from cogwright.present.panels.head import COMPARE
from cogwright.store.paths import numbered, path_in, suggested_name
from cogwright.store.saving import write_setup

_NONE: Final = "No candidate is kept yet: C keeps the bench as it stands as one."


@does("keep")
def keep(store: SessionStore) -> None:
    """The bench as it stands under the next letter."""
    keep_setup(store, store.session.bench)


def keep_setup(store: SessionStore, setup: Setup) -> None:
    """A setup kept as a candidate without being put on the bench."""
    session = store.session
    kept = session.work.candidates
    there = kept.of(setup)
    if there is not None:
        store.say(f"That is candidate {there.letter} already.")
    elif kept.full:
        store.say(f"{len(LETTERS)} candidates are kept already: A lists them, x there drops one.")
    else:
        more = kept.adding(setup)
        one = more.of(setup)
        assert one is not None
        store.replace(session.working(candidates=more, given_up=False))
        store.say(
            f"Kept as candidate {one.letter}: {name_of(session, setup)}. "
            f"{COMPARE} compares, ) goes to the next."
        )


def name_of(session: Session, setup: Setup) -> str:
    """What a candidate has otherwise than the baseline."""
    base = session.baseline
    return what_differs(base.setup, setup) if base else short_name(setup)


@does("next-candidate")
def next_candidate(store: SessionStore) -> None:
    """The next candidate on the bench, as one edit."""
    _go(store, 1)


@does("previous-candidate")
def previous_candidate(store: SessionStore) -> None:
    """The one before."""
    _go(store, -1)


def _go(store: SessionStore, by: int) -> None:
    one = store.session.work.candidates.beside(store.session.bench, by)
    if one is None:
        store.say(_NONE)
    else:
        put_on(store, one)


def put_on(store: SessionStore, one: Candidate) -> None:
    """A candidate on the bench; undo has what stood there."""
    said = f"candidate {one.letter}, {name_of(store.session, one.setup)}"
    if one.setup == store.session.bench:
        store.say(f"On the bench: {said}.")
    else:
        edit(store, Become(one.setup, said))


@does("candidates")
def candidates(store: SessionStore) -> None:
    """All candidates: to go to one, to save or drop it."""
    kept = store.session.work.candidates.kept
    if not kept:
        store.say(_NONE)
        return
    here = next((i for i, one in enumerate(kept) if one.setup == store.session.bench), 0)
    store.open(PickList(CANDIDATES, "Candidates", kept, at=here))


def _line(one: Candidate, scene: Scene) -> Line:
    saved = Span(f"saved as {one.saved_as}", Role.OK) if one.saved_as else Span("not saved", Role.CAUTION)
    name = name_of(scene.session, one.setup)
    return line(Span(f"{one.letter}  ", Role.KEY), pad(name, max(scene.look.width - 36, 12)), "  ", saved)


def _show(store: SessionStore, one: Candidate, _: None) -> None:
    same = one.setup == store.session.bench
    looking = "" if same else f"candidate {one.letter}, {name_of(store.session, one.setup)}"
    store.change(preview=None if same else one.setup, looking=looking)


def _leave(store: SessionStore, _: None) -> None:
    store.replace(store.session.unlooked())


def _take(store: SessionStore, one: Candidate, _: None) -> None:
    store.replace(store.session.unlooked())
    put_on(store, one)


def _keys(_: Scene) -> list[Key]:
    return [Key("s", "save it", _save_marked), Key("a", "save all", _save_listed), Key("x", "drop it", _drop)]


def _marked(store: SessionStore) -> Candidate:
    of = store.session.open
    assert isinstance(of, PickList)
    one: Candidate = of.shown[of.at]
    return one


def _drop(store: SessionStore) -> None:
    """Drop the marked one; what stands on the bench stays there."""
    one = _marked(store)
    store.close()
    session = store.session.unlooked()
    store.replace(session.working(candidates=session.work.candidates.dropping(one.letter)))
    store.say(f"Candidate {one.letter} dropped: {name_of(session, one.setup)}.")


def _save_marked(store: SessionStore) -> None:
    one = _marked(store)
    store.close()
    store.replace(store.session.unlooked())
    save_candidates(store, (one,))


def _save_listed(store: SessionStore) -> None:
    store.close()
    store.replace(store.session.unlooked())
    save_candidates(store, store.session.work.candidates.unsaved)


def save_candidates(store: SessionStore, those: tuple[Candidate, ...], then: Deed | None = None) -> None:
    """Each in a new file of its own that names the baseline; what cannot be saved stays a candidate."""
    said: list[str] = []
    for one in those:
        try:
            path = _saved(store.session, one)
        except CogwrightError as error:
            store.say(f"{error}. Candidate {one.letter} is still kept here.")
            return
        kept = store.session.work.candidates.saved(one.letter, shown(path))
        store.replace(store.session.working(candidates=kept))
        said.append(f"{one.letter} as {shown(path)}")
    store.say(f"Saved {', '.join(said)}." if said else "All candidates are saved already.")
    if then is not None:
        then(store)


def _saved(session: Session, one: Candidate) -> Path:
    base = session.baseline
    name = changed_name(base.setup, one.setup) if base else f"{one.setup.name}, {one.letter}"
    setup = one.setup.model_copy(update={"name": name})
    file = numbered(path_in(session.folder, suggested_name(name)))
    return write_setup(file, session.work.linked(setup, file, always=True)).path


CANDIDATES: Final = ListKind(
    each(_line),
    _take,
    _show,
    _leave,
    keys=_keys,
    foot=(FootKey("Up Down", "look"), FootKey("Enter", "go to", "enter")),
)
