"""Belts: length by bands that Shapely lays round two discs, distance by SciPy's roots, checks by hand."""

import math
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from shapely import Point, unary_union

from bikes import check, drawer
from cogwright.core.chain.belt import belt_of, belt_teeth, centres_for
from cogwright.core.fit.check import Status
from cogwright.core.setup.model import Setup
from cogwright.core.study import study
from cogwright.present.lines import Look, plain, width
from cogwright.present.report.data import Report, document
from cogwright.present.report.sections import Extras
from cogwright.present.views.fit import fit_lines
from scipys import brentq
from support import LONG, make


def band(front: int, rear: int, centres: float, pitch: float) -> float:
    """Length in pitches of a band laid tight round two discs: the hull of both, by Shapely."""
    discs = [
        Point(x, 0.0).buffer(pitch * teeth / (2 * math.pi), quad_segs=4096)
        for x, teeth in ((0.0, front), (centres, rear))
    ]
    return float(unary_union(discs).convex_hull.length / pitch)


@pytest.mark.parametrize(
    ("front", "rear", "centres", "pitch"),
    [
        (50, 24, 430.0, 11.0),
        (46, 22, 440.0, 11.0),
        (70, 19, 410.0, 8.0),
        (30, 60, 500.0, 10.0),
        (20, 20, 100.0, 10.0),
    ],
)
def test_length_round_two_pulleys(front: int, rear: int, centres: float, pitch: float) -> None:
    assert belt_teeth(front, rear, centres, pitch) == pytest.approx(
        band(front, rear, centres, pitch), abs=1e-4
    )


@given(st.integers(20, 80), st.integers(15, 60), st.floats(400.0, 600.0), st.sampled_from([8.0, 10.0, 11.0]))
def test_the_distance_is_the_root_of_the_length(front: int, rear: int, stay: float, pitch: float) -> None:
    teeth = belt_teeth(front, rear, stay, pitch)
    assert centres_for(front, rear, teeth, pitch) == pytest.approx(stay, abs=1e-6)
    whole = math.ceil(teeth)
    least = (front + rear) * pitch / (2 * math.pi) * (1 + 1e-9)
    root = brentq(lambda d: belt_teeth(front, rear, d, pitch) - whole, least, 5000.0, xtol=1e-9)
    assert centres_for(front, rear, whole, pitch) == pytest.approx(root, abs=1e-6)


def test_a_belt_too_short_to_go_round() -> None:
    with pytest.raises(ValueError, match="do not go round"):
        centres_for(50, 24, 60, 11.0)


def bike(teeth: int | None = 115, rings: Any = (50,), cogs: Any = (24,), **more: Any) -> Setup:
    belt = {"pitch_mm": 11.0, "teeth": teeth} | more.pop("belt", {})
    frame = {"chainstay_mm": 430.0, "axle_travel_mm": 15.0} | more.pop("frame", {})
    belt, frame = ({k: v for k, v in table.items() if v is not None} for table in (belt, frame))
    return make(rings, cogs, belt=belt, frame=frame, **more)


def test_the_axle_moves_to_where_the_belt_is_taut() -> None:
    """50 and 24 teeth on 430 mm: 37 teeth on the pulleys and, by Shapely, the rest of the band."""
    taken = band(50, 24, 430.0, 11.0)
    first = math.ceil(taken)
    found = check(bike(first), "belt")
    root = brentq(lambda d: band(50, 24, d, 11.0) - first, 400.0, 500.0, xtol=1e-6)
    assert found.figure == pytest.approx(root - 430.0, abs=0.06)
    assert (found.status, found.limit, found.unit) == (Status.OK, 15.0, "mm")
    assert "tension as its maker states" in found.say
    assert check(bike(first - 1), "belt").status is Status.PROBLEM
    assert "a longer belt" in check(bike(first - 1), "belt").say
    assert check(bike(first + 6), "belt").status is Status.PROBLEM
    assert "a shorter belt" in check(bike(first + 6), "belt").say
    assert check(bike(50), "belt").status is Status.PROBLEM


