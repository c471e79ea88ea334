"""Read the bench's file again."""

from cogwright.app.controllers.asking import read_again
from cogwright.app.controllers.leaving import leaving
from cogwright.app.controllers.registry import does
from cogwright.app.state.opened import do
from cogwright.app.state.store import SessionStore
from cogwright.core.setup.model import Setup
from cogwright.store.documents import Document


@does("reload")
def reload(store: SessionStore) -> None:
    """What is not saved is dropped, after asking."""
    if store.session.document is None:
        store.say("This bench has no file yet.")
        return
    fresh = read_again(store)
    if fresh is not None:
        leaving(store, do(_reread, fresh))


def _reread(store: SessionStore, fresh: Document[Setup]) -> None:
    store.replace(store.session.reread(fresh, "Read again."))
