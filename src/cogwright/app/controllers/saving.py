"""Save the bench: to its file, under another name, over what somebody else has made of it."""

from pathlib import Path
from typing import Final

from cogwright.app.controllers.asking import read_again, shown
from cogwright.app.controllers.registry import does
from cogwright.app.pickers.scene import Scene
from cogwright.app.state.opened import Deed, EntryKind, Key, Question, TextEntry, Typed, do
from cogwright.app.state.session import Session
from cogwright.app.state.store import SessionStore
from cogwright.app.state.work import Baseline
from cogwright.core.common.errors import CogwrightError
from cogwright.core.common.safe_text import clean, shown_name
from cogwright.core.comparing.naming import changed_name
from cogwright.core.setup.differences import differences
from cogwright.core.setup.edits import SetField
from cogwright.core.setup.model import Setup
from cogwright.present.lines import Line, Role, Span, wrap
from cogwright.store.documents import Document
from cogwright.store.files import Stamp
from cogwright.store.paths import numbered, path_in, suggested_name
from cogwright.store.saving import (
    ChangedOnDisk,
    HardLinked,
    backup_of,
    first_of,
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
    elif _as_it_came_in(session) and not has_changed(document.path, document.stamp):
        _ask_what_becomes_of_it(store, document, then)
    else:
        _save_over(store, document, then)


def _save_over(store: SessionStore, document: Document[Setup], then: Deed | None) -> None:
    if lost := lost_by_saving(document.path, _meant(store.session, document.path), document.stamp):
        _ask_about_loss(store, document, lost, then)
    else:
        _write(store, document.stamp, then)


def _meant(session: Session, file: Path) -> Setup:
    """The bench as it is saved in a file: with the way to the baseline that was chosen."""
    return session.work.linked(session.bench, file)


def _as_it_came_in(session: Session) -> bool:
    """Whether a save would write over the very bike that it is compared with, unless somebody said so."""
    work = session.work
    return work.against_itself and not work.over_itself and not work.alone


def _ask_what_becomes_of_it(store: SessionStore, document: Document[Setup], then: Deed | None) -> None:
    """The bike as it came in, and the change: two files, or one over the other."""
    name, kept = shown(document.path), first_of(document.path).name.removeprefix(document.path.name)
    text = (
        f"{name} is the bike as it came in, which the bench is compared with. A new file leaves it as it is "
        f"and names it as its baseline. Written over, it stays too, with {kept} after its name."
    )
    answers = (
        Key("n", "save as a new file", do(_ask_new_name, then)),
        Key("w", "write over it", do(_over_itself, document, then)),
    )
    store.open(Question("The bike as it came in", text, answers))


def _over_itself(store: SessionStore, document: Document[Setup], then: Deed | None) -> None:
    base = store.session.baseline
    was = base and base._replace(name=f"{base.setup.name}, as it was")
    store.replace(store.session.working(over_itself=True, baseline=was))
    _save_over(store, document, then)


def _ask_new_name(store: SessionStore, then: Deed | None) -> None:
    """A name made of what was changed, to be typed over; the setup gets it too."""
    session = store.session
    assert session.baseline is not None
    name = changed_name(session.baseline.setup, session.bench)
    store.open(TextEntry(_NEW_NAME, "Name of the new setup", Typed.ready(name), then))


def _save_new(store: SessionStore, text: str, then: Deed | None) -> str | None:
    """A new file of that name, which names the old one; the bench goes on there, undo and all."""
    session = store.session
    try:
        named = SetField("name", text.strip()).apply(session.bench)
        path = numbered(path_in(session.folder, suggested_name(named.name)))
    except CogwrightError as error:
        return str(error)
    return _save_beside(store, named, path, then)


def _save_beside(store: SessionStore, named: Setup, path: Path, then: Deed | None) -> str | None:
    """The bench under that name in a new file, with the way to the bike as it came in."""
    session = store.session
    setup = session.work.linked(named, path, always=True)
    try:
        document = write_setup(path, setup, like=_text_to_keep(store))
    except CogwrightError as error:
        return str(error)
    base = session.baseline
    history = session.history.become(setup, "saved as a new setup")
    store.replace(session.working(history=history, baseline=base and _plainly(base)))
    doubt = f"; {document.doubt}" if document.doubt else ""
    _saved(
        store,
        document,
        f"Saved as {shown(path)}{doubt}; its baseline is {base.setup.name if base else 'none'}.",
        then,
    )
    return None


def _plainly(base: Baseline) -> Baseline:
    """The same under its own name: it is another file now than the bench's."""
    return base._replace(name=base.setup.name, chosen=True)


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
        document = write_setup(path, _meant(session, path), over, part)
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
    kept = session.work.candidates.saved_with(session.bench, shown(document.path))
    store.replace(session.working(candidates=kept).say(message))
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
    session, deleted = store.session, store.session.deleted
    name = deleted.document.path.name if deleted else suggested_name(session.bench.name)
    if _is_another(session):
        name = numbered(session.folder / suggested_name(_told_apart(session).name)).name
    store.open(TextEntry(_NAME, "File name", Typed.ready(shown_name(name.removesuffix(".toml"))), then))


def _is_another(session: Session) -> bool:
    """Whether a file of another name is a second bike: the one as it came in, changed."""
    return session.unsaved and _as_it_came_in(session)


def _told_apart(session: Session) -> Setup:
    """The bench; under a name made of what was changed, where it has that of the bike as it came in."""
    base, bench = session.baseline, session.bench
    if base is None or bench.name != base.setup.name:
        return bench
    return SetField("name", changed_name(base.setup, bench)).apply(bench)


def _name_head(scene: Scene) -> list[Line]:
    return _where(scene, "In {}; .toml is added.")


def _new_name_head(scene: Scene) -> list[Line]:
    return _where(scene, "Its file is made of it, in {}.")


def _where(scene: Scene, words: str) -> list[Line]:
    said = words.format(shown_name(str(scene.session.folder)))
    return [(Span(" "), *row) for row in wrap(said, scene.look.width - 1, Role.DIM)]


def _save_under(store: SessionStore, text: str, then: Deed | None) -> str | None:
    session = store.session
    try:
        path: Path = path_in(session.folder, text)
        if _is_another(session):
            return _save_beside(store, _told_apart(session), path, then)
        document = write_setup(path, _meant(session, path), like=_text_to_keep(store))
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
_NEW_NAME: Final = EntryKind(_save_new, _new_name_head)
