"""The plot of use per gear: what is drawn is read back and compared with the times."""

import math

import pytest

from cogwright.present.lines import ASCII, SOLID, UNICODE, Glyphs, Line, Role, plain, width
from cogwright.present.plot import TIMES, UseAxes, use_cell, use_plot

AXES = UseAxes(2.0, 8.0, 600.0)
SPENT = ((2.0, 600.0), (3.0, 300.0), (4.4, 0.0), (5.0, 150.0), (8.0, 450.0))
ROWS = 7


def column(plot: tuple[Line, ...], cell: int) -> int:
    """Rows that are drawn in, above the names."""
    rows = [plain(row).ljust(200) for row in plot[:-1]]
    return sum(row[TIMES + cell] != " " for row in rows)


@pytest.mark.parametrize("glyphs", [UNICODE, SOLID, ASCII], ids=lambda g: g.name)
@pytest.mark.parametrize("cells", [40, 60, 80, 120])
def test_columns_are_as_high_as_their_times(cells: int, glyphs: Glyphs) -> None:
    """The longest fills all rows, half of it half of them, to a row; nothing is drawn where none is spent."""
    plot = use_plot(SPENT, AXES, (cells, ROWS), glyphs, Role.BENCH)
    assert max(map(width, plot)) <= cells
    for development, seconds in SPENT:
        drawn = column(plot, use_cell(development, AXES, cells))
        if seconds:
            assert drawn == pytest.approx(seconds / 600.0 * (ROWS - 1), abs=1.0)
            assert drawn >= 1
        else:
            assert drawn == 0


@pytest.mark.parametrize("glyphs", [UNICODE, SOLID, ASCII], ids=lambda g: g.name)
def test_nothing_else_is_drawn(glyphs: Glyphs) -> None:
    plot = use_plot(SPENT, AXES, (80, ROWS), glyphs, Role.BENCH)
    there = {use_cell(development, AXES, 80) for development, seconds in SPENT if seconds}
    for row in plot[:-1]:
        drawn = {at for at, char in enumerate(plain(row).ljust(80)[TIMES:]) if char != " "}
        assert drawn <= there


def test_metres_stand_under_their_places() -> None:
    """A gear of 3 m is drawn over the 3."""
    names = plain(use_plot(SPENT, AXES, (80, ROWS), ASCII, Role.BENCH)[-1])
    for metres in (2, 3, 5, 8):
        assert names[TIMES + use_cell(float(metres), AXES, 80)] == str(metres)


def test_gears_in_one_cell_are_added_up() -> None:
    two = use_plot(((3.0, 100.0), (3.0001, 200.0)), AXES, (80, ROWS), ASCII, Role.BENCH)
    assert two == use_plot(((3.0, 300.0),), AXES, (80, ROWS), ASCII, Role.BENCH)


def test_no_time_at_all_is_drawn_as_nothing() -> None:
    plot = use_plot(((3.0, 0.0),), AXES, (60, ROWS), UNICODE, Role.BENCH)
    assert all(plain(row)[TIMES:].strip() == "" for row in plot[:-1])


@pytest.mark.parametrize("wrong", [math.inf, math.nan, -1.0])
def test_values_that_would_end_the_process_are_refused(wrong: float) -> None:
    with pytest.raises(ValueError, match="finite"):
        use_plot(((3.0, wrong),), AXES, (80, ROWS), ASCII, Role.BENCH)
    with pytest.raises(ValueError, match="finite"):
        use_plot(((3.0, 1.0),), AXES._replace(top_s=wrong), (80, ROWS), ASCII, Role.BENCH)
