"""The report as Markdown, and text from files made harmless in it."""

import re
from collections.abc import Sequence

from cogwright.core.common.safe_text import clean
from cogwright.core.study import Study
from cogwright.present.lines import Line, Look, plain
from cogwright.present.panels.findings import findings
from cogwright.present.report.data import Report
from cogwright.present.report.sections import alarms
from cogwright.present.report.text import facts, sections_in
from cogwright.present.views.figures import FIGURES


def as_markdown(of: Report) -> str:
    """The report for a ticket or a note: a heading, the gears as a table, the findings as a list."""
    study = of.study
    rows = [f"# {md(study.bench.name)}", ""]
    if study.baseline:
        rows += [f"Against {md(study.baseline.name)}.", ""]
    rows += [f"{md(said)}\n" for said in of.used]
    rows += [f"**{md(alarm)}**\n" for alarm in alarms(study)]
    rows += [*(f"- {md(fact)}" for fact in facts(study)), "", "## Gears", "", *_md_table(study)]
    rows += ["", "## What this means", "", *(f"- {md(found.say)}" for found in findings(study))]
    for title, lines in sections_in(of, Look()):
        rows += ["", f"## {md(title)}", "", *md_block(lines)]
    return "\n".join(rows) + "\n"


def md_block(lines: Sequence[Line]) -> list[str]:
    """Lines as they stand. Indented, not fenced: no text inside can end an indented block."""
    return ["    " + plain(row) for row in lines]


def _md_table(study: Study) -> list[str]:
    heads = [*(figure.head for figure in FIGURES), "marks"]
    marks = ["---", *("---:" for _ in FIGURES[1:]), "---"]
    body = [[*(figure.show(row) for figure in FIGURES), ", ".join(row.flags)] for row in study.rows]
    return [md_row(row) for row in [heads, marks, *body]]


def md_row(cells: Sequence[str]) -> str:
    """A row of a table, of cells that are harmless already."""
    return f"| {' | '.join(cells)} |"


def md(text: str) -> str:
    r"""Text that Markdown shows as it stands: no markup, no link, no HTML, no list, on one line.

    >>> print(md("[x](y) <b> 46x11"), md("1. www.example"), md("- http://x"))
    \[x\](y) \<b> 46x11 1\. www\.example \- http:\//x
    """
    shown = re.sub(r"([\\`*_{}\[\]<#|~&$@])", r"\\\1", clean(text).strip())
    shown = re.sub(r"(?i)(www)\.", r"\1\\.", shown.replace("://", ":\\//"))
    return re.sub(r"^(\d{0,9})([-+](?=[-+\s]|$)|[>=]|(?<=\d)[.)](?=\s|$))", r"\1\\\2", shown)
