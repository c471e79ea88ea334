"""Courses from CSV: a column of distances and one of heights."""

from array import array
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import Final

from cogwright.core.common.errors import InputError, Problem
from cogwright.core.common.safe_text import clean
from cogwright.store.tracks.csv_rows import CsvRow, rows

_DISTANCES: Final = {"distance_m": 1.0, "distance": 1.0, "m": 1.0, "distance_km": 1000.0, "km": 1000.0}
_HEIGHTS: Final = {"height_m", "height", "elevation_m", "elevation", "altitude_m", "altitude", "ele"}
_MEND: Final = "name the columns distance_m (or distance_km) and height_m"
_MOST: Final = 20
#: A longer track has a point in the wrong place.
LONGEST_M: Final = 5_000_000.0
#: More points than this are no road.
MOST_POINTS: Final = 5_000_000


class RoadPoints:
    """Points of distance and height in m, in arrays."""

    def __init__(self) -> None:
        self.metres, self.heights = array("d"), array("f")

    def __len__(self) -> int:
        return len(self.metres)

    def __iter__(self) -> Iterator[tuple[float, float]]:
        """The points, distances counted from the first."""
        start = self.metres[0] if len(self.metres) else 0.0
        return ((at - start, height) for at, height in zip(self.metres, self.heights, strict=True))

    @property
    def length_m(self) -> float:
        """From the first point to the last, m."""
        return self.metres[-1] - self.metres[0] if len(self.metres) else 0.0


@dataclass(frozen=True, slots=True)
class _Columns:
    distance: int = 0
    height: int = 1
    scale: float = 1.0


def read_course_csv(pieces: Iterable[bytes], file: str = "") -> RoadPoints:
    """The points of a CSV file; distances must not fall.

    A first row of names says which columns are meant; without one they are the first two, in m.
    Raises InputError with up to 20 problems.
    """
    road, problems = RoadPoints(), list[Problem]()
    columns: _Columns | None = None
    for row in rows(pieces, file, _MEND):
        if columns is None:
            columns = _columns(row, file)
            if not _numeric(row):
                continue
        wrong = _take(road, row, columns)
        if wrong:
            shown = clean(", ".join(row.fields))[:40]
            problems.append(Problem(f"{shown!r}: {wrong}", _MEND, file=file, line=row.line))
        if len(problems) >= _MOST:
            break
    if columns is None:
        problems.append(Problem("there are no points in it", _MEND, file=file))
    if problems:
        raise InputError(*problems)
    return road


def _numeric(row: CsvRow) -> bool:
    return row.number(0) is not None and row.number(1) is not None


def _columns(head: CsvRow, file: str) -> _Columns:
    if _numeric(head):
        return _Columns()
    names = head.names()
    distance = next((i for i, name in enumerate(names) if name in _DISTANCES), None)
    height = next((i for i, name in enumerate(names) if name in _HEIGHTS), None)
    if distance is None or height is None:
        what = "its first row names no distance, or no height"
        raise InputError(Problem(what, _MEND, file=file, line=head.line))
    return _Columns(distance, height, _DISTANCES[names[distance]])


def _take(road: RoadPoints, row: CsvRow, columns: _Columns) -> str:
    """Add a row's point to the road, or say what is wrong with it."""
    distance, height = row.number(columns.distance), row.number(columns.height)
    if distance is None or height is None:
        return "two numbers are wanted"
    distance *= columns.scale
    if not 0.0 <= distance <= LONGEST_M:
        return "the distance is not within 0 to 5,000 km"
    if not -500.0 <= height <= 9000.0:
        return "the height is not within -500 to 9,000 m"
    if len(road) and distance < road.metres[-1]:
        return "the distance falls"
    if len(road) >= MOST_POINTS:
        return f"it has more than {MOST_POINTS:,} points"
    road.metres.append(distance)
    road.heights.append(height)
    return ""
