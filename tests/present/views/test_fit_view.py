"""The Fit view: lines that fit their width, bars that keep their measure, nothing that any setup breaks."""

import unicodedata
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bikes import DEMO, DRAWERS, bike
from cogwright.core.fit.check import Check, Status
from cogwright.core.setup.model import Setup
from cogwright.core.study import study
from cogwright.present.lines import ASCII, UNICODE, Look, plain, width
from cogwright.present.report.fit_data import chain_json, fit_json
from cogwright.present.views.fit import check_lines, fit_lines, fit_page
from cogwright.store.bins import read_bin
from cogwright.store.documents import read_setup
from support import long_run, make

WIDTHS = (40, 63, 64, 80, 109, 110, 120, 200)


def text(setup: Setup, look: Look | None = None) -> str:
    return "\n".join(map(plain, fit_lines(study(setup), look or Look())))


@pytest.mark.long(cases=4)
@pytest.mark.parametrize("cells", WIDTHS)
@pytest.mark.parametrize("glyphs", [UNICODE, ASCII])
def test_no_line_is_wider_than_its_room(cells: int, glyphs: object) -> None:
    look = Look(cells, glyphs=glyphs)  # type: ignore[arg-type]
    for setup in (bike(chain={"links": 100}), make((22, 32, 44), (11, 17, 34)), bike((24, 34, 46, 50))):
        lines = fit_lines(study(setup), look)
        assert max(map(width, lines)) <= cells
        for char in "".join(map(plain, lines)):
            assert unicodedata.east_asian_width(char) in {"N", "Na"}
            assert glyphs is UNICODE or char.isascii()


def test_what_must_be_mended_comes_first() -> None:
    said = text(bike(chain={"links": 108}))
    assert said.index("problem chain length") < said.index("caution chain angle") < said.index("ok ")
    assert "this chain is 4 links short" in said
    assert "Gears to avoid, by chain angle in degrees: 46x34 (3.0), 34x11 (3.0)" in said
    assert "108.61 links (approximation 108.61)" in said


def test_every_state_reads_without_colour() -> None:
    short = text(bike(chain={"links": 108}), Look(glyphs=ASCII))
    row = next(r for r in short.splitlines() if r.startswith("  34"))
    assert row.split()[-2:] == ["-0.6!", "3.0x"]
    assert "~ hangs slack" in text(bike(chain={"links": 118}))


def test_the_summary_stays_in_sight() -> None:
    page = fit_page(study(bike()), Look())
    assert [plain(row) for row in page.head] == [" Goes together with care: chain angle."]


@pytest.mark.parametrize(
    ("used", "over"), [(10.0, False), (39.0, False), (40.0, False), (40.5, True), (80.0, True)]
)
def test_a_bar_passes_its_mark_only_over_the_limit(used: float, over: bool) -> None:
    check = Check("capacity", Status.OK, used, 40.0, "teeth", "", (used, 40.0))
    (row,) = check_lines(check, Look(80, glyphs=ASCII))
    drawn = plain(row)[55:]
    before, _, after = drawn.partition("|")
    assert bool(after.strip()) is over
    assert before.count("=") == pytest.approx(min(used / 40 * 16, 16), abs=0.51)


def test_race_limit_names_what_to_block_and_what_to_measure() -> None:
    said = text(make((52,), (11, 14, 15), size="23-622", limits={"rollout_m": 7.83}))
    assert "Block 52x11" in said
    assert "Measure on the floor before the start: 52x14" in said
    assert "Largest legal gear: 52x15" in said


teeth = st.integers(6, 130)
sprockets = st.lists(teeth, min_size=1, max_size=13, unique=True)
facts = st.fixed_dictionaries(
    {},
    optional={
        "frame": st.fixed_dictionaries(
            {}, optional={"chainstay_mm": st.floats(200, 1500), "axle_travel_mm": st.floats(0, 100)}
        ),
        "chain": st.fixed_dictionaries({"links": st.integers(20, 400)}),
        "rear_derailleur": st.fixed_dictionaries({"capacity": st.integers(0, 100)}),
        "limits": st.fixed_dictionaries({"rollout_m": st.floats(1, 30)}),
    },
)


@pytest.mark.long
@settings(max_examples=long_run(150, 20))
@given(sprockets, sprockets, facts, st.integers(20, 130))
def test_no_valid_setup_breaks_it(rings: list[int], cogs: list[int], more: dict[str, Any], room: int) -> None:
    found = study(make(rings, cogs, **more))
    assert all(width(row) <= room for row in fit_lines(found, Look(room)))
    assert fit_json(found)
    data = chain_json(found)
    assert (data["needed_pitches"] is None) == (not data["per_gear"])


def test_it_says_where_the_order_s_parts_change_the_verdict() -> None:
    """By the checks of both bikes: the order renews the first trial's chain, and its largest cog stays."""
    base, first = (read_setup(DEMO / f"yard-1-{name}.toml").value for name in ("two-rings", "first-trial"))
    stock = read_bin(DRAWERS).value
    heads = [plain(row) for row in fit_page(study(first, base), Look(), stock).head]
    assert "chain length" in heads[0]
    assert heads[1].strip() == "With the parts of 6 Order on it does not go together: largest cog."
    assert (
        plain(fit_page(study(first, base), Look(40), stock).head[1]).strip()
        == "With 6 Order: 1 problem, 1 unknown"
    )
    assert len(fit_page(study(first), Look(), stock).head) == 1, "no baseline, no order"
    assert len(fit_page(study(base, base), Look(), stock).head) == 1, "nothing to renew"
    bare, other = make((32, 46), (11, 13, 34)), make((32, 46), (11, 13, 15, 34))
    assert len(fit_page(study(other, bare), Look(), stock).head) == 1, "nothing wrong that the order mends"


def test_what_is_past_an_estimated_limit_by_less_than_that_is_good_to_does_not_look_like_too_much() -> None:
    near = Check("chain slack", Status.OK, 27.2, 26.5, "links", "", (27.2, 26.5), default=True)
    over = Check("chain slack", Status.CAUTION, 27.7, 26.5, "links", "", (27.7, 26.5), default=True)
    (row,) = map(plain, check_lines(near, Look()))
    assert "27.2 (about 26.5) links *" in row
    assert row.rstrip().endswith(Look().glyphs.upright), "the bar ends at its mark"
    assert "27.7 (limit 26.5) links *" in plain(check_lines(over, Look())[0])
