"""What several controllers say and ask with: names of files, the problems of one, what was read of it."""

from pathlib import Path

from cogwright.app.state.opened import Reading, do
from cogwright.app.state.session import Session
from cogwright.app.state.store import SessionStore
from cogwright.core.common.errors import InputError, Problem
from cogwright.core.common.safe_text import shown_name
from cogwright.core.setup.model import Setup
from cogwright.present.lines import Line, Look, Role, wrap
from cogwright.store.documents import Document, read_setup


def shown(path: Path) -> str:
    """A file's name, fit to show."""
    return shown_name(path.name)


def read_problems(store: SessionStore, path: Path, problems: tuple[Problem, ...]) -> None:
    """All that is wrong with a file, to be read; the file is named once."""
    store.open(Reading(f"{shown(path)} cannot be read", do(_problem_lines, problems)))


def _problem_lines(_: Session, look: Look, problems: tuple[Problem, ...]) -> list[Line]:
    lines = [each for p in problems for each in (*wrap(p.inside(), look.width, Role.PROBLEM, "  "), ())]
    return lines[:-1]


def read_again(store: SessionStore) -> Document[Setup] | None:
    """The bench's file as it is now; None after showing what is wrong with it."""
    document = store.session.document
    assert document is not None
    try:
        return read_setup(document.path)
    except InputError as error:
        read_problems(store, document.path, error.problems)
        return None
