"""Courses from CSV: a column of distances and one of heights."""

import csv
from collections.abc import Iterator, Sequence
from contextlib import suppress
from dataclasses import dataclass
from typing import Final

from cogwright.core.common.errors import InputError, Problem
from cogwright.core.common.numbers import number_in
from cogwright.core.common.safe_text import clean

_DISTANCES: Final = {"distance_m": 1.0, "distance": 1.0, "m": 1.0, "distance_km": 1000.0, "km": 1000.0}
_HEIGHTS: Final = {"height_m", "height", "elevation_m", "elevation", "altitude_m", "altitude", "ele"}
_MEND: Final = "name the columns distance_m (or distance_km) and height_m"
_MOST: Final = 20
#: A longer track has a point in the wrong place.
LONGEST_M: Final = 5_000_000.0


@dataclass(frozen=True, slots=True)
class _Columns:
    distance: int
    height: int
    scale: float
    comma: bool


def parse_csv(text: str, file: str = "") -> list[tuple[float, float]]:
    """The (distance, height) points in m of a CSV text; distances must not fall.

    Fields are split by semicolons, tabs or commas; with the first two a comma may be the decimal mark. A
    first row of names says which columns are meant; without one they are the first two, in m. Lines that
    are empty or start with `#` are passed over. Raises InputError with up to 20 problems.
    """
    lines = text.splitlines()
    split = next((mark for mark in ";\t" if any(mark in line for line in lines[:5])), ",")
    rows = _rows(lines, split, file)
    if not rows:
        raise InputError(Problem("there are no points in it", _MEND, file=file))
    columns = _columns(rows[0][1], split != ",", file, rows[0][0])
    body = rows if _numeric(rows[0][1], split != ",") else rows[1:]
    return _points(body, columns, file)


def _rows(lines: Sequence[str], split: str, file: str) -> list[tuple[int, list[str]]]:
    reader = csv.reader(lines, delimiter=split)
    rows: list[tuple[int, list[str]]] = []
    try:
        for row in reader:
            fields = [part.strip() for part in row]
            if any(fields) and not fields[0].startswith("#"):
                rows.append((reader.line_num, fields))
    except csv.Error as error:
        wrong = Problem(f"not valid CSV: {error}", _MEND, file=file, line=reader.line_num)
        raise InputError(wrong) from error
    return rows


def _columns(head: Sequence[str], comma: bool, file: str, line: int) -> _Columns:
    if _numeric(head, comma):
        return _Columns(0, 1, 1.0, comma)
    names = [name.casefold().strip('"').replace(" ", "_") for name in head]
    distance = next((i for i, name in enumerate(names) if name in _DISTANCES), None)
    height = next((i for i, name in enumerate(names) if name in _HEIGHTS), None)
    if distance is None or height is None:
        raise InputError(
            Problem("its first row names no distance, or no height", _MEND, file=file, line=line)
        )
    return _Columns(distance, height, _DISTANCES[names[distance]], comma)


def _numeric(row: Sequence[str], comma: bool) -> bool:
    return len(row) > 1 and all(_number(field, comma) is not None for field in row[:2])


def _points(
    rows: Sequence[tuple[int, Sequence[str]]], columns: _Columns, file: str
) -> list[tuple[float, float]]:
    problems: list[Problem] = []
    points: list[tuple[float, float]] = []
    for line, row in rows:
        point = _point(row, columns)
        wrong = _wrong(point, points[-1] if points else None)
        if wrong:
            shown = clean(", ".join(row))[:40]
            problems.append(Problem(f"{shown!r}: {wrong}", _MEND, file=file, line=line))
        elif point is not None:
            points.append(point)
        if len(problems) >= _MOST:
            break
    if problems:
        raise InputError(*problems)
    return points


def _point(row: Sequence[str], columns: _Columns) -> tuple[float, float] | None:
    if len(row) <= max(columns.distance, columns.height):
        return None
    distance = _number(row[columns.distance], columns.comma)
    height = _number(row[columns.height], columns.comma)
    return None if distance is None or height is None else (distance * columns.scale, height)


def _wrong(point: tuple[float, float] | None, before: tuple[float, float] | None) -> str:
    if point is None:
        return "two numbers are wanted"
    checks: Iterator[tuple[bool, str]] = iter(
        (
            (not 0.0 <= point[0] <= LONGEST_M, "the distance is not within 0 to 5,000 km"),
            (not -500.0 <= point[1] <= 9000.0, "the height is not within -500 to 9,000 m"),
            (before is not None and point[0] < before[0], "the distance falls"),
        )
    )
    return next((said for holds, said in checks if holds), "")


def _number(text: str, comma: bool) -> float | None:
    """A field's number; where commas part the fields one is no decimal mark."""
    with suppress(ValueError):
        return number_in(text) if comma or "," not in text else None
    return None
