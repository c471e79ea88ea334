"""Every one-tooth swap of every demo bike: something in the picture moves, on either scale."""

from collections.abc import Iterator
from itertools import product
from pathlib import Path

import pytest

from cogwright.core.setup.edits import EditRefused, SetTeeth
from cogwright.core.setup.model import Setup
from cogwright.core.setup.sprockets import Where, sprockets
from cogwright.core.study import study
from cogwright.present.chart_style import ChartKind, ChartStyle, ScaleKind
from cogwright.present.lines import ASCII, SOLID, UNICODE, Glyphs, Look
from cogwright.present.panels.screen import body_of
from cogwright.present.views.gears import gears_page
from cogwright.present.views.gears_columns import columns
from cogwright.store.documents import read_setup
from support import ROOT, long_cases

FOLDER = ROOT / "setups"
BIKES = {path.stem: read_setup(path).value for path in sorted(FOLDER.glob("*.toml"))}
#: Rows that the view has in 80x24 below an alarm, with the table in the foot.
ROWS = 13


def swaps(setup: Setup) -> Iterator[Setup]:
    places: tuple[Where, ...] = ("ring", "cog")
    for where in places:
        for teeth, by in product(sprockets(setup, where), (-1, 1)):
            try:
                yield SetTeeth(where, teeth, teeth + by).apply(setup)
            except EditRefused:
                continue


def picture(bench: Setup, base: Setup, style: ChartStyle, glyphs: Glyphs) -> list[str]:
    """The bars in sight, with the place and the characters of each; no figures."""
    of, look = study(bench, base), Look(79, 24, glyphs, rows=ROWS)
    room = columns((*of.gears, *of.base_gears), look)
    body = body_of(gears_page(of, look, style), ROWS, 0)
    return ["".join(s.text for s in row)[1 + room.label : 1 + room.label + room.bar] for row in body.seen]


#: Each bike against itself as it was saved, and against the baseline that it names.
PAIRS = [
    *((name, name) for name in BIKES),
    *((name, Path(b.baseline).stem) for name, b in BIKES.items() if b.baseline),
]


def test_all_one_tooth_swaps_of_the_demo_are_tried() -> None:
    assert sum(len(list(swaps(bike))) for bike in BIKES.values()) >= 122


@pytest.mark.long(cases=2)
@pytest.mark.parametrize(("name", "before"), long_cases(PAIRS, 3))
@pytest.mark.parametrize("kind", list(ScaleKind))
@pytest.mark.parametrize("drawing", list(ChartKind))
def test_something_in_the_picture_moves(name: str, before: str, kind: ScaleKind, drawing: ChartKind) -> None:
    bike, base, style = BIKES[name], BIKES[before], ChartStyle(drawing, kind)
    at_first = picture(bike, base, style, SOLID)
    found = list(swaps(bike))
    assert found
    for swapped in found:
        assert picture(swapped, base, style, SOLID) != at_first, (swapped.crank.rings, swapped.rear.cogs)


@pytest.mark.long
@pytest.mark.parametrize("glyphs", [UNICODE, ASCII], ids=lambda g: g.name)
@pytest.mark.parametrize("kind", long_cases(list(ScaleKind), 1))
def test_so_it_does_in_characters_of_half_a_cell(glyphs: Glyphs, kind: ScaleKind) -> None:
    """Against the bike as it was saved: the mark of a change is a cell at least."""
    for bike in long_cases(list(BIKES.values()), 1):
        before = picture(bike, bike, ChartStyle(scale=kind), glyphs)
        for swapped in swaps(bike):
            assert picture(swapped, bike, ChartStyle(scale=kind), glyphs) != before, swapped.rear.cogs
