"""The chart of the gears as a drawing: axis, a row a gear with what stood there before, figures, a legend."""

from collections.abc import Sequence
from typing import Final

from cogwright.core.common.safe_text import cut
from cogwright.core.study import Study
from cogwright.present.chart_style import STANDARD, BaseMode, ChartKind, ChartStyle
from cogwright.present.lines import Role
from cogwright.present.palette import LIGHT, Palette
from cogwright.present.picture.elements import Box, Drawing
from cogwright.present.picture.figures import draw_heads, draw_row_figures
from cogwright.present.picture.key import draw_key
from cogwright.present.picture.places import AXIS, BARS, BARS_END, MARGIN, ROW, TOP, WIDTH, RowCounts
from cogwright.present.picture.rungs import draw_old_gears, draw_rung
from cogwright.present.picture.strokes import draw_bar
from cogwright.present.scale import Scale, ticks
from cogwright.present.verdicts import gears_verdict
from cogwright.present.views.gears_axis import axis_scale, per_metre
from cogwright.present.views.gears_rows import ChartRow, chart_rows

#: What a text of the axis takes beside the next one.
_DIGIT: Final = 9.0
#: Characters of a title that there is room for.
_TITLE, _LINE = 70, 105


def chart_picture(study: Study, style: ChartStyle = STANDARD, palette: Palette = LIGHT) -> str:
    """The chart as the text of an SVG file, as high as it takes.

    >>> from cogwright.core.setup.model import Crank, Rear, Setup, Wheel
    >>> from cogwright.core.study import study
    >>> crank, rear = Crank(rings=(38,)), Rear(cogs=(11, 13, 15))
    >>> chart_picture(study(Setup(name="a", wheel=Wheel(size="28-622"), crank=crank, rear=rear)))[:4]
    '<svg'
    """
    entries, scale = chart_rows(study, style), axis_scale(study, style, int(BARS_END - BARS))
    ladder = style.drawing is ChartKind.LADDER and study.baseline is not None
    rows = RowCounts(len(entries), old=ladder and style.baseline is not BaseMode.BENCH)
    drawing = Drawing((WIDTH, rows.height), palette, f"Gears of {study.bench.name}")
    _draw_titles(drawing, study)
    _draw_axis(drawing, study, style, scale, rows)
    draw_heads(drawing, study, rows)
    if rows.old:
        draw_old_gears(drawing, study, scale, rows)
    for at, entry in enumerate(entries):
        _draw_row(drawing, entry, (study, style, scale), rows.top(at))
    draw_key(drawing, study, style, rows)
    return str(drawing)


def _draw_titles(drawing: Drawing, study: Study) -> None:
    """The bike, what it is compared with, and the verdict."""
    drawing.text((MARGIN, TOP), cut(study.bench.name, _TITLE), Role.TITLE, size=20, bold=True)
    wheel = f"{study.bench.wheel.size or 'wheel'}, {study.wheel.m:.3f} m"
    against = f"before: {study.baseline.name}; " if study.baseline else ""
    drawing.text((MARGIN, TOP + 22), cut(f"{against}wheel {wheel}", _LINE), Role.DIM)
    said = gears_verdict(study)
    drawing.text((MARGIN, TOP + 44), cut(said.text, _LINE), said.role, size=14, bold=True)


def _draw_axis(drawing: Drawing, study: Study, style: ChartStyle, scale: Scale, rows: RowCounts) -> None:
    """Round values over the bars, a line down from each; dashed lines at the old ends."""
    per_m, low = per_metre(study, style), rows.axis + ROW - AXIS
    drawing.text((MARGIN, rows.axis + 10), style.axis.value, Role.HEAD, size=12)
    for tick in ticks(scale.of_cells(int(scale.cells / _DIGIT)), per_m):
        x = BARS + scale.at(tick.development_m)
        drawing.text((x, rows.axis + 10), tick.text, Role.HEAD, anchor="middle", size=12)
        drawing.line((x, low), (x, rows.bottom), Role.GRID)
    for x in _old_ends(study, style, scale):
        drawing.line((x, low), (x, rows.bottom), Role.BASE, dashed=True)


def _old_ends(study: Study, style: ChartStyle, scale: Scale) -> Sequence[float]:
    if not study.base_gears or style.baseline is BaseMode.BENCH:
        return ()
    return [BARS + scale.at(gear.development_m) for gear in (study.base_gears[0], study.base_gears[-1])]


def _draw_row(drawing: Drawing, entry: ChartRow, of: tuple[Study, ChartStyle, Scale], top: float) -> None:
    study, style, scale = of
    if style.drawing is ChartKind.LADDER:
        draw_rung(drawing, entry, study, scale, top)
    else:
        draw_bar(drawing, entry, study, scale, Box(BARS, top, BARS_END - BARS, ROW))
    draw_row_figures(drawing, entry, study, top)
