"""Actions on files: save, save under another name, new, delete, read again."""

from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

from cogwright.app.controllers.handlers import does
from cogwright.app.pickers.content import Choice, Content
from cogwright.app.state.opening import blank
from cogwright.app.state.session import Session
from cogwright.core.common.errors import CogwrightError, EditRefused, InputError, Problem
from cogwright.core.common.safe_text import shown_name
from cogwright.core.setup.differences import differences
from cogwright.core.setup.edits import SetField
from cogwright.core.setup.model import Setup
from cogwright.present.lines import Line, Role, Span, wrap
from cogwright.store.documents import Document, read_setup
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

if TYPE_CHECKING:
    from cogwright.app.main import BenchApp


def read_problems(app: "BenchApp", path: Path, problems: tuple[Problem, ...]) -> None:
    """All that is wrong with a file, to be read; the file is named once."""
    width = app.look.width - 6
    lines = [each for p in problems for each in (*wrap(p.inside(), width, Role.PROBLEM, "  "), ())]
    title = f"{shown_name(path.name)} cannot be read"
    app.drawer_open(Content(title, [Choice(each) for each in lines[:-1]], height=40))


def leaving(app: "BenchApp", then: Callable[[], None]) -> None:
    """Do something that takes the bench away, after asking what becomes of unsaved work."""
    session = app.session
    if not session.edited:
        then()
        return
    was = session.document.value if session.document else session.history.first
    found = differences(was, session.bench) or ("its file is gone: the bench alone has it",)
    lines = [Choice((Span(text),)) for text in found]
    answers = {
        "s": lambda: save_bench(app, then),
        "d": lambda: _discarded(app, then),
    }
    keys = "s save first   d discard the changes   q or Esc stay"
    app.drawer_open(Content("Not saved yet", lines, answers=answers, keys=keys))


def _discarded(app: "BenchApp", then: Callable[[], None]) -> None:
    app.keeper.forget()
    then()


@does("save")
def save(app: "BenchApp") -> None:
    """Save the bench to its file."""
    save_bench(app, None)


def save_bench(app: "BenchApp", then: Callable[[], None] | None) -> None:
    """Save; where there is no file yet ask for a name, where comments would be lost say so first."""
    session, document = app.session, app.session.document
    if document is None:
        _ask_name(app, then)
    elif not session.unsaved and not has_changed(document.path, document.stamp):
        app.say(f"Nothing to save: {shown_name(document.path.name)} is as it stands here.")
    elif session.unsaved and would_drop_comments(document):
        _ask_about_comments(app, document, then)
    else:
        _write(app, document.stamp, then)


def _ask_about_comments(app: "BenchApp", document: Document[Setup], then: Callable[[], None] | None) -> None:
    """A save keeps no comments: say so, and where the file as it is will stay."""
    try:
        kept = shown(original_of(real_path(document.path), document.stamp))
    except CogwrightError as error:
        app.say(str(error))
        return
    text = f"This file has comments, which a save cannot keep. The file as it is stays beside it as {kept}."
    ask(app, "Comments in the file", text, {"s": ("save", lambda: _write(app, document.stamp, then, kept))})


def shown(path: Path) -> str:
    """A file's name, fit to show."""
    return shown_name(path.name)


def ask(
    app: "BenchApp",
    title: str,
    text: str,
    answers: dict[str, tuple[str, Callable[[], None]]],
    more: tuple[Line, ...] = (),
) -> None:
    """A question, with the keys that answer it."""
    lines = [*wrap(text, app.look.width - 6), *more]
    keys = "   ".join(f"{key} {word}" for key, (word, _) in answers.items()) + "   q or Esc leave it"
    does_ = {key: then for key, (_, then) in answers.items()}
    app.drawer_open(Content(title, [Choice(each) for each in lines], answers=does_, keys=keys))


def _write(app: "BenchApp", over: Stamp | None, then: Callable[[], None] | None, original: str = "") -> None:
    """Write the bench over the version `over`; `original` is where that is kept for its comments."""
    session = app.session
    assert session.document is not None
    path = session.document.path
    try:
        before = original or shown(backup_of(real_path(path)))
        document = write_setup(path, session.bench, over)
    except ChangedOnDisk as changed:
        _changed_on_disk(app, changed, then)
        return
    except CogwrightError as error:
        app.say(f"{error}. The bench still has your work.")
        return
    kept = f"the version before is {before}" if over else "it is a new file"
    app.saved(document, f"Saved {shown(path)}; {kept}.")
    if then:
        then()


