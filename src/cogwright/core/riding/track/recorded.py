"""A course from a recorded track: its heights are noisy, and are smoothed by as much as they are noisy."""

from collections.abc import Iterable, Sequence
from itertools import groupby, pairwise
from statistics import fmean
from typing import Final

from cogwright.core.riding.course import Course, from_points
from cogwright.core.riding.track.curves import MeasuredRoad, road_through
from cogwright.core.riding.track.moments import Point
from cogwright.core.riding.track.noise import noise_of
from cogwright.core.riding.track.pieces import pieces_of

#: How recorded heights are made usable; all in m. Our own figures: see `from_track`.
THIN_M: Final = 5.0
SPIKE_WITHIN_M: Final = 50.0
SPIKE_M: Final = 8.0
END_SPIKE_M: Final = 20.0
#: No recorder knows a height better than this, m.
FINEST_M: Final = 0.05
#: At most this many cells are made of a track: beyond 200 km they are longer than 5 m.
MOST_POINTS: Final = 40_000


def from_track(
    name: str, points: Iterable[Point], notes: str = "", file: str = "", length_m: float = 0.0
) -> Course:
    """A course of recorded (distance, height) points in m, distances not falling; heights are noisy.

    In this order: points nearer than 5 m to each other are averaged; spikes are taken out (`despike`); the
    noise is found (`noise_of`); the points are divided into as few pieces of constant grade as it allows
    (`pieces_of`); and a road of such pieces, their joints rounded where that fits better, is laid through
    them by least squares (`road_through`).
    So a steady climb keeps its grade, and a ramp of 40 m stays if it stands out from the noise. Where points
    are too far apart to tell noise from road they are taken as they stand. Points may come in a stream; with
    their `length_m` in all those of a very long one are averaged over more than 5 m.
    """
    known = despike(thin(points, max(THIN_M, length_m / MOST_POINTS)))
    noise = noise_of(known)
    if noise is None:
        return from_points(name, known, notes, file, "as given in the course file")
    noise = max(noise, FINEST_M)
    road = road_through(known, pieces_of(known, noise), noise)
    return from_points(name, road.points, notes, file, _how(noise), _doubt(road, noise))


def _doubt(road: MeasuredRoad, noise_m: float) -> float:
    """By how much the climb may be off through noise, m.

    Two standard errors of its tops and bottoms; a quarter of the noise for each of them, as the highest of
    noisy heights is no fair one; and half of it a km for rises that it hides. Our own rule, tried on roads of
    known shape.
    """
    heights = [height for _, height in road.points]
    ups = [b > a for a, b in pairwise(heights) if a != b]
    turns = sum(a != b for a, b in pairwise(ups))
    km = (road.points[-1][0] - road.points[0][0]) / 1000.0
    return 2.0 * road.climb_error_m + noise_m * (turns / 4.0 + km / 2.0)


def _how(noise_m: float) -> str:
    return (
        f"recorded, spikes over {SPIKE_M:.0f} m out, noise of {noise_m:.1f} m found; climb: what as few "
        "pieces of constant grade as that allows rise, and its doubt: what that noise may add or hide, a "
        "recorder's slow drift not counted"
    )


def thin(points: Iterable[Point], apart_m: float) -> list[Point]:
    """Points averaged within cells of a length in m, so that distances rise; the first and last stay put.

    >>> thin([(0, 1), (0, 3), (2, 2), (30, 5), (30, 7)], 5.0)
    [(0.0, 2.0), (30.0, 6.0)]
    """
    means: list[Point] = []
    first = last = 0.0
    for _, cell in groupby(points, key=lambda point: int(point[0] / apart_m)):
        known = list(cell)
        first, last = (first if means else float(known[0][0])), float(known[-1][0])
        means.append((fmean(x for x, _ in known), fmean(h for _, h in known)))
    if len(means) > 1:
        means[0], means[-1] = (first, means[0][1]), (last, means[-1][1])
    return means


def despike(points: Sequence[Point]) -> list[Point]:
    """Spikes replaced by the heights around them; all other points stay as they are.

    A spike stands more than 8 m above, or below, both the median of the heights within 50 m before it and
    that of those within 50 m after it; so no climb, and no summit up to 30 %, is taken for one. An end has
    neighbours on one side only, and must stand off by 20 m.

    >>> despike([(0, 0), (10, 1), (20, 90), (30, 3), (40, 4)])
    [(0, 0), (10, 1), (20, 2.5), (30, 3), (40, 4)]
    """
    out: list[Point] = []
    first = last = 0
    for i, (x, height) in enumerate(points):
        while points[first][0] < x - SPIKE_WITHIN_M:
            first += 1
        while last < len(points) and points[last][0] <= x + SPIKE_WITHIN_M:
            last += 1
        sides = [side for side in (points[first:i], points[i + 1 : last]) if side]
        stands_off = any(all(_beyond(height, side, sign) for side in sides) for sign in (1, -1))
        out.append((x, _unspiked(height, list(map(_median, sides))) if stands_off else height))
    return out


def _beyond(height: float, side: Sequence[Point], sign: int) -> bool:
    """Whether a height is so far above (or below) the lowest (highest) of a side that it may be a spike."""
    return sign * (height - (min if sign > 0 else max)(h for _, h in side)) > SPIKE_M


def _median(points: Sequence[Point]) -> float:
    heights = sorted(h for _, h in points)
    return heights[len(heights) // 2]


def _unspiked(height: float, sides: Sequence[float]) -> float:
    limit = SPIKE_M if len(sides) == 2 else END_SPIKE_M
    above = all(height - side > limit for side in sides)
    below = all(side - height > limit for side in sides)
    return sum(sides) / len(sides) if sides and (above or below) else height
