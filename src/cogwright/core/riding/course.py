"""Courses: a road as pieces of constant grade, from measured pieces, from points, or from a noisy track.

Distances of points and tracks are as on a map (horizontal); a piece's own length is along the road.
"""

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import accumulate, pairwise
from typing import Final

#: How recorded heights are made usable; all in m along the map. Our own figures: see `from_track`.
THIN_M: Final = 5.0
SPIKE_WITHIN_M: Final = 50.0
SPIKE_M: Final = 8.0
END_SPIKE_M: Final = 20.0
SPACING_M: Final = 20.0
SMOOTH_M: Final = 100.0
#: At most this many pieces are made of a track: beyond 800 km the spacing grows instead.
MAX_PIECES: Final = 40_000


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
    start, heights count from there, and the air is that of the rider's own height.
    """

    name: str
    pieces: tuple[Piece, ...]
    start_height_m: float | None = None
    notes: str = ""
    how: str = ""
    file: str = ""

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
    return Course(name, tuple(pieces), start_height_m, notes, "pieces taken as they stand", file)


def from_points(
    name: str, points: Sequence[tuple[float, float]], notes: str = "", file: str = "", how: str = ""
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
    return Course(name, tuple(pieces), points[0][1], notes, how or "points taken as they stand", file)


def _between(start: tuple[float, float], end: tuple[float, float]) -> Piece:
    run, rise = end[0] - start[0], end[1] - start[1]
    return Piece(math.hypot(run, rise), rise / run)


def from_track(name: str, points: Sequence[tuple[float, float]], notes: str = "", file: str = "") -> Course:
    """A course of recorded (distance, height) points in m, distances not falling; heights are noisy.

    In this order: points nearer than 5 m to each other are averaged; spikes are taken out (`despike`);
    heights are read off every 20 m, on straight lines; and each becomes the mean of those within 100 m to
    either side, weighted by a triangle.
    A steady climb keeps its grade exactly up to both ends. A ramp shorter than about 100 m comes out
    flatter than it is. Noise of 1 m on points 10 m apart leaves about 0.5 % of noise in the grades.
    """
    known = despike(thin(points, THIN_M))
    spacing = max(SPACING_M, known[-1][0] / MAX_PIECES)
    even = smooth(resample(known, spacing), SMOOTH_M)
    return from_points(name, even, notes, file, _how(spacing))


def _how(spacing: float) -> str:
    return (
        f"recorded, spikes over {SPIKE_M:.0f} m out, read off every {spacing:.0f} m, smoothed over "
        f"{SMOOTH_M:.0f} m to each side; ramps shorter than that are steeper than shown"
    )


def thin(points: Sequence[tuple[float, float]], apart_m: float) -> list[tuple[float, float]]:
    """Points averaged within cells of a length in m, so that distances rise; the first and last stay put.

    >>> thin([(0, 1), (0, 3), (2, 2), (30, 5), (30, 7)], 5.0)
    [(0.0, 2.0), (30.0, 6.0)]
    """
    cells: dict[int, list[tuple[float, float]]] = {}
    for point in points:
        cells.setdefault(int(point[0] / apart_m), []).append(point)
    means = [
        (sum(x for x, _ in cell) / len(cell), sum(h for _, h in cell) / len(cell)) for cell in cells.values()
    ]
    if len(means) > 1:
        means[0], means[-1] = (float(points[0][0]), means[0][1]), (float(points[-1][0]), means[-1][1])
    return means


def despike(points: Sequence[tuple[float, float]]) -> list[tuple[float, float]]:
    """Spikes replaced by the heights around them; all other points stay as they are.

    A spike stands more than 8 m above, or below, both the median of the heights within 50 m before it and
    that of those within 50 m after it; so no climb, and no summit up to 30 %, is taken for one. An end has
    neighbours on one side only, and must stand off by 20 m.

    >>> despike([(0, 0), (10, 1), (20, 90), (30, 3), (40, 4)])
    [(0, 0), (10, 1), (20, 2.5), (30, 3), (40, 4)]
    """
    out: list[tuple[float, float]] = []
    first = last = 0
    for i, (x, height) in enumerate(points):
        while points[first][0] < x - SPIKE_WITHIN_M:
            first += 1
        while last < len(points) and points[last][0] <= x + SPIKE_WITHIN_M:
            last += 1
        sides = [_median(points[first:i]), _median(points[i + 1 : last])]
        out.append((x, _unspiked(height, [side for side in sides if side is not None])))
    return out


def _median(points: Sequence[tuple[float, float]]) -> float | None:
    heights = sorted(h for _, h in points)
    return heights[len(heights) // 2] if heights else None


def _unspiked(height: float, sides: Sequence[float]) -> float:
    limit = SPIKE_M if len(sides) == 2 else END_SPIKE_M
    above = all(height - side > limit for side in sides)
    below = all(side - height > limit for side in sides)
    return sum(sides) / len(sides) if sides and (above or below) else height


def resample(points: Sequence[tuple[float, float]], spacing_m: float) -> list[tuple[float, float]]:
    """Points read off straight lines between points, evenly, about a spacing in m apart, both ends kept.

    >>> resample([(0.0, 0.0), (30.0, 3.0)], 10.0)
    [(0.0, 0.0), (10.0, 1.0), (20.0, 2.0), (30.0, 3.0)]
    """
    first, last = points[0][0], points[-1][0]
    count = max(1, round((last - first) / spacing_m))
    at = [first + (last - first) * i / count for i in range(count + 1)]
    heights = interpolate([x for x, _ in points], [h for _, h in points], at)
    return list(zip(at, heights, strict=True))


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


def smooth(points: Sequence[tuple[float, float]], reach_m: float) -> list[tuple[float, float]]:
    """Evenly spaced points with each height averaged over a reach in m to either side, triangle-weighted.

    Two running means one after the other make the triangle. Beyond the ends the road is taken to go on as
    its mirror image through the end point, so that the ends keep their height and a steady grade its grade.
    """
    heights = [h for _, h in points]
    spacing = (points[-1][0] - points[0][0]) / (len(points) - 1)
    half = min(round(reach_m / spacing / 2.0), (len(points) - 1) // 2)
    if half == 0:
        return list(points)
    once = _running_mean(heights, half)
    twice = _running_mean(once, half)
    return [(x, h) for (x, _), h in zip(points, twice, strict=True)]


def _running_mean(values: Sequence[float], half: int) -> list[float]:
    """Mean of each value and `half` neighbours on either side; mirrored through the end points."""
    before = [2.0 * values[0] - v for v in values[half:0:-1]]
    after = [2.0 * values[-1] - v for v in values[-2 : -half - 2 : -1]]
    sums = list(accumulate([*before, *values, *after], initial=0.0))
    size = 2 * half + 1
    return [(sums[i + size] - sums[i]) / size for i in range(len(values))]
