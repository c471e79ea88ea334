"""The ladder: each row its own step, the part over the limit heavy; the old gears over it; what is lost."""

from cogwright.core.gears.steps import RearStep
from cogwright.core.study import Study
from cogwright.present.lines import Role
from cogwright.present.picture.elements import Box, Drawing
from cogwright.present.picture.places import BAR_HIGH, BAR_TOP, BARS, MARGIN, ROW, RowCounts
from cogwright.present.scale import Scale
from cogwright.present.views.gears_chart import bar_role
from cogwright.present.views.gears_rows import ChartRow

#: Height of a step up to the limit; over it the row's bar is as high as any. Width of the mark of a place.
_LIGHT, _MARK = 5.0, 3.0


def draw_rung(drawing: Drawing, entry: ChartRow, study: Study, scale: Scale, top: float) -> None:
    """The row's step, or its place where it ends none; the old place of a gear that has moved."""
    if entry.kind == "lost":
        _draw_lost(drawing, entry, study, scale, top)
        return
    x, role = BARS + scale.at(entry.gear.development_m), bar_role(entry, study)
    step = entry.row.rear_step if entry.row else None
    if step is not None:
        _draw_step(drawing, step, scale, top, role)
    drawing.rect(Box(x - _MARK, top + BAR_TOP, _MARK, BAR_HIGH), role)
    if entry.moved and entry.before is not None:
        old = BARS + scale.at(entry.before.gear.development_m)
        drawing.line((old, top + 1), (old, top + ROW - 2), Role.BEFORE)


def _draw_step(drawing: Drawing, step: RearStep, scale: Scale, top: float, role: Role) -> None:
    start, end = (scale.at(gear.development_m) for gear in (step.easier, step.harder))
    limit = min(scale.at(step.easier.development_m * (1.0 + step.limit_pct / 100.0)), end)
    low = top + BAR_TOP + BAR_HIGH
    drawing.rect(Box(BARS + start, low - _LIGHT, limit - start, _LIGHT), role)
    if step.jump:
        heavy = Role.OVER if step.stands_out else role
        drawing.rect(Box(BARS + limit, low - BAR_HIGH, end - limit, BAR_HIGH), heavy)


def _draw_lost(drawing: Drawing, entry: ChartRow, study: Study, scale: Scale, top: float) -> None:
    """From the bench's nearest end to the gear that is lost."""
    low, high = study.gears[0].development_m, study.gears[-1].development_m
    gone = entry.gear.development_m
    start, end = sorted(scale.at(m) for m in (gone, low if gone < low else high))
    drawing.hatched(Box(BARS + start, top + BAR_TOP, end - start, BAR_HIGH), Role.LOST)


def draw_old_gears(drawing: Drawing, study: Study, scale: Scale, rows: RowCounts) -> None:
    """A row of uprights, one a gear of the baseline."""
    top = rows.top(-1)
    drawing.text((MARGIN, top + BAR_TOP + BAR_HIGH), "before", Role.BASE)
    for gear in study.base_gears:
        x = BARS + scale.at(gear.development_m)
        drawing.rect(Box(x - 1, top + BAR_TOP, 2, BAR_HIGH), Role.BASE)
