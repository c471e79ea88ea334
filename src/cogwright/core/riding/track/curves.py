"""A road through noisy heights: straight pieces with joints that are sharp or rounded, whichever fits.

Its height is given by vertices, one at each joint. Where the joint is rounded, a parabola takes over half of
the shorter piece before and after it, as road builders do; a joint stays sharp where the points say so.
All vertices are found at once by least squares: each height depends on three of them at most.
"""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Final

from cogwright.core.riding.track.moments import Moments, Point

#: Joints are at least this far apart, m, and no farther than this from the points on both sides of them.
_APART_M: Final = 20.0
_ASIDE_M: Final = 15.0
#: A parabola is drawn as this many straight pieces.
_PARTS: Final = 4
#: Added to each vertex's own weight, so that no equation is without an answer.
_LITTLE: Final = 1e-9


#: Vertices with their weights, in the order of the road.
Weights = tuple[tuple[int, float], ...]


@dataclass(frozen=True, slots=True)
class MeasuredRoad:
    """Points of the road in m, and the standard error of its climb in m."""

    points: tuple[Point, ...]
    climb_error_m: float


def road_through(points: Sequence[Point], pieces: Sequence[tuple[int, int]], noise_m: float) -> MeasuredRoad:
    """The road through points that are divided into pieces, under a noise of their heights in m."""
    joints = _joints(points, pieces)
    wide = _half_lengths(joints)
    sharp, round_ = _Fit(points, joints, [0.0] * len(joints)), _Fit(points, joints, wide)
    off = [b - a for a, b in zip(sharp.near(wide), round_.near(wide), strict=True)]
    chosen = [half if more <= noise_m**2 else 0.0 for half, more in zip(wide, off, strict=True)]
    fit = _Fit(points, joints, chosen)
    return MeasuredRoad(tuple(fit.drawn()), noise_m * fit.climb_factor())


def _joints(points: Sequence[Point], pieces: Sequence[tuple[int, int]]) -> list[float]:
    """Where the pieces meet, m: where their lines cross, if that is between or near their points."""
    lines = [Moments.of(points[first : last + 1]) for first, last in pieces]
    between = [(points[a[1]][0], points[b[0]][0]) for a, b in pairwise(pieces)]
    found = [_meet(*two, *gap) for two, gap in zip(pairwise(lines), between, strict=True)]
    return _apart([points[0][0], *found, points[-1][0]])


def _meet(one: Moments, other: Moments, last: float, first: float) -> float:
    turn = one.grade - other.grade
    if turn == 0.0:
        return (last + first) / 2.0
    at = (other.h - other.grade * other.x - one.h + one.grade * one.x) / turn
    return min(max(at, last - _ASIDE_M), first + _ASIDE_M)


def _apart(joints: Sequence[float]) -> list[float]:
    """The joints without those too near to each other: of two there is left the middle; both ends stay."""
    start, *inner, end = joints
    out = [start]
    for at in inner:
        if at - out[-1] >= _APART_M:
            out.append(at)
        elif len(out) > 1:
            out[-1] = (out[-1] + at) / 2.0
    while len(out) > 1 and end - out[-1] < _APART_M:
        out.pop()
    return [*out, end]


def _half_lengths(joints: Sequence[float]) -> list[float]:
    """Half of the shorter piece at each joint, m; 0 at the ends."""
    lengths = [b - a for a, b in pairwise(joints)]
    return [0.0, *(min(two) / 2.0 for two in pairwise(lengths)), 0.0]