@pytest.mark.long(cases=0)
def test_lengths_that_leave_the_axle_within_its_way() -> None:
    """Every length tried: its distance by SciPy from the band that Shapely lays."""
    right = []
    for teeth in range(108, 126) if LONG else range(114, 119):
        move = brentq(lambda d, n=teeth: band(50, 24, d, 11.0) - n, 300.0, 600.0, xtol=1e-6) - 430.0
        right += [teeth] if 0.0 <= move <= 15.0 else []
    belt = belt_of(bike(108))
    assert belt is not None
    assert belt.right == tuple(right) != ()
    first, middle, last = right
    assert f"a longer belt ({first}, {middle} or {last} teeth)" in check(bike(108), "belt").say
    unsaid = belt_of(bike(108, frame={"axle_travel_mm": None}))
    assert unsaid is not None
    assert unsaid.right == ()


def test_the_bin_says_which_lengths_are_there() -> None:
    stock = drawer(
        belts=[
            {"pitch_mm": 11.0, "teeth": 116, "count": 2},
            {"pitch_mm": 11.0, "teeth": 117, "lead_days": 6},
            {"pitch_mm": 8.0, "teeth": 115, "count": 1},
        ]
    )
    text = [plain(row) for row in fit_lines(study(bike(114)), Look(80), stock)]
    rows = {row.split()[0]: row for row in text if row.split()[:1] and row.split()[0].isdigit()}
    assert "2 in stock" in rows["116"]
    assert "to order, 6 days" in rows["117"]
    assert "on the bike, not in the bin" in rows["114"]
    assert "not in the bin" in rows["115"], "that one has another pitch"
    assert not any("bin" in plain(row) for row in fit_lines(study(bike(114)), Look(80)))
    data = document(Report(study(bike(114)), extras=Extras(stock=stock)))["belt"]
    assert data["in_bin"] == [116, 117]  # type: ignore[index]


def test_what_is_missing_is_asked_for_with_what_the_pulleys_take() -> None:
    found = check(bike(None), "belt")
    assert found.status is Status.UNKNOWN
    assert found.say.startswith("needs belt.teeth in the setup; the pulleys take ")
    assert f"{band(50, 24, 430.0, 11.0):.2f} teeth" in found.say
    unsaid = bike(115, frame={"axle_travel_mm": None})
    assert "needs frame.axle_travel_mm" in check(unsaid, "belt").say


def test_a_belt_does_not_shift() -> None:
    assert check(bike(rings=(40, 50)), "belt").status is Status.PROBLEM
    assert check(bike(cogs=(20, 24)), "belt").status is Status.PROBLEM


@pytest.mark.parametrize(("offset", "status"), [(0.0, Status.OK), (1.0, Status.OK), (1.5, Status.PROBLEM)])
def test_the_belt_line(offset: float, status: Status) -> None:
    setup = bike(
        belt={"most_offset_mm": 1.0},
        crank={"chainline_mm": 45.0},
        rear={"chainline_mm": 45.0, "spacer_mm": offset},
    )
    found = check(setup, "belt line")
    assert (found.status, found.figure) == (status, offset)
    assert check(bike(belt={"most_offset_mm": 1.0}), "belt line").status is Status.UNKNOWN


@pytest.mark.parametrize("cells", [40, 80, 120])
def test_nothing_of_chains_or_half_links_is_said(cells: int) -> None:
    odd = bike(115, chain={"links": 113})
    found = study(odd)
    assert not [c.check for c in found.fit if c.check.startswith("chain") or c.check == "axle travel"]
    rows = fit_lines(found, Look(cells))
    assert max(map(width, rows)) <= cells
    text = "\n".join(map(plain, rows))
    assert "half link" not in text
    assert "Chain" not in text
    assert " Belt" in text


def test_the_data_has_the_belt_and_no_chain() -> None:
    data = document(Report(study(bike(115))))
    belt = data["belt"]
    assert belt["taken"] == pytest.approx(band(50, 24, 430.0, 11.0), abs=1e-3)  # type: ignore[index]
    assert data["chain"]["needed_pitches"] is None  # type: ignore[index]
    assert document(Report(study(make((50,), (24,)))))["belt"] is None
    assert belt_of(make((50,), (24,))) is None


def test_an_axle_that_would_have_to_come_forward_is_a_problem_beyond_what_a_ruler_is_good_to() -> None:
    """The distance of 115 teeth round 50 and 24 as SciPy's root; then 0.03 and 0.5 mm farther."""
    fits = brentq(lambda d: belt_teeth(50, 24, d, 11.0) - 115, 200.0, 600.0, xtol=1e-9)
    found = [check(bike(frame={"chainstay_mm": fits + off}), "belt").status for off in (0.03, 0.5)]
    assert found == [Status.OK, Status.PROBLEM]
