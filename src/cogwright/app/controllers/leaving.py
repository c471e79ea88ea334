"""Leave the bench, or the program, after asking what becomes of unsaved work."""

from cogwright.app.controllers.candidates import name_of, save_candidates
from cogwright.app.controllers.registry import does
from cogwright.app.controllers.saving import save_bench
from cogwright.app.state.opened import Deed, Key, Question, do
from cogwright.app.state.session import Session
from cogwright.app.state.store import SessionStore
from cogwright.core.setup.differences import differences
from cogwright.present.lines import Span


def leaving(store: SessionStore, then: Deed) -> None:
    """Do something that takes the bench away, after asking what becomes of unsaved work."""
    session = store.session
    if not session.edited:
        then(store)
        return
    answers = (
        Key("s", "save first", do(_save_all, then)),
        Key("d", "discard the changes", do(_discard, then)),
    )
    lines = tuple((Span(text),) for text in _unsaved(session))
    store.open(Question("Not saved yet", "", answers, lines))


def _unsaved(session: Session) -> list[str]:
    """What would be lost: of the bench, and candidates."""
    found: list[str] = []
    if session.work.bench_edited:
        was = session.document.value if session.document else session.history.first
        found += differences(was, session.bench) or ("its file is gone: the bench alone has it",)
    kept = session.work.candidates.unsaved
    return found + [f"candidate {one.letter}: {name_of(session, one.setup)}" for one in kept]


def _save_all(store: SessionStore, then: Deed) -> None:
    """The bench, then the candidates, then what was to follow; a question in between is answered first."""
    if store.session.work.bench_edited:
        save_bench(store, do(_save_kept, then))
    else:
        _save_kept(store, then)


def _save_kept(store: SessionStore, then: Deed) -> None:
    kept = store.session.work.candidates.unsaved
    if kept:
        save_candidates(store, kept, then)
    else:
        then(store)


def _discard(store: SessionStore, then: Deed) -> None:
    store.replace(store.session.working(given_up=True))
    then(store)


@does("quit")
def quit_(store: SessionStore) -> None:
    """End the program."""
    leaving(store, _end)


def _end(store: SessionStore) -> None:
    store.host.leave(0)
