"""The scale that developments are drawn on, linear or logarithmic, and the round values on its axis."""

import math
from collections.abc import Iterator, Sequence
from typing import Final, NamedTuple, Self

#: Ends of logarithmic scales: the preferred numbers R20 of ISO 3, which go up by 12 %. So a swap of a few
#: teeth moves bars and not the scale under them.
_R20: Final = (1.0, 1.12, 1.25, 1.4, 1.6, 1.8, 2.0, 2.24, 2.5, 2.8, 3.15, 3.55, 4.0, 4.5, 5.0, 5.6, 6.3, 7.1,
               8.0, 9.0)  # fmt: skip
#: A linear scale ends at a multiple of this, m.
_WHOLE_M: Final = 0.5
#: The ends leave so much room beside the outermost developments.
_MARGIN: Final = 1.03
#: Round values within a decade, the first to be shown first, each as long as there is room.
_ROUND: Final = ((1.0,), (2.0, 5.0), (3.0,), (4.0, 7.0), (1.5, 6.0), (8.0,), (2.5,), (1.2, 9.0), (3.5, 1.8))
_STEPS: Final = tuple(base * 10.0**power for power in range(-2, 4) for base in (1.0, 2.0, 5.0))


class Scale(NamedTuple):
    """From `low` to `high` (m, both above zero unless it is linear) in so many cells."""

    low: float
    high: float
    cells: int
    log: bool = True

    @classmethod
    def over(cls, developments: Sequence[float], cells: int, log: bool = True) -> Self:
        """A scale with round ends that holds all of these, m.

        >>> Scale.over([1.76, 8.42], 30), Scale.over([1.76, 8.42], 30, log=False).high
        (Scale(low=1.6, high=9.0, cells=30, log=True), 9.0)
        """
        low, high = min(developments) / _MARGIN, max(developments) * _MARGIN
        if log:
            return cls(_below(low), _above(high), cells)
        return cls(0.0, math.ceil(high / _WHOLE_M) * _WHOLE_M, cells, log=False)

    def at(self, development_m: float) -> float:
        """Where a development stands, in cells from the left end; held within the scale.

        >>> Scale(1.0, 4.0, 20).at(2.0), Scale(0.0, 4.0, 20, log=False).at(2.0)
        (10.0, 10.0)
        """
        if self.log:
            share = math.log(development_m / self.low) / max(math.log(self.high / self.low), 1e-9)
        else:
            share = (development_m - self.low) / (self.high - self.low)
        return min(max(share, 0.0), 1.0) * self.cells

    def cell(self, development_m: float) -> int:
        """The cell that a development falls into."""
        return min(int(self.at(development_m)), self.cells - 1)

    def of_cells(self, cells: int) -> Self:
        """The same, so many cells wide."""
        return type(self)(self.low, self.high, cells, self.log)


def _below(value: float) -> float:
    """The largest end of R20 that is not above a value."""
    return max(end for end in _ends(value) if end <= value)


def _above(value: float) -> float:
    """The smallest end of R20 that is not below a value."""
    return min(end for end in _ends(value) if end >= value)


def _ends(value: float) -> Iterator[float]:
    decade = math.floor(math.log10(value))
    return (round(base * 10.0**power, 9) for power in (decade, decade + 1) for base in _R20)


class Tick(NamedTuple):
    """A round value on the axis: the cell that it stands in, its text, and the development, m."""

    cell: int
    text: str
    development_m: float


def ticks(scale: Scale, per_m: float = 1.0) -> tuple[Tick, ...]:
    """Round values as far as their texts have room, in `per_m` units a metre.

    >>> [tick.text for tick in ticks(Scale(1.6, 9.0, 31))]
    ['2', '3', '4', '5', '6', '7', '8']
    >>> [tick.text for tick in ticks(Scale(0.0, 9.0, 16, log=False))]
    ['0', '2', '4', '6', '8']
    """
    groups = _round_values(scale, per_m) if scale.log else [_even_values(scale, per_m)]
    shown: list[Tick] = []
    for value in (value for group in groups for value in group):
        tick = Tick(scale.cell(value / per_m), f"{value:g}", value / per_m)
        if _has_room(tick, shown, scale.cells):
            shown.append(tick)
    return tuple(sorted(shown, key=lambda tick: tick.cell))


def _round_values(scale: Scale, per_m: float) -> list[list[float]]:
    """Groups of round values between the ends, the first to be shown first."""
    low, high = scale.low * per_m, scale.high * per_m
    decades = [10.0**power for power in range(math.floor(math.log10(low)), math.ceil(math.log10(high)) + 1)]
    groups = ([base * decade for decade in decades for base in bases] for bases in _ROUND)
    return [[value for value in group if low <= value <= high * (1 - 1e-9)] for group in groups]


def _even_values(scale: Scale, per_m: float) -> list[float]:
    """Multiples of a round step, so far apart that each has room."""
    high = scale.high * per_m
    for step in _STEPS:
        values = [round(step * i, 9) for i in range(math.floor(high * (1 - 1e-9) / step) + 1)]
        room = max(len(f"{value:g}") for value in values[-2:]) + 1
        if step / high * scale.cells >= room:
            return values
    return [0.0]


def _has_room(tick: Tick, shown: Sequence[Tick], cells: int) -> bool:
    """Whether its text fits before the end and leaves a blank beside its neighbours."""
    clear = all(
        tick.cell + len(tick.text) < other.cell or other.cell + len(other.text) < tick.cell for other in shown
    )
    return clear and tick.cell + len(tick.text) <= cells