class _Fit:
    """The vertices at joints, by least squares, with a rounding of so many m to each side of every joint."""

    def __init__(self, points: Sequence[Point], joints: Sequence[float], rounding: Sequence[float]) -> None:
        self.points, self.joints, self.rounding = points, joints, rounding
        self.matrix = _Banded(len(joints))
        rights = [0.0] * len(joints)
        for (piece, x), (_, height) in zip(self._placed(), points, strict=True):
            weights = self._weights(piece, x)
            self.matrix.add(weights)
            for vertex, weight in weights:
                rights[vertex] += weight * height
        self.matrix.factor()
        self.heights = self.matrix.solve(rights)

    def _placed(self) -> Iterator[tuple[int, float]]:
        """The piece that each point is in, and its distance."""
        piece = 0
        for x, _ in self.points:
            while piece < len(self.joints) - 2 and x > self.joints[piece + 1]:
                piece += 1
            yield piece, x

    def _weights(self, piece: int, x: float) -> Weights:
        """What each vertex adds to the height at a distance, in the order of the vertices.

        No more than one joint's rounding reaches a place: that of the nearer one.
        """
        start, end = self.joints[piece], self.joints[piece + 1]
        share = (x - start) / (end - start)
        vertex = piece if share < 0.5 else piece + 1
        bulge = self._bulge(vertex, x)
        if bulge == 0.0:
            return ((piece, 1.0 - share), (piece + 1, share))
        before = bulge / (self.joints[vertex] - self.joints[vertex - 1])
        after = bulge / (self.joints[vertex + 1] - self.joints[vertex])
        both = before + after
        if vertex == piece:
            return ((piece - 1, before), (piece, 1.0 - share - both), (piece + 1, share + after))
        return ((piece, 1.0 - share + before), (piece + 1, share - both), (piece + 2, after))

    def _bulge(self, vertex: int, x: float) -> float:
        """By how much a rounded joint stands over the sharp one, per change of grade, m."""
        half, off = self.rounding[vertex], x - self.joints[vertex]
        return (off + half) ** 2 / (4.0 * half) - max(off, 0.0) if abs(off) < half else 0.0

    def near(self, reach: Sequence[float]) -> list[float]:
        """Squared misses of the points within a reach in m of each joint, added up."""
        out = [0.0] * len(self.joints)
        for (piece, x), (_, height) in zip(self._placed(), self.points, strict=True):
            weights = self._weights(piece, x)
            miss = height - sum(weight * self.heights[vertex] for vertex, weight in weights)
            for vertex in (piece, piece + 1):
                if abs(x - self.joints[vertex]) <= reach[vertex]:
                    out[vertex] += miss * miss
        return out

    def drawn(self) -> Iterator[Point]:
        """The road as points between which it is straight."""
        yield self.joints[0], self.heights[0]
        last = self.joints[0]
        for vertex in range(1, len(self.joints) - 1):
            half = self.rounding[vertex]
            steps = [2.0 * half * part / _PARTS - half for part in range(_PARTS + 1)] if half else [0.0]
            for off in steps:
                if self.joints[vertex] + off > last + 1e-6:
                    last = self.joints[vertex] + off
                    yield last, self._height(vertex, off)
        yield self.joints[-1], self.heights[-1]

    def _height(self, vertex: int, off: float) -> float:
        before, here, after = self.heights[vertex - 1 : vertex + 2]
        easy = (here - before) / (self.joints[vertex] - self.joints[vertex - 1])
        turn = (after - here) / (self.joints[vertex + 1] - self.joints[vertex]) - easy
        bulge = self._bulge(vertex, self.joints[vertex] + off)
        return here + easy * off + turn * (max(off, 0.0) + bulge)

    def climb_factor(self) -> float:
        """Standard error of the climb between the vertices, over the noise of a height."""
        up = [0.0, *(float(b > a) for a, b in pairwise(self.heights)), 0.0]
        return math.sqrt(self.matrix.spread([before - after for before, after in pairwise(up)]))


class _Banded:
    """A symmetric positive matrix with two bands beside its diagonal, taken apart as L D L'."""

    def __init__(self, size: int) -> None:
        self.size = size
        self.bands = [[_LITTLE] * size, [0.0] * size, [0.0] * size]

    def add(self, weights: Weights) -> None:
        """Add the products of weights in the order of their places."""
        for first, (row, weight) in enumerate(weights):
            for column, other in weights[first:]:
                self.bands[column - row][row] += weight * other

    def factor(self) -> None:
        """Take it apart; `one` and `two` are the bands of L under its diagonal of ones."""
        self.pivots, self.one, self.two = [0.0] * self.size, [0.0] * (self.size + 2), [0.0] * (self.size + 2)
        for i in range(self.size):
            before, far = self.pivots[i - 1] if i > 0 else 0.0, self.pivots[i - 2] if i > 1 else 0.0
            pivot = self.bands[0][i] - self.one[i] ** 2 * before - self.two[i] ** 2 * far
            self.pivots[i] = pivot
            self.one[i + 1] = (self.bands[1][i] - self.two[i + 1] * self.one[i] * before) / pivot
            self.two[i + 2] = self.bands[2][i] / pivot

    def solve(self, rights: Sequence[float]) -> list[float]:
        """What the matrix times gives the right sides."""
        x = list(rights)
        for i in range(self.size):
            x[i] -= self.one[i] * x[i - 1] if i > 0 else 0.0
            x[i] -= self.two[i] * x[i - 2] if i > 1 else 0.0
        x = [value / pivot for value, pivot in zip(x, self.pivots, strict=True)]
        x += [0.0, 0.0]
        for i in reversed(range(self.size)):
            x[i] -= self.one[i + 1] * x[i + 1] + self.two[i + 2] * x[i + 2]
        return x[: self.size]

    def spread(self, signs: Sequence[float]) -> float:
        """Variance of a sum of vertices with signs under a noise of 1, by the inverse's bands (Takahashi)."""
        signs = [*signs, 0.0, 0.0]
        total = here = beside = after = 0.0
        for i in reversed(range(self.size)):
            one, two = self.one[i + 1], self.two[i + 2]
            first, second = -one * here - two * beside, -one * beside - two * after
            here, after, beside = 1.0 / self.pivots[i] - one * first - two * second, here, first
            total += signs[i] * (signs[i] * here + 2.0 * (signs[i + 1] * first + signs[i + 2] * second))
        return max(total, 0.0)
