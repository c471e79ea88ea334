"""Steps, twins, holes and race limits at just their limits, by hand."""

import math

import pytest

from cogwright.core.gears.against_baseline import as_felt, compare, hole_limit_pct
from cogwright.core.gears.gears import Gear, gears_of
from cogwright.core.gears.rollout import RolloutVerdict, judge, scrutinise
from cogwright.core.gears.steps import (
    RearStep,
    around,
    ladder_marks,
    overlap_groups,
    range_pct,
    rear_steps,
    steps_pct,
)
from cogwright.core.gears.stood_before import apart, counterparts, nearest, stood_before
from cogwright.core.setup.sizes import Circumference
from cogwright.core.study import study
from support import make

MEASURED, NOMINAL = Circumference(2.0, "measured"), Circumference(2.0, "nominal")


def of(*developments: float) -> tuple[Gear, ...]:
    """Gears of these developments in m: hub ratios on a wheel of 2 m, so that each has a place of its own."""
    setup = make((20,), (20,), rollout_mm=2000, rear={"hub_ratios": [m / 2.0 for m in developments]})
    return gears_of(setup)


@pytest.mark.parametrize(
    ("metres", "wheel", "verdict"),
    [
        (6.0, MEASURED, RolloutVerdict.PASS), (6.0 + 2e-9, MEASURED, RolloutVerdict.FAIL),
        (6.07, NOMINAL, RolloutVerdict.FAIL),
        (6.05, NOMINAL, RolloutVerdict.TOO_CLOSE), (5.95, NOMINAL, RolloutVerdict.TOO_CLOSE),
        (5.93, NOMINAL, RolloutVerdict.PASS),
    ],
)  # fmt: skip
def test_a_gear_against_a_race_limit(metres: float, wheel: Circumference, verdict: RolloutVerdict) -> None:
    assert judge(metres, 6.0, wheel) is verdict


def test_all_gears_against_a_race_limit() -> None:
    gears = of(5.0, 5.95, 6.05, 6.2)
    found = scrutinise(gears, 6.0, NOMINAL)
    assert (found.over, found.close, found.largest_legal) == (gears[3:], gears[1:3], gears[0])
    assert found.block == gears[1:]
    assert found.verdict is RolloutVerdict.FAIL
    assert scrutinise(gears[:3], 6.0, NOMINAL).verdict is RolloutVerdict.TOO_CLOSE
    assert scrutinise(gears[:1], 6.0, NOMINAL).verdict is RolloutVerdict.PASS
    assert scrutinise(gears[3:], 6.0, NOMINAL).largest_legal is None


def test_steps_around_one() -> None:
    """Two on either side: the median, of two their mean."""
    sizes = [10.0, 20.0, 30.0, 40.0, 50.0, 60.0]
    assert [around(sizes, at) for at in range(6)] == [25.0, 30.0, 30.0, 40.0, 40.0, 45.0]
    assert around([10.0, 20.0], 0) == 20.0
    assert around([10.0], 0) is None
    assert range_pct([2.0, 8.0, 4.0]) == 400.0
    assert steps_pct([2.0, 3.0, 4.5]) == pytest.approx((50.0, 50.0))


GEARS = of(2.0, 2.3)


@pytest.mark.parametrize(
    ("step", "limit", "beside", "marks"),
    [
        (15.0, 15.0, 10.0, (False, False, False)), (15.1, 15.0, None, (True, False, False)),
        (15.1, 15.0, 12.0, (True, False, False)),
        (15.7, 15.0, 12.0, (True, False, True)), (22.5, 15.0, 20.0, (True, False, False)),
        (22.6, 15.0, 20.0, (True, True, True)),
        (22.6, 15.0, None, (True, True, True)), (15.6, 15.0, 12.0, (True, False, False)),
    ],
)  # fmt: skip
def test_wide_steps_and_those_that_stand_out(
    step: float, limit: float, beside: float | None, marks: tuple[bool, bool, bool]
) -> None:
    """Over 15 %; over 22.5 %; over 1.3 times what lies around, 15.6 for 12 %."""
    plain = gears_of(make((30,), (20, 23), rollout_mm=2000))
    found = RearStep(plain[0], plain[1], step, limit, beside)
    assert (found.jump, found.big_jump, found.stands_out) == marks
    inside = RearStep(GEARS[0], GEARS[1], step, limit, beside)
    assert (inside.in_hub, inside.jump, inside.big_jump, inside.stands_out) == (True, False, False, False)


