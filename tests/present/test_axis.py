"""An axis by itself: what stands where, by hand."""

import math

import pytest

from cogwright.present.axis import Axis
from cogwright.present.lines import ASCII, SOLID, UNICODE, Glyphs, Role, plain
from cogwright.present.scale import Scale


@pytest.mark.parametrize("glyphs", [SOLID, UNICODE, ASCII], ids=lambda g: g.name)
@pytest.mark.parametrize(("low", "high"), [(1.0, 8.0), (2.0, 4.0), (3.1, 3.1), (7.9, 8.0)])
def test_a_bar_reaches_from_gear_to_gear_to_half_a_cell(glyphs: Glyphs, low: float, high: float) -> None:
    axis = Axis.on(Scale(1.0, 8.0, 30), glyphs)
    halves = {glyphs.over: 2, glyphs.over_left: 1, glyphs.over_right: 1}
    if glyphs is ASCII:  # which has whole cells alone
        halves = dict.fromkeys(halves, 2)
    (bar,) = axis.bar(low, high, Role.BENCH)
    assert len(bar.text) == 30
    drawn = sum(halves.get(char, 0) for char in bar.text)
    assert drawn == pytest.approx(max(math.log(high / low) / math.log(8.0) * 60, 1), abs=2.01)
    assert drawn >= 1


def test_rails_stand_before_marks_and_bars_before_both() -> None:
    axis = Axis.on(Scale(1.0, 8.0, 30), SOLID, [2.0, 4.0])  # a cell each third: at 10 and 20
    assert [at for at, char in enumerate(plain(axis.under(()))) if char == SOLID.rail] == [10, 20]
    assert plain(axis.head)[10] == "2"
    covered = plain(axis.under(axis.bar(1.0, 3.0, Role.BENCH)))
    assert [at for at, char in enumerate(covered) if char == SOLID.rail] == [20]
    assert covered.startswith(SOLID.bar * 15)


def test_the_same_axis_in_km_per_hour_has_its_marks_at_round_speeds() -> None:
    # 5 m a turn at 80 rpm are 24 km/h: 4.8 km/h a metre (hand arithmetic).
    axis = Axis.on(Scale(1.0, 8.0, 60), SOLID, per_m=4.8)
    at = {text: cell for cell, text in axis.texts}
    assert at["20"] == int(60 * math.log(20 / 4.8) / math.log(8.0))
