"""The Gears view: an axis, and a row a gear that shows what it is now and what stood there before."""

from collections.abc import Callable, Sequence
from functools import lru_cache
from typing import Final

from cogwright.core.fit.registry import headline_problems
from cogwright.core.study import Study
from cogwright.present.bars import BarKind, Moved, draw_moved, drawn
from cogwright.present.chart_style import (
    STANDARD,
    BaseMode,
    ChartKind,
    ChartStyle,
    NeededDevelopment,
    step_words,
)
from cogwright.present.lines import Line, Look, Page, Role, Span, clip, line, width, wrap
from cogwright.present.verdicts import gears_verdict, verdict_line
from cogwright.present.views.gears_axis import axis_of
from cogwright.present.views.gears_chart import ROLES, Chart, RowsShare, bar_role
from cogwright.present.views.gears_columns import columns
from cogwright.present.views.gears_figures import figures_behind
from cogwright.present.views.gears_head import before_lines, head_line, wanted_lines
from cogwright.present.views.gears_ladder import lost_stretch, rung
from cogwright.present.views.gears_rows import ChartRow, RowKind, chart_rows, kept_in_sight, rows_within

_BARS: Final[dict[RowKind, BarKind]] = {"bench": "bench", "gone": "base", "lost": "lost", "hole": "lost"}


def gears_page(
    study: Study, look: Look, style: ChartStyle = STANDARD, wanted: NeededDevelopment | None = None
) -> Page:
    """The chart in the look's rows, or in as many as it takes: verdict, axis, a row a gear, legend.

    Where something can hurt someone, that stands over the view already: the verdict gives way to rows then.
    """
    cells = columns((*study.gears, *study.base_gears), look)
    needed_m = wanted.development_m if wanted else None
    of = Chart(study, style, look, cells, axis_of(study, style, cells.bar, look.glyphs, needed_m))
    head = [head_line(of), *before_lines(of), *wanted_lines(of, wanted)]
    rows = chart_rows(study, style)
    entries = rows_within(study, rows, look.rows - len(head)) if look.rows else rows
    if not headline_problems(study) or not look.rows or len(head) + len(entries) < look.rows:
        head.insert(0, verdict_line(gears_verdict(study), look))
        entries = rows_within(study, rows, look.rows - len(head)) if look.rows else rows
    return Page(
        head=tuple(clip(each, look.width) for each in head),
        rows=_rows(entries, of),
        kept=kept_in_sight(entries),
        legend=tuple(clip(each, look.width) for each in legend_lines(of)),
    )


def gears_height(study: Study, style: ChartStyle = STANDARD) -> int:
    """Rows of the screen that all of a page takes, its legend aside."""
    before = style.drawing is ChartKind.LADDER and style.baseline is not BaseMode.BENCH
    heads = 2 + (before and study.baseline is not None)
    return heads + len(chart_rows(study, style))


def _rows(entries: Sequence[ChartRow], of: Chart) -> tuple[Line, ...]:
    row, ladder = _rows_by(of.shared), of.style.drawing is ChartKind.LADDER
    return tuple(
        row(
            entry,
            bar_role(entry, of.study),
            lost_stretch(entry, of.study, of.axis) if ladder and entry.kind == "lost" else None,
        )
        for entry in entries
    )


@lru_cache(maxsize=4)
def _rows_by(of: RowsShare) -> Callable[[ChartRow, Role, Line | None], Line]:
    """What makes a row; most are as they were before an edit, so they are kept."""

    @lru_cache(maxsize=512)
    def row(entry: ChartRow, paint: Role, stretch: Line | None) -> Line:
        label = Span(f" {entry.gear.label:<{of.room.label}}", ROLES[entry.kind])
        drawn = _drawn(entry, of, paint) if stretch is None else stretch
        return clip(line(label, drawn, *figures_behind(entry, of)), of.width)

    return row


def _drawn(entry: ChartRow, of: RowsShare, paint: Role) -> Line:
    """The bar, or the step of the ladder."""
    axis, glyphs, old = of.axis, of.axis.glyphs, entry.before
    if of.drawing is ChartKind.LADDER:
        return rung(entry, axis, paint)
    at, cells = axis.scale.at, axis.scale.cells
    now = at(entry.gear.development_m)
    if entry.kind == "bench" and old is not None:
        return axis.under(
            draw_moved(Moved(now, at(old.gear.development_m), old.same_place), cells, glyphs, paint)
        )
    return axis.under((Span(drawn(now, _BARS[entry.kind], cells, glyphs), paint),))


def legend_lines(of: Chart) -> list[Line]:
    """What the marks mean."""
    glyphs, steps = of.look.glyphs, _step_marks(of)
    if of.study.baseline is None or of.style.baseline is BaseMode.BENCH:
        return [(), *steps]
    old = line(Span(f" {glyphs.rail}", Role.BASE), " old ends   ")
    if of.style.drawing is ChartKind.BARS and of.style.baseline is BaseMode.ROW:
        old = line(
            *(Span(f" {glyphs.bar}", Role.BENCH), " now   "),
            *(
                Span(f"{glyphs.bar}{_cut(of)}", Role.BENCH),
                Span(glyphs.bar, Role.LONGER),
                " longer than before   ",
            ),
            *(Span(f"{glyphs.bar}", Role.BENCH), Span(glyphs.lost_bar, Role.BEFORE), " was longer "),
            old,
        )
    return [(), old, *steps]


def _step_marks(of: Chart) -> list[Line]:
    """The marks of steps side by side, or one below the other where there is no room for that."""
    glyphs, (wide, jump) = of.look.glyphs, step_words(of.study.bench.limits.jump_pct)
    first = line(Span(f" {glyphs.wide}", Role.WIDE), f" {wide}   ")
    mark, room = Span(glyphs.jump * 2, Role.JUMP), of.look.width - 4
    if width(first) + 3 + len(jump) <= of.look.width:
        return [line(first, mark, f" {jump}")]
    begun, *more = wrap(jump, room)
    return [first, line(" ", mark, " ", begun), *(line("    ", row) for row in more)]


def _cut(of: Chart) -> str:
    cuts = of.look.glyphs.cuts
    return cuts[len(cuts) // 2]
