"""Where what stands in the drawing of a chart, in its own units (those of a screen's dots)."""

from dataclasses import dataclass
from typing import Final

WIDTH: Final = 940.0
MARGIN: Final = 24.0
#: Base line of the title; the axis below the titles; a row; the lines of the key below the rows.
TOP, AXIS, ROW, KEY = 38.0, 14.0, 24.0, 22.0
#: From the left: the bars, and the right ends of the figures; notes begin behind the last of them.
BARS: Final = 104.0
BARS_END: Final = 560.0
METRES, STEP, WAS, SPEED, NOTES = 612.0, 668.0, 748.0, 800.0, 812.0
#: A bar within its row, and the thinner one of what stood there before.
BAR_TOP, BAR_HIGH = 3.0, 12.0
OLD_TOP, OLD_HIGH = 16.0, 5.0
_TITLES: Final = 72.0


@dataclass(frozen=True, slots=True)
class RowCounts:
    """So many rows, with `old` one of the old gears over them."""

    count: int
    old: bool = False

    @property
    def axis(self) -> float:
        """The upper side of the axis."""
        return TOP + _TITLES - AXIS

    def top(self, at: int) -> float:
        """The upper side of a row; that of the old gears is row -1."""
        return self.axis + ROW * (1 + self.old + at)

    @property
    def bottom(self) -> float:
        """Where the rows end."""
        return self.top(self.count)

    @property
    def height(self) -> float:
        """The whole drawing."""
        return self.bottom + 3 * KEY + MARGIN / 2
