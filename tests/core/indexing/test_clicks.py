"""Clicks against gaps: by hand, by brute force over every place to set the cable, and by numpy.

Shift equation: cable pull x shift ratio = travel of the cage, which must be the cog pitch (A: open textbook
*Bicycles*, chapter on gear-changing dimensions).
"""

from fractions import Fraction

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from cogwright.core.indexing.clicks import Clicks, travel
from cogwright.core.indexing.indexing import front_indexing, rear_indexing
from support import make

TEN = (11, 12, 13, 15, 17, 19, 21, 24, 27, 30)


def ladder(pull: float, ratio: float, pitch: float, teeth: tuple[int, ...] = TEN) -> Clicks:
    gaps = len(teeth) - 1
    return Clicks(teeth, travel(pull, ratio, gaps) or (), (pitch,) * gaps)


def test_ten_cogs_of_3_95_mm_on_2_7_mm_of_cable_want_a_ratio_of_1_46() -> None:
    """P: the common figures of ten cogs. 3.95 / 2.7 = 1.463."""
    assert ladder(2.7, 1.46, 3.95).well
    assert ladder(2.7, 1.463, 3.95).worst.off_mm == pytest.approx(0.0, abs=0.01)
    assert ladder(2.7, 1.1, 3.95).hopeless
    assert ladder(2.7, 1.7, 3.95).hopeless


def test_two_per_cent_a_click_add_up_to_a_fifth_over_ten_clicks() -> None:
    """A: the same chapter. Set at one end; set in the middle, to half of that either way."""
    eleven = (*TEN, 34)
    clicks = ladder(1.0, 1.02, 1.0, eleven)
    assert clicks.set_at(0)[-1].off_pct == pytest.approx(20.0)
    assert clicks.set_on == eleven[5]
    assert [abs(clicks.landings[i].off_pct) for i in (0, -1)] == pytest.approx([10.0, 10.0])
    assert clicks.well


def test_exactly_a_fifth_is_not_well_and_exactly_a_third_not_hopeless() -> None:
    three = (11, 13, 15)  # one click either side of the middle: its error is the whole error
    fifth, third = ladder(1.0, 1.2, 1.0, three), ladder(3.0, float(Fraction(4, 9)), 1.0, three)
    assert not fifth.well
    assert not fifth.hopeless
    assert abs(third.worst.off_pct) == pytest.approx(100 / 3)
    assert not third.hopeless
    assert ladder(1.0, 1.199, 1.0, three).well
    assert ladder(1.0, 1.334, 1.0, three).hopeless


def test_the_sign_says_which_way() -> None:
    short = ladder(2.0, 1.0, 4.0, (11, 13, 15))
    assert [landing.off_mm for landing in short.set_at(0)] == [0.0, -2.0, -4.0], "stays behind, outwards"
    assert [landing.off_mm for landing in short.set_at(2)] == [4.0, 2.0, 0.0], "stands too far in"


def test_the_narrower_gap_beside_a_cog_is_what_its_error_is_a_share_of() -> None:
    clicks = Clicks((11, 13, 15, 17), (4.0, 4.0, 4.5), (4.0, 3.0, 5.0))
    assert [clicks.pitch_mm(i) for i in range(4)] == [4.0, 3.0, 3.0, 5.0]
    at_first = clicks.set_at(0)
    assert [landing.off_mm for landing in at_first] == pytest.approx([0.0, 0.0, 1.0, 0.5])
    assert [landing.off_pct for landing in at_first] == pytest.approx([0.0, 0.0, 100 / 3, 10.0])


steps = st.floats(1.0, 6.0)


rows = st.integers(1, 12).flatmap(
    lambda n: st.tuples(*[st.lists(steps, min_size=n, max_size=n).map(np.array)] * 2)
)


