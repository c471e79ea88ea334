"""The drawn chart, read back out of the SVG: lengths by hand arithmetic, figures by those of the study."""

import math
import re
from collections.abc import Sequence
from itertools import product
from pathlib import Path
from xml.etree import ElementTree

import pytest

from cogwright.core.setup.model import Setup
from cogwright.core.study import study
from cogwright.present.chart_style import (
    STANDARD,
    AxisUnit,
    BaseMode,
    ChartKind,
    ChartStyle,
    RowOrder,
    ScaleKind,
)
from cogwright.present.lines import ASCII, Look, Role, plain
from cogwright.present.palette import DARK, LIGHT, Palette
from cogwright.present.picture.chart import chart_picture
from cogwright.present.picture.places import BAR_HIGH, BARS, BARS_END, OLD_HIGH
from cogwright.present.views.gears import gears_page
from cogwright.store.documents import read_setup
from support import ROOT, long_cases, long_spread, make

BIKES = {path.stem: read_setup(path).value for path in sorted((ROOT / "setups").glob("*.toml"))}
SVG = "{http://www.w3.org/2000/svg}"
#: 46x23 goes 4.378 m, 46x13 7.746 m, before 46x11 9.154 m: hand arithmetic, rollout by teeth ratio.
NOW = make((46,), (13, 17, 19, 23), rollout_mm=2189)
BEFORE = make((46,), (11, 17, 19, 23), rollout_mm=2189)


def read(
    bench: Setup,
    base: Setup | None,
    style: ChartStyle = STANDARD,
    palette: Palette = LIGHT,
) -> ElementTree.Element:
    return ElementTree.fromstring(chart_picture(study(bench, base), style, palette))


def widths(of: ElementTree.Element, role: Role, height: float) -> list[float]:
    """Lengths of the bars of a role, from the left side of the chart."""
    rects = of.iter(f"{SVG}rect")
    drawn = [r for r in rects if r.get("fill") == LIGHT.colour(role) and float(r.get("x", 0)) == BARS]
    return [float(r.get("width", 0)) for r in drawn if float(r.get("height", 0)) == height]


def texts(of: ElementTree.Element) -> list[str]:
    return ["".join(text.itertext()) for text in of.iter(f"{SVG}text")]


@pytest.mark.parametrize("kind", list(ScaleKind))
def test_bars_are_as_long_as_the_gears_go_and_those_before_stand_below(kind: ScaleKind) -> None:
    of = read(NOW, BEFORE, ChartStyle(scale=kind))
    now, old = (widths(of, *which) for which in ((Role.BENCH, BAR_HIGH), (Role.BEFORE, OLD_HIGH)))
    metres = [2.189 * 46 / cog for cog in (23, 19, 17, 13)]
    before = [2.189 * 46 / cog for cog in (23, 19, 17, 11)]
    room = BARS_END - BARS
    if kind is ScaleKind.LINEAR:  # to 9.5 m, the half metre above 3 % more than 9.15 m
        assert now == pytest.approx([m / 9.5 * room for m in metres], abs=0.01)
        assert old == pytest.approx([m / 9.5 * room for m in before], abs=0.01)
    else:  # R20 of ISO 3 below 4.38 m and above 9.15 m: from 4.0 to 10.0
        assert now == pytest.approx([math.log(m / 4) / math.log(2.5) * room for m in metres], abs=0.01)
        assert old == pytest.approx([math.log(m / 4) / math.log(2.5) * room for m in before], abs=0.01)


def test_figures_are_those_of_the_study_and_what_is_lost_is_said() -> None:
    said = texts(read(NOW, BEFORE))
    for row in study(NOW, BEFORE).rows:
        assert f"{row.gear.development_m:.2f}" in said
    assert "46\u00d711" in said  # lost: 9.15 m against 7.75 m
    assert "lost" in said
    assert {"+21.1", "+11.8", "+30.8"} <= set(said)  # 23/19, 19/17 and 17/13 less 1
    assert "was 54.5" in said  # 17/11 less 1
    assert any(text.startswith("before: ") for text in said)


