"""The straight line through points of distance and height, and how well it fits; added up point by point."""

import math
from collections.abc import Iterable
from typing import NamedTuple, Self

Point = tuple[float, float]


class Moments(NamedTuple):
    """Number of points, their mean distance and height in m, and sums of squares and products about these.

    Kept about the means, and put together as such (Chan, Golub and LeVeque 1983), they stay exact however far
    from the start the points are.
    """

    number: int
    x: float
    h: float
    xx: float = 0.0
    xh: float = 0.0
    hh: float = 0.0

    @classmethod
    def of(cls, points: Iterable[Point]) -> Self:
        """The moments of one point or more."""
        each = (cls(1, x, h) for x, h in points)
        total = next(each)
        for one in each:
            total = total.with_(one)
        return total

    def with_(self, other: "Moments") -> Self:
        """The moments of both sets of points together.

        >>> Moments.of([(0.0, 1.0), (10.0, 2.0)]).with_(Moments(1, 20.0, 3.0)).grade
        0.1
        """
        count = self.number + other.number
        dx, dh, share = other.x - self.x, other.h - self.h, other.number / count
        cross = self.number * share
        return type(self)(
            count,
            self.x + dx * share,
            self.h + dh * share,
            self.xx + other.xx + cross * dx * dx,
            self.xh + other.xh + cross * dx * dh,
            self.hh + other.hh + cross * dh * dh,
        )

    def without(self, point: Point) -> Self:
        """The moments without one of the points, of two or more."""
        count = self.number - 1
        x = self.x - (point[0] - self.x) / count
        h = self.h - (point[1] - self.h) / count
        cross, dx, dh = count / self.number, point[0] - x, point[1] - h
        return type(self)(
            count,
            x,
            h,
            self.xx - cross * dx * dx,
            self.xh - cross * dx * dh,
            self.hh - cross * dh * dh,
        )

    @property
    def misfit(self) -> float:
        """Sum of the squared distances from the best line, m^2."""
        return max(self.hh - self.xh * self.xh / self.xx, 0.0) if self.xx > 0.0 else 0.0

    @property
    def grade(self) -> float:
        """Rise over run of the best line; 0 for a single point."""
        return self.xh / self.xx if self.xx > 0.0 else 0.0

    def grade_error(self, noise_m: float) -> float:
        """Standard error of that grade under a noise of the heights in m."""
        return noise_m / math.sqrt(self.xx) if self.xx > 0.0 else math.inf
