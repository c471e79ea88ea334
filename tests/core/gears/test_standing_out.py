"""Wide steps and jumps: which steps over the limit stand out of those around. Worked by hand throughout."""

import pytest

from cogwright.core.gears.steps import RearStep
from cogwright.core.setup.model import Setup
from cogwright.core.study import study
from support import make


def steps(cogs: tuple[int, ...], rings: tuple[int, ...] = (40,), **more: object) -> dict[str, RearStep]:
    found = study(make(rings, cogs, **more)).rear_steps
    return {f"{step.easier.label} {step.harder.cog}": step for step in found}


def test_one_gap_among_even_steps_is_the_jump() -> None:
    # 15/13 15.4, 19/15 26.7, 22/19 15.8, 25/22 13.6, 28/25 12.0 %: the limit of 15 is passed three times.
    # Around 19/15 lie 15.4, 15.8 and 13.6: 26.7 is 1.73 times their median.
    found = steps((13, 15, 19, 22, 25, 28))
    assert [name for name, step in found.items() if step.jump] == ["40x22 19", "40x19 15", "40x15 13"]
    assert [name for name, step in found.items() if step.stands_out] == ["40x19 15"]


def test_the_seventh_even_step_over_the_limit_is_wide_and_no_jump() -> None:
    # 16/14 14.3, 19/16 18.8, 22/19 15.8, 26/22 18.2, 30/26 15.4, 35/30 16.7,
    # 41/35 17.1 %. None is over 1.3 times the median of the two on either side, nor over 22.5 %.
    of = study(make((40,), (14, 16, 19, 22, 26, 30, 35, 41)))
    assert (of.summary.jumps, of.summary.standing_out) == (6, 0)


def test_over_one_and_a_half_times_the_limit_a_step_stands_out_among_its_like() -> None:
    # 20/16, 25/20: 25 % each, over 22.5 %.
    of = study(make((40,), (16, 20, 25)))
    assert (of.summary.jumps, of.summary.standing_out) == (2, 2)


@pytest.mark.parametrize(("times", "stands_out"), [(1.29, True), (1.31, False)])
def test_the_factor_is_the_setup_s_own(times: float, stands_out: bool) -> None:
    # 26/20 is 30 % and 32/26 is 3/13, 23.08 %: 1.3 times to the last digit; over the limit, 29 %.
    found = steps((20, 26, 32), limits={"jump_pct": 29.0, "stands_out_times": times})
    assert found["40x26 20"].jump
    assert found["40x26 20"].stands_out is stands_out


def test_a_step_at_the_factor_itself_does_not_stand_out() -> None:
    # As above: 30 % over 3/13 is 1.3 exactly.
    assert not steps((20, 26, 32), limits={"jump_pct": 29.0})["40x26 20"].stands_out


def test_a_step_within_the_limit_is_none_however_even_the_others_are() -> None:
    # 14/13 7.7, 16/14 14.3, 17/16 6.3, 18/17 5.9 %: 14.3 is over twice its neighbours and under 15 %.
    assert not any(step.jump or step.stands_out for step in steps((13, 14, 16, 17, 18)).values())


def test_only_two_steps_on_either_side_are_around() -> None:
    # Steps from the top: 12/10 20.0, 14/12 16.7, 16/14 14.3, 18/16 12.5, 20/18 11.1: the median of 16.7 and
    # 14.3 is 15.5, and 20.0 is 1.29 of it; the median of all four others, 13.4, would make it 1.49.
    assert not steps((10, 12, 14, 16, 18, 20))["40x12 10"].stands_out


def test_each_ring_and_each_gear_of_a_hub_has_its_own_ladder() -> None:
    # 20/16 25 % stands out on both rings, in both gears of the hub: four times.
    of = study(make((30, 44), (14, 16, 20, 22), rear={"hub_ratios": [0.8, 1.0]}))
    assert (of.summary.jumps, of.summary.standing_out) == (4, 4)
    assert {(s.easier.ring, s.easier.hub) for s in of.rear_steps if s.stands_out} == {
        (ring, hub) for ring in (30, 44) for hub in (0.8, 1.0)
    }


