"""The report as text: the same lines and findings as the screen shows."""

from collections.abc import Sequence

from cogwright.core.common.words import count
from cogwright.core.study import Study
from cogwright.present.lines import Line, Look, Role, Span, clip, line, wrap
from cogwright.present.panels.findings import findings_lines
from cogwright.present.panels.head import wheel_words
from cogwright.present.report.data import Report
from cogwright.present.report.sections import SECTIONS, alarms
from cogwright.present.views.gears import gears_page


def as_text(of: Report, look: Look) -> list[Line]:
    """The whole report in lines of at most the look's width: what it is, the chart, what it means."""
    chart = gears_page(of.study, look)
    rows = [*_head(of, look.width), *chart.head, *chart.rows, (), *findings_lines(of.study, look)]
    for title, lines in sections_in(of, look):
        rows += [(), (Span(title, Role.HEAD),), *lines]
    return [clip(row, look.width) for row in rows]


def sections_in(of: Report, look: Look) -> list[tuple[str, list[Line]]]:
    """Title and lines of every section that reads well as text."""
    return [(one.title, one.lines(of.study, of.extras, look)) for one in SECTIONS if one.lines is not None]


def _head(of: Report, room: int) -> list[Line]:
    study = of.study
    rows: list[Line] = [line(Span(study.bench.name, Role.TITLE))]
    if study.baseline:
        rows.append(line(Span(f"against {study.baseline.name}", Role.BASE)))
    rows += [row for said in of.used for row in wrap(said, room, Role.DIM, "  ")]
    rows += [row for alarm in alarms(study) for row in wrap(f"! {alarm}", room, Role.PROBLEM, "  ")]
    return [*rows, *(row for fact in facts(study) for row in wrap(fact, room, Role.DIM, "  ")), ()]


def facts(study: Study) -> list[str]:
    """What is on the bench, in sentences."""
    bench, summary, wheel = study.bench, study.summary, study.wheel
    hub = f"; hub gear of {len(bench.rear.hub_ratios)} speeds" if len(bench.rear.hub_ratios) > 1 else ""
    size = f"{bench.wheel.size}, " if bench.wheel.size else ""
    ends = f"{summary.lowest_m:.2f} to {summary.highest_m:.2f} m, range {summary.range_pct:.0f} %"
    named = bench.baseline if study.baseline is None else None
    good = ", good to about 1 % (measure for races)" if wheel.source == "nominal" else ""
    rpm = bench.rider.cadence_rpm[1]
    jumps = f"{count(summary.standing_out, 'jump')}, {summary.jumps} over {bench.limits.jump_pct:g} %"
    return [
        f"rings {_teeth(bench.crank.rings)}; cogs {_teeth(bench.rear.cogs)}{hub}",
        f"wheel {size}{wheel.m:.3f} m {wheel_words(wheel)}{good}; speeds at {rpm:g} rpm",
        f"{count(summary.gears, 'gear')}, {summary.distinct} distinct, {ends}, {jumps}",
        *([f"its file names {named} as its baseline: --baseline compares the two"] if named else []),
    ]


def _teeth(sprockets: Sequence[int]) -> str:
    return " ".join(map(str, sprockets))