def test_marks_of_a_ladder() -> None:
    """15 % is no wide step; of 20, 20 and 40 among small ones the last alone is over 1.5 times the limit."""
    assert ladder_marks([15.0, 15.0], 15.0, 1.3) == (0, 0)
    assert ladder_marks([20.0, 20.0, 20.0], 15.0, 1.3) == (0, 3)
    assert ladder_marks([20.0, 10.0, 10.0, 40.0], 15.0, 1.3) == (2, 2)
    assert ladder_marks([], 15.0, 1.3) == (0, 0)


def test_clicks_of_cassette_and_of_hub() -> None:
    """Two rings with three cogs make four clicks; with a hub of two eight; a hub alone its own."""
    several = gears_of(make((30, 46), (11, 15, 20)))
    found = rear_steps(several, 15.0)
    assert [(s.easier.ring, s.easier.cog, s.harder.cog) for s in found] == [
        (30, 20, 15), (30, 15, 11), (46, 20, 15), (46, 15, 11),
    ]  # fmt: skip
    assert found[0].step_pct == pytest.approx(100 / 3)
    assert found[0].around_pct == pytest.approx(100 * 15 / 11 - 100)
    behind = rear_steps(gears_of(make((30, 46), (11, 15, 20), rear={"hub_ratios": [1.0, 1.5]})), 15.0)
    assert len(behind) == 8
    assert not any(step.in_hub for step in behind)
    alone = rear_steps(of(2.0, 3.0, 4.0), 15.0)
    assert [step.step_pct for step in alone] == pytest.approx([50.0, 100 / 3])
    assert all(step.in_hub for step in alone)


@pytest.mark.parametrize(
    ("developments", "limit", "sizes"),
    [
        ((2.0, 2.04, 2.08, 2.2), 5.0, [3, 1]), ((2.0, 2.1), 5.0, [1, 1]), ((2.0, 2.0999), 5.0, [2]),
        ((2.0, 2.06, 2.12), 5.0, [2, 1]), ((2.0, 2.1), 0.0, [1, 1]),
    ],
)  # fmt: skip
def test_gears_too_close_to_tell_apart(
    developments: tuple[float, ...], limit: float, sizes: list[int]
) -> None:
    assert [len(group) for group in overlap_groups(of(*developments), limit)] == sizes
    twins = gears_of(make((34, 50), (17, 25)))
    assert [len(group) for group in overlap_groups(twins, 0.0)] == [1, 2, 1]


def test_lost_gained_and_holes_by_hand() -> None:
    """2, 3, 4 and 6 m become 2.5, 4 and 7: 2 m is lost, 7 gained, 3 is 20 % from the nearest, 6 16.7 %."""
    base, bench = of(2.0, 3.0, 4.0, 6.0), of(2.5, 4.0, 7.0)
    found = compare(bench, base, 2.5, 15.0)
    assert (found.low_change_pct, found.high_change_pct) == pytest.approx((25.0, 100 / 6))
    assert (found.lost_low, found.lost_high) == (base[:1], ())
    assert (found.gained_low, found.gained_high) == ((), bench[2:])
    assert [(hole.gear, hole.nearest) for hole in found.holes] == [(base[1], bench[0]), (base[3], bench[2])]
    assert [hole.away_pct for hole in found.holes] == pytest.approx([20.0, 100 / 6])
    assert found.worst_hole_pct == pytest.approx(20.0)
    back = compare(base, bench, 2.5, 15.0)
    assert (back.lost_high, back.gained_low) == (bench[2:], base[:1])
    same = compare(base, base, 2.5, 15.0)
    assert (same.holes, same.worst_hole_pct, same.lost_low, same.gained_high) == ((), 0.0, (), ())
    apart_ = compare(of(9.0, 10.0), base, 2.5, 15.0)
    assert (apart_.lost_low, apart_.worst_hole_pct) == (base, 0.0)


@pytest.mark.parametrize(("metres", "lost"), [(2.05, False), (2.051, True)])
def test_an_end_that_moves_by_no_more_than_is_felt_is_not_lost(metres: float, lost: bool) -> None:
    base, bench = of(2.0, 8.0), of(metres, 16.0 / metres)
    found = compare(bench, base, 2.5, 15.0)
    assert (bool(found.lost_low), bool(found.lost_high)) == (lost, lost)
    gained = compare(base, bench, 2.5, 15.0)
    assert (bool(gained.gained_low), bool(gained.gained_high)) == (lost, lost)


