"""Bars by themselves: no length that none can have, and every change of a gear's own place is seen."""

import pytest

from cogwright.present.bars import Bar, Moved, draw_bars, draw_moved
from cogwright.present.lines import ASCII, SOLID, UNICODE, Glyphs, Role, Span


@pytest.mark.parametrize("bad", [0.0, -1.0, float("inf"), float("nan")])
def test_a_length_that_no_bar_can_have_is_refused(bad: float) -> None:
    with pytest.raises(ValueError, match="finite"):
        draw_bars([Bar(bad)], 10.0, 60, UNICODE)


@pytest.mark.parametrize(("glyphs", "parts"), [(SOLID, 8), (UNICODE, 2), (ASCII, 2)])
def test_bars_end_on_parts_of_a_cell(glyphs: Glyphs, parts: int) -> None:
    tenths = [Bar(n / 100) for n in range(100, 1000)]
    drawn = draw_bars(tenths, 10.0, 40, glyphs)
    assert len(set(drawn)) == pytest.approx(0.9 * 40 * parts, abs=2)
    assert {len(bar) for bar in drawn} == {40}


def told(now: float, before: float, glyphs: Glyphs, told: bool = True) -> tuple[Span, ...]:
    return draw_moved(Moved(now, before, told), 20, glyphs, Role.BENCH)


@pytest.mark.long(cases=12)
@pytest.mark.parametrize("glyphs", [SOLID, UNICODE, ASCII], ids=lambda g: g.name)
@pytest.mark.parametrize("now", [1.0, 1.3, 7.0, 7.49, 7.5, 7.9, 19.0, 20.0])
@pytest.mark.parametrize("by", [0.01, 0.2, 1.0, 3.3])
def test_longer_and_shorter_differ_in_shape_and_in_colour(glyphs: Glyphs, now: float, by: float) -> None:
    longer, shorter, same = told(now, now - by, glyphs), told(now, now + by, glyphs), told(now, now, glyphs)
    texts = ["".join(span.text for span in bar) for bar in (longer, shorter, same)]
    assert (
        len(set(texts)) == 3 or now - by < 1.0 + 1 / glyphs.parts
    )  # a bar of one cell has no room for a cut
    assert Role.LONGER in {span.role for span in longer}
    assert Role.BEFORE in {span.role for span in shorter}
    assert {span.role for span in same} == {Role.BENCH}
    assert max(map(len, texts)) <= 20


def test_a_nearest_gear_that_is_too_near_for_the_scale_is_not_told() -> None:
    assert told(7.5, 7.51, SOLID, told=False) == told(7.5, 7.5, SOLID)


def test_the_shade_ends_where_the_bar_ended_and_the_cut_stands_there() -> None:
    body, shade = told(5.0, 9.0, SOLID)
    assert (len(body.text), len(shade.text)) == (5, 4)
    before, more = told(9.0, 5.5, SOLID)
    assert (len(before.text), len(more.text)) == (6, 3)
    assert before.text[-1] == "\u258c"  # half of the sixth cell
