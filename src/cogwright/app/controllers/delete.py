"""Delete the bench's file, and bring it back."""

from cogwright.app.controllers.asking import shown
from cogwright.app.controllers.registry import does
from cogwright.app.state.opened import Key, Question, do
from cogwright.app.state.store import SessionStore
from cogwright.app.state.work import Deleted
from cogwright.core.common.errors import CogwrightError
from cogwright.core.setup.model import Setup
from cogwright.store.documents import Document, read_setup
from cogwright.store.saving import ChangedOnDisk, backup_of, delete, undelete


@does("delete-file")
def delete_file(store: SessionStore) -> None:
    """Delete the bench's file, after asking for a key that no text holds: a stray paste must not answer."""
    document = store.session.document
    if document is None:
        store.say("This bench has no file yet.")
        return
    name, copy = shown(document.path), shown(backup_of(document.path))
    text = f"Delete {name}? It is kept as {copy}, and its setup stays on the bench until you leave it."
    answers = (Key("f8", "delete", do(_delete, document)),)
    store.open(Question("Delete the file", text, answers))


def _delete(store: SessionStore, document: Document[Setup]) -> None:
    try:
        doubt = delete(document.path, document.stamp)
    except ChangedOnDisk as changed:
        mend = "R reads it again" if changed.stamp else "s writes it again"
        store.say(f"Not deleted: {changed}. {mend}.")
        return
    except CogwrightError as error:
        store.say(f"{error}.")
        return
    deleted = Deleted(document, len(store.session.history.past))
    said = f"Deleted, kept as {shown(backup_of(document.path))}: u brings it back, s saves it anew."
    said += f" But {doubt}." if doubt else ""
    store.replace(store.session.working(document=None, alone=False, deleted=deleted).say(said))


def bring_back(store: SessionStore, deleted: Deleted) -> None:
    """Undo the deletion of the bench's file."""
    path = deleted.document.path
    try:
        doubt = undelete(path)
        document = read_setup(path)
    except CogwrightError as error:
        said = f"{error}; the deleted one is {shown(backup_of(path))} still."
        store.replace(store.session.working(deleted=None).say(said))
        return
    said = f"{shown(path)} is back{f', but {doubt}' if doubt else ''}."
    store.replace(store.session.working(document=document, deleted=None).say(said))
