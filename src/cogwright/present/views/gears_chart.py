"""What all rows of one drawing of the gears share."""

from typing import Final, NamedTuple

from cogwright.core.study import Study
from cogwright.present.axis import Axis
from cogwright.present.chart_style import ChartKind, ChartStyle
from cogwright.present.lines import Look, Role
from cogwright.present.views.gears_columns import Columns
from cogwright.present.views.gears_rows import ChartRow, RowKind

#: How the words of a row look.
ROLES: Final[dict[RowKind, Role]] = {
    "bench": Role.TEXT,
    "gone": Role.BASE,
    "lost": Role.LOST,
    "hole": Role.BEFORE,
}
#: Of bars, ring by ring.
RING_ROLES: Final = (Role.BENCH, Role.BENCH_2, Role.BENCH_3)


def bar_role(entry: ChartRow, study: Study) -> Role:
    """Rings side by side differ in colour too; the label says which is which."""
    if entry.kind != "bench":
        return ROLES[entry.kind]
    return RING_ROLES[study.bench.crank.rings.index(entry.gear.ring) % len(RING_ROLES)]


def several_clicks(study: Study) -> bool:
    """Whether there are clicks on more than one ring, or in more than one gear of a hub."""
    return len(study.bench.rear.cogs) > 1 and len({(gear.ring, gear.hub) for gear in study.gears}) > 1


class RowsShare(NamedTuple):
    """What a row is drawn by, beside its gear."""

    drawing: ChartKind
    axis: Axis
    room: Columns
    width: int
    rpm: float


class Chart(NamedTuple):
    """The study, how it is drawn, and the room there is."""

    study: Study
    style: ChartStyle
    look: Look
    room: Columns
    axis: Axis

    @property
    def rpm(self) -> float:
        """The cadence of the speeds."""
        return self.study.bench.rider.cadence_rpm[1]

    @property
    def shared(self) -> RowsShare:
        """What all rows have in common."""
        return RowsShare(self.style.drawing, self.axis, self.room, self.look.width, self.rpm)
