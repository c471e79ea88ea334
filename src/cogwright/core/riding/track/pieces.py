"""Which points of a track lie on one piece of constant grade: as few pieces as the noise allows.

Every point begins as a piece of its own; the two neighbours are joined whose common line misses least more
than their own two did, until that is more than noise would do; then pieces are joined that are too short, or
too noisy for a grade of their own; then the joints are moved, point by point, to where they miss least.
"""

import math
from collections.abc import Iterator, Sequence
from heapq import heapify, heappop, heappush
from typing import Final

from cogwright.core.riding.track.moments import Moments, Point

#: Joining is stopped at this many times the noise squared, over the logarithm of the number of points.
_WORSE: Final = 2.0
#: A piece has this length at least, between the joints, m: a ramp of 40 m between points 10 m apart stays.
_SHORTEST_M: Final = 28.0
#: A piece's grade is known at least as well as this (standard error).
_VAGUEST: Final = 0.03


def pieces_of(points: Sequence[Point], noise_m: float) -> list[tuple[int, int]]:
    """First and last point of each piece, in order; distances must rise, the noise be above 0."""
    found = _Pieces(points, noise_m)
    found.join_alike()
    found.join_vague()
    return _moved_joints(points, list(found.ends()))


class _Pieces:
    """Pieces as a chain: each is known by its first point; `after` and `before` are its neighbours'."""

    def __init__(self, points: Sequence[Point], noise_m: float) -> None:
        count = len(points)
        self.points, self.noise = points, noise_m
        self.moments = [Moments(1, x, h) for x, h in points]
        self.last = list(range(count))
        self.after = [*range(1, count), -1]
        self.before = list(range(-1, count - 1))
        self.version = [0] * count

    def ends(self) -> Iterator[tuple[int, int]]:
        """First and last point of each piece."""
        at = 0
        while at >= 0:
            yield at, self.last[at]
            at = self.after[at]

    def cost(self, at: int) -> float:
        """By how much more one line misses than two, for a piece and the next one; endless at the end."""
        following = self.after[at]
        if following < 0:
            return math.inf
        one, other = self.moments[at], self.moments[following]
        more: float = one.with_(other).misfit - one.misfit - other.misfit
        return more

    def join(self, at: int) -> None:
        """Make a piece and the next one the same."""
        following = self.after[at]
        self.moments[at] = self.moments[at].with_(self.moments[following])
        self.last[at], self.after[at] = self.last[following], self.after[following]
        if self.after[at] >= 0:
            self.before[self.after[at]] = at
        self.version[at] += 1
        self.version[following] = -1

    def join_alike(self) -> None:
        """Join what one line fits as well as two."""
        most = _WORSE * math.log(len(self.points)) * self.noise**2
        waiting = [(self.cost(at), at, 0, 0) for at in range(len(self.points) - 1)]
        heapify(waiting)
        while waiting and waiting[0][0] < most:
            _, at, *versions = heappop(waiting)
            if versions != [self.version[at], self.version[self.after[at]]] or self.after[at] < 0:
                continue
            self.join(at)
            for near in (at, self.before[at]):
                if near >= 0 and self.after[near] >= 0:
                    stamp = (self.version[near], self.version[self.after[near]])
                    heappush(waiting, (self.cost(near), near, *stamp))

    def join_vague(self) -> None:
        """Join what is too short or too vague, the worst first, to the neighbour that it fits better."""
        waiting = [(-self.vague(at), at, self.version[at]) for at, _ in self.ends()]
        heapify(waiting)
        while waiting:
            vague, at, version = heappop(waiting)
            if version != self.version[at]:
                continue
            if -vague <= 1.0 or (self.after[at] < 0 and self.before[at] < 0):
                break
            before = self.before[at]
            to = before if before >= 0 and self.cost(before) <= self.cost(at) else at
            self.join(to)
            heappush(waiting, (-self.vague(to), to, self.version[to]))

    def vague(self, at: int) -> float:
        """How much shorter or vaguer a piece is than it may be, as a ratio: over 1 it is."""
        error = self.moments[at].grade_error(self.noise)
        return max(_SHORTEST_M / max(self.length(at), 1e-3), error / _VAGUEST)

    def length(self, at: int) -> float:
        """Length in m between the middles of the gaps on both sides."""
        first, last = at, self.last[at]
        start = (self.points[first][0] + self.points[max(first - 1, 0)][0]) / 2.0
        end = (self.points[last][0] + self.points[min(last + 1, len(self.points) - 1)][0]) / 2.0
        return end - start


def _moved_joints(points: Sequence[Point], ends: list[tuple[int, int]]) -> list[tuple[int, int]]:
    """The pieces with each joint where both sides miss least together, from left to right, twice."""
    moments = [Moments.of(points[first : last + 1]) for first, last in ends]
    for _ in range(2):
        for left in range(len(ends) - 1):
            while move := _better(points, ends, moments, left):
                by, one, other = move
                moments[left], moments[left + 1] = one, other
                ends[left] = (ends[left][0], ends[left][1] + by)
                ends[left + 1] = (ends[left + 1][0] + by, ends[left + 1][1])
    return ends


def _better(
    points: Sequence[Point], ends: Sequence[tuple[int, int]], moments: Sequence[Moments], left: int
) -> tuple[int, Moments, Moments] | None:
    """A step of the joint after a piece, left or right, that makes both sides miss less, if there is one."""
    one, other = moments[left], moments[left + 1]
    tried = []
    if one.number > 2:
        point = points[ends[left][1]]
        tried.append((-1, one.without(point), other.with_(Moments(1, *point))))
    if other.number > 2:
        point = points[ends[left + 1][0]]
        tried.append((1, one.with_(Moments(1, *point)), other.without(point)))
    least = one.misfit + other.misfit - 1e-9
    better = [move for move in tried if move[1].misfit + move[2].misfit < least]
    return min(better, key=lambda move: move[1].misfit + move[2].misfit, default=None)
