"""Pictures and texts that the user takes along, and the like: new files, or one of a name that was given."""

import os
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path
from typing import TextIO

from cogwright.core.common.errors import InputError
from cogwright.store.atomic import may_replace, take_over, written_beside
from cogwright.store.files import StoreError, problem_of
from cogwright.store.paths import names_of


def write_export(name: str, text: str, folder: Path | None = None) -> Path:
    """Write a new file into the folder, by default the current one; its path. Raises StoreError.

    Where the name is taken a number is added. What could be written in part only is taken away again.
    """
    path = Path(name)
    try:
        path = (folder or Path.cwd()) / name
        path, file = _created(path)
        with _whole(path), file:
            file.write(text)
    except (OSError, ValueError) as error:
        raise StoreError(f"Not written: {problem_of(error, path)}") from error
    return path


def write_over(path: Path, text: str) -> None:
    """Write a file of just this name in one step, over what stands there. Raises StoreError."""
    data = text.encode("utf-8")
    try:
        may_replace(path)
        take_over(written_beside(path, data, path if os.path.lexists(path) else None), path)
    except (OSError, ValueError) as error:
        notes = "".join(f"; {note}" for note in getattr(error, "__notes__", ()))
        raise StoreError(f"Not written: {problem_of(error, path)}{notes}") from error
    except InputError as error:
        raise StoreError(f"Not written: {error}") from error


def _created(path: Path) -> tuple[Path, TextIO]:
    names = names_of(path)
    while True:
        free = next(names)
        with suppress(FileExistsError):
            return free, free.open("x", encoding="utf-8")


@contextmanager
def _whole(path: Path) -> Iterator[None]:
    try:
        yield
    except BaseException:
        with suppress(OSError):
            os.unlink(path)
        raise
