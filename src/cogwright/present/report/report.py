"""The report as text and as Markdown: the same lines and findings as the screen shows."""

import re
from collections.abc import Sequence

from cogwright.core.common.safe_text import clean
from cogwright.core.common.words import count
from cogwright.core.study import Study
from cogwright.present.lines import Line, Look, Role, Span, clip, line, plain, wrap
from cogwright.present.panels.findings import findings, findings_lines
from cogwright.present.report.data import Report
from cogwright.present.report.sections import SECTIONS, alarms
from cogwright.present.views.figures import FIGURES
from cogwright.present.views.gears import gears_page


def as_text(of: Report, look: Look) -> list[Line]:
    """The whole report in lines of at most the look's width: what it is, the chart, what it means."""
    chart = gears_page(of.study, look)
    rows = [*_head(of.study, look.width), *chart.head, *chart.rows, (), *findings_lines(of.study, look)]
    for title, lines in _sections(of, look):
        rows += [(), (Span(title, Role.HEAD),), *lines]
    return [clip(row, look.width) for row in rows]


def _sections(of: Report, look: Look) -> list[tuple[str, list[Line]]]:
    return [(one.title, one.lines(of.study, of.extras, look)) for one in SECTIONS if one.lines is not None]


def _head(study: Study, room: int) -> list[Line]:
    rows: list[Line] = [line(Span(study.bench.name, Role.TITLE))]
    if study.baseline:
        rows.append(line(Span(f"against {study.baseline.name}", Role.BASE)))
    rows += [row for alarm in alarms(study) for row in wrap(f"! {alarm}", room, Role.PROBLEM, "  ")]
    return [*rows, *(row for fact in _facts(study) for row in wrap(fact, room, Role.DIM, "  ")), ()]


def _facts(study: Study) -> list[str]:
    bench, summary, wheel = study.bench, study.summary, study.wheel
    hub = f"; hub gear of {len(bench.rear.hub_ratios)} speeds" if len(bench.rear.hub_ratios) > 1 else ""
    size = f"{bench.wheel.size}, " if bench.wheel.size else ""
    ends = f"{summary.lowest_m:.2f} to {summary.highest_m:.2f} m, range {summary.range_pct:.0f} %"
    named = bench.baseline if study.baseline is None else None
    good = ", good to about 1 %" if wheel.source == "nominal" else ""
    return [
        f"rings {_teeth(bench.crank.rings)}; cogs {_teeth(bench.rear.cogs)}{hub}",
        f"wheel {size}{wheel.m:.3f} m {wheel.source}{good}; speeds at {bench.rider.cadence_rpm[1]:g} rpm",
        f"{count(summary.gears, 'gear')}, {summary.distinct} distinct, {ends}, jumps {summary.jumps}",
        *([f"its file names {named} as its baseline: --baseline compares the two"] if named else []),
    ]


def _teeth(sprockets: Sequence[int]) -> str:
    return " ".join(map(str, sprockets))


def as_markdown(of: Report) -> str:
    """The report for a ticket or a note: a heading, the gears as a table, the findings as a list."""
    study = of.study
    rows = [f"# {md(study.bench.name)}", ""]
    if study.baseline:
        rows += [f"Against {md(study.baseline.name)}.", ""]
    rows += [f"**{md(alarm)}**\n" for alarm in alarms(study)]
    rows += [*(f"- {md(fact)}" for fact in _facts(study)), "", "## Gears", "", *_md_table(study)]
    rows += ["", "## What this means", "", *(f"- {md(found.say)}" for found in findings(study))]
    for title, lines in _sections(of, Look()):
        rows += ["", f"## {md(title)}", "", *_md_block(lines)]
    return "\n".join(rows) + "\n"


def _md_block(lines: Sequence[Line]) -> list[str]:
    """Lines as they stand. Indented, not fenced: no text inside can end an indented block."""
    return ["    " + plain(row) for row in lines]


def _md_table(study: Study) -> list[str]:
    heads = [*(figure.head for figure in FIGURES), "marks"]
    marks = ["---", *("---:" for _ in FIGURES[1:]), "---"]
    body = [[*(figure.show(row) for figure in FIGURES), ", ".join(row.flags)] for row in study.rows]
    return [f"| {' | '.join(row)} |" for row in [heads, marks, *body]]


def md(text: str) -> str:
    r"""Text that Markdown shows as it stands: no markup, no link, no HTML, no list, on one line.

    >>> print(md("[x](y) <b> 46x11"), md("1. www.example"), md("- http://x"))
    \[x\](y) \<b> 46x11 1\. www\.example \- http:\//x
    """
    shown = re.sub(r"([\\`*_{}\[\]<#|~&$@])", r"\\\1", clean(text).strip())
    shown = re.sub(r"(?i)(www)\.", r"\1\\.", shown.replace("://", ":\\//"))
    return re.sub(r"^(\d{0,9})([-+](?=[-+\s]|$)|[>=]|(?<=\d)[.)](?=\s|$))", r"\1\\\2", shown)
