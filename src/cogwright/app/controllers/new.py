"""A new setup, and another name for the one on the bench."""

from dataclasses import replace
from typing import Final

from cogwright.app.controllers.facts import begin_intake
from cogwright.app.controllers.leaving import leaving
from cogwright.app.controllers.registry import does
from cogwright.app.state.beginning import blank
from cogwright.app.state.opened import EntryKind, Key, Question, TextEntry, Typed, do
from cogwright.app.state.store import SessionStore
from cogwright.app.state.work import Work
from cogwright.core.common.errors import EditRefused
from cogwright.core.setup.edits import SetField


@does("new")
def new(store: SessionStore) -> None:
    """A new setup: a copy of the bench, or an empty start."""
    answers = (
        Key("c", "copy of this bench", do(leaving, do(_begin, _copied(store)))),
        Key("e", "empty start", do(leaving, _begin_anew)),
    )
    store.open(Question("New setup", "It gets its file when you save it.", answers))


def _copied(store: SessionStore) -> Work:
    """Work on a copy of the bench without a file, against the same baseline."""
    was = store.session.work
    copy = was.bench.model_copy(update={"name": f"{was.bench.name}, copy"[:200]})
    return replace(blank(copy), baseline=was.baseline).at(was.cursor)


def _begin(store: SessionStore, work: Work) -> None:
    store.replace(store.session.begun(work, "A new setup, not saved yet: s gives it a file, N a name."))


def _begin_anew(store: SessionStore) -> None:
    """A new bike, asked for fact by fact."""
    _begin(store, blank())
    begin_intake(store)


@does("rename")
def rename(store: SessionStore) -> None:
    """Give the setup another name; its file keeps its own."""
    store.open(TextEntry(_NAME, "Name of the setup", Typed.ready(store.session.bench.name)))


def _take_name(store: SessionStore, text: str, _: None) -> str | None:
    try:
        store.replace(store.session.edit(SetField("name", text.strip())))
    except EditRefused as refusal:
        return f"{refusal}."
    return None


_NAME: Final = EntryKind(_take_name)
