"""A recorded ride from a file of any kind, known by its content and not by its name."""

from collections.abc import Callable, Iterable
from pathlib import Path
from typing import Final

from cogwright.core.common.errors import InputError, Problem
from cogwright.core.common.safe_text import clean, shown_name
from cogwright.core.riding.recording import Recorder, Recording
from cogwright.store.tracks.fit import is_fit, read_fit
from cogwright.store.tracks.gpx import read_gpx
from cogwright.store.tracks.ride_csv import is_ride, read_ride_csv
from cogwright.store.tracks.stream import ReadProgress, beginning, no_progress, stream
from cogwright.store.tracks.tcx import read_tcx

#: Endings that such files usually have.
ENDINGS: Final = (".fit", ".tcx", ".gpx", ".csv")
FOLDER: Final = "rides"
_Reader = Callable[[Iterable[bytes], str], tuple[str, Recorder]]


def ride_files(folder: Path) -> tuple[Path, ...]:
    """The recorded rides in the folder `rides` beside the setups of a folder, by name."""
    found = (path for path in folder.joinpath(FOLDER).glob("*") if path.suffix.lower() in ENDINGS)
    return tuple(sorted(path for path in found if not path.name.startswith(".")))


def read_ride(path: Path, progress: ReadProgress = no_progress) -> Recording:
    """Read a ride that speeds are known of. Raises InputError."""
    ride = read_recording(path, progress)
    if not ride.timed or not ride.has_speed:
        what, mend = "it has no times, so no speeds", "export it with the time of each point"
        raise InputError(Problem(what, mend, file=shown_name(str(path))))
    return ride


def read_recording(path: Path, progress: ReadProgress = no_progress) -> Recording:
    """Read a ride. Raises InputError with what is wrong."""
    start, file = beginning(path), shown_name(str(path))
    if is_fit(start):
        name, found = read_fit(path, progress)
    else:
        name, found = _reader(start, file)(stream(path, progress), file)
    return found.recording(name or clean(shown_name(path.stem)), str(path))


def _reader(start: bytes, file: str) -> _Reader:
    """What reads a file that begins so."""
    if _is_xml(start):
        return read_tcx if b"TrainingCenterDatabase" in start[:4096] else read_gpx
    if is_ride(start):
        return read_ride_csv
    what = "this is no FIT, TCX or GPX file, and no CSV with a column time_s"
    raise InputError(Problem(what, "name the file of a recorded ride", file=file))


def _is_xml(start: bytes) -> bool:
    """Whether a file begins as XML does, in any encoding that says so at its start."""
    return start.replace(b"\0", b"").lstrip(b"\xef\xbb\xbf\xff\xfe \t\r\n").startswith(b"<")
