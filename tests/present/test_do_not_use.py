"""A gear that the chain is too short for is marked so wherever it stands, and wherever the alarm is raised.

46x34 on a stay of 435 mm takes 2 * 435 / 12.7 + 40 + (12 / 2 pi)^2 * 12.7 / 435 = 108.61 links by the
handbook's form, 46x31 107.17. Under one link over is an alarm.
"""

import csv
import io
import json
import re
from collections.abc import Sequence

import pytest

from bikes import bike
from cogwright.core.fit.registry import headline_problems
from cogwright.core.study import Study, study
from cogwright.present.chart_style import ChartKind, ChartStyle
from cogwright.present.lines import Line, Look, plain
from cogwright.present.picture.chart import chart_picture
from cogwright.present.report.card import card_text
from cogwright.present.report.data import Report, as_csv, as_json
from cogwright.present.report.markdown import as_markdown
from cogwright.present.sorting import Sorting
from cogwright.present.views.figures import figures_page
from cogwright.present.views.gears import gears_page
from cogwright.present.views.shifting import shifting_lines
from support import make

#: Links of the chain, and the gears that it is too short for: it leaves -0.61, 0.39, 1.39 and 0.83, 1.83.
CASES: list[tuple[int, set[str]]] = [(108, {"46x34", "46x31"}), (109, {"46x34"}), (110, set())]


def marked(rows: Sequence[Line]) -> set[str]:
    return {text.split()[0] for row in rows if "do not use" in (text := plain(row))}


def drawn(of: Study) -> set[str]:
    """The gears in whose rows the picture says so: what stands at the height of their names."""
    texts = re.findall(r'<text x="[0-9.]+" y="([0-9.]+)"[^>]*>([^<]+)<', chart_picture(of))
    heights = {y for y, words in texts if words == "do not use"}
    return {
        words.replace("\u00d7", "x")
        for y, words in texts
        if y in heights and re.fullmatch(r"\d+\u00d7\d+", words)
    }


def left_out(text: str) -> set[str]:
    """The gears named before the reason; a card has a frame round it."""
    words = " ".join(text.replace("|", " ").split())
    found = re.search(r"Leave out ([0-9x, ]+?) ?[:(]+ ?the chain is too short for it", words)
    return set(re.findall(r"\d+x\d+", found[1])) if found else set()


@pytest.mark.parametrize(("links", "gears"), CASES)
def test_every_view_report_and_paper_marks_the_same_gears(links: int, gears: set[str]) -> None:
    of = study(bike(chain={"links": links}))
    assert bool(headline_problems(of)) is bool(gears)
    for drawing in ChartKind:
        assert marked(gears_page(of, Look(120), ChartStyle(drawing)).rows) == gears
    assert marked(figures_page(of, Look(120), Sorting()).rows) == gears
    assert drawn(of) == gears
    assert left_out(card_text(of)) == gears
    assert left_out(" ".join(map(plain, shifting_lines(of, Look(120))))) == gears
    report = Report(of)
    flagged = [gear for gear in json.loads(as_json(report))["gears"] if "do-not-use" in gear["flags"]]
    assert {f"{gear['ring']}x{gear['cog']}" for gear in flagged} == gears
    rows = csv.DictReader(io.StringIO(as_csv(report)))
    assert {f"{row['ring']}x{row['cog']}" for row in rows if "do-not-use" in row["flags"]} == gears
    table = [row for row in as_markdown(report).splitlines() if row.startswith("|")]
    assert {row.split("|")[1].strip() for row in table if "do-not-use" in row} == gears


def test_the_mark_stays_where_no_gear_can_be_used() -> None:
    """42x34 on 435 mm: 68.50 + 38 + 0.05 = 106.55, and 42x32 105.58; 100 links go round neither."""
    of = study(make((42,), (32, 34), frame={"chainstay_mm": 435}, chain={"links": 100}))
    assert headline_problems(of)
    assert marked(gears_page(of, Look(80)).rows) == {"42x34", "42x32"}