@given(rows)
def test_no_other_cog_to_set_it_at_is_better(case: tuple[np.ndarray, np.ndarray]) -> None:
    """Brute force with numpy: places of cage and cogs as sums, every cog tried as the one that is right."""
    moves, gaps = case
    teeth = tuple(range(11, 11 + len(gaps) + 1))
    cage, cogs = (np.concatenate([[0.0], np.cumsum(row)]) for row in (moves, gaps))
    wide = np.concatenate([[np.inf], gaps, [np.inf]])
    pitch = np.minimum(wide[:-1], wide[1:])
    tried = [np.max(np.abs((cage - cage[j]) - (cogs - cogs[j])) / pitch) for j in range(len(teeth))]
    clicks = Clicks(teeth, tuple(moves), tuple(gaps))
    assert abs(clicks.worst.off_pct) == pytest.approx(100.0 * min(tried), abs=1e-6)
    at = teeth.index(clicks.set_on)
    assert tried[at] == pytest.approx(min(tried), abs=1e-8)
    assert [landing.off_mm for landing in clicks.landings] == pytest.approx(
        (cage - cage[at]) - (cogs - cogs[at]), abs=1e-9
    )


def test_a_list_of_pulls_counts_click_by_click_and_may_be_longer() -> None:
    assert travel((2.0, 2.5, 3.0), 2.0, 2) == (4.0, 5.0)
    assert travel((2.0,), 2.0, 2) is None
    assert travel(None, 2.0, 2) is None
    assert travel(2.0, None, 2) is None


def test_what_is_missing_is_named_and_nothing_given_asks_for_nothing() -> None:
    bare = rear_indexing(make((40,), (11, 13, 15), rear={"cog_pitch_mm": 3.9}))
    assert not bare.given, "a pitch alone serves the chain's angle"
    some = rear_indexing(make((40,), (11, 13, 15), shifters={"pull_mm": 2.7}))
    assert some.given
    assert some.missing == ("rear_derailleur.shift_ratio", "rear.cog_pitch_mm")
    short = rear_indexing(make((40,), (11, 13, 15), shifters={"pull_mm": [2.7]}))
    assert short.missing[0] == "shifters.pull_mm with 2 figures (it has 1)"
    assert short.clicks is None


def test_a_ratio_that_is_the_reciprocal_is_noticed() -> None:
    def of(ratio: float) -> float | None:
        facts = {"rear": {"cog_pitch_mm": 3.95}, "shifters": {"pull_mm": 2.7}}
        return rear_indexing(make((40,), TEN, rear_derailleur={"shift_ratio": ratio}, **facts)).turned_round

    assert of(0.685) == pytest.approx(1.46, abs=0.001), "mm of cable per mm of cage"
    assert of(1.46) is None
    assert of(1.1) is None, "wrong either way round"


def test_the_front_is_judged_by_the_spacing_of_the_rings() -> None:
    facts = {"shifters": {"front_pull_mm": [4.0, 5.0]}, "front_derailleur": {"shift_ratio": 2.0}}
    three = front_indexing(make((26, 36, 48), (11, 13), crank={"ring_spacing_mm": [8.0, 8.0]}, **facts))
    assert three.clicks is not None
    # By hand: 8 and 10 mm of travel over gaps of 8 and 8; right at the two small rings, 2 of 8 mm off at 48.
    assert [landing.off_mm for landing in three.clicks.landings] == [0.0, 0.0, 2.0]
    assert three.clicks.worst.off_pct == pytest.approx(25.0)
    assert not front_indexing(make((40,), (11, 13), **facts)).given, "one ring shifts nowhere"


@pytest.mark.parametrize(("many", "middle"), [(2, 0), (3, 1), (4, 1), (5, 2), (11, 5)])
def test_where_all_are_equally_good_the_cable_is_set_near_the_middle(many: int, middle: int) -> None:
    teeth = tuple(range(11, 11 + many))
    assert Clicks(teeth, (4.0,) * (many - 1), (4.0,) * (many - 1)).best_at == middle
