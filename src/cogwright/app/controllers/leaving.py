"""Leave the bench, or the program, after asking what becomes of unsaved work."""

from cogwright.app.controllers.registry import does
from cogwright.app.controllers.saving import save_bench
from cogwright.app.state.opened import Deed, Key, Question, do
from cogwright.app.state.store import SessionStore
from cogwright.core.setup.differences import differences
from cogwright.present.lines import Span


def leaving(store: SessionStore, then: Deed) -> None:
    """Do something that takes the bench away, after asking what becomes of unsaved work."""
    session = store.session
    if not session.edited:
        then(store)
        return
    was = session.document.value if session.document else session.history.first
    found = differences(was, session.bench) or ("its file is gone: the bench alone has it",)
    answers = (
        Key("s", "save first", do(save_bench, then)),
        Key("d", "discard the changes", do(_discard, then)),
    )
    lines = tuple((Span(text),) for text in found)
    store.open(Question("Not saved yet", "", answers, lines))


def _discard(store: SessionStore, then: Deed) -> None:
    store.replace(store.session.working(given_up=True))
    then(store)


@does("quit")
def quit_(store: SessionStore) -> None:
    """End the program."""
    leaving(store, _end)


def _end(store: SessionStore) -> None:
    store.host.leave(0)
