"""Courses: a road as pieces of constant grade, from measured pieces or from points.

Distances of points and tracks are as on a map (horizontal); a piece's own length is along the road.
"""

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import accumulate, pairwise


@dataclass(frozen=True, slots=True)
class Piece:
    """A stretch of road: its length along the road in m, its grade as rise over run, and its place's name."""

    length_m: float
    grade: float
    name: str = ""

    @property
    def rise_m(self) -> float:
        """How much higher its end is than its start, m."""
        return self.length_m * self.grade / math.hypot(1.0, self.grade)

    @property
    def run_m(self) -> float:
        """Its length on the map, m."""
        return self.length_m / math.hypot(1.0, self.grade)


@dataclass(frozen=True, eq=False)
class Course:
    """A named road. Two courses are the same only if they are one object: results are kept by it.

    `how` says in words how its heights came about; `file` is where it was read from. Without a height of the
    start, heights count from there, and the air is that of the rider's own height. `climb_doubt_m` is by how
    much the climb may be off through the noise of recorded heights, m; None where they are taken as they are.
    """

    name: str
    pieces: tuple[Piece, ...]
    start_height_m: float | None = None
    notes: str = ""
    how: str = ""
    file: str = ""
    climb_doubt_m: float | None = None

    @cached_property
    def starts_m(self) -> tuple[float, ...]:
        """Where each piece starts, m along the road from the start; one more entry for the end."""
        return tuple(accumulate((p.length_m for p in self.pieces), initial=0.0))

    @cached_property
    def heights_m(self) -> tuple[float, ...]:
        """Height at the start of each piece in m, and at the end."""
        return tuple(accumulate((p.rise_m for p in self.pieces), initial=self.start_height_m or 0.0))

    @property
    def length_m(self) -> float:
        """Length along the road, m."""
        return self.starts_m[-1]

    @cached_property
    def ascent_m(self) -> float:
        """Sum of all that goes up, m."""
        return sum(p.rise_m for p in self.pieces if p.grade > 0.0)

    @cached_property
    def mean_grade(self) -> float:
        """Rise over run from the start to the end."""
        return (self.heights_m[-1] - self.heights_m[0]) / sum(p.run_m for p in self.pieces)

    @cached_property
    def steepest(self) -> float:
        """Grade of the steepest piece."""
        return max(p.grade for p in self.pieces)

    def height_at(self, distance_m: float) -> float:
        """Height in m at a distance in m along the road."""
        return interpolate(self.starts_m, self.heights_m, (distance_m,))[0]


def from_pieces(
    name: str, pieces: Iterable[Piece], start_height_m: float | None = None, notes: str = "", file: str = ""
) -> Course:
    """A course of measured pieces, taken as they stand."""
    return Course(name, tuple(pieces), start_height_m, notes, "as given in the course file", file)


def from_points(
    name: str,
    points: Sequence[tuple[float, float]],
    notes: str = "",
    file: str = "",
    how: str = "",
    climb_doubt_m: float | None = None,
) -> Course:
    """A course of (distance, height) points in m, distances rising; straight lines in between.

    15 km on the map that rise 900 m climb at 6 %:

    >>> round(from_points("a pass", [(0.0, 0.0), (15000.0, 900.0)]).mean_grade, 4)
    0.06
    """
    pieces = (
        Piece(math.hypot(b[0] - a[0], b[1] - a[1]), (b[1] - a[1]) / (b[0] - a[0]))
        for a, b in pairwise(points)
    )
    said = how or "as given in the course file"
    return Course(name, tuple(pieces), points[0][1], notes, said, file, climb_doubt_m)


def interpolate(xs: Sequence[float], ys: Sequence[float], at: Sequence[float]) -> list[float]:
    """The values at rising places `at`, on straight lines between points of rising xs; flat beyond the ends.

    >>> interpolate([0.0, 2.0, 4.0], [0.0, 2.0, 0.0], [-1.0, 1.0, 3.0, 9.0])
    [0.0, 1.0, 1.0, 0.0]
    """
    out: list[float] = []
    i = 0
    for x in at:
        while i < len(xs) - 2 and xs[i + 1] < x:
            i += 1
        share = (x - xs[i]) / (xs[i + 1] - xs[i])
        out.append(ys[i] + (ys[i + 1] - ys[i]) * max(0.0, min(1.0, share)))
    return out
