"""Save the bench: to its file, under another name, over what somebody else has made of it."""

from pathlib import Path
from typing import Final

from cogwright.app.controllers.asking import read_again, shown
from cogwright.app.controllers.registry import does
from cogwright.app.pickers.scene import Scene
from cogwright.app.state.opened import Deed, EntryKind, Key, Question, TextEntry, Typed, do
from cogwright.app.state.store import SessionStore
from cogwright.core.common.errors import CogwrightError
from cogwright.core.common.safe_text import shown_name
from cogwright.core.setup.differences import differences
from cogwright.core.setup.model import Setup
from cogwright.present.lines import Line, Role, Span
from cogwright.store.documents import Document
from cogwright.store.files import Stamp
from cogwright.store.paths import path_in, suggested_name
from cogwright.store.saving import (
    ChangedOnDisk,
    backup_of,
    original_of,
    real_path,
    would_drop_comments,
    write_setup,
)
from cogwright.store.shelf import has_changed


@does("save")
def save(store: SessionStore) -> None:
    """Save the bench to its file."""
    save_bench(store, None)


def save_bench(store: SessionStore, then: Deed | None) -> None:
    """Save; where there is no file yet ask for a name, where comments would be lost say so first."""
    session, document = store.session, store.session.document
    if document is None:
        ask_name(store, then)
    elif not session.unsaved and not has_changed(document.path, document.stamp):
        store.say(f"Nothing to save: {shown(document.path)} is as it stands here.")
    elif session.unsaved and would_drop_comments(document):
        _ask_about_comments(store, document, then)
    else:
        _write(store, document.stamp, then)


def _ask_about_comments(store: SessionStore, document: Document[Setup], then: Deed | None) -> None:
    """A save keeps no comments: say so, and where the file as it is will stay."""
    try:
        kept = shown(original_of(real_path(document.path), document.stamp))
    except CogwrightError as error:
        store.say(str(error))
        return
    text = f"This file has comments, which a save cannot keep. The file as it is stays beside it as {kept}."
    answer = Key("s", "save", do(_write, document.stamp, then, kept))
    store.open(Question("Comments in the file", text, (answer,)))


def _write(store: SessionStore, over: Stamp | None, then: Deed | None, original: str = "") -> None:
    """Write the bench over the version `over`; `original` is where that is kept for its comments."""
    session = store.session
    assert session.document is not None
    path = session.document.path
    try:
        before = original or shown(backup_of(real_path(path)))
        document = write_setup(path, session.bench, over)
    except ChangedOnDisk as changed:
        _ask_which_stays(store, changed, then)
        return
    except CogwrightError as error:
        store.say(f"{error}. The bench still has your work.")
        return
    kept = f"the version before is {before}" if over else "it is a new file"
    _saved(store, document, f"Saved {shown(path)}; {kept}.", then)


def _saved(store: SessionStore, document: Document[Setup], message: str, then: Deed | None) -> None:
    """The bench is on the disk now: go on with what was to follow, or with what else was left unsaved."""
    session = store.session.working(document=document, alone=False, deleted=None)
    store.replace(session.say(message))
    if then:
        then(store)
    else:
        store.host.work_again()


def _ask_which_stays(store: SessionStore, changed: ChangedOnDisk, then: Deed | None) -> None:
    """Somebody else was at the file meanwhile: say what differs, and let the user say which one stays."""
    elsewhere = Key("S", "save under another name", do(ask_name, then))
    if changed.stamp is None:
        text = f"{changed}. The bench has its setup still."
        again = Key("w", "write it again", do(_write, None, then))
        store.open(Question("The file is gone", text, (again, elsewhere)))
        return
    kept = _kept_comments(changed)
    note = f" It has comments: it stays as {kept} when you write over it." if kept else ""
    answers = [Key("w", "write over it", do(_write, changed.stamp, then, kept)), elsewhere]
    answers += [Key("l", "load the file, drop mine", _load)] if changed.setup is not None else []
    text = f"{changed}.{note} Yours, against what is there now:"
    lines = _against(changed, store.session.bench)
    store.open(Question("The file has changed", text, tuple(answers), lines))


def _kept_comments(changed: ChangedOnDisk) -> str:
    """Where the version on the disk stays for its comments; empty if it has none, or there is no room."""
    if not changed.has_comments or changed.stamp is None:
        return ""
    try:
        return shown(original_of(changed.path, changed.stamp))
    except CogwrightError:
        return ""  # the save itself will say that too many are kept


def _against(changed: ChangedOnDisk, bench: Setup) -> tuple[Line, ...]:
    """What the bench has otherwise than the file, or why the file cannot be read."""
    if changed.setup is None:
        return tuple((Span(f"  {p.inside()}", Role.PROBLEM),) for p in changed.problems)
    found = differences(changed.setup, bench) or ("nothing: the same setup, otherwise written",)
    return tuple((Span(f"  {text}"),) for text in found)


def _load(store: SessionStore) -> None:
    """The file as it is now onto the bench; undo has what stood here."""
    fresh = read_again(store)
    if fresh is not None:
        store.replace(store.session.reread(fresh, "Loaded; u brings back what stood here."))


@does("save-as")
def save_as(store: SessionStore) -> None:
    """Save under another name, in the same folder."""
    ask_name(store, None)


def ask_name(store: SessionStore, then: Deed | None) -> None:
    """Ask for the name of a new file, save under it, and go on."""
    deleted = store.session.deleted
    name = deleted.document.path.name if deleted else suggested_name(store.session.bench.name)
    store.open(TextEntry(_NAME, "File name", Typed.ready(shown_name(name.removesuffix(".toml"))), then))


def _name_head(scene: Scene) -> list[Line]:
    return [(Span(f" In {shown_name(str(scene.session.folder))}; .toml is added.", Role.DIM),)]


def _save_under(store: SessionStore, text: str, then: Deed | None) -> str | None:
    try:
        path: Path = path_in(store.session.folder, text)
        document = write_setup(path, store.session.bench)
    except CogwrightError as error:
        return str(error)
    _saved(store, document, f"Saved as {shown(path)}.", then)
    return None


_NAME: Final = EntryKind(_save_under, _name_head)
