"""The development that a hill needs, as a line through the chart: where it stands, and in every drawing."""

import pytest

from cogwright.core.study import study
from cogwright.present.chart_style import ChartKind, ChartStyle, NeededDevelopment, ScaleKind
from cogwright.present.lines import ASCII, SOLID, UNICODE, Glyphs, Look, plain, width
from cogwright.present.views.gears import gears_page
from support import make

BIKE = study(make((36,), (11, 13, 15, 18, 22, 28, 36), rollout_mm=2200), make((40,), (11, 15, 20, 28)))
STYLES = [ChartStyle(), ChartStyle(scale=ScaleKind.LINEAR), ChartStyle(ChartKind.LADDER)]


@pytest.mark.parametrize("glyphs", [UNICODE, SOLID, ASCII], ids=lambda g: g.name)
@pytest.mark.parametrize("style", STYLES, ids=str)
def test_the_line_goes_through_every_row_at_one_place(glyphs: Glyphs, style: ChartStyle) -> None:
    for cells in (60, 80, 120):
        page = gears_page(BIKE, Look(cells, 24, glyphs), style, NeededDevelopment(3.1, "a hill"))
        rows = [plain(row) for row in page.rows]
        at = {row.index(glyphs.needed) for row in rows}
        assert len(at) == 1
        (said,) = [plain(row) for row in page.head if "a hill" in plain(row)]
        assert said.index(glyphs.needed) in at
        assert "3.10 m for a hill" in said
        assert max(width(row) for row in (*page.head, *page.rows)) <= cells


@pytest.mark.parametrize("scale", list(ScaleKind))
def test_bars_reach_the_line_if_their_gears_are_as_high(scale: ScaleKind) -> None:
    """A gear that is under the development needed ends before the line, one over it behind."""
    wanted = NeededDevelopment(3.1, "a hill")
    page = gears_page(BIKE, Look(120, 24, ASCII), ChartStyle(scale=scale), wanted)
    for row in map(plain, page.rows):
        gear = next((g for g in BIKE.gears if row.strip().startswith(g.label)), None)
        if gear is None or abs(gear.development_m / 3.1 - 1) < 0.05:
            continue
        behind = row[row.index(ASCII.needed) + 1]
        assert (behind == ASCII.bar) is (gear.development_m > 3.1), row


def test_a_development_beyond_the_gears_widens_the_scale() -> None:
    page = gears_page(BIKE, Look(80, 24, ASCII), ChartStyle(), NeededDevelopment(0.9, "a wall"))
    for row in map(plain, page.rows):
        assert row[row.index(ASCII.needed) + 1] in {ASCII.bar, ASCII.lost_bar}, "each gear is behind it"


def test_without_a_hill_there_is_no_line() -> None:
    assert gears_page(BIKE, Look()) == gears_page(BIKE, Look(), ChartStyle(), None)
    assert not any(UNICODE.needed in plain(row) for row in gears_page(BIKE, Look(glyphs=UNICODE)).rows)
