"""The axis of the Gears view: its scale, its unit, and rails at the lowest and highest gear before."""

from cogwright.core.common.units import MIN_PER_H
from cogwright.core.study import Study
from cogwright.present.axis import Axis
from cogwright.present.chart_style import AxisUnit, BaseMode, ChartStyle
from cogwright.present.glyphs import Glyphs
from cogwright.present.scale import Scale


def axis_scale(study: Study, style: ChartStyle, cells: int, needed_m: float | None = None) -> Scale:
    """A scale that holds the gears of bench and baseline, and a development that is needed."""
    gears = (*study.gears, *(study.base_gears if style.baseline is not BaseMode.BENCH else ()))
    needed = [] if needed_m is None else [needed_m]
    return Scale.over([*(gear.development_m for gear in gears), *needed], cells, style.log)


def per_metre(study: Study, style: ChartStyle) -> float:
    """Units of the axis in a metre of development: km/h at the preferred cadence, or metres."""
    speed = style.axis is AxisUnit.SPEED
    return study.bench.rider.cadence_rpm[1] * MIN_PER_H / 1000.0 if speed else 1.0


def axis_of(
    study: Study, style: ChartStyle, cells: int, glyphs: Glyphs, needed_m: float | None = None
) -> Axis:
    """The axis in so many cells."""
    old = study.base_gears if style.baseline is not BaseMode.BENCH else ()
    rails = (old[0].development_m, old[-1].development_m) if old else ()
    scale = axis_scale(study, style, cells, needed_m)
    return Axis.on(scale, glyphs, rails, per_metre(study, style), needed_m)
