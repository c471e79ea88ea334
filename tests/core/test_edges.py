"""What stands just at a limit, and which way a sign goes: where a slip of one character would not show."""

import pytest

from bikes import bike, check
from cogwright.core.fit.check import Status
from cogwright.core.gears.rollout import RolloutVerdict
from cogwright.core.setup.model import Setup
from cogwright.core.study import study
from support import make


@pytest.mark.parametrize(
    ("cogs", "jump", "big"),
    [
        ((20, 23), False, False),  # 23/20 is 15 % to the last digit: at the limit, not over it
        ((13, 15), True, False),  # 15/13: 15.4 %
        ((40, 49), True, False),  # 49/40 is 22.5 %, one and a half times the limit to the last digit
        ((22, 27), True, True),  # 27/22: 22.7 %
    ],
)
def test_a_jump_is_over_its_limit_and_a_big_one_over_one_and_a_half_times_it(
    cogs: tuple[int, int], jump: bool, big: bool
) -> None:
    (step,) = study(make((40,), cogs)).rear_steps
    assert (step.jump, step.big_jump) == (jump, big)


def test_a_click_of_the_cassette_stays_in_one_gear_of_the_hub() -> None:
    # 25 to 20 teeth is 25 % in each of the three gears of the hub; nothing else is a click.
    found = study(make((50,), (20, 25), rear={"hub_ratios": [0.75, 1.0, 4 / 3]})).rear_steps
    assert [(s.easier.hub, s.easier.cog, s.harder.cog) for s in found] == [
        (hub, 25, 20) for hub in (0.75, 1.0, 4 / 3)
    ]
    assert [s.harder.hub for s in found] == [0.75, 1.0, 4 / 3]
    assert [s.step_pct for s in found] == pytest.approx([25.0] * 3)


def test_changes_are_bench_over_baseline_minus_one() -> None:
    # Lowest 34x34 to 34x28: 34/28 - 1 = +21.43 %, harder. Highest 46x11 to 46x12: 11/12 - 1 = -8.33 %.
    found = study(make((34, 46), (12, 17, 28)), make((34, 46), (11, 17, 34))).comparison
    assert found is not None
    assert found.low_change_pct == pytest.approx(21.428571)
    assert found.high_change_pct == pytest.approx(-8.333333)
    assert [g.label for g in found.lost_low] == ["34x34"]
    assert [g.label for g in found.lost_high] == ["46x11"]


@pytest.mark.long(cases=8)
@pytest.mark.parametrize(
    ("limit", "low", "high"), [(2.5, 40, 41), (5.0, 60, 63), (20.0, 20, 24), (20.0, 30, 36), (20.0, 35, 42)]
)
@pytest.mark.parametrize("rollout", [2096, 2100, 2155, 2189])
def test_a_gear_lost_by_no_more_than_a_rider_feels_is_not_counted(
    limit: float, low: int, high: int, rollout: int
) -> None:
    # 63/60 is 5 % and 24/20 is 20 % to the last digit: just the limit is not over it, one tooth more is.
    def bikes(*rings: int) -> list[Setup]:
        return [make((n,), (17,), rollout_mm=rollout, limits={"overlap_pct": limit}) for n in rings]

    small, large, over = bikes(low, high, high + 1)
    up, down = study(large, small).comparison, study(small, large).comparison
    assert up is not None
    assert down is not None
    assert (up.lost_low, up.gained_high, down.lost_high, down.gained_low) == ((), (), (), ())
    far = study(over, small).comparison
    assert far is not None
    assert [g.label for g in far.lost_low] == [f"{low}x17"]


def test_a_rollout_just_at_the_limit_is_legal() -> None:
    # 40x20 on a measured 2.100 m goes 4.200 m.
    at, over = (study(make((40,), (20,), rollout_mm=mm, limits={"rollout_m": 4.2})) for mm in (2100, 2100.1))
    assert at.scrutiny is not None
    assert over.scrutiny is not None
    assert (at.scrutiny.verdict, over.scrutiny.verdict) == (RolloutVerdict.PASS, RolloutVerdict.FAIL)


def test_the_largest_of_several_legal_gears_is_named() -> None:
    # A: juniors 7.93 m, UCI art. 2.2.023: 52x14 passes (7.79 m on 2.096 m), as 52x17 and 52x21 do then.
    found = study(make((52,), (11, 14, 17, 21), rollout_mm=2096, limits={"rollout_m": 7.93})).scrutiny
    assert found is not None
    assert found.largest_legal is not None
    assert found.largest_legal.label == "52x14"


@pytest.mark.parametrize(
    ("ring", "status"),
    [(32, Status.OK), (31, Status.CAUTION), (30, Status.CAUTION), (29, Status.PROBLEM)],
)
def test_rings_made_for_a_circle_go_below_what_is_usual_on_it(ring: int, status: Status) -> None:
    # P: smallest rings on a bolt circle of 104 mm, as the trade has them: 32, and 30 where made for it.
    found = check(bike((ring,), crank={"bolt_circle_mm": 104.0}), "bolt circle")
    assert found.status is status


def test_a_chain_a_little_too_narrow_is_a_caution() -> None:
    # P: 5.5 to 5.6 mm go with 11 cogs.
    assert check(bike(chain={"outer_width_mm": 5.45}), "chain width").status is Status.CAUTION
    assert check(bike(chain={"outer_width_mm": 5.65}), "chain width").status is Status.PROBLEM


def test_one_cog_left_of_a_carrier_is_a_broken_carrier() -> None:
    left = bike(cogs=(11, 13, 15, 17, 19, 21, 23, 25, 28, 31, 36))
    assert "34 is riveted to 31" in check(left, "riveted carriers").say


@pytest.mark.parametrize(
    ("capacity", "hangs"),
    [
        (33, False),
        (32, False),  # 20 pitches: 0.6 less than there are, within the doubt of one
        (31, True),  # 19.5 pitches: 1.1 less
    ],
)
def test_slack_is_only_called_so_beyond_the_doubt_of_the_estimate(capacity: int, hangs: bool) -> None:
    # By the handbook's form 34x11 on 435 mm takes 2 * 435 / 12.7 + 22.5 + (23 / 2 pi)^2 * 12.7 / 435 = 91.39:
    # 112 leave 20.6. P, our estimate: half the capacity, two pitches and up to two more are taken up.
    found = study(bike(rear_derailleur={"capacity": capacity})).chain
    assert found.take_up == 4 + capacity / 2
    assert ("34x11" in {gear.label for gear in found.hanging}) is hangs


@pytest.mark.parametrize(("links", "cut"), [(112, None), (113, None), (114, 112), (118, 112)])
def test_where_nobody_knows_the_capacity_a_longer_chain_is_to_be_cut(links: int, cut: int | None) -> None:
    # 46x34 on 435 mm takes 112 (see test_big_big_plus_two_to_an_even_number).
    unknown = bike(chain={"links": links}, rear_derailleur={"capacity": None})
    assert study(unknown).chain.cut_to == cut
