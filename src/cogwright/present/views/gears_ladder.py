"""The ladder: each row draws its own step alone, from the next easier gear on the ring to this one."""

import math
from collections.abc import Sequence
from typing import Final

from cogwright.core.gears.steps import RearStep
from cogwright.core.study import Study
from cogwright.present.axis import Axis, joined
from cogwright.present.lines import Glyphs, Line, Role, Span
from cogwright.present.scale import Scale
from cogwright.present.views.gears_rows import ChartRow

#: What a half of a cell holds.
_NONE, _STEP, _OVER = 0, 1, 2


def rung(entry: ChartRow, axis: Axis, role: Role) -> Line:
    """The row's step, or its place alone where it ends none; and the old place of a gear that has moved."""
    step = entry.row.rear_step if entry.row else None
    cells = _step_cells(step, axis, role) if step else _place_cells(entry, axis, role)
    if entry.moved and entry.before is not None:
        at = axis.scale.cell(entry.before.gear.development_m)
        place = _free(cells, at, further=entry.before.gear.development_m > entry.gear.development_m)
        cells[place] = Span(axis.glyphs.rail, Role.BEFORE)
    return axis.under(joined(cells))


def _free(cells: Sequence[Span], at: int, further: bool) -> int:
    """The cell for the mark of an old place: that itself, or the next blank one where the step would hide it.

    A mark of a gear that was easier stands in a long step, as a cut.
    """
    drawn = [i for i, cell in enumerate(cells) if cell.text != " "]
    if at not in drawn or (not further and len(drawn) > 1 and at < drawn[-1]):
        return at
    beside = [drawn[-1] + 1, drawn[0] - 1] if further else [drawn[0] - 1, drawn[-1] + 1]
    return next(i for i in beside if 0 <= i < len(cells))


def _step_cells(step: RearStep, axis: Axis, role: Role) -> list[Span]:
    """A step, heavy from where it is over the limit."""
    scale = axis.scale
    ends = [_halves(scale, gear.development_m) for gear in (step.easier, step.harder)]
    start, end = ends[0], max(ends[1], ends[0] + 1)
    over = end
    if step.jump:
        limit = step.easier.development_m * (1.0 + step.limit_pct / 100.0)
        over = max(min(_halves(scale, limit), end - 1), start)
    halves = [_NONE] * (2 * scale.cells)
    halves[start:end] = [_STEP] * (over - start) + [_OVER] * (end - over)
    heavy = Role.OVER if step.stands_out else role
    pairs = zip(halves[::2], halves[1::2], strict=True)
    return [_cell(pair, axis.glyphs, role, heavy) for pair in pairs]


def _place_cells(entry: ChartRow, axis: Axis, role: Role) -> list[Span]:
    """The gear's place: the half of a cell in which it ends."""
    at = max(_halves(axis.scale, entry.gear.development_m) - 1, 0)
    cells = [Span(" ")] * axis.scale.cells
    cells[at // 2] = Span(axis.glyphs.step_right if at % 2 else axis.glyphs.step_left, role)
    return cells


def _halves(scale: Scale, development_m: float) -> int:
    return round(2.0 * scale.at(development_m))


def _cell(pair: tuple[int, int], glyphs: Glyphs, role: Role, heavy: Role) -> Span:
    """What draws the two halves of a cell."""
    drawn: Final = {
        (_NONE, _NONE): Span(" "),
        (_STEP, _STEP): Span(glyphs.step, role),
        (_STEP, _NONE): Span(glyphs.step_left, role),
        (_NONE, _STEP): Span(glyphs.step_right, role),
        (_STEP, _OVER): Span(glyphs.step_over, heavy),
        (_OVER, _OVER): Span(glyphs.over, heavy),
        (_OVER, _NONE): Span(glyphs.over_left, heavy),
        (_NONE, _OVER): Span(glyphs.over_right, heavy),
    }
    return drawn[pair]


def lost_stretch(entry: ChartRow, study: Study, axis: Axis) -> Line:
    """What is lost beyond the bench's nearest end, shaded; a cell at least."""
    low, high = study.gears[0].development_m, study.gears[-1].development_m
    gone = entry.gear.development_m
    start, end = sorted(axis.scale.at(m) for m in (gone, low if gone < low else high))
    first = min(math.floor(start + 0.5), axis.scale.cells - 1)
    size = max(math.floor(end + 0.5) - first, 1)
    return axis.under(joined([*[Span(" ")] * first, *[Span(axis.glyphs.lost_bar, Role.LOST)] * size]))


def old_gears(study: Study, axis: Axis) -> Line:
    """A row of the baseline's gears: each an upright at its place."""
    cells = [Span(" ")] * axis.scale.cells
    for gear in study.base_gears:
        cells[axis.scale.cell(gear.development_m)] = Span(axis.glyphs.rail, Role.BASE)
    return joined(cells)