def test_a_hub_s_own_steps_are_never_flagged() -> None:
    # 0.733 to 1 is 36 %, which no sprocket changes; the figure is kept, the flag is not.
    of = study(make((40,), (18,), rear={"hub_ratios": [0.733, 1.0, 1.364]}))
    assert [round(step.step_pct, 1) for step in of.rear_steps] == [36.4, 36.4]
    assert (of.summary.jumps, of.summary.standing_out) == (0, 0)
    assert not any(flag.endswith("jump") for row in of.rows for flag in row.flags)
    assert of.summary.worst_rear_step_pct == pytest.approx(36.4, abs=0.05)


def test_the_flag_stands_at_the_gear_that_the_step_leads_to() -> None:
    flags = {row.gear.label: row.flags for row in study(make((40,), (13, 15, 19, 22, 25))).rows}
    assert flags["40x15"] == ("jump", "big-jump", "stands-out")
    assert flags["40x13"] == ("jump",)


def felt(bench: Setup, base: Setup) -> dict[str, list[str]]:
    found = study(bench, base).felt
    assert found is not None
    names = ("lost_low", "lost_high", "gained_low", "gained_high")
    return {name: [gear.label for gear in getattr(found, name)] for name in names}


def test_of_twins_one_gear_is_lost() -> None:
    # 26x26 and 36x36 are the same gear; with 30x26 left (1.15) both are in the list and one is missed.
    base, bench = make((26, 36), (12, 18, 26, 36)), make((36,), (12, 18, 26))
    of = study(bench, base)
    assert of.comparison is not None
    assert [gear.label for gear in of.comparison.lost_low] == ["26x36", "26x26", "36x36"]
    assert felt(bench, base)["lost_low"] == ["26x36", "26x26"]


def test_a_gear_out_of_the_chain_s_reach_is_not_gained() -> None:
    # 36 and 45 teeth on 440 mm take 2 * 440 / 12.7 + 40.5 + (9 / 2 pi)^2 * 12.7 / 440 = 109.85 pitches.
    base = make((36,), (12, 18, 28, 36), frame={"chainstay_mm": 440}, chain={"links": 108})
    short = make((36,), (12, 18, 28, 45), frame={"chainstay_mm": 440}, chain={"links": 108})
    longer = make((36,), (12, 18, 28, 45), frame={"chainstay_mm": 440}, chain={"links": 114})
    of = study(short, base)
    assert of.comparison is not None
    assert [gear.label for gear in of.comparison.gained_low] == ["36x45"]
    assert felt(short, base)["gained_low"] == []
    assert felt(longer, base)["gained_low"] == ["36x45"]
    assert felt(base, short)["lost_low"] == []
    assert felt(base, longer)["lost_low"] == ["36x45"]


def test_a_crossed_gear_is_not_lost() -> None:
    # P: with nine cogs two at each far side are crossed, so 34x11 and 34x12 are. The bench's top, 34x13, lies
    # under 50x19 (2.63): 34x11 (3.09) and 34x12 (2.83) are over it, and nobody rode them.
    cogs = (11, 12, 13, 14, 15, 17, 19, 21, 23)
    base, bench = make((34, 50), cogs), make((34,), (13, 14, 15, 17, 19, 21, 23))
    of = study(bench, base)
    assert of.comparison is not None
    assert {"34x11", "34x12"} <= {gear.label for gear in of.comparison.lost_high}
    assert not {"34x11", "34x12"} & set(felt(bench, base)["lost_high"])
    assert {"50x17", "50x11"} <= set(felt(bench, base)["lost_high"])


def test_the_counts_add_up_both_ends() -> None:
    found = study(make((40,), (14, 20)), make((40,), (11, 12, 13, 20, 24, 28))).felt
    assert found is not None
    assert (found.lost, found.gained) == (5, 0)
    back = study(make((40,), (11, 12, 13, 20, 24, 28)), make((40,), (14, 20))).felt
    assert back is not None
    assert (back.lost, back.gained) == (0, 5)


def test_without_a_baseline_nothing_is_felt() -> None:
    assert study(make((40,), (11, 13))).felt is None
