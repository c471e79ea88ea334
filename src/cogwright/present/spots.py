"""Places in a line that stand for something, so that whoever points at one need not read the text back."""

from collections.abc import Sequence
from typing import Any, NamedTuple

from cogwright.present.lines import Line


class Spot(NamedTuple):
    """Cells of a line from `start` up to `end`, that one not included, and what they stand for."""

    start: int
    end: int
    means: Any


class SpotLine(NamedTuple):
    """A line with its spots."""

    line: Line
    spots: tuple[Spot, ...] = ()


def meant_at(spots: Sequence[Spot], cell: int) -> Any:
    """What stands at a cell; None beside the spots.

    >>> meant_at([Spot(1, 3, "a"), Spot(3, 5, "b")], 3), meant_at([Spot(1, 3, "a")], 0)
    ('b', None)
    """
    return next((spot.means for spot in spots if spot.start <= cell < spot.end), None)
