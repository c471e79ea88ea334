"""The chainline with spacers, another bottom bracket and an offset ring: angles by hand, before and after."""

import math
from typing import Any

import pytest

from cogwright.core.chain.line import chainline_of, line_before
from cogwright.core.setup.model import Limits, Setup
from cogwright.core.study import study
from cogwright.present.lines import Look, plain, width
from cogwright.present.report.fit_data import chain_json
from cogwright.present.views.fit import fit_lines
from support import make

COGS = (11, 15, 19)


def bike(crank: dict[str, Any] | None = None, rear: dict[str, Any] | None = None) -> Setup:
    facts = {"chainline_mm": 45.0, "ring_spacing_mm": 8.0} | (crank or {})
    back = {"chainline_mm": 45.0, "cog_pitch_mm": 4.0} | (rear or {})
    return make((34, 48), COGS, crank=facts, rear=back, frame={"chainstay_mm": 400.0})


def angle(of: Setup, ring: int, cog: int) -> float:
    (found,) = [a.degrees for a in chainline_of(of).angles if (a.ring, a.cog) == (ring, cog)]
    return found


def test_everything_that_moves_the_rings_adds_up() -> None:
    moved = {"spacer_mm": 2.0, "bottom_bracket_mm": -1.5, "ring_offset_mm": -3.0}
    of = chainline_of(bike(moved))
    assert (of.front_mm, of.rear_mm) == (42.5, 45.0)
    # By hand: rings at 38.5 and 46.5, cogs from the largest at 41, 45 and 49; 46.5 to 41 is 5.5 mm in 400.
    assert angle(bike(moved), 48, 19) == pytest.approx(math.degrees(math.atan(5.5 / 400.0)))
    assert angle(bike(), 48, 19) == pytest.approx(math.degrees(math.atan(8.0 / 400.0)))


def test_a_spacer_behind_the_cogs_moves_them_outwards() -> None:
    # The inner ring stands at 41; the smallest cog moves from 49 to 51.
    assert angle(bike(rear={"spacer_mm": 2.0}), 34, 11) == pytest.approx(
        math.degrees(math.atan(10.0 / 400.0))
    )


def test_uneven_gaps_are_taken_from_the_smallest_sprocket() -> None:
    uneven = bike({"ring_spacing_mm": [8.0]}, {"cog_pitch_mm": [4.0, 6.0]})
    # Ten mm across: 40 to 50; the smallest is outermost, 4 mm from its neighbour: 50, 46, 40.
    assert angle(uneven, 34, 15) == pytest.approx(math.degrees(math.atan(5.0 / 400.0)))
    assert chainline_of(bike(rear={"cog_pitch_mm": [4.0]})).missing == (
        "rear.cog_pitch_mm with 2 figures (it has 1)",
    )


def test_before_is_the_baseline_and_without_one_as_measured() -> None:
    plain_bike, moved = bike(), bike({"spacer_mm": 2.0})
    assert line_before(chainline_of(plain_bike), None) is None
    assert line_before(chainline_of(moved), moved) is None, "nothing moved"
    as_measured = line_before(chainline_of(moved), None)
    assert as_measured is not None
    assert as_measured.front_mm == 45.0
    before = line_before(chainline_of(plain_bike), moved)
    assert before is not None
    assert before.front_mm == 47.0
    other = bike({"chainline_mm": 50.0})
    assert line_before(chainline_of(other), plain_bike) is None, "another crank is no spacer"


@pytest.mark.parametrize("cells", [40, 80, 120])
def test_the_view_and_the_data_have_every_pair_before_and_after(cells: int) -> None:
    found = study(bike({"spacer_mm": 2.0}), bike())
    rows = fit_lines(found, Look(cells))
    assert max(map(width, rows)) <= cells
    shown = [plain(row) for row in rows]
    assert "Rings 47.0 mm from the middle of the bike, before 45.0 mm." in " ".join(" ".join(shown).split())
    line = chain_json(found)["line"]
    pairs = {(p["ring"], p["cog"]): (p["before"], p["degrees"]) for p in line["per_pair"]}  # type: ignore[index]
    assert len(pairs) == 6
    row = next(row for row in shown[shown.index(" Chain line") :] if row.startswith("  19"))
    assert [float(word) for word in row.split()[1:]] == [
        pytest.approx(value, abs=0.051) for ring in (34, 48) for value in pairs[ring, 19]
    ]


def test_where_nothing_moved_there_is_no_table() -> None:
    assert " Chain line" not in [plain(row) for row in fit_lines(study(bike(), bike()), Look())]


def test_pairs_over_the_limit_stand_worst_first() -> None:
    """The inner ring at 41, the outer at 49, cogs at 41, 45 and 49 from the largest: 8, 8, 4 and 4 mm off."""
    limited = bike().model_copy(update={"limits": Limits(chain_angle_deg=0.5)})
    offsets = [abs(found.offset_mm) for found in chainline_of(limited).over]
    assert offsets == [8.0, 8.0, 4.0, 4.0]
