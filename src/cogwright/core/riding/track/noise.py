"""How noisy recorded heights are, found from the heights themselves."""

import math
from collections.abc import Sequence
from itertools import groupby
from statistics import fmean, median
from typing import Final

from cogwright.core.riding.track.moments import Point

#: Four points farther apart than this in all tell more of the road than of the noise, m.
_REACH_M: Final = 200.0
#: Fewer such fours than this tell nothing.
_FEWEST: Final = 8
#: Heights averaged over cells of these lengths in m tell whether the noise is slower than the points.
_CELLS_M: Final = (10.0, 20.0)
#: The median of the size of normal errors over their standard deviation.
_MEDIAN: Final = 0.67449


def noise_of(points: Sequence[Point]) -> float | None:
    """Standard deviation in m of the noise of heights at rising distances; None where too far apart.

    The noise of each point by itself; or, where that is more, what the means of cells keep of it: noise that
    is alike in neighbouring points does not average out as fast, and counts as so much more.
    """
    found = _of_fours(points)
    if found is None:
        return None
    return max([found, *(_slow(points, size) for size in _CELLS_M)])


def _slow(points: Sequence[Point], size_m: float) -> float:
    cells = cell_means(points, size_m)
    return (_of_fours(cells) or 0.0) * math.sqrt(len(points) / len(cells))


def cell_means(points: Sequence[Point], size_m: float) -> list[Point]:
    """Points averaged within cells of a length in m.

    >>> cell_means([(0.0, 1.0), (4.0, 3.0), (12.0, 5.0)], 10.0)
    [(2.0, 2.0), (12.0, 5.0)]
    """
    cells = (list(cell) for _, cell in groupby(points, key=lambda point: int(point[0] / size_m)))
    return [(fmean(x for x, _ in cell), fmean(h for _, h in cell)) for cell in cells]


def _of_fours(points: Sequence[Point]) -> float | None:
    """By how much the third of each four points misses the parabola through the others, the median of all.

    A road whose grade changes evenly leaves nothing; kinks are too few to move the median.
    """
    misses = [
        _miss(*four)
        for four in zip(points, points[1:], points[2:], points[3:], strict=False)
        if four[3][0] - four[0][0] <= _REACH_M
    ]
    return median(misses) / _MEDIAN if len(misses) >= _FEWEST else None


def _miss(a: Point, b: Point, c: Point, d: Point) -> float:
    """Size of the miss, scaled so that it has the standard deviation of one height's noise (Lagrange)."""
    (xa, ha), (xb, hb), (x, h), (xd, hd) = a, b, c, d
    wa = (x - xb) * (x - xd) / ((xa - xb) * (xa - xd))
    wb = (x - xa) * (x - xd) / ((xb - xa) * (xb - xd))
    wd = (x - xa) * (x - xb) / ((xd - xa) * (xd - xb))
    return abs(h - wa * ha - wb * hb - wd * hd) / math.sqrt(1.0 + wa * wa + wb * wb + wd * wd)