def test_a_hole_is_half_a_jump_wide() -> None:
    assert hole_limit_pct(21.0) == pytest.approx(10.0)
    for off, hole in ((1.0999, 0), (1.1001, 1)):
        found = compare(of(2.0, 9.0), of(2.0 * off, 9.0), 2.5, 21.0)
        assert len(found.holes) == hole


def test_of_twins_one_is_felt_and_what_is_left_out_is_not() -> None:
    """Twins of 10 and 10.1 m, and 12 m that nobody rides, all beyond a bench of up to 8 m."""
    base = of(2.0, 10.0, 10.1, 12.0)
    found = compare(of(2.0, 8.0), base, 2.5, 15.0)
    assert found.lost_high == base[1:]
    felt = as_felt(found, {}, {base[3]: "crossed"}, 2.5)
    assert felt.lost_high == (base[1],)
    assert (felt.lost, felt.gained) == (1, 0)
    assert as_felt(compare(base, of(2.0, 8.0), 2.5, 15.0), {}, {}, 2.5).gained == 2


def test_what_stood_before_a_gear() -> None:
    base, bench = make((30, 46), (11, 15, 20)), make((30, 48), (11, 15, 21))
    told = stood_before(bench, base, gears_of(bench), gears_of(base))
    for gear, before in told.items():
        wanted = (30 if gear.ring == 30 else 46, gear.cog if gear.cog != 21 else 20)
        assert (before.gear.ring, before.gear.cog, before.same_place) == (*wanted, True)
    fewer = make((40,), (11, 15, 20))
    found = stood_before(fewer, base, gears_of(fewer), gears_of(base))
    assert not any(before.same_place for before in found.values())
    assert counterparts((34, 50), (36, 34)) == {34: 34}
    assert counterparts((34, 50), (36, 52)) == {34: 36, 50: 52}
    assert counterparts((34, 50, 60), (36, 52)) == {}
    gears = of(2.0, 4.0, 8.0)
    for metres, near in ((1.0, 0), (2.8, 0), (2.9, 1), (5.6, 1), (5.7, 2), (99.0 / 10, 2)):
        assert nearest(of(metres)[0], gears) == gears[near]
    assert apart(gears[0], gears[1]) == apart(gears[1], gears[0]) == pytest.approx(math.log(2))


def test_a_summary_by_hand() -> None:
    """34x17 and 50x25 are one gear; 17 to 25 is 47 %."""
    found = study(make((34, 50), (17, 25), rollout_mm=2000)).summary
    assert (found.gears, found.distinct, found.overlaps) == (4, 3, 1)
    assert (found.lowest_m, found.highest_m) == pytest.approx((2 * 34 / 25, 2 * 50 / 17))
    assert found.range_pct == pytest.approx(100 * 50 / 17 * 25 / 34)
    assert (found.jumps, found.standing_out) == (2, 2)
    assert found.worst_rear_step_pct == pytest.approx(100 * 25 / 17 - 100)
    alone = study(make((40,), (17,))).summary
    assert (alone.worst_rear_step_pct, alone.jumps, alone.range_pct) == (0.0, 0, 100.0)


def test_rows_and_their_marks() -> None:
    rows = study(make((34, 50), (17, 25), rollout_mm=2000, limits={"rollout_m": 4.0})).rows
    assert [row.overlaps for row in rows] == [False, True, True, False]
    assert [row.verdict for row in rows] == [RolloutVerdict.PASS] * 3 + [RolloutVerdict.FAIL]
    assert rows[0].step_pct is None
    assert rows[0].gain_ratio is None
    assert [row.step_pct for row in rows[1:]] == pytest.approx(
        [100 * 25 / 17 - 100, 0.0, 100 * 25 / 17 - 100], abs=1e-9
    )
    arms = study(make((40,), (20,), rollout_mm=2000, crank={"length_mm": 170.0})).rows[0]
    assert arms.gain_ratio == pytest.approx(2.0 * 2.0 / (2 * math.pi * 0.17))
    assert arms.speed_kmh == pytest.approx(4.0 * 85 * 60 / 1000)
    assert arms.verdict is None
    assert arms.flags == ()
