"""The courses of a folder of setups: TOML, CSV and GPX files in its subfolder `courses`."""

from collections.abc import Callable
from pathlib import Path
from typing import Final

from cogwright.core.common.errors import InputError, Problem
from cogwright.core.common.safe_text import clean, shown_name
from cogwright.core.riding.course import Course
from cogwright.core.riding.course_file import CourseFile
from cogwright.core.riding.track.recorded import THIN_M, from_track
from cogwright.store.course_csv import LONGEST_M, parse_csv
from cogwright.store.documents import read_document
from cogwright.store.files import read_bytes
from cogwright.store.gpx import GPX_LIMIT, parse_gpx

FOLDER: Final = "courses"
#: Endings of files that can be nothing but courses.
TRACKS: Final = (".csv", ".gpx")
#: A day's ride recorded every second.
CSV_LIMIT: Final = 16_000_000


def course_files(folder: Path) -> tuple[Path, ...]:
    """The courses' files beside the setups of a folder, by name; none when it has no courses."""
    found = (path for kind in READERS for path in folder.joinpath(FOLDER).glob(f"*{kind}"))
    return tuple(sorted(path for path in found if not path.name.startswith(".")))


def read_course(path: Path) -> Course:
    """Read one course of any kind. Raises InputError with all its problems."""
    read = READERS.get(path.suffix.lower())
    if read is None:
        kinds = ", ".join(READERS)
        raise _error(path, f"{path.suffix or 'no ending'!r} is no kind of course", f"name a file in {kinds}")
    return read(path)


def _toml(path: Path) -> Course:
    return read_document(path, CourseFile).value.course(str(path))


def _csv(path: Path) -> Course:
    data, _ = read_bytes(path, CSV_LIMIT)
    try:
        text = data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        raise _error(path, "the file is not UTF-8 text", "save it as UTF-8") from error
    return _track(path, "", parse_csv(text, shown_name(str(path))))


def _gpx(path: Path) -> Course:
    data, _ = read_bytes(path, GPX_LIMIT)
    return _track(path, *parse_gpx(data, shown_name(str(path))))


def _track(path: Path, name: str, points: list[tuple[float, float]]) -> Course:
    if len(points) < 2 or points[-1][0] - points[0][0] < 2 * THIN_M:
        raise _error(path, "the track leads nowhere", "record or draw a longer one")
    if (long := points[-1][0] - points[0][0]) > LONGEST_M:
        what = f"the track is {long / 1000:,.0f} km long, and {LONGEST_M / 1000:,.0f} km are the most"
        raise _error(path, what, "take out the points that lie far off, or ride it in parts")
    start = points[0][0]
    road = [(at - start, height) for at, height in points]
    return from_track(name or clean(shown_name(path.stem)), road, file=str(path))


def _error(path: Path, what: str, mend: str) -> InputError:
    return InputError(Problem(what, mend, file=shown_name(str(path))))


READERS: Final[dict[str, Callable[[Path], Course]]] = {".toml": _toml, ".csv": _csv, ".gpx": _gpx}
