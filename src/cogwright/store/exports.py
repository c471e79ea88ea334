"""Pictures and texts that the user takes along: new files only, nothing is written over."""

from itertools import count
from pathlib import Path

from cogwright.store.files import StoreError, problem_of


def write_export(folder: Path, name: str, text: str) -> Path:
    """Write a new file; its path. Where the name is taken a number is added. Raises StoreError."""
    stem, dot, ending = name.rpartition(".")
    for number in count(1):
        path = folder / (name if number == 1 else f"{stem}-{number}{dot}{ending}")
        try:
            with path.open("x", encoding="utf-8") as file:
                file.write(text)
        except FileExistsError:
            continue
        except (OSError, ValueError) as error:
            raise StoreError(f"not written: {problem_of(error, path)}") from error
        return path
    raise AssertionError("unreachable: count() does not end")
