"""Going to a single ring: which ring serves what, against arithmetic done another way."""

import math
from fractions import Fraction

import pytest

from bikes import drawer
from cogwright.core.proposing.bin_choices import rings_for
from cogwright.core.proposing.choices import CassetteChoice, RingChoice
from cogwright.core.proposing.course_score import CourseScore, score_on
from cogwright.core.proposing.single import BEST_ON_COURSE, KEEPS_BOTTOM, KEEPS_TOP, SPLITS, single_ring
from cogwright.core.riding.course import Piece, from_pieces
from cogwright.core.riding.course_ride import course_ride
from cogwright.core.setup.model import Setup
from cogwright.core.study import study
from cogwright.core.worksheet.build import order_sheet
from scipys import brentq

DOUBLE = {
    "name": "Yard 7 tourer",
    "wheel": {"rollout_mm": 2189},
    "crank": {"rings": (30, 46)},
    "rear": {"cogs": (11, 13, 15, 17, 19, 21, 23, 25, 28, 31, 34)},
    "front_derailleur": {"largest_ring": 48, "difference": 16},
}
WIDE = CassetteChoice((11, 13, 15, 17, 19, 21, 24, 28, 32, 37, 46), name="wide")
DRAWER = drawer(
    rings=[
        {"teeth": 38, "price": 22.0, "count": 1},
        {"teeth": 42, "price": 24.0, "count": 1},
        {"teeth": 46, "price": 30.0, "count": 1, "retaining_teeth": True},
    ],
    cassettes=[{"cogs": WIDE.cogs, "price": 70.0, "count": 1}],
    small_parts=[{"kind": "ring bolts", "price": 6.0, "count": 1}],
)


@pytest.fixture
def double() -> Setup:
    return Setup.model_validate(DOUBLE)


def marked(found, mark: str):
    return [p for p in found if mark in p.marks]


def test_rings_that_keep_an_end(double: Setup) -> None:
    """30/34 on 46 cogs is kept by rings up to 30*46/34 = 40.6; 46/11 on 11 by 46 and more."""
    found = single_ring(double, cassettes=[WIDE])
    assert [p.rings for p in marked(found, KEEPS_BOTTOM)] == [(40,)]
    assert [p.rings for p in marked(found, KEEPS_TOP)] == [(46,)]
    assert math.floor(Fraction(30 * 46, 34)) == 40


def test_ring_that_splits_the_loss(double: Setup) -> None:
    """Equal log loss at both ends, found as a root by SciPy; the nearest ring that is sold has the mark."""

    def unequal(ring: float) -> float:
        return math.log((ring / 46) / (30 / 34)) - math.log((46 / 11) / (ring / 11))

    exact = brentq(unequal, 20, 80)
    ring = min(range(20, 80, 2), key=lambda n: abs(unequal(n)))
    assert abs(ring - exact) < 2
    found = single_ring(double, cassettes=[WIDE])
    assert [p.rings for p in marked(found, SPLITS)] == [(ring,)]
    assert found[0].rings == (ring,), "all rings between lose the same range; the evenly shared loss is best"


def test_figures_of_a_row(double: Setup) -> None:
    """40x46 and 40x11 on 2.189 m, the worst step 37 to 46."""
    row = next(p for p in single_ring(double, cassettes=[WIDE]) if p.rings == (40,))
    assert row.low_m == pytest.approx(2.189 * 40 / 46)
    assert row.high_m == pytest.approx(2.189 * 40 / 11)
    assert row.worst_step_pct == pytest.approx((46 / 37 - 1) * 100)
    assert row.lost is not None
    assert row.lost.low == 0.0
    assert row.lost.high_pct == pytest.approx((1 - 40 / 46) * 100)
    assert row.setup.front_derailleur.difference is None
    assert row.cost is None, "a ring out of thin air has no price"
    assert row.swaps == ()


