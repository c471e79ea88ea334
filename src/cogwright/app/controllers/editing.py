"""One edit of what is on the bench, as any action makes it."""

from cogwright.app.state.store import SessionStore
from cogwright.core.common.errors import EditRefused
from cogwright.core.setup.sprockets import Edit
from cogwright.present.cursor import Cursor


def edit(store: SessionStore, change: Edit, follow: Cursor | None = None) -> None:
    """Make an edit on the bench, or say why not."""
    try:
        store.replace(store.session.edit(change, follow))
    except EditRefused as refusal:
        store.say(f"{refusal}.")