@pytest.mark.parametrize("size", [40, 60, 120])
def test_marks_mean_the_same_in_the_picture_and_in_the_terminal_whole_in_any_width(size: int) -> None:
    """Figures apart, the words of the legend under either chart; a limit of 7.5 % is in both."""
    bench = make((46,), (13, 17, 19, 23), rollout_mm=2189, limits={"jump_pct": 7.5})
    drawn = [text for text in texts(read(bench, BEFORE)) if text.startswith(("wide:", "jump:"))]
    page = gears_page(study(bench, BEFORE), Look(size, glyphs=ASCII))
    said = " ".join(" ".join(map(plain, page.legend)).split())
    assert len(drawn) == 2
    assert "over 7.5 %" in drawn[0]
    for words in drawn:
        assert words in said


def test_the_ladder_draws_each_step_alone_and_the_part_over_the_limit_heavy() -> None:
    of = read(NOW, None, ChartStyle(ChartKind.LADDER))
    rects = [r for r in of.iter(f"{SVG}rect") if float(r.get("x", 0)) >= BARS]
    light = sorted(float(r.get("width", 0)) for r in rects if float(r.get("height", 0)) == 5.0)
    # From 4.0 to 8.0 m of R20, 456 units: up to the limit of 15 % each, the one of 11.8 % whole.
    unit = (BARS_END - BARS) / math.log(2.0)
    assert light == pytest.approx([unit * math.log(19 / 17), *[unit * math.log(1.15)] * 2], abs=0.02)
    heavy = [float(r.get("width", 0)) for r in rects if float(r.get("width", 0)) not in {*light, 3.0}]
    assert sorted(heavy) == pytest.approx([unit * math.log(n / 1.15) for n in (23 / 19, 17 / 13)], abs=0.02)


@pytest.mark.long(cases=1)
@pytest.mark.parametrize("name", long_cases(list(BIKES), 2))
@pytest.mark.parametrize(
    "palette", long_cases([DARK, LIGHT], 1), ids=lambda p: "dark" if p is DARK else "light"
)
def test_every_demo_bike_is_drawn_in_every_way_with_shapes_alone(name: str, palette: Palette) -> None:
    ways: Sequence[type] = (ChartKind, ScaleKind, BaseMode, RowOrder, AxisUnit)
    for of in long_spread([*product(*ways)], 24):
        text = chart_picture(study(BIKES[name], BIKES["yard-1-two-rings"]), ChartStyle(*of), palette)
        root = ElementTree.fromstring(text)
        assert "\u2588" not in text
        assert all(not re.search("[\u2500-\u28ff]", said) for said in texts(root))
        width, height = (float(root.get(side, 0)) for side in ("width", "height"))
        for rect in root.iter(f"{SVG}rect"):
            x, y, wide, high = (float(rect.get(side, 0)) for side in ("x", "y", "width", "height"))
            assert 0 <= x <= x + wide <= width
            assert 0 <= y <= y + high <= height
        for said in root.iter(f"{SVG}text"):
            assert 0 <= float(said.get("x", 0)) <= width
            assert 0 <= float(said.get("y", 0)) <= height


def test_no_name_in_a_file_becomes_part_of_the_drawing() -> None:
    bad = '</text><script>alert(1)</script>&"\u202e'
    of = read(NOW.model_copy(update={"name": bad}), BEFORE.model_copy(update={"name": bad}))
    assert not list(of.iter(f"{SVG}script"))
    assert any("<script>" in text for text in texts(of))
    assert all("\u202e" not in text for text in texts(of))


def test_the_drawing_asks_the_viewer_for_nothing(tmp_path: Path) -> None:
    text = chart_picture(study(NOW, BEFORE))
    assert "href" not in text
    assert "@import" not in text
    assert "url(" not in text
    assert re.findall('https?://[^"]*', text) == ["http://www.w3.org/2000/svg"]
