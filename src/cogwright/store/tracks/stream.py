"""A track's file as a stream of pieces, with its size bounded and its progress told."""

from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Final

from cogwright.store.files import opened, pieces

#: A day's ride recorded every second with heart rate and all is some 20 MB.
TRACK_LIMIT: Final = 64_000_000
#: Told from time to time how much of a file has been read, from 0 to 1. What it raises ends the reading.
ReadProgress = Callable[[float], None]


def no_progress(_share: float) -> None:
    """Tell nobody."""


def stream(path: Path, progress: ReadProgress = no_progress, limit: int = TRACK_LIMIT) -> Iterator[bytes]:
    """A regular file's content in pieces of some 64 kB. Raises InputError as `read_bytes` does."""
    file, status = opened(path, limit)
    with file:
        done = 0
        for piece in pieces(file, path, limit):
            done += len(piece)
            yield piece
            progress(min(done / max(status.st_size, 1), 1.0))


def beginning(path: Path) -> bytes:
    """The first piece of a regular file: enough to know its kind."""
    return next(stream(path), b"")
