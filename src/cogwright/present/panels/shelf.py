"""The shelf: one line a setup with a bar of its range, all on one scale with values, against the baseline."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final, Self

from cogwright.core.common.errors import Problem
from cogwright.core.common.safe_text import cells, pad
from cogwright.core.common.units import percent
from cogwright.core.gears.gears import wheel_of
from cogwright.core.setup.model import Setup
from cogwright.present.axis import Axis
from cogwright.present.lines import Line, Look, Role, Span, clip, line
from cogwright.present.scale import Scale

#: From this width the lines have figures too; cells of each of the four.
_FIGURES, _FIGURE = 64, 6
#: A bar has so many cells at the least, or there is none, and so many at the most.
_LEAST, _MOST = 8, 72
ON_BENCH, IS_BASELINE = "on bench", "baseline"
_HEADS: Final = ("low", "high", "low%", "high%")


@dataclass(frozen=True, slots=True)
class GearEnds:
    """Lowest and highest development of a setup, m."""

    low: float
    high: float


def ends_of(setup: Setup) -> GearEnds:
    """The ends alone, without working out every gear: a shelf may hold a thousand setups."""
    wheel, hubs = wheel_of(setup).m, setup.rear.hub_ratios
    low = setup.crank.rings[0] / setup.rear.cogs[-1] * min(hubs) * wheel
    high = setup.crank.rings[-1] / setup.rear.cogs[0] * max(hubs) * wheel
    return GearEnds(low, high)


@dataclass(frozen=True, slots=True)
class Shelf:
    """What all lines share: a scale that holds all setups, and the cells of the longest name."""

    scale: Scale
    names: int

    @classmethod
    def of(cls, setups: Sequence[Setup]) -> Self:
        """Of these setups; of none, any."""
        ends = [ends_of(setup) for setup in setups] or [GearEnds(1.0, 10.0)]
        scale = Scale.over([each for end in ends for each in (end.low, end.high)], 1)
        return cls(scale, max((cells(setup.name) for setup in setups), default=_LEAST))

    def room(self, look: Look) -> tuple[int, int]:
        """Cells of the names, which stand whole, and of the bars, which give way first."""
        left = look.width - (4 * _FIGURE if look.width >= _FIGURES else 0)
        name = min(max(self.names, _LEAST), left)
        bar = left - name - 2
        return name, min(bar, _MOST) if bar >= _LEAST else 0

    def axis(self, baseline: Setup | None, look: Look) -> Axis | None:
        """The scale with rails at the baseline's ends, or None where there is no room for bars."""
        bar = self.room(look)[1]
        if not bar:
            return None
        ends = ends_of(baseline) if baseline else None
        held = [m for m in (ends.low, ends.high) if self.scale.low <= m <= self.scale.high] if ends else []
        return Axis.on(self.scale.of_cells(bar), look.glyphs, held)


def shelf_head(shelf: Shelf, look: Look) -> Line:
    """What stands in the columns, with the units, and the values of the scale."""
    axis, name = shelf.axis(None, look), shelf.room(look)[0]
    figures = "".join(head.rjust(_FIGURE) for head in _HEADS) if look.width >= _FIGURES else ""
    bar = line(" ", axis.head, " ") if axis else ()
    return line(Span(pad("setup, low and high in m", name), Role.HEAD), bar, Span(figures, Role.HEAD))


def setup_line(setup: Setup, shelf: Shelf, baseline: Setup | None, look: Look, place: str = "") -> Line:
    """Name, range, ends in m, and what is lost or gained against the baseline, or the setup's `place`."""
    axis, name = shelf.axis(baseline, look), shelf.room(look)[0]
    ends = ends_of(setup)
    base = ends_of(baseline) if baseline else None
    bar = line(" ", axis.under(axis.bar(ends.low, ends.high, _role(place))), " ") if axis else ()
    said = line(Span(pad(setup.name, name), Role.TITLE if place else Role.TEXT), bar)
    if look.width < _FIGURES:
        return said
    figures = f"{ends.low:{_FIGURE}.2f}{ends.high:{_FIGURE}.2f}"
    return line(said, figures, *(_at(place) if place else _against(ends, base)))


def _role(place: str) -> Role:
    return Role.BASE if place == IS_BASELINE else Role.BENCH


def _at(place: str) -> list[Span]:
    """Where the setup is at work: there is nothing to compare then."""
    return [Span(place.rjust(2 * _FIGURE), Role.BASE if place == IS_BASELINE else Role.KEY)]


def _against(ends: GearEnds, base: GearEnds | None) -> list[Span]:
    if base is None:
        return [Span(" " * 2 * _FIGURE)]
    low, high = percent(ends.low / base.low), percent(ends.high / base.high)
    return [_change(low, low > 0), _change(high, high < 0)]


def _change(change_pct: float, lost: bool) -> Span:
    if abs(change_pct) < 0.05:
        return Span("same".rjust(_FIGURE), Role.DIM)
    return Span(f"{change_pct:+{_FIGURE}.0f}", Role.LOST if lost else Role.GAINED)


def bad_line(name: str, problems: Sequence[Problem], look: Look) -> Line:
    """A file that cannot be read: its name, the first thing wrong with it, and how many more there are."""
    first = problems[0]
    place = f"line {first.line}: " if first.line is not None else ""
    key = f"{first.key}: " if first.key else ""
    more = f" (and {len(problems) - 1} more)" if len(problems) > 1 else ""
    cells = min(28, look.width // 3)
    text = clip((Span(f"! {place}{key}{first.what}", Role.PROBLEM),), look.width - cells - 1 - len(more))
    return line(pad(name, cells) + " ", text, Span(more, Role.PROBLEM))
