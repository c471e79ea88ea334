"""Bars: a thick one for the gear as it is now, a thin one below it for what stood there before."""

from cogwright.core.study import Study
from cogwright.present.lines import Role
from cogwright.present.picture.elements import Box, Drawing
from cogwright.present.picture.places import BAR_HIGH, BAR_TOP, OLD_HIGH, OLD_TOP, ROW
from cogwright.present.scale import Scale
from cogwright.present.views.gears_chart import bar_role
from cogwright.present.views.gears_rows import ChartRow


def draw_bar(drawing: Drawing, entry: ChartRow, study: Study, scale: Scale, room: Box) -> None:
    """The bar of a row, in parts of its room's height; hatched, if it is one of a gear that is gone."""
    part = room.height / ROW
    length = scale.at(entry.gear.development_m)
    box = Box(room.x, room.y + BAR_TOP * part, length, BAR_HIGH * part)
    role = bar_role(entry, study)
    if entry.kind in {"lost", "hole"}:
        drawing.hatched(box, role)
    else:
        drawing.rect(box, role)
    if entry.before is not None:
        before = scale.at(entry.before.gear.development_m)
        drawing.rect(Box(room.x, room.y + OLD_TOP * part, before, OLD_HIGH * part), Role.BEFORE)
