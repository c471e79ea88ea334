"""Which setup a start begins with, and what it is compared with."""

import os
from collections.abc import Sequence
from pathlib import Path
from typing import NamedTuple

from cogwright.app.state.work import Baseline, Work
from cogwright.core.common.errors import InputError, Problem
from cogwright.core.setup.history import History
from cogwright.core.setup.model import Crank, Rear, Setup, Wheel
from cogwright.options import Options
from cogwright.present.cursor import Cursor
from cogwright.store.documents import Document, read_setup
from cogwright.store.shelf import setup_paths


class Beginning(NamedTuple):
    """Work to begin with, and what is to be said of it."""

    work: Work
    message: str = ""


def first_beginning(paths: Sequence[Path], options: Options) -> tuple[Path, Beginning]:
    """The folder of the shelf and the first work. Raises InputError for a file that cannot be read."""
    first = _absolute(paths[0])
    is_folder = os.path.isdir(first)
    folder = first if is_folder else first.parent
    given = _named(_absolute(options.baseline)) if options.baseline else None
    if not is_folder:
        return folder, begin(read_setup(first), given)
    return folder, first_of(folder, given)


def _absolute(path: Path) -> Path:
    """The whole path, so that the work stays where it is whatever becomes of the current folder."""
    try:
        return Path(os.path.abspath(path))
    except OSError as error:
        raise InputError(Problem("this folder is gone", "go to one that is there", file=".")) from error


def _named(path: Path, chosen: bool = False) -> Baseline:
    setup = read_setup(path).value
    return Baseline(setup, setup.name, path, chosen)


def first_of(folder: Path, given: Baseline | None = None) -> Beginning:
    """The first file that can be read; the shelf tells what is wrong with the others.

    Raises InputError where the folder cannot be looked into.
    """
    bad = 0
    for path in setup_paths(folder):
        try:
            begun = begin(read_setup(path), given)
        except InputError:
            bad += 1
            continue
        said = f"{bad} file{'s' if bad > 1 else ''} before this one cannot be read: press o." if bad else ""
        return Beginning(begun.work, said)
    said = (
        "No setup here can be read: press o to see why."
        if bad
        else "No setup in this folder yet: change this one, s saves it."
    )
    return Beginning(blank(), said)


def blank(setup: Setup | None = None) -> Work:
    """Work on a bench without a file; where there is none to begin with, on one for somebody to change."""
    setup = setup or _invented()
    return Work(History(setup), cursor=Cursor("cog", setup.rear.cogs[-1]))


def _invented() -> Setup:
    return Setup(
        name="New setup",
        wheel=Wheel(size="37-622"),
        crank=Crank(rings=(34, 48)),
        rear=Rear(cogs=(11, 13, 15, 17, 19, 21, 24, 28, 32)),
    )


def begin(document: Document[Setup], given: Baseline | None = None) -> Beginning:
    """Work on a document, against the baseline given, the one that it names, or itself as saved."""
    named = document.value.baseline
    if given is not None or named is None:
        return Beginning(on_file(document, given))
    try:
        baseline = _named(Path(os.path.normpath(document.path.parent / named)))
    except InputError as error:
        known = document.value.baseline_name
        last = f" (last known as {known})" if known else ""
        return Beginning(on_file(document), f"Its baseline{last} cannot be read: {error.problems[0]}")
    return Beginning(on_file(document, baseline))


def on_file(document: Document[Setup], baseline: Baseline | None = None) -> Work:
    """Work on a file just read, the cursor on its largest cog, compared with itself unless told."""
    setup = document.value
    return Work(
        history=History(setup),
        document=document,
        baseline=baseline or Baseline(setup, f"{setup.name}, as saved", document.path),
        cursor=Cursor("cog", setup.rear.cogs[-1]),
    )
