"""Actions on files: save, save under another name, new, delete, read again."""

from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

from cogwright.app.content import Choice, Content
from cogwright.app.handlers import does
from cogwright.app.opening import blank
from cogwright.app.session import Session, opened
from cogwright.core.differences import differences
from cogwright.core.edits import SetField
from cogwright.core.errors import CogwrightError, EditRefused, InputError, Problem
from cogwright.core.model import Setup
from cogwright.core.text import shown_name
from cogwright.present.lines import Line, Role, Span, wrap
from cogwright.store.documents import read_setup
from cogwright.store.files import Stamp
from cogwright.store.paths import path_in, suggested_name
from cogwright.store.saving import ChangedOnDisk, backup_of, delete, would_drop_comments, write_setup

if TYPE_CHECKING:
    from cogwright.app.main import BenchApp


def read_problems(app: "BenchApp", name: str, problems: tuple[Problem, ...]) -> None:
    """All that is wrong with a file, to be read."""
    width = app.look.width - 6
    lines = [each for p in problems for each in (*wrap(str(p), width, Role.PROBLEM, "  "), ())]
    app.drawer_open(Content(f"{name} cannot be read", [Choice(each) for each in lines], height=40))


def leaving(app: "BenchApp", then: Callable[[], None]) -> None:
    """Do something that takes the bench away, after asking what becomes of unsaved work."""
    session = app.session
    if not session.edited:
        then()
        return
    was = session.document.value if session.document else session.history.first
    lines = [Choice((Span(text),)) for text in differences(was, session.bench)]
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
    document = app.session.document
    if document is None:
        _ask_name(app, then)
    elif app.session.unsaved and would_drop_comments(document):
        text = (
            "This file has comments, which a save cannot keep. "
            f"The file as it is now stays beside it as {shown_name(document.path.name)}.orig."
        )
        ask(app, "Comments in the file", text, {"s": ("save", lambda: _write(app, document.stamp, then))})
    else:
        _write(app, document.stamp, then)


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


def _write(app: "BenchApp", over: Stamp | None, then: Callable[[], None] | None) -> None:
    session = app.session
    assert session.document is not None
    path = session.document.path
    try:
        document = write_setup(path, session.bench, over)
    except ChangedOnDisk as changed:
        _changed_on_disk(app, changed, then)
        return
    except CogwrightError as error:
        app.say(f"{error} The bench still has your work.")
        return
    app.saved(document, f"Saved {shown_name(path.name)}; the version before is {backup_of(path).name}.")
    if then:
        then()


def _changed_on_disk(app: "BenchApp", changed: ChangedOnDisk, then: Callable[[], None] | None) -> None:
    """Somebody else has saved meanwhile: show what differs, and let the user say which one stays."""
    session = app.session
    if changed.setup is not None:
        lines = tuple((Span(f"  {text}"),) for text in differences(changed.setup, session.bench))
    else:
        lines = tuple((Span(f"  {p}"),) for p in changed.problems)
    answers: dict[str, tuple[str, Callable[[], None]]] = {
        "w": ("write over it", lambda: _write(app, changed.stamp, then)),
        "S": ("save under another name", lambda: _ask_name(app, then)),
    }
    if changed.setup is not None:
        answers["l"] = ("load the file, drop mine", lambda: read_again(app))
    ask(app, "The file has changed", f"{changed}. Yours, against what is there now:", answers, lines)


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
    value = suggested_name(app.session.bench.name).removesuffix(".toml")
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
    start = blank() if setup is None else replace(blank_on(setup), baseline=app.session.baseline)
    app.start(start.say("A new setup, not saved yet: s gives it a file, N a name."))


def blank_on(setup: Setup) -> Session:
    """A session without a file on a setup."""
    fresh = blank()
    return replace(fresh, history=type(fresh.history)(setup)).at(fresh.cursor)


@does("delete-file")
def delete_file(app: "BenchApp") -> None:
    """Delete the bench's file, after asking."""
    document = app.session.document
    if document is None:
        app.say("This bench has no file yet.")
        return
    name, copy = shown_name(document.path.name), shown_name(backup_of(document.path).name)
    text = f"Delete {name}? It is kept as {copy}, and its setup stays on the bench until you leave it."
    ask(app, "Delete the file", text, {"y": ("delete", lambda: _delete(app, document.path, document.stamp))})


def _delete(app: "BenchApp", path: Path, stamp: Stamp) -> None:
    try:
        delete(path, stamp)
    except CogwrightError as error:
        app.say(str(error))
        return
    app.become(replace(app.session, document=None, message=f"Deleted; {backup_of(path).name} has it still."))


@does("reload")
def reload(app: "BenchApp") -> None:
    """Read the file again; what is not saved is dropped, after asking."""
    if app.session.document is None:
        app.say("This bench has no file yet.")
        return
    leaving(app, lambda: read_again(app))


def read_again(app: "BenchApp") -> None:
    """The file as it is on the disk onto the bench, as one edit that can be undone."""
    document = app.session.document
    assert document is not None
    try:
        fresh = read_setup(document.path)
    except InputError as error:
        read_problems(app, shown_name(document.path.name), error.problems)
        return
    app.start(replace(opened(fresh, app.session.baseline), view=app.session.view).say("Read again."))
