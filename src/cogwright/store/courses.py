"""The courses of a folder of setups: TOML, CSV and recorded tracks in its subfolder `courses`."""

from collections.abc import Callable, Iterable, Mapping
from pathlib import Path
from typing import Final

from cogwright.core.common.errors import InputError, Problem
from cogwright.core.common.safe_text import clean, shown_name
from cogwright.core.riding.course import Course
from cogwright.core.riding.course_file import CourseFile
from cogwright.core.riding.track.recorded import THIN_M, from_track
from cogwright.store.course_csv import LONGEST_M, read_course_csv
from cogwright.store.documents import read_document
from cogwright.store.tracks.read import read_recording
from cogwright.store.tracks.ride_csv import is_ride
from cogwright.store.tracks.stream import ReadProgress, beginning, no_progress, stream

FOLDER: Final = "courses"
#: Endings of files that can be nothing but courses or rides.
TRACKS: Final = (".csv", ".gpx", ".tcx", ".fit")


def course_files(folder: Path) -> tuple[Path, ...]:
    """The courses' files beside the setups of a folder, by name; none when it has no courses."""
    found = (path for kind in READERS for path in folder.joinpath(FOLDER).glob(f"*{kind}"))
    return tuple(sorted(path for path in found if not path.name.startswith(".")))


def read_course(path: Path, progress: ReadProgress = no_progress) -> Course:
    """Read one course of any kind. Raises InputError with all its problems."""
    read = READERS.get(path.suffix.lower())
    if read is None:
        kinds = ", ".join(READERS)
        raise _error(path, f"{path.suffix or 'no ending'!r} is no kind of course", f"name a file in {kinds}")
    return read(path, progress)


def _toml(path: Path, _progress: ReadProgress) -> Course:
    return read_document(path, CourseFile).value.course(str(path))


def _csv(path: Path, progress: ReadProgress) -> Course:
    if is_ride(beginning(path)):
        return _recorded(path, progress)
    road = read_course_csv(stream(path, progress), shown_name(str(path)))
    return _track(path, "", road, road.length_m)


def _recorded(path: Path, progress: ReadProgress) -> Course:
    ride = read_recording(path, progress)
    if not ride.has_heights:
        raise _error(path, "its track has no heights", "export it with elevation")
    return _track(path, ride.name, ride.road(), ride.road_m)


def _track(path: Path, name: str, points: Iterable[tuple[float, float]], length_m: float) -> Course:
    if length_m < 2 * THIN_M:
        raise _error(path, "the track leads nowhere", "record or draw a longer one")
    if length_m > LONGEST_M:
        what = f"the track is {length_m / 1000:,.0f} km long, and {LONGEST_M / 1000:,.0f} km are the most"
        raise _error(path, what, "take out the points that lie far off, or ride it in parts")
    return from_track(name or clean(shown_name(path.stem)), points, file=str(path), length_m=length_m)


def _error(path: Path, what: str, mend: str) -> InputError:
    return InputError(Problem(what, mend, file=shown_name(str(path))))


_Reader = Callable[[Path, ReadProgress], Course]
READERS: Final[Mapping[str, _Reader]] = {
    ".toml": _toml,
    ".csv": _csv,
    ".gpx": _recorded,
    ".tcx": _recorded,
    ".fit": _recorded,
}
