"""What the subcommands read: setups, courses and rides, with the errors that the command line prints."""

import sys
from pathlib import Path
from typing import Final

from cogwright.core.common.safe_text import shown_name
from cogwright.core.riding.course import Course
from cogwright.core.riding.recording import Recording
from cogwright.core.setup.model import Setup
from cogwright.store.courses import read_course
from cogwright.store.documents import read_setup
from cogwright.store.tracks.read import read_ride
from cogwright.store.tracks.stream import ReadProgress, no_progress

#: Bytes from which on reading takes so long that its progress is told.
LARGE: Final = 2_000_000


def setup_from(path: Path) -> Setup:
    """The setup in a file. Raises InputError with all its problems."""
    return read_setup(path).value


def course_from(path: Path) -> Course:
    """The course in a file. Raises InputError with all its problems."""
    return read_course(path, _progress(path))


def ride_from(path: Path) -> Recording:
    """The recorded ride in a file. Raises InputError."""
    return read_ride(path, _progress(path))


def _progress(file: Path) -> ReadProgress:
    """Tell on a terminal how far a large file has been read."""
    if sys.stderr is None or not sys.stderr.isatty() or not _large(file):
        return no_progress
    name = shown_name(file.name)

    def tell(share: float) -> None:
        end = "\n" if share >= 1.0 else ""
        print(f"\r{name}: {100 * share:3.0f} % read", end=end, file=sys.stderr, flush=True)

    return tell


def _large(file: Path) -> bool:
    """Whether a file is; one that cannot be read is not, which reading it says."""
    try:
        return file.stat().st_size >= LARGE
    except (OSError, ValueError):
        return False
