"""Which setup a start begins with, and what it is compared with."""

import os
from collections.abc import Sequence
from pathlib import Path
from typing import Final

from cogwright.app.state.session import Baseline, Session, opened
from cogwright.core.common.errors import InputError, Problem
from cogwright.core.setup.history import History
from cogwright.core.setup.model import Crank, Rear, Setup, Wheel
from cogwright.options import Options
from cogwright.present.panels.head import Cursor
from cogwright.store.documents import Document, read_setup
from cogwright.store.shelf import setup_paths

#: What a bench without a file starts from: invented, for somebody to change.
BLANK: Final = Setup(
    name="New setup",
    wheel=Wheel(size="37-622"),
    crank=Crank(rings=(34, 48)),
    rear=Rear(cogs=(11, 13, 15, 17, 19, 21, 24, 28, 32)),
)


def first_session(paths: Sequence[Path], options: Options) -> tuple[Path, Session]:
    """The folder of the shelf and the first session. Raises InputError for a file that cannot be read."""
    first = _absolute(paths[0])
    is_folder = os.path.isdir(first)
    folder = first if is_folder else first.parent
    given = Baseline(*_named(options.baseline)) if options.baseline else None
    if not is_folder:
        return folder, begin(read_setup(first), given)
    return folder, _first_good(folder, given)


def _absolute(path: Path) -> Path:
    """The whole path, so that the work stays where it is whatever becomes of the current folder."""
    try:
        return Path(os.path.abspath(path))
    except OSError as error:
        raise InputError(Problem("this folder is gone", "go to one that is there", file=".")) from error


def _named(path: Path) -> tuple[Setup, str]:
    setup = read_setup(path).value
    return setup, setup.name


def _first_good(folder: Path, given: Baseline | None) -> Session:
    """A session on the first file that can be read; the shelf tells what is wrong with the others."""
    bad = 0
    for path in setup_paths(folder):
        try:
            session = begin(read_setup(path), given)
        except InputError:
            bad += 1
            continue
        said = f"{bad} file{'s' if bad > 1 else ''} before this one cannot be read: press o." if bad else ""
        return session.say(said)
    said = (
        "No setup here can be read: press o to see why."
        if bad
        else "No setup in this folder yet: change this one, s saves it."
    )
    return blank().say(said)


def blank() -> Session:
    """A session on a bench without a file."""
    return Session(History(BLANK), cursor=Cursor("cog", BLANK.rear.cogs[-1]))


def begin(document: Document[Setup], given: Baseline | None = None) -> Session:
    """A session on a document, against the baseline given, the one that it names, or itself as saved."""
    named = document.value.baseline
    if given is not None or named is None:
        return opened(document, given)
    try:
        baseline = Baseline(*_named(_beside(document.path, named)))
    except InputError as error:
        return opened(document).say(f"Its baseline cannot be read: {error.problems[0]}")
    return opened(document, baseline)


def _beside(path: Path, name: str) -> Path:
    """A file of the same folder: a setup names no file elsewhere."""
    return path.parent / Path(name).name