def _changed_on_disk(app: "BenchApp", changed: ChangedOnDisk, then: Callable[[], None] | None) -> None:
    """Somebody else was at the file meanwhile: say what differs, and let the user say which one stays."""
    elsewhere = ("save under another name", lambda: _ask_name(app, then))
    if changed.stamp is None:
        again = ("write it again", lambda: _write(app, None, then))
        text = f"{changed}. The bench has its setup still."
        ask(app, "The file is gone", text, {"w": again, "S": elsewhere})
        return
    kept = _kept_comments(changed)
    note = f" It has comments: it stays as {kept} when you write over it." if kept else ""
    over = ("write over it", lambda: _write(app, changed.stamp, then, kept))
    answers: dict[str, tuple[str, Callable[[], None]]] = {"w": over, "S": elsewhere}
    if changed.setup is not None:
        answers["l"] = ("load the file, drop mine", lambda: _load(app))
    text = f"{changed}.{note} Yours, against what is there now:"
    ask(app, "The file has changed", text, answers, _against(changed, app.session.bench))


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


def _load(app: "BenchApp") -> None:
    """The file as it is now onto the bench; undo has what stood here."""
    fresh = _read(app)
    if fresh is not None:
        app.become(app.session.reread(fresh, "Loaded; u brings back what stood here."))


def _read(app: "BenchApp") -> Document[Setup] | None:
    """The bench's file as it is now; None after showing what is wrong with it."""
    document = app.session.document
    assert document is not None
    try:
        return read_setup(document.path)
    except InputError as error:
        read_problems(app, document.path, error.problems)
        return None


@does("save-as")
def save_as(app: "BenchApp") -> None:
    """Save under another name, in the same folder."""
    _ask_name(app, None)


def _ask_name(app: "BenchApp", then: Callable[[], None] | None) -> None:
    def typed(text: str) -> str | None:
        try:
            path = path_in(app.folder, text)
            document = write_setup(path, app.session.bench)
        except CogwrightError as error:
            return str(error)
        app.saved(document, f"Saved as {shown_name(path.name)}.")
        if then:
            then()
        return None

    head = [(Span(f" In {shown_name(str(app.folder))}; .toml is added.", Role.DIM),)]
    deleted = app.session.deleted
    name = deleted.document.path.name if deleted else suggested_name(app.session.bench.name)
    value = shown_name(name.removesuffix(".toml"))
    app.drawer_open(Content("File name", head=head, typed=typed, value=value))


@does("rename")
def rename(app: "BenchApp") -> None:
    """Give the setup another name; its file keeps its own."""

    def typed(text: str) -> str | None:
        try:
            app.become(app.session.edit(SetField("name", text.strip())))
        except EditRefused as refusal:
            return f"{refusal}."
        return None

    app.drawer_open(Content("Name of the setup", typed=typed, value=app.session.bench.name))


@does("new")
def new(app: "BenchApp") -> None:
    """A new setup: a copy of the bench, or an empty start."""
    copy = app.session.bench
    copied = copy.model_copy(update={"name": f"{copy.name}, copy"[:200]})
    answers: dict[str, tuple[str, Callable[[], None]]] = {
        "c": ("copy of this bench", lambda: leaving(app, lambda: _begin_new(app, copied))),
        "e": ("empty start", lambda: leaving(app, lambda: _begin_new(app, None))),
    }
    ask(app, "New setup", "It gets its file when you save it.", answers)


def _begin_new(app: "BenchApp", setup: Setup | None) -> None:
    start, was = blank() if setup is None else blank_on(setup), app.session
    if setup is not None:
        start = replace(start, baseline=was.baseline).at(was.cursor)
    app.start(start.say("A new setup, not saved yet: s gives it a file, N a name."))


def blank_on(setup: Setup) -> Session:
    """A session without a file on a setup."""
    fresh = blank()
    return replace(fresh, history=type(fresh.history)(setup)).at(fresh.cursor)


@does("reload")
def reload(app: "BenchApp") -> None:
    """Read the file again; what is not saved is dropped, after asking."""
    if app.session.document is None:
        app.say("This bench has no file yet.")
        return
    fresh = _read(app)
    if fresh is not None:
        leaving(app, lambda: app.become(app.session.reread(fresh, "Read again.")))
