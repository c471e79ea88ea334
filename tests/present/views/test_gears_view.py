"""The drawn bars read back and held against the developments; the chart's characters and layout."""

import unicodedata
from itertools import product

import pytest

from cogwright.core.setup.edits import RemoveSprocket, SetTeeth
from cogwright.core.setup.model import Setup
from cogwright.core.study import study
from cogwright.present.bars import Bar, draw_bars
from cogwright.present.lines import ASCII, UNICODE, Glyphs, Look, plain, width
from cogwright.present.views.gears import BaseMode, chart_rows, columns, gears_page

RINGS, COGS = (30, 46), (11, 13, 15, 17, 19, 21, 23, 25, 28, 31, 34)
WHOLE = {"unicode": "\u28ff\u2836\u2591", "ascii": "=:."}
HALF = {"unicode": "\u2847\u2806", "ascii": "-."}


def two_by_eleven() -> Setup:
    return Setup.model_validate(
        {
            "name": "two by eleven",
            "wheel": {"rollout_mm": 2189},
            "crank": {"rings": RINGS},
            "rear": {"cogs": COGS},
        }
    )


def one_by_ten() -> Setup:
    single = RemoveSprocket("ring", 30).apply(two_by_eleven())
    return RemoveSprocket("cog", 34).apply(SetTeeth("ring", 46, 40).apply(single))


def drawn_cells(bar: str, glyphs: Glyphs) -> float:
    """Length of a drawn bar, in cells: whole ones and the half one at its end."""
    if glyphs is ASCII and bar.rstrip().endswith(".") and ":" not in bar:
        return float(bar.count("."))  # the lost bar, which has no halves
    whole = sum(bar.count(c) for c in WHOLE[glyphs.name] if not (glyphs is ASCII and c == "."))
    return whole + sum(bar.count(c) for c in HALF[glyphs.name]) / 2


@pytest.mark.parametrize(("size", "glyphs"), product((40, 61, 80, 120, 200), (UNICODE, ASCII)))
@pytest.mark.parametrize("mode", list(BaseMode))
def test_drawn_lengths_are_the_developments(size: int, glyphs: Glyphs, mode: BaseMode) -> None:
    of, look = study(one_by_ten(), two_by_eleven()), Look(size, 24, glyphs)
    shown = chart_rows(of, mode)
    room = columns(of, shown, size)
    rows = gears_page(of, look, mode).rows
    assert len(rows) == len(shown)
    top = 2.189 * (max(RINGS) if mode is not BaseMode.BENCH else 40) / min(COGS)  # metres that fill the bar
    for entry, row in zip(shown, rows, strict=True):
        text = plain(row)
        assert text.strip().startswith(entry.gear.label)
        bar = "".join(span.text for span in row)[1 + room.label : 1 + room.label + room.bar]
        metres = 2.189 * entry.gear.ring / entry.gear.cog
        assert abs(drawn_cells(bar, glyphs) - metres / top * room.bar) <= 0.5
        assert f"{metres:.2f}" in text[1 + room.label + room.bar :]


@pytest.mark.parametrize("glyphs", [UNICODE, ASCII])
@pytest.mark.parametrize("size", [40, 80, 120])
def test_rows_fit_their_width_and_have_no_ambiguous_character(size: int, glyphs: Glyphs) -> None:
    page = gears_page(study(one_by_ten(), two_by_eleven()), Look(size, 24, glyphs), BaseMode.BOTH)
    for row in (*page.head, *page.rows):
        assert width(row) <= size
        assert {unicodedata.east_asian_width(c) for c in plain(row)} <= {"N", "Na"}
        assert glyphs is UNICODE or plain(row).isascii()


def test_equal_developments_draw_equal_bars_and_a_longer_one_a_longer_bar() -> None:
    bars = draw_bars([Bar(n / 10) for n in range(10, 100)], 10.0, 60, UNICODE)
    lengths = [drawn_cells(bar, UNICODE) for bar in bars]
    assert lengths == sorted(lengths)
    assert len(set(lengths)) > 80  # half a cell is a tenth of a metre here: nearly all differ


@pytest.mark.parametrize("bad", [0.0, -1.0, float("inf"), float("nan")])
def test_a_length_that_no_bar_can_have_is_refused(bad: float) -> None:
    with pytest.raises(ValueError, match="finite"):
        draw_bars([Bar(bad)], 10.0, 60, UNICODE)


def test_lost_gears_stand_at_the_ends_and_holes_between() -> None:
    of = study(one_by_ten(), two_by_eleven())
    kinds = [entry.kind for entry in chart_rows(of, BaseMode.LOST)]
    first, last = kinds.index("bench"), len(kinds) - 1 - kinds[::-1].index("bench")
    assert set(kinds[:first]) == {"lost"}
    assert set(kinds[last + 1 :]) == {"lost"}
    assert "lost" not in kinds[first:last]


def test_both_modes_show_every_gear_that_is_only_in_one_of_the_two() -> None:
    of = study(one_by_ten(), two_by_eleven())
    labels = [e.gear.label for e in chart_rows(of, BaseMode.BOTH)]
    assert sorted(labels) == sorted([g.label for g in of.gears] + [g.label for g in of.base_gears])
    same = study(two_by_eleven(), two_by_eleven())
    assert len(chart_rows(same, BaseMode.BOTH)) == 22


def test_a_jump_far_over_the_limit_is_marked_twice() -> None:
    setup = two_by_eleven().model_copy(
        update={"rear": two_by_eleven().rear.model_copy(update={"cogs": (11, 13, 17, 19)})}
    )
    rows = {plain(row).split()[0]: plain(row) for row in gears_page(study(setup), Look(80, 24, ASCII)).rows}
    assert "^^ jump" in rows["46x13"]  # 17 to 13 is 30.8 %, over 1.5 times 15 %
    assert "^ jump" in rows["46x11"]  # 13 to 11 is 18.2 %
    assert "^^" not in rows["46x11"]
    assert "jump" not in rows["46x17"]  # 19 to 17 is 11.8 %
