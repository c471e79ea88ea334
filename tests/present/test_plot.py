"""The plot of the clicks, read back from what is drawn: heights against the steps, by hand."""

import math
import subprocess
import sys

import pytest

from cogwright.present.clicks import ClickSteps
from cogwright.present.lines import ASCII, SOLID, UNICODE, Glyphs, Role, plain
from cogwright.present.plot import clicks_plot
from support import environment

#: Halves of a cell, or dots of a braille character, that are filled from below.
LOWER = {"\u2588": 2, "\u2584": 1, "\u2580": 1}
NOW, BEFORE = (16.7, 4.3, 9.5, 10.5, 11.8), (12.0, 8.7, 9.5, 10.5, 11.8)
OF = ClickSteps(BEFORE, NOW, ("24", "23", "21", "19", "17"), 15.0)


def heights(width: int, rows: int, offset: int) -> list[int]:
    """Filled halves of the bars of a series."""
    text = [plain(row).ljust(width) for row in clicks_plot(OF, width, rows, SOLID)]
    return [sum(LOWER.get(row[3 + 3 * i + offset], 0) for row in text[:-1]) for i in range(len(NOW))]


@pytest.mark.long(cases=0)
@pytest.mark.parametrize("rows", [7, 9, 12])
@pytest.mark.parametrize(("offset", "values"), [(0, BEFORE), (1, NOW)])
def test_bars_are_as_high_as_the_steps(rows: int, offset: int, values: tuple[float, ...]) -> None:
    # The scale goes to 20 %, the multiple of 5 above 16.7, in rows less the one of the names.
    halves = 2 * (rows - 1)
    drawn = heights(34, rows, offset)
    assert drawn == pytest.approx([value / 20.0 * halves for value in values], abs=1.5)
    assert sorted(range(5), key=lambda i: values[i])[-1] == max(range(5), key=lambda i: drawn[i])


@pytest.mark.long(cases=4)
@pytest.mark.parametrize("glyphs", [SOLID, UNICODE, ASCII], ids=lambda g: g.name)
@pytest.mark.parametrize("width", [12, 20, 34, 60])
def test_it_keeps_to_its_room_and_names_what_each_click_leads_to(glyphs: Glyphs, width: int) -> None:
    plot = clicks_plot(OF, width, 7, glyphs)
    assert len(plot) == 7
    assert {sum(len(span.text) for span in row) for row in plot} == {width}
    if width >= 20:
        assert plain(plot[-1]).split() == list(OF.names)
        roles = {span.role for row in plot[:-1] for span in row if span.text.strip()}
        assert roles == {Role.BASE, Role.BENCH, Role.DIM}
    if glyphs is ASCII:
        assert all(plain(row).isascii() for row in plot)


@pytest.mark.parametrize("bad", [math.inf, math.nan])
def test_what_is_not_finite_does_not_reach_the_library(bad: float) -> None:
    with pytest.raises(ValueError, match="finite"):
        clicks_plot(ClickSteps((bad,), NOW, OF.names, 15.0), 34, 7, SOLID)


def test_the_library_is_imported_when_the_first_plot_is_drawn() -> None:
    code = "import sys, cogwright.present.plot; print('plotext' in sys.modules)"
    done = subprocess.run(
        [sys.executable, "-c", code],
        capture_output=True,
        text=True,
        env=environment(),
        check=True,
        timeout=60,
    )
    assert done.stdout.strip() == "False"
