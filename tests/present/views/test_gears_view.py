"""The drawn bars read back and held against the developments; the chart's characters and layout.

Ends of logarithmic scales are numbers of the series R20 of ISO 3, a step of it beyond the outermost gears at
the most: 1.00 1.12 1.25 1.40 1.60 1.80 2.00 2.24 2.50 2.80 3.15 3.55 4.00 4.50 5.00 5.60 6.30 7.10 8.00 9.00.
"""

import math
import re
import unicodedata
from itertools import product

import pytest

from cogwright.core.setup.edits import RemoveSprocket, SetTeeth
from cogwright.core.setup.model import Setup
from cogwright.core.study import study
from cogwright.present.chart_style import AxisUnit, BaseMode, ChartKind, ChartStyle, RowOrder, ScaleKind
from cogwright.present.lines import ASCII, SOLID, UNICODE, Glyphs, Look, Role, plain, width
from cogwright.present.views.gears import gears_height, gears_page
from cogwright.present.views.gears_columns import columns
from cogwright.present.views.gears_rows import chart_rows
from support import make

RINGS, COGS = (30, 46), (11, 13, 15, 17, 19, 21, 23, 25, 28, 31, 34)
GLYPHS = [SOLID, UNICODE, ASCII]
EIGHTHS = "\u258f\u258e\u258d\u258c\u258b\u258a\u2589\u2588"
OLD = {"\u2836": 1, "\u2806": 0.5, "\u2591": 1}
FILLED = {
    "solid": {char: (i + 1) / 8 for i, char in enumerate(EIGHTHS)} | OLD,
    "unicode": {"\u28ff": 1, "\u2847": 0.5} | OLD,
    "ascii": {"=": 1, ":": 1, "-": 0.5, ".": 1},
}  # fmt: skip


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
    """Length of a drawn bar, in cells: whole ones and the part of one at its end."""
    return sum(FILLED[glyphs.name].get(char, 0) for char in bar)


def expected(metres: float, cells: int, log: bool, mode: BaseMode) -> float:
    """Where a development ends, in cells.

    The 2x11 goes from 2.189 * 30 / 34 = 1.93 m to 2.189 * 46 / 11 = 9.15 m, the 1x10 from 2.82 to 7.96 m.
    """
    low, high = (2.5, 9.0) if mode is BaseMode.BENCH else (1.8, 10.0)
    if not log:
        return metres / (8.5 if mode is BaseMode.BENCH else 9.5) * cells
    return math.log(metres / low) / math.log(high / low) * cells


MODES = [BaseMode.LOST, BaseMode.BOTH, BaseMode.BENCH]


@pytest.mark.long(cases=6)
@pytest.mark.parametrize(("size", "glyphs"), product((40, 61, 80, 120, 200), GLYPHS))
@pytest.mark.parametrize("mode", MODES)
@pytest.mark.parametrize("kind", list(ScaleKind))
def test_drawn_lengths_are_the_developments(
    size: int, glyphs: Glyphs, mode: BaseMode, kind: ScaleKind
) -> None:
    of, style = study(one_by_ten(), two_by_eleven()), ChartStyle(baseline=mode, scale=kind)
    shown, room = chart_rows(of, style), columns((*of.gears, *of.base_gears), Look(size))
    rows = gears_page(of, Look(size, 24, glyphs), style).rows
    assert len(rows) == len(shown)
    for entry, row in zip(shown, rows, strict=True):
        text = plain(row)
        assert text.strip().startswith(entry.gear.label)
        bar = "".join(span.text for span in row)[1 + room.label : 1 + room.label + room.bar]
        metres = 2.189 * entry.gear.ring / entry.gear.cog
        part = 1.0 if entry.kind in {"lost", "hole"} else 1 / glyphs.parts if entry.kind == "bench" else 0.5
        cells = expected(metres, room.bar, kind is ScaleKind.LOG, mode)
        drawn = (
            drawn_cells(bar, glyphs) if entry.kind != "gone" else drawn_cells(bar.replace(".", "-"), glyphs)
        )
        assert abs(drawn - max(cells, part)) <= part / 2 + 1e-9
        assert f"{metres:.2f}" in text[1 + room.label + room.bar :]


