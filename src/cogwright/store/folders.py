"""What lies in a folder, for somebody who walks through folders to a file."""

import os
from collections.abc import Iterable
from pathlib import Path

from cogwright.store.files import StoreError, problem_of
from cogwright.store.shelf import natural


def inside(folder: Path, endings: Iterable[str]) -> tuple[Path, ...]:
    """The folders of a folder, then its files with one of these endings, by name; hidden ones are none.

    Raises StoreError where it cannot be looked into.
    """
    wanted = tuple(endings)
    try:
        with os.scandir(folder) as found:
            there = [(not one.is_dir(), Path(one.path)) for one in found if not one.name.startswith(".")]
    except (OSError, ValueError) as error:
        raise StoreError(str(problem_of(error, folder))) from error
    kept = [(is_file, path) for is_file, path in there if not is_file or path.name.lower().endswith(wanted)]
    return tuple(path for _, path in sorted(kept, key=lambda one: (one[0], natural(one[1].name))))


def at_typed_path(text: str, here: Path, endings: Iterable[str]) -> tuple[Path, ...]:
    """What a typed path can mean, from a folder on: all of a folder, or what begins with its last part.

    A file that is named in full is meant whatever its ending. Nothing where there is no such folder.
    """
    try:
        path = here / Path(text).expanduser()
    except RuntimeError:
        return ()
    whole = text.endswith(("/", "~", ".."))
    folder, begins = (path, "") if whole else (path.parent, path.name.lower())
    try:
        found = inside(Path(os.path.normpath(folder)), endings)
    except StoreError:
        return ()
    meant = tuple(one for one in found if one.name.lower().startswith(begins))
    return (path,) if not meant and os.path.isfile(path) else meant


def make_folder(folder: Path) -> None:
    """Make a folder and those above it. Raises StoreError."""
    try:
        folder.mkdir(parents=True, exist_ok=True)
    except (OSError, ValueError) as error:
        raise StoreError(f"Not made: {problem_of(error, folder)}") from error
