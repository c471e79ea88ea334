"""The figures behind the bars of a drawing: development, step, the old step, speed, and what is said."""

from cogwright.core.gears.gears import Gear, speed_kmh
from cogwright.core.study import Study
from cogwright.present.lines import Role
from cogwright.present.picture.elements import Drawing
from cogwright.present.picture.places import (
    BAR_HIGH,
    BAR_TOP,
    MARGIN,
    METRES,
    NOTES,
    SPEED,
    STEP,
    WAS,
    RowCounts,
)
from cogwright.present.views.gears_chart import ROLES, several_clicks
from cogwright.present.views.gears_figures import notes_of
from cogwright.present.views.gears_rows import ChartRow

#: Half of the width of a mark beside a step, and how far two of them are apart.
_MARK, _APART = 4.0, 10.0


def draw_heads(drawing: Drawing, study: Study, rows: RowCounts) -> None:
    """What stands in the columns, with the units."""
    y = rows.axis + 10
    step = "same ring %" if several_clicks(study) else "step %"
    speed = f"km/h at {study.bench.rider.cadence_rpm[1]:g} rpm"
    for x, words in ((METRES, "m"), (SPEED, speed)):
        drawing.text((x, y), words, Role.HEAD, anchor="end", size=12)
    drawing.text((METRES + 14, y), step, Role.HEAD, size=12)
    drawing.text((NOTES, y), f"limit {study.bench.limits.jump_pct:g} %", Role.HEAD, size=12)


def draw_row_figures(drawing: Drawing, entry: ChartRow, study: Study, top: float) -> None:
    """The gear's name before its bar, its figures and notes behind."""
    y, role = top + BAR_TOP + BAR_HIGH - 1, ROLES[entry.kind]
    drawing.text((MARGIN, y), gear_name(entry.gear), role)
    drawing.text((METRES, y), f"{entry.gear.development_m:.2f}", role, anchor="end")
    _draw_step(drawing, entry, y)
    if entry.was_pct is not None:
        drawing.text((WAS, y), f"was {entry.was_pct:.1f}", Role.BEFORE, anchor="end")
    speed = speed_kmh(entry.gear.development_m, study.bench.rider.cadence_rpm[1])
    drawing.text((SPEED, y), f"{speed:.1f}", role, anchor="end")
    said = notes_of(entry)[:1]
    for ways, meaning in said:
        drawing.text((NOTES, y), ways[0].replace("x", "\u00d7"), meaning, size=12)


def _draw_step(drawing: Drawing, entry: ChartRow, y: float) -> None:
    """The step, and beside it a triangle where it is wide, two filled ones where it is a jump."""
    step = entry.row.rear_step if entry.row else None
    if step is None:
        return
    role = Role.TEXT if not step.jump else Role.JUMP if step.stands_out else Role.WIDE
    drawing.text((STEP, y), f"{step.step_pct:+.1f}", role, anchor="end", bold=step.stands_out)
    for i in range(step.jump + step.stands_out):
        x = STEP + 4 + _MARK + _APART * i
        drawing.polygon(((x - _MARK, y), (x + _MARK, y), (x, y - 2 * _MARK)), role, filled=step.stands_out)


def gear_name(gear: Gear) -> str:
    """The gear as it is written where any character can be."""
    return gear.label.replace("x", "\u00d7")