@pytest.mark.long(cases=4)
@pytest.mark.parametrize("glyphs", GLYPHS)
@pytest.mark.parametrize("size", [20, 40, 80, 120, 200])
@pytest.mark.parametrize("drawing", list(ChartKind))
def test_rows_fit_their_width_and_have_only_characters_that_are_theirs(
    size: int, glyphs: Glyphs, drawing: ChartKind
) -> None:
    for mode, order in product(BaseMode, RowOrder):
        style = ChartStyle(drawing, baseline=mode, rows=order)
        page = gears_page(study(one_by_ten(), two_by_eleven()), Look(size, 24, glyphs), style)
        for row in (*page.head, *page.rows, *page.legend):
            assert width(row) <= size
            odd = {c for c in plain(row) if unicodedata.east_asian_width(c) not in {"N", "Na"}}
            assert odd <= (set(SOLID.characters) if glyphs is SOLID else set())
            assert glyphs is not ASCII or plain(row).isascii()


def test_equal_steps_are_equally_long_on_a_logarithmic_scale_and_equal_metres_on_a_linear_one() -> None:
    # Cogs of 16, 24 and 36 teeth: each development is 1.5 times the one before it.
    of = study(make((48,), (16, 24, 36), rollout_mm=2000))
    for kind in ScaleKind:
        page = gears_page(of, Look(200, 24, SOLID), ChartStyle(scale=kind))
        room = columns(of.gears, Look(200))
        ends = [drawn_cells("".join(s.text for s in row)[7 : 7 + room.bar], SOLID) for row in page.rows]
        first, second = ends[1] - ends[0], ends[2] - ends[1]
        # On the linear scale the step from 4 to 6 m is 1.5 times that from 2.667 to 4 m.
        assert second == pytest.approx(first * (1.0 if kind is ScaleKind.LOG else 1.5), abs=0.25)


def test_lost_gears_stand_at_the_ends_and_those_without_a_near_gear_between() -> None:
    of = study(one_by_ten(), two_by_eleven())
    kinds = [entry.kind for entry in chart_rows(of, ChartStyle(baseline=BaseMode.LOST))]
    first, last = kinds.index("bench"), len(kinds) - 1 - kinds[::-1].index("bench")
    assert set(kinds[:first]) == {"lost"}
    assert set(kinds[last + 1 :]) == {"lost"}
    assert "lost" not in kinds[first:last]


def test_both_in_full_show_every_gear_that_is_only_in_one_of_the_two() -> None:
    of, both = study(one_by_ten(), two_by_eleven()), ChartStyle(baseline=BaseMode.BOTH)
    labels = [e.gear.label for e in chart_rows(of, both)]
    assert sorted(labels) == sorted([g.label for g in of.gears] + [g.label for g in of.base_gears])
    same = study(two_by_eleven(), two_by_eleven())
    assert len(chart_rows(same, both)) == 22


def test_a_jump_has_two_marks_and_the_word_and_a_wide_step_one() -> None:
    # 17 to 13 is 30.8 %, over one and a half times 15 %; 13 to 11 is 18.2 %, 19 to 17 is 11.8 %. The steps
    # around 13 to 11 are 30.8 and 11.8 %, their median 21.3 %: it does not stand out.
    of = study(make((46,), (11, 13, 17, 19)))
    rows = {plain(row).split()[0]: plain(row) for row in gears_page(of, Look(80, 24, ASCII)).rows}
    assert "+30.8^^" in rows["46x13"]
    assert rows["46x13"].endswith("jump")
    assert "+18.2^ " in rows["46x11"]
    assert rows["46x11"].endswith("wide")
    assert "^" not in rows["46x17"]


# What stood there before


def swapped(old: int, new: int, bike: Setup | None = None) -> tuple[Setup, Setup]:
    before = bike or two_by_eleven()
    return SetTeeth("cog", old, new).apply(before), before


def row_of(label: str, bench: Setup, base: Setup, style: ChartStyle | None = None, cells: int = 79) -> str:
    page = gears_page(study(bench, base), Look(cells, 24, SOLID), style or ChartStyle())
    return next("".join(s.text for s in row) for row in page.rows if plain(row).split()[0] == label)


def test_a_gear_that_became_easier_leaves_a_shade_and_one_that_became_harder_is_cut_where_it_was() -> None:
    shorter, longer = row_of("46x20", *swapped(19, 20)), row_of("46x18", *swapped(19, 18))
    assert "\u2591" in shorter
    assert "\u2591" not in longer
    cut = re.compile(f"[{EIGHTHS[:-1]}][{EIGHTHS}]")  # a part of a cell with more of the bar behind it
    assert cut.search(longer)
    assert not cut.search(shorter)


def test_the_old_step_stands_beside_the_new_one_where_it_has_changed() -> None:
    # 21 to 19 was 10.5 % and is 21 to 20, 5 %; 19 to 17 was 11.8 % and is 20 to 17, 17.6 %.
    bench, base = swapped(19, 20)
    assert " +5.0 " in row_of("46x20", bench, base)
    assert "was 10.5" in row_of("46x20", bench, base)
    assert "+17.6" in row_of("46x17", bench, base)
    assert "was 11.8" in row_of("46x17", bench, base)
    assert "was" not in row_of("46x15", bench, base)
    assert "was" not in row_of("46x20", bench, base, ChartStyle(baseline=BaseMode.BENCH))


