"""The shelf: every setup of a folder, the good ones and, with what is wrong, the bad ones."""

import os
import re
from collections.abc import Iterable, Iterator
from pathlib import Path
from typing import NamedTuple

from cogwright.core.common.errors import InputError, Problem
from cogwright.core.common.safe_text import shown_name
from cogwright.core.setup.model import Setup
from cogwright.store.documents import Document, read_setup
from cogwright.store.files import Stamp, problem_of, read_bytes

#: Size, time of change and number of a file: enough to see that it was not touched since.
_Seen = tuple[int, int, int]


class ShelfEntry(NamedTuple):
    """One file of the folder: its document, or its problems."""

    path: Path
    document: Document[Setup] | None
    problems: tuple[Problem, ...] = ()
    seen: _Seen | None = None

    @property
    def setup(self) -> Setup | None:
        """What the file says; None for a bad one."""
        return self.document.value if self.document else None

    @property
    def name(self) -> str:
        """The file's name, fit to show."""
        return shown_name(self.path.name)


def read_shelf(folder: Path, before: Iterable[ShelfEntry] = ()) -> tuple[ShelfEntry, ...]:
    """All setups of a folder, by name. Raises InputError when there is no folder.

    Files that have not changed since `before` are taken from there, so that a second look is cheap.
    """
    return tuple(entries(folder, before))


def entries(folder: Path, before: Iterable[ShelfEntry] = ()) -> Iterator[ShelfEntry]:
    """As `read_shelf`, one entry at a time, so that the screen can show them as they come.

    The folder is listed at once: it raises InputError before the first entry.
    """
    known = {entry.path: entry for entry in before}
    return (_entry(path, known.get(path)) for path in setup_paths(folder))


def setup_paths(folder: Path) -> Iterator[Path]:
    """The paths `*.toml` of a folder in the order of their names, `yard 2` before `yard 10`.

    Raises InputError at once where the folder cannot be listed. A start needs the first of a thousand, so a
    path is made when it is asked for.
    """
    try:
        names = [name for name in os.listdir(folder) if name.endswith(".toml") and name[0] != "."]
    except (OSError, ValueError) as error:
        raise InputError(problem_of(error, folder)) from error
    return map(folder.joinpath, sorted(names, key=natural))


def natural(name: str) -> tuple[list[tuple[int, int, str]], str]:
    """What names are sorted by, `yard 2` before `yard 10`."""
    parts = re.split(r"([0-9]{1,18})", name.casefold())
    return [(1, int(part), "") if odd % 2 else (0, 0, part) for odd, part in enumerate(parts)], name


def _entry(path: Path, before: ShelfEntry | None) -> ShelfEntry:
    seen = _look(path)
    if before is not None and seen is not None and before.seen == seen:
        return before
    try:
        return ShelfEntry(path, read_setup(path), (), seen)
    except InputError as error:
        return ShelfEntry(path, None, error.problems, seen)


def _look(path: Path) -> _Seen | None:
    try:
        status = os.stat(path)
    except (OSError, ValueError):
        return None
    return status.st_size, status.st_mtime_ns, status.st_ino


def has_changed(path: Path, stamp: Stamp) -> bool:
    """Whether a file is another than when it was read; one that is gone or cannot be read has changed."""
    try:
        return read_bytes(path)[1].digest != stamp.digest
    except InputError:
        return True
