"""Read the bench's file again."""

from cogwright.app.controllers.asking import read_again
from cogwright.app.controllers.leaving import leaving
from cogwright.app.controllers.registry import does
from cogwright.app.state.opened import do
from cogwright.app.state.store import SessionStore


@does("reload")
def reload(store: SessionStore) -> None:
    """What is not saved is dropped, after asking."""
    if store.session.document is None:
        store.say("This bench has no file yet.")
        return
    if read_again(store) is not None:
        leaving(store, do(_reread))


def _reread(store: SessionStore) -> None:
    # Only now: the answer may have been to save first.
    fresh = read_again(store)
    if fresh is not None:
        store.replace(store.session.reread(fresh, "Read again."))