def test_a_gear_whose_teeth_changed_is_compared_with_its_own_place_and_not_with_a_nearer_one() -> None:
    # 40x20 stood where 40x19 was, 40x18 where 40x17 was, which 40x19 is as near to (ratios 18/17 and 19/18).
    base = make((40,), (15, 17, 19, 24), rollout_mm=2100)
    bench = make((40,), (15, 18, 20, 24), rollout_mm=2100)
    told = {row.gear.cog: row.before for row in chart_rows(study(bench, base))}
    assert [(cog, old.gear.cog, old.same_place) for cog, old in told.items() if old] == [
        (24, 24, True), (20, 19, True), (18, 17, True), (15, 15, True),
    ]  # fmt: skip


def test_a_cog_that_stayed_is_compared_with_itself_though_its_place_is_another() -> None:
    # 17 left and 21 came: 19 is in another place, and the same cog. To 21 the old 19 is nearer than 24.
    base = make((40,), (15, 17, 19, 24), rollout_mm=2100)
    bench = make((40,), (15, 19, 21, 24), rollout_mm=2100)
    told = {row.gear.cog: row.before for row in chart_rows(study(bench, base))}
    assert [(cog, old.gear.cog, old.same_place) for cog, old in told.items() if old] == [
        (24, 24, True), (21, 19, False), (19, 19, True), (15, 15, True),
    ]  # fmt: skip


def test_without_a_place_of_its_own_a_gear_is_compared_with_the_nearest_old_one() -> None:
    of = study(one_by_ten(), two_by_eleven())
    for row in chart_rows(of):
        if row.kind == "bench":
            assert row.before is not None
            assert not row.before.same_place
            near = min(of.base_gears, key=lambda g: abs(math.log(g.development_m / row.gear.development_m)))
            assert row.before.gear.development_m == pytest.approx(near.development_m)


# By ring, twins, ladder, axis


def test_ring_by_ring_each_ring_s_gears_stand_together_easiest_first() -> None:
    of = study(two_by_eleven(), two_by_eleven())
    rows = chart_rows(of, ChartStyle(rows=RowOrder.RING))
    assert [(row.gear.ring, row.gear.cog) for row in rows] == [
        (ring, cog) for ring in RINGS for cog in sorted(COGS, reverse=True)
    ]


def test_a_gear_that_another_ring_repeats_says_which() -> None:
    # 30/15 = 46/23 = 2: equal developments.
    assert "same 46x23" in row_of("30x15", two_by_eleven(), two_by_eleven())
    assert "same as 46x23" in row_of("30x15", two_by_eleven(), two_by_eleven(), cells=90)
    assert "same 30x15" in row_of("46x23", two_by_eleven(), two_by_eleven())


def test_with_rings_by_size_the_step_is_that_of_the_gear_s_own_ring() -> None:
    # Between 30x13 and 30x11 there are 46x19 and others: the click from 13 to 11 is 18.2 % all the same.
    row = row_of("30x11", two_by_eleven(), two_by_eleven())
    assert "+18.2" in row


def half_cells(row: str, glyphs: Glyphs) -> tuple[int, int]:
    """Halves of a cell that a ladder's row fills, and how many of them are heavy."""
    light = {glyphs.step: 2, glyphs.step_left: 1, glyphs.step_right: 1, glyphs.step_over: 1}
    heavy = {glyphs.over: 2, glyphs.over_left: 1, glyphs.over_right: 1, glyphs.step_over: 1}
    return (
        sum(light.get(char, 0) for char in row),
        sum(heavy.get(char, 0) for char in row),
    )


@pytest.mark.parametrize("glyphs", [SOLID, UNICODE])
def test_a_rung_is_as_long_as_its_step_and_heavy_from_the_limit_on(glyphs: Glyphs) -> None:
    of = study(make((46,), (11, 13, 17, 19, 23), rollout_mm=2189))
    look = Look(200, 24, glyphs)
    cells = columns(of.gears, look).bar
    # 46x23 goes 4.38 m, 46x11 9.15 m: from 4.0 to 10.0 m of R20.
    per_half = math.log(10.0 / 4.0) / (2 * cells)
    rows = gears_page(of, look, ChartStyle(ChartKind.LADDER)).rows[1:]
    for row, (larger, smaller) in zip(rows, ((23, 19), (19, 17), (17, 13), (13, 11)), strict=True):
        light, heavy = half_cells("".join(s.text for s in row)[7 : 7 + cells], glyphs)
        step = math.log(larger / smaller)
        assert light + heavy == pytest.approx(step / per_half, abs=1)
        over = max(step - math.log(1.15), 0.0)
        assert heavy == pytest.approx(over / per_half, abs=1)
        assert (heavy > 0) is (over > 0)


