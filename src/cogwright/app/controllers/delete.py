"""Delete the bench's file, and bring it back."""

from dataclasses import replace
from typing import TYPE_CHECKING

from cogwright.app.controllers.files import ask, shown
from cogwright.app.controllers.handlers import does
from cogwright.app.state.session import Deleted
from cogwright.core.common.errors import CogwrightError
from cogwright.core.setup.model import Setup
from cogwright.store.documents import Document, read_setup
from cogwright.store.saving import ChangedOnDisk, backup_of, delete, undelete

if TYPE_CHECKING:
    from cogwright.app.main import BenchApp


@does("delete-file")
def delete_file(app: "BenchApp") -> None:
    """Delete the bench's file, after asking."""
    document = app.session.document
    if document is None:
        app.say("This bench has no file yet.")
        return
    name, copy = shown(document.path), shown(backup_of(document.path))
    text = f"Delete {name}? It is kept as {copy}, and its setup stays on the bench until you leave it."
    ask(app, "Delete the file", text, {"y": ("delete", lambda: _delete(app, document))})


def _delete(app: "BenchApp", document: Document[Setup]) -> None:
    try:
        delete(document.path, document.stamp)
    except ChangedOnDisk as changed:
        mend = "R reads it again" if changed.stamp else "s writes it again"
        app.say(f"Not deleted: {changed}. {mend}.")
        return
    except CogwrightError as error:
        app.say(f"{error}.")
        return
    deleted = Deleted(document, len(app.session.history.past))
    said = f"Deleted, kept as {shown(backup_of(document.path))}: u brings it back, s saves it anew."
    app.become(replace(app.session, document=None, alone=False, deleted=deleted, message=said))


def bring_back(app: "BenchApp", deleted: Deleted) -> None:
    """Undo the deletion of the bench's file."""
    path = deleted.document.path
    try:
        undelete(path)
        document = read_setup(path)
    except CogwrightError as error:
        said = f"{error}; the deleted one is {shown(backup_of(path))} still."
        app.become(replace(app.session, deleted=None, message=said))
        return
    app.become(replace(app.session, document=document, deleted=None, message=f"{shown(path)} is back."))
