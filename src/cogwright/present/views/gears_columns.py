"""The columns of the Gears view: which there is room for.

Bars never get narrower as the window gets wider.
"""

from collections.abc import Sequence
from typing import Final, NamedTuple

from cogwright.core.gears.gears import Gear
from cogwright.present.lines import Look

#: Cells of each column.
METRES, STEP, WAS, SPEED, BEFORE, INCHES, RATIO = 6, 8, 9, 8, 14, 8, 7
#: Cells of what is said beside a row: in brief, and in full.
_NOTE: Final = (7, 4, 3)
#: What a width is spent on, in this order; each column is taken whole, the bar as far as there is room.
_FIRST: Final = (
    ("bar", 8),
    ("metres", METRES),
    ("step", STEP),
    ("bar", 8),
    ("speed", SPEED),
    ("bar", 4),
    ("was", WAS),
    ("bar", 10),
    ("note", _NOTE[0]),
    ("note", _NOTE[1]),
)
#: Alone the bar waits for the width at which the panel stands beside it; beside the panel it grows on.
_ALONE: Final = (("note", _NOTE[2]), ("before", BEFORE), ("inches", INCHES), ("ratio", RATIO), ("bar", 9999))
_BESIDE: Final = (("bar", 14), ("note", _NOTE[2]), ("bar", 15), ("before", BEFORE), ("bar", 9999))
#: Labels are as wide as this at least, so that most bikes have their bars at one place.
_LABEL: Final = 5


class Columns(NamedTuple):
    """Cells of each column; none where there is no room for it."""

    label: int
    bar: int = 0
    metres: int = 0
    step: int = 0
    was: int = 0
    speed: int = 0
    before: int = 0
    inches: int = 0
    ratio: int = 0
    note: int = 0


def columns(gears: Sequence[Gear], look: Look) -> Columns:
    """The columns for these gears in the room there is; what matters least comes last."""
    label = max(_LABEL, *(len(gear.label) for gear in gears)) + 1
    left, cells = look.width - 1 - label, dict[str, int]()
    for name, wanted in (*_FIRST, *(_BESIDE if look.beside else _ALONE)):
        if name != "bar" and wanted > left:
            break
        taken = min(wanted, left)
        cells[name] = cells.get(name, 0) + taken
        left -= taken
    return Columns(label, **cells)