def test_every_ring_of_the_bin_and_of_the_bike(double: Setup) -> None:
    """Its price is that of its order: rings, the bolts for one ring, the cassette."""
    rings = rings_for(double, DRAWER)
    found = single_ring(
        double, cassettes=[CassetteChoice.of(double, on_bike=True), WIDE], rings=rings, stock=DRAWER
    )
    pairs = sorted((p.rings[0], p.cogs[-1]) for p in found)
    assert pairs == sorted((n, big) for n in (30, 38, 42, 46, 46) for big in (34, 46))
    costs = {(p.rings[0], bool(p.setup.crank.retaining_teeth), p.cogs[-1]): p.cost for p in found}
    assert costs[42, False, 46] == 24.0 + 6.0 + 70.0
    assert costs[30, False, 34] == 6.0
    assert costs[38, False, 34] == 22.0 + 6.0
    assert costs[46, False, 34] == 6.0, "the ring that is there, without anything that keeps the chain on"
    assert costs[46, True, 34] == 30.0 + 6.0, "the same count with teeth that do"
    for one in found:
        sheet = order_sheet(study(one.setup, double), DRAWER)
        assert sheet is not None
        assert (one.parts, one.cost) == (sheet.on, sheet.price)


def test_the_bare_old_ring_is_never_called_ok(double: Setup) -> None:
    rings = rings_for(double, DRAWER)
    found = single_ring(double, cassettes=[WIDE], rings=rings, stock=DRAWER)
    for one in found:
        kept = one.setup.crank.retaining_teeth is True
        loose = any(said.startswith("chain retention: nothing is known to hold it") for said in one.cautions)
        assert loose is not kept
    was_single = Setup.model_validate({**DOUBLE, "crank": {"rings": (42,)}})
    for one in single_ring(was_single, cassettes=[WIDE]):
        assert not any(said.startswith("chain retention") for said in one.cautions)


def test_a_ring_of_41_comes_last_and_is_marked_rare(double: Setup) -> None:
    """P: common single rings are even, and 33, 39 and 53; out of a bin nothing is rare."""
    found = single_ring(double, cassettes=[WIDE])
    rare = [p.rings[0] for p in found if "rare" in p.marks]
    assert set(rare) == {n for n in (p.rings[0] for p in found) if n % 2 and n not in (33, 39, 53)}
    assert 41 in rare
    assert [p.rings[0] for p in found][-len(rare) :] == rare
    assert any("hard to come by" in reason for reason in found[-1].reasons)
    stock = [RingChoice(41, "ring 41")]
    assert not any("rare" in p.marks for p in single_ring(double, cassettes=[WIDE], rings=stock))


def test_the_largest_legal_ring_is_among_those_out_of_all_counts(double: Setup) -> None:
    """7.93 m on a wheel of 2.189 m with a cog of 11: 39.85 teeth; 4.50 m: 22.6, under what keeps an end."""
    for limit, ring in ((7.93, 39), (4.50, 22)):
        race = double.model_copy(update={"limits": double.limits.model_copy(update={"rollout_m": limit})})
        assert ring == math.floor(limit / 2.189 * 11)
        found = single_ring(race, cassettes=[WIDE])
        assert [p.rings for p in marked(found, "largest legal")] == [(ring,)]
        over = [p for p in found if p.rings[0] > ring]
        assert over
        assert all(any(said.startswith("rollout") for said in p.problems) for p in over)
        assert found[0].rings[0] <= ring


def test_the_wider_cassette_loses_least(double: Setup) -> None:
    found = single_ring(double, cassettes=[CassetteChoice.of(double), WIDE])
    assert found[0].cogs == WIDE.cogs
    lost = [p.lost.range_pct for p in found if p.lost and "rare" not in p.marks]
    assert lost == sorted(lost, key=lambda x: round(x, 6))


def test_what_does_not_fit_comes_last_and_says_why(double: Setup) -> None:
    small = double.model_copy(update={"frame": double.frame.model_copy(update={"largest_ring": 41})})
    found = single_ring(small, cassettes=[WIDE])
    assert [bool(p.problems) for p in found] == sorted(bool(p.problems) for p in found)
    assert found[0].rings == (40,)
    assert all(p.rings[0] > 41 for p in found if p.problems)
    assert found[-1].problems[0].startswith("frame clearance: ")


