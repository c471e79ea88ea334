"""The shelf: one line a setup with a strip of its range, all on one scale, against the baseline."""

import math
from collections.abc import Sequence
from dataclasses import dataclass

from cogwright.core.common.errors import Problem
from cogwright.core.common.safe_text import pad
from cogwright.core.common.units import percent
from cogwright.core.gears.gears import wheel_of
from cogwright.core.setup.model import Setup
from cogwright.present.lines import Line, Look, Role, Span, clip, line

#: From this width the lines have figures too.
_FIGURES = 64


@dataclass(frozen=True, slots=True)
class Ends:
    """Lowest and highest development of a setup, m."""

    low: float
    high: float


def ends_of(setup: Setup) -> Ends:
    """The ends alone, without working out every gear: a shelf may hold a thousand setups."""
    wheel, hubs = wheel_of(setup).m, setup.rear.hub_ratios
    low = setup.crank.rings[0] / setup.rear.cogs[-1] * min(hubs) * wheel
    high = setup.crank.rings[-1] / setup.rear.cogs[0] * max(hubs) * wheel
    return Ends(low, high)


@dataclass(frozen=True, slots=True)
class Scale:
    """The shelf's common scale, logarithmic: equal widths are equal ratios."""

    low: float
    high: float
    cells: int

    def cell(self, development_m: float) -> int:
        """The cell that a development falls into."""
        share = math.log(development_m / self.low) / max(math.log(self.high / self.low), 1e-9)
        return min(max(int(share * self.cells), 0), self.cells - 1)


def scale_of(setups: Sequence[Setup], cells: int) -> Scale:
    """A scale that holds all setups; of nothing, any."""
    ends = [ends_of(setup) for setup in setups] or [Ends(1.0, 10.0)]
    return Scale(min(e.low for e in ends), max(e.high for e in ends), max(cells, 4))


def strip_cells(look: Look) -> int:
    """Cells for the strip of the range in a line of the shelf."""
    return max(min(look.width - 62, 60), 8)


def _name_cells(scale: Scale, look: Look) -> int:
    """Cells for the name: what the strip and, where there is room for them, the figures leave."""
    return max(look.width - scale.cells - (29 if look.width >= _FIGURES else 2), 8)


def shelf_head(scale: Scale, look: Look) -> Line:
    """What stands in the columns, with the units."""
    figures = "  low m high m  low % high %" if look.width >= _FIGURES else ""
    name = pad("setup", _name_cells(scale, look))
    return (Span(f"{name} {pad('range', scale.cells)}{figures}"[: look.width], Role.HEAD),)


def setup_line(setup: Setup, scale: Scale, baseline: Setup | None, look: Look) -> Line:
    """Name, strip, ends in m, and what is lost or gained against the baseline."""
    ends = ends_of(setup)
    base = ends_of(baseline) if baseline else None
    name = pad(setup.name, _name_cells(scale, look)) + " "
    if look.width < _FIGURES:
        return line(name, *_strip(ends, base, scale, look))
    figures = f" {ends.low:6.2f} {ends.high:6.2f}"
    return line(name, *_strip(ends, base, scale, look), figures, *_against(ends, base))


def _strip(ends: Ends, base: Ends | None, scale: Scale, look: Look) -> list[Span]:
    first, last = scale.cell(ends.low), scale.cell(ends.high)
    cells = [look.glyphs.bar if first <= at <= last else " " for at in range(scale.cells)]
    roles = [Role.BENCH] * scale.cells
    for edge in (base.low, base.high) if base else ():
        if scale.low <= edge <= scale.high * 1.0001:
            cells[scale.cell(edge)], roles[scale.cell(edge)] = look.glyphs.mark, Role.BASE
    return [Span(char, role) for char, role in zip(cells, roles, strict=True)]


def _against(ends: Ends, base: Ends | None) -> list[Span]:
    if base is None:
        return []
    low, high = percent(ends.low / base.low), percent(ends.high / base.high)
    return [_change(low, low > 0), _change(high, high < 0)]


def _change(change_pct: float, lost: bool) -> Span:
    if abs(change_pct) < 0.05:
        return Span(f"{'same':>7}", Role.DIM)
    return Span(f"{change_pct:+7.0f}", Role.LOST if lost else Role.GAINED)


def bad_line(name: str, problems: Sequence[Problem], look: Look) -> Line:
    """A file that cannot be read: its name, the first thing wrong with it, and how many more there are."""
    first = problems[0]
    place = f"line {first.line}: " if first.line is not None else ""
    key = f"{first.key}: " if first.key else ""
    more = f" (and {len(problems) - 1} more)" if len(problems) > 1 else ""
    cells = min(28, look.width // 3)
    text = clip((Span(f"! {place}{key}{first.what}", Role.PROBLEM),), look.width - cells - 1 - len(more))
    return line(pad(name, cells) + " ", text, Span(more, Role.PROBLEM))
