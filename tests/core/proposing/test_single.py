"""Going to a single ring: which ring serves what, against arithmetic done another way."""

import math
from fractions import Fraction

import pytest
from scipy.optimize import brentq

from cogwright.core.proposing.choices import CassetteChoice, RingChoice
from cogwright.core.proposing.course_score import CourseScore, score_on
from cogwright.core.proposing.proposal import Judged
from cogwright.core.proposing.single import BEST_ON_COURSE, KEEPS_BOTTOM, KEEPS_TOP, SPLITS, single_ring
from cogwright.core.riding.course import Piece, from_pieces
from cogwright.core.riding.course_ride import course_ride
from cogwright.core.setup.model import Setup

DOUBLE = {
    "name": "Yard 7 tourer",
    "wheel": {"rollout_mm": 2189},
    "crank": {"rings": (30, 46)},
    "rear": {"cogs": (11, 13, 15, 17, 19, 21, 23, 25, 28, 31, 34)},
    "front_derailleur": {"largest_ring": 48, "difference": 16},
}
WIDE = CassetteChoice((11, 13, 15, 17, 19, 21, 24, 28, 32, 37, 46), name="wide", price=70.0)


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
    """Equal log loss at both ends, found as a root by SciPy; the nearest whole ring has the mark."""

    def unequal(ring: float) -> float:
        return math.log((ring / 46) / (30 / 34)) - math.log((46 / 11) / (ring / 11))

    exact = brentq(unequal, 20, 80)
    ring = min(range(20, 80), key=lambda n: abs(unequal(n)))
    assert abs(ring - exact) < 1
    found = single_ring(double, cassettes=[WIDE])
    assert [p.rings for p in marked(found, SPLITS)] == [(ring,)]
    assert found[0].rings == (ring,), "all rings between lose the same range; the even split is best"


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
    stock = [RingChoice(38, "ring 38, 110 mm", 22.0), RingChoice(42, "ring 42, 110 mm", 24.0)]
    found = single_ring(double, cassettes=[CassetteChoice.of(double, on_bike=True), WIDE], rings=stock)
    pairs = sorted((p.rings[0], p.cogs[-1]) for p in found)
    assert pairs == [(n, big) for n in (30, 38, 42, 46) for big in (34, 46)]
    costs = {(p.rings[0], p.cogs[-1]): p.cost for p in found}
    assert costs[42, 46] == pytest.approx(94.0)
    assert costs[30, 34] == 0.0
    assert costs[38, 34] == pytest.approx(22.0)


def test_the_wider_cassette_loses_least(double: Setup) -> None:
    found = single_ring(double, cassettes=[CassetteChoice.of(double), WIDE])
    assert found[0].cogs == WIDE.cogs
    lost = [p.lost.range_pct for p in found if p.lost]
    assert lost == sorted(lost, key=lambda x: round(x, 6))


def test_what_does_not_fit_comes_last_and_says_why(double: Setup) -> None:
    def judge(setup: Setup) -> Judged:
        return Judged(("the chain is short",) if setup.crank.rings[0] > 41 else ())

    found = single_ring(double, cassettes=[WIDE], judge=judge)
    assert [bool(p.problems) for p in found] == sorted(bool(p.problems) for p in found)
    assert found[0].rings == (41,)
    assert found[-1].problems == ("the chain is short",)


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
    assert marked(found, KEEPS_BOTTOM)[0].rings[0] == math.floor(30 / 34 * 18 / 0.733)
    assert marked(found, KEEPS_TOP)[0].rings[0] == math.ceil(46 / 11 * 18 / 1.364)
    assert found[0].worst_step_pct == pytest.approx(36.4, abs=0.05)
