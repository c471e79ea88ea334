"""How the gears are drawn: each choice has a few ways, and a key goes from one to the next."""

from enum import StrEnum
from typing import Final, NamedTuple, Self


class Choice(StrEnum):
    """One of a few ways; the value is its name in the settings file, `words` what is said of it."""

    words: str

    def __new__(cls, value: str, words: str = "") -> Self:
        """A way with its words."""
        made = str.__new__(cls, value)
        made._value_, made.words = value, words
        return made

    def next(self) -> Self:
        """The way after this one; after the last comes the first."""
        ways = list(type(self))
        return ways[(ways.index(self) + 1) % len(ways)]


class ChartKind(Choice):
    """Bars from the left, or each gear's own step."""

    BARS = "bars", "bars"
    LADDER = "ladder", "a ladder, each row one step, its part over the limit heavy"


class ScaleKind(Choice):
    """The scale of the bars."""

    LOG = "log", "logarithmic, equal steps are equally long"
    LINEAR = "linear", "linear, twice as far is twice as long"


class BaseMode(Choice):
    """How the baseline is shown."""

    ROW = "row", "in the row of the gear that stands there now"
    LOST = "lost", "what is lost"
    BOTH = "both", "both in full"
    BENCH = "bench", "bench alone"


class RowOrder(Choice):
    """The order of the rows."""

    SIZE = "size", "by size"
    RING = "ring", "ring by ring"


class AxisUnit(Choice):
    """The unit of the axis."""

    METRES = "m", "metres per turn of the cranks"
    SPEED = "km/h", "km/h at the preferred cadence"


class ChartStyle(NamedTuple):
    """The ways chosen."""

    drawing: ChartKind = ChartKind.BARS
    scale: ScaleKind = ScaleKind.LOG
    baseline: BaseMode = BaseMode.ROW
    rows: RowOrder = RowOrder.SIZE
    axis: AxisUnit = AxisUnit.METRES

    def turned(self, field: str) -> Self:
        """The next way of one choice."""
        return self._replace(**{field: getattr(self, field).next()})

    @property
    def log(self) -> bool:
        """Whether the scale is logarithmic; a ladder's always is."""
        return self.scale is ScaleKind.LOG or self.drawing is ChartKind.LADDER


class NeededDevelopment(NamedTuple):
    """A development in m that is needed, and what for: drawn as a line."""

    development_m: float
    words: str


def step_words(limit_pct: float) -> tuple[str, str]:
    """What the mark of a wide step means, and that of a jump, wherever a chart has a legend.

    >>> step_words(15.0)
    ('wide: over 15 %', 'jump: wide, and out of keeping with the steps around')
    """
    return f"wide: over {limit_pct:g} %", "jump: wide, and out of keeping with the steps around"


#: As it is drawn for who has chosen nothing.
STANDARD: Final = ChartStyle()