def test_over_the_ladder_stand_the_old_gears_and_lost_stretches_are_shaded() -> None:
    of = study(one_by_ten(), two_by_eleven())
    page = gears_page(of, Look(200, 24, SOLID), ChartStyle(ChartKind.LADDER))
    cells = columns((*of.gears, *of.base_gears), Look(200)).bar
    old = next(row for row in page.head if plain(row).strip().startswith("before"))
    drawn = plain(old)[7 : 7 + cells]
    places = {int(expected(g.development_m, cells, log=True, mode=BaseMode.ROW)) for g in of.base_gears}
    assert {at for at, char in enumerate(drawn) if char == SOLID.rail} == places
    shaded = [row for row in page.rows if any(s.role is Role.LOST and SOLID.lost_bar in s.text for s in row)]
    lost = of.comparison
    assert lost is not None
    assert len(shaded) == len(lost.lost_low) + len(lost.lost_high)


@pytest.mark.parametrize("unit", list(AxisUnit))
@pytest.mark.parametrize("kind", list(ScaleKind))
def test_values_on_the_axis_stand_over_the_places_where_they_are(unit: AxisUnit, kind: ScaleKind) -> None:
    of = study(two_by_eleven(), two_by_eleven())  # 85 rpm: 1 m is 85 * 60 / 1000 = 5.1 km/h
    look, style = Look(120, 24, SOLID), ChartStyle(axis=unit, scale=kind)
    cells = columns(of.gears, look).bar
    head = "".join(span.text for span in gears_page(of, look, style).head[1])
    assert head.split()[0] == unit.value
    axis, values = head[7 : 7 + cells], []
    for at, char in enumerate(axis):
        if char.isdigit() and (at == 0 or not (axis[at - 1].isdigit() or axis[at - 1] == ".")):
            value = float(axis[at:].split()[0].strip(SOLID.rail))
            metres = value / (1.0 if unit is AxisUnit.METRES else 5.1)
            if metres:
                place = expected(metres, cells, kind is ScaleKind.LOG, BaseMode.ROW)
                assert at == int(place + 1e-9), value
            values.append(value)
    assert len(values) >= 4
    assert values == sorted(values)


def test_rails_stand_at_the_old_ends() -> None:
    of = study(one_by_ten(), two_by_eleven())
    cells = columns((*of.gears, *of.base_gears), Look(120)).bar
    rows = gears_page(of, Look(120, 24, SOLID), ChartStyle(baseline=BaseMode.LOST)).rows
    first = "".join(s.text for s in rows[0])[7 : 7 + cells]
    high = int(expected(2.189 * 46 / 11, cells, log=True, mode=BaseMode.ROW))
    assert first[high] == SOLID.rail


@pytest.mark.long(cases=6)
@pytest.mark.parametrize("cells", range(46, 140))
def test_the_cadence_stands_over_the_speeds_at_every_width(cells: int) -> None:
    of = study(two_by_eleven(), two_by_eleven())
    page = gears_page(of, Look(cells, 24, SOLID))
    head, row = plain(page.head[1]), "".join(s.text for s in page.rows[0])
    room = columns(of.gears, Look(cells))
    end = 1 + room.label + room.bar + room.metres + room.step + room.was + room.speed
    assert row[:end].endswith("9.9")  # 2.189 * 30 / 34 m at 85 rpm is 9.85 km/h
    assert head[:end].endswith(("85 rpm", "km/h@85"))


def test_the_limit_is_named_where_the_jumps_are() -> None:
    head = plain(gears_page(study(two_by_eleven()), Look(79, 24, SOLID)).head[1])
    assert head.endswith("limit 15 %")


@pytest.mark.parametrize("drawing", ChartKind)
@pytest.mark.parametrize("mode", BaseMode)
@pytest.mark.parametrize("with_baseline", [True, False])
def test_the_height_that_is_told_is_that_of_the_page(
    drawing: ChartKind, mode: BaseMode, with_baseline: bool
) -> None:
    bench, base = make([30, 46], [13, 15, 19, 24]), make([28, 44], [11, 13, 17, 28])
    of, style = study(bench, base if with_baseline else None), ChartStyle(drawing=drawing, baseline=mode)
    page = gears_page(of, Look(width=80), style)
    assert gears_height(of, style) == len(page.head) + len(page.rows)
