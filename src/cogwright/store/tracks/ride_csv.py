"""Rides from CSV: columns of time, speed and cadence, and of height where it is known."""

from collections.abc import Iterable
from typing import Any, Final

from cogwright.core.common.errors import InputError, Problem
from cogwright.core.common.safe_text import clean
from cogwright.core.riding.recording import Moment, Recorder
from cogwright.store.tracks.csv_rows import CsvRow, rows
from cogwright.store.tracks.fields import HEIGHTS, RPMS, SPEEDS, WAYS

#: Columns by their names, and what turns them into s, m/s, rpm and m.
_COLUMNS: Final = {
    "time_s": ("seconds", 1.0),
    "speed_kmh": ("speed", 1.0 / 3.6),
    "cadence_rpm": ("rpm", 1.0),
    "height_m": ("height_m", 1.0),
    "distance_m": ("metres", 1.0),
}
_BOUNDS: Final = {"seconds": (0.0, 1e10), "speed": SPEEDS, "rpm": RPMS, "height_m": HEIGHTS, "metres": WAYS}
_SAID: Final = {
    "seconds": "the time is no number of seconds from 0 up",
    "speed": "the speed is not within 0 to 216 km/h",
    "rpm": "the cadence is not within 0 to 250 rpm",
    "height_m": "the height is not within -500 to 9,000 m",
    "metres": "the distance is not within 0 to 5,000 km",
}
_MEND: Final = "name the columns time_s, speed_kmh, cadence_rpm and, where it is known, height_m"
_MOST: Final = 20


def is_ride(start: bytes) -> bool:
    """Whether a CSV file that begins so is a ride: a first row of names has time_s."""
    first = start.decode("utf-8-sig", errors="replace").splitlines()
    named = next((line for line in first if line.strip() and not line.lstrip().startswith("#")), "")
    return "time_s" in named.casefold()


def read_ride_csv(pieces: Iterable[bytes], file: str = "") -> tuple[str, Recorder]:
    """Moments of a ride in a CSV file; empty fields are unknown, times must rise.

    Raises InputError with up to 20 problems.
    """
    found, problems = Recorder(), list[Problem]()
    columns: dict[str, tuple[int, float]] | None = None
    for row in rows(pieces, file, _MEND):
        if columns is None:
            columns = _columns(row, file)
            continue
        wrong = _take(found, row, columns)
        if wrong:
            shown = clean(", ".join(row.fields))[:40]
            problems.append(Problem(f"{shown!r}: {wrong}", _MEND, file=file, line=row.line))
        if len(problems) >= _MOST:
            break
    if not problems and not len(found):
        problems.append(Problem("there are no moments in it", _MEND, file=file))
    if problems:
        raise InputError(*problems)
    return "", found


def _columns(head: CsvRow, file: str) -> dict[str, tuple[int, float]]:
    """Where each column stands, and its scale."""
    names = [(at, _COLUMNS[name]) for at, name in enumerate(head.names()) if name in _COLUMNS]
    found = {field: (at, scale) for at, (field, scale) in names}
    if "seconds" not in found or not found.keys() & {"speed", "metres"}:
        what = "its first row names no time, or no speed"
        raise InputError(Problem(what, _MEND, file=file, line=head.line))
    return found


def _take(found: Recorder, row: CsvRow, columns: dict[str, tuple[int, float]]) -> str:
    """Add a row's moment, or say what is wrong with it."""
    values: dict[str, Any] = {}
    for field, (at, scale) in columns.items():
        if at >= len(row.fields) or not row.fields[at]:
            continue
        value, (low, high) = row.number(at), _BOUNDS[field]
        if value is None or not low <= value * scale <= high:
            return _SAID[field]
        values[field] = value * scale
    if "seconds" not in values:
        return _SAID["seconds"]
    if len(found) and values["seconds"] <= found.seconds[-1]:
        return "the time does not come after the one before"
    if found.full:
        return "it has more moments than a ride can have"
    found.add(Moment()._replace(**values))
    return ""
