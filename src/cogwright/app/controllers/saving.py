"""Save the bench: to its file, under another name, over what somebody else has made of it."""

from pathlib import Path
from typing import Final

from cogwright.app.controllers.asking import read_again, shown
from cogwright.app.controllers.registry import does
from cogwright.app.pickers.scene import Scene
from cogwright.app.state.opened import Deed, EntryKind, Key, Question, TextEntry, Typed, do
from cogwright.app.state.store import SessionStore
from cogwright.core.common.errors import CogwrightError
from cogwright.core.common.safe_text import clean, shown_name
from cogwright.core.setup.differences import differences
from cogwright.core.setup.model import Setup
from cogwright.present.lines import Line, Role, Span
from cogwright.store.documents import Document
from cogwright.store.files import Stamp
from cogwright.store.paths import path_in, suggested_name
from cogwright.store.saving import (
    ChangedOnDisk,
    HardLinked,
    backup_of,
    lost_by_saving,
    real_path,
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
    elif lost := lost_by_saving(document.path, session.bench, document.stamp):
        _ask_about_loss(store, document, lost, then)
    else:
        _write(store, document.stamp, then)


def _ask_about_loss(
    store: SessionStore, document: Document[Setup], lost: tuple[str, ...], then: Deed | None
) -> None:
    """A save that cannot keep all that was written: say so before, and where the file as it is will stay."""
    kept = shown(backup_of(real_path(document.path)))
    text = f"This save cannot keep what stands below. The file as it is stays beside it as {kept}."
    lines = tuple((Span(f"  {clean(each)}"),) for each in lost)
    store.open(
        Question("What a save loses", text, (Key("s", "save", do(_write, document.stamp, then)),), lines)
    )


def _write(store: SessionStore, over: Stamp | None, then: Deed | None, part: bool = False) -> None:
    """Write the bench over the version `over`, also where that parts the file from other names it has."""
    session = store.session
    assert session.document is not None
    path = session.document.path
    try:
        document = write_setup(path, session.bench, over, part)
        before = shown(backup_of(real_path(path)))
    except ChangedOnDisk as changed:
        _ask_which_stays(store, changed, then)
        return
    except HardLinked as linked:
        _ask_about_names(store, linked, over, then)
        return
    except CogwrightError as error:
        store.say(f"{error}. The bench still has your work.")
        return
    kept = document.doubt or (f"the version before is {before}" if over else "it is a new file")
    _saved(store, document, f"Saved {shown(path)}; {kept}.", then)


def _ask_about_names(store: SessionStore, linked: HardLinked, over: Stamp | None, then: Deed | None) -> None:
    """The file has other names: a save parts this one from them."""
    alone = Key("w", "write this name alone", do(_write, over, then, True))
    elsewhere = Key("S", "save under another name", do(ask_name, then))
    store.open(Question("A file of several names", f"{linked}.", (alone, elsewhere)))


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
    answers = [Key("w", "write over it", do(_write, changed.stamp, then)), elsewhere]
    answers += [Key("l", "load the file, drop mine", _load)] if changed.setup is not None else []
    kept = shown(backup_of(changed.path))
    anew = "" if changed.setup else f" A save over it writes it anew; what is there now stays as {kept}."
    text = f"{changed}.{anew} Yours, against what is there now:"
    lines = _against(changed, store.session.bench)
    store.open(Question("The file has changed", text, tuple(answers), lines))


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
        document = write_setup(path, store.session.bench, like=_text_to_keep(store))
    except CogwrightError as error:
        return str(error)
    doubt = f"; {document.doubt}" if document.doubt else ""
    _saved(store, document, f"Saved as {shown(path)}{doubt}.", then)
    return None


def _text_to_keep(store: SessionStore) -> Path | None:
    """The file whose comments a new one takes on: the bench's own, or its backup where it was deleted."""
    document, deleted = store.session.document, store.session.deleted
    if document is not None:
        return document.path
    return backup_of(deleted.document.path) if deleted is not None else None


_NAME: Final = EntryKind(_save_under, _name_head)