def test_best_on_the_course_is_what_the_score_says(double: Setup) -> None:
    def score(setup: Setup) -> CourseScore:
        return CourseScore((abs(setup.crank.rings[0] - 42.2),), "as said")

    found = single_ring(double, cassettes=[WIDE], course_score=score)
    assert [p.rings for p in marked(found, BEST_ON_COURSE)] == [(42,)]
    assert all("as said" in p.reasons for p in found)
    silent = single_ring(double, cassettes=[WIDE], course_score=lambda s: None)
    assert marked(silent, BEST_ON_COURSE) == []


def test_a_steep_course_wants_a_smaller_ring_than_a_flat_one(double: Setup) -> None:
    """By hand: at 190 W a climb of 12 % wants the lowest gear there is, a fast descent the highest."""
    up = from_pieces("Saddlebeck, up", [Piece(5000.0, 0.12)])
    down = from_pieces("Saddlebeck, down", [Piece(5000.0, -0.05)])
    best = {}
    for course in (up, down):
        found = single_ring(double, cassettes=[WIDE], course_score=score_on(course))
        best[course.name] = marked(found, BEST_ON_COURSE)[0]
    assert best[up.name].rings[0] < best[down.name].rings[0]
    assert any(f"on {up.name}: grinds" in reason for reason in best[up.name].reasons)


def test_no_ring_grinds_and_spins_less_than_the_marked_one(double: Setup) -> None:
    course = from_pieces("Crook Hause", [Piece(3000.0, 0.09), Piece(2000.0, 0.0), Piece(4000.0, -0.06)])

    def outside(setup: Setup) -> float:
        ride = course_ride(course, setup, setup.rider)
        return ride.grinding_s + ride.spinning_s

    found = single_ring(double, cassettes=[WIDE], course_score=score_on(course))
    (best,) = marked(found, BEST_ON_COURSE)
    assert outside(best.setup) <= min(outside(p.setup) for p in found) + 0.06
    assert outside(best.setup) < max(outside(p.setup) for p in found)


def test_against_another_baseline_and_wheel(double: Setup) -> None:
    """The same gears on a wheel half as large need a ring twice as large."""
    small = double.model_copy(update={"wheel": double.wheel.model_copy(update={"rollout_mm": 1094.5})})
    found = single_ring(small, baseline=double, cassettes=[CassetteChoice((11, 23))])
    bottom = marked(found, KEEPS_BOTTOM)[0].rings[0]
    # 40.6 teeth: 40 are sold.
    assert bottom == math.floor(2 * Fraction(30 * 23, 34))


def test_hub_gear_counts_at_both_ends() -> None:
    """A 3-speed hub .733 1 1.364 (from memory) behind one cog of 18: the ring that keeps 30/34 and 46/11."""
    hub = Setup.model_validate(
        {
            "name": "Yard 3",
            "wheel": {"rollout_mm": 2000},
            "crank": {"rings": (44,)},
            "rear": {"cogs": (18,), "hub_ratios": (0.733, 1.0, 1.364)},
        }
    )
    base = Setup.model_validate({**DOUBLE, "wheel": {"rollout_mm": 2000}})
    found = single_ring(hub, baseline=base)
    # 21.7 teeth: 20 are sold, 21 and 19 are hard to come by.
    assert math.floor(30 / 34 * 18 / 0.733) == 21
    assert marked(found, KEEPS_BOTTOM)[0].rings[0] == 20
    assert marked(found, KEEPS_TOP)[0].rings[0] == math.ceil(46 / 11 * 18 / 1.364)
    assert found[0].worst_step_pct == pytest.approx(36.4, abs=0.05)


def test_the_bikes_own_ring_is_never_rare_whatever_its_count(double: Setup) -> None:
    """45 teeth are uncommon to buy, and there is nothing to buy; 43 and 41 are not on it."""
    own = Setup.model_validate({**DOUBLE, "crank": {"rings": (30, 45)}})
    marks = {p.rings[0]: p.marks for p in single_ring(own, cassettes=[WIDE])}
    assert "rare" not in marks[45]
    assert "rare" in marks[43]
    assert "rare" in marks[41]
