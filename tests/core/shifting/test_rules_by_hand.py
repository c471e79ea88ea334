"""Shifts, patterns, orders and the drill by hand, and orders against every path there is."""

import math
from itertools import combinations, pairwise, product

import pytest

from cogwright.core.gears.gears import Gear, gears_of
from cogwright.core.gears.steps import overlap_groups
from cogwright.core.indexing.clicks import Clicks, travel
from cogwright.core.indexing.indexing import rear_indexing
from cogwright.core.setup.model import Setup
from cogwright.core.shifting.drill import drill_of
from cogwright.core.shifting.levers import FRONT_EFFORT, Move, levers_of
from cogwright.core.shifting.pattern import _lie_between, _places, interleaved, pattern_name
from cogwright.core.shifting.shift_order import (
    _few,
    _taken_by_turns,
    best_path,
    cost_of,
    every_path,
    moves_along,
    shift_order_of,
)
from cogwright.core.study import study
from support import make


def gear(setup: Setup, ring: int, cog: int, hub: float = 1.0) -> Gear:
    return next(g for g in gears_of(setup) if (g.ring, g.cog, g.hub) == (ring, cog, hub))


def test_what_a_shift_asks_of_the_levers() -> None:
    """From 30x20 to 46x11: one ring up, two clicks to smaller cogs; 46/11 over 30/20 is 178.8 % more."""
    setup = make((30, 46), (11, 15, 20))
    move = levers_of(setup).move(gear(setup, 30, 20), gear(setup, 46, 11))
    assert (move.front, move.rear_clicks, move.hub_clicks) == (1, 2, 0)
    assert move.step_pct == pytest.approx(100 * (46 / 11) / (30 / 20) - 100)
    assert move.double
    assert move.effort == 2 + FRONT_EFFORT == 5.0
    back = levers_of(setup).move(gear(setup, 46, 11), gear(setup, 30, 11))
    assert (back.front, back.rear_clicks, back.double, back.effort) == (-1, 0, False, 3.0)


@pytest.mark.parametrize(
    ("move", "double", "changes", "effort"),
    [
        ({"rear_clicks": -2}, False, False, 2.0), ({"hub_clicks": -2}, False, False, 2.0),
        ({"hub_clicks": 1, "behind": True}, False, True, 1.0),
        ({"front": -2}, False, True, 6.0), ({"front": 1, "hub_clicks": 1}, True, True, 4.0),
        ({"rear_clicks": 1, "hub_clicks": -1}, True, False, 2.0),
        ({"behind": True, "rear_clicks": 1}, False, False, 1.0),
    ],
)  # fmt: skip
def test_moves(move: dict[str, int], double: bool, changes: bool, effort: float) -> None:
    found = Move(GEAR, **move)  # type: ignore[arg-type]
    assert (found.double, found.changes_range, found.effort) == (double, changes, effort)


GEAR = gears_of(make((40,), (20,)))[0]


def test_where_the_levers_lead() -> None:
    setup = make((30, 46), (11, 15, 20), rear={"hub_ratios": [1.5, 1.0]})
    levers, start = levers_of(setup), gear(setup, 30, 15)
    assert levers.reach(start, 0, 0) == (30, 15, 1.0)
    assert levers.reach(start, 1, 1, 1) == (46, 11, 1.5)
    assert levers.reach(start, 0, -1) == (30, 20, 1.0)
    for past in ((-1, 0, 0), (2, 0, 0), (0, 2, 0), (0, -2, 0), (0, 0, -1), (0, 0, 2)):
        assert levers.reach(start, *past) is None
    assert levers.move(start, gear(setup, 30, 15, 1.5)).hub_clicks == 1
    assert levers.move(start, start).behind


def test_where_the_gears_of_a_larger_ring_stand() -> None:
    """Rings 10 % apart on steps of 20 %: log 1.1 / log 1.2 of a step; 30 %: one and log(1.3/1.2)/log 1.2."""
    cogs = (100, 120, 144)
    assert _places((100, 110), cogs) == pytest.approx([math.log(1.1) / math.log(1.2)] * 2)
    assert _places((100, 130), cogs) == pytest.approx([1 + math.log(1.3 / 1.2) / math.log(1.2)])
    assert _places((100, 150), cogs) == []


@pytest.mark.parametrize(
    ("places", "whole", "lie"),
    [
        ([0.3, 0.7], 0, True), ([0.29, 0.5], 0, False), ([0.71, 0.5], 0, False), ([0.5], 0, False),
        ([0.5, 0.5, 0.5, 0.1], 0, True),
        ([0.5, 0.5, 0.1], 0, False), ([1.3, 1.7], 1, True), ([1.3, 1.7], 0, False), ([0.5, 0.5], 1, False),
        ([], 0, False),
    ],
)  # fmt: skip
def test_gears_that_lie_between(places: list[float], whole: int, lie: bool) -> None:
    assert _lie_between(places, whole) is lie


def test_names_of_patterns() -> None:
    even = (14, 17, 20, 24, 28)
    assert pattern_name(make((46, 50), even)) == "half-step"
    assert pattern_name(make((30, 46), even)) == "crossover"
    assert pattern_name(make((40,), even)) == "one range"
    assert pattern_name(make((40,), even, rear={"hub_ratios": [1.0, 1.5]})) == "crossover"
    assert pattern_name(make((40,), (20,), rear={"hub_ratios": [1.0, 1.5]})) == "one range"
    assert pattern_name(make((46, 50), even, rear={"hub_ratios": [1.0, 1.5]})) == "crossover"


@pytest.mark.parametrize(("many", "name"), [(7, "alternating"), (8, None)])
def test_up_to_seven_cogs_are_alternated(many: int, name: str | None) -> None:
    """Steps of 20 % and rings one and a half of them apart: 1.2 to the 1.5 is 1.3145."""
    cogs = tuple(sorted({round(11 * 1.2**at) for at in range(many)}))
    found = interleaved(make((38, 50), cogs))
    assert len(cogs) == many
    assert (found and found.name) == name


def paths(gears: tuple[Gear, ...], apart_pct: float) -> list[tuple[Gear, ...]]:
    """Every way from the first gear to the last by steps of more than so much."""
    middle = gears[1:-1]
    every = (
        (gears[0], *some, gears[-1]) for many in range(len(middle) + 1) for some in combinations(middle, many)
    )
    return [
        p
        for p in every
        if all(100 * (b.development_m / a.development_m - 1) > apart_pct for a, b in pairwise(p))
    ]


@pytest.mark.parametrize(
    ("rings", "cogs"),
    [((30, 46), (11, 15, 20, 28)), ((28, 38, 48), (13, 18, 25)), ((34, 50), (12, 14, 17, 21))],
)
def test_the_order_is_the_best_of_every_path(rings: tuple[int, ...], cogs: tuple[int, ...]) -> None:
    """Over the limit least, then least effort, then the least squares of the steps."""
    setup = make(rings, cogs)
    gears, levers = gears_of(setup), levers_of(setup)

    def judged(path: tuple[Gear, ...]) -> tuple[float, ...]:
        moves = [levers.move(a, b) for a, b in pairwise(path)]
        logs = [math.log(b.development_m / a.development_m) for a, b in pairwise(path)]
        over = sum(
            max(0.0, step - math.log(1.15)) for step, move in zip(logs, moves, strict=True) if move.front
        )
        return round(over, 7), sum(move.effort for move in moves), round(sum(s * s for s in logs), 7)

    allowed = [p for p in paths(gears, 2.5) if all(abs(levers.move(a, b).front) <= 1 for a, b in pairwise(p))]
    found = best_path(gears, levers, 2.5, 15.0)
    assert judged(found) == min(map(judged, allowed))
    moves = moves_along(found, levers)
    assert (moves[0].front, moves[0].step_pct) == (0, None)
    assert [move.gear for move in moves] == list(found)


@pytest.mark.parametrize(
    ("rings", "cogs"), [((30, 32, 46), (11, 15, 20)), ((34, 50), (17, 25)), ((30, 31, 32), (20, 21))]
)
def test_through_every_distinct_gear_for_the_least_effort(
    rings: tuple[int, ...], cogs: tuple[int, ...]
) -> None:
    setup = make(rings, cogs)
    groups, levers = overlap_groups(gears_of(setup), 5.0), levers_of(setup)
    found = every_path(groups, levers)
    efforts = [sum(levers.move(a, b).effort for a, b in pairwise(p)) for p in product(*groups)]
    assert sum(levers.move(a, b).effort for a, b in pairwise(found)) == min(efforts)
    assert all(gear in group for gear, group in zip(found, groups, strict=True))


def test_what_a_shift_costs() -> None:
    """A step of 20 % over a limit of 15 %, where the range changes."""
    over = math.log(1.2 / 1.15)
    assert cost_of(Move(GEAR, front=1, step_pct=20.0), 15.0) == pytest.approx((over, 3.0, math.log(1.2) ** 2))
    assert cost_of(Move(GEAR, rear_clicks=1, step_pct=20.0), 15.0)[0] == 0.0
    assert cost_of(Move(GEAR, front=1, step_pct=10.0), 15.0)[0] == 0.0


def test_rings_that_interleave_are_taken_by_turns_and_a_third_only_beyond() -> None:
    setup = make((30, 46, 50), (14, 17, 20, 24, 28))
    pair = interleaved(setup)
    assert pair is not None
    assert pair.rings == (46, 50)
    taken = _taken_by_turns(gears_of(setup), pair)
    assert {g.cog for g in taken if g.ring == 30} == {n for n in (14, 17, 20, 24, 28) if 30 / n < 46 / 28}
    assert sum(g.ring != 30 for g in taken) == 10
    order = shift_order_of(study(setup))
    assert [g.development_m for g in order.gears] == sorted(g.development_m for g in order.gears)
    assert all(gear.ring == 30 or move.gear.ring == 30 for gear, move in order.crossings)
    assert len(order.range_changes) > len(order.crossings) >= 1
    assert order.effort == sum(move.effort for move in order.moves)
    assert order.double_shifts == sum(move.double for move in order.moves)
    assert order.double_shifts_every == sum(move.double for move in order.every)
    large = make((46, 50, 70), (14, 17, 20, 24, 28))
    beyond = _taken_by_turns(gears_of(large), interleaved(large) or pair)
    assert {g.cog for g in beyond if g.ring == 70} == {n for n in (14, 17, 20, 24, 28) if 70 / n > 50 / 14}
    assert _taken_by_turns([g for g in gears_of(setup) if g.ring == 30], pair) == [
        g for g in gears_of(setup) if g.ring == 30
    ]


def test_of_very_many_gears_some_are_searched() -> None:
    setup = make(tuple(range(30, 45)), tuple(range(11, 25)))
    gears = list(gears_of(setup))
    assert len(gears) == 210
    assert _few(gears[:200], 2.5) == gears[:200]
    few = _few(gears[:201], 1.0)
    assert few == [group[0] for group in overlap_groups(gears[:201], 2.5)]
    assert len(_few(gears, 5.0)) == len(overlap_groups(gears, 5.0))


def test_a_drill_by_hand() -> None:
    """One ring and three cogs: from the easiest gear the harder one is a click; two clicks are wrong."""
    setup = make((40,), (11, 15, 20))
    drill = drill_of(shift_order_of(study(setup)), gears_of(setup), 1)
    assert drill is not None
    assert (drill.call, drill.gear.cog, drill.pressed) == ("harder", 20, False)
    assert (drill.right.rear_clicks, drill.right.gear.cog) == (1, 15)
    pressed = drill.shift(rear=1)
    assert pressed.pressed
    assert not pressed.clear().pressed
    assert drill.shift(front=1).pressed
    assert drill.shift(hub=1).pressed
    assert pressed.shift(rear=-1).rear == 0
    good = pressed.answer()
    assert (good.asked, good.good, good.streak, good.best, good.gear.cog, good.rear) == (1, 1, 1, 1, 15, 0)
    assert good.last is not None
    assert (good.last.good, good.last.reached, good.last.start.cog) == (True, gear(setup, 40, 15), 20)
    wrong = drill.shift(rear=2).answer()
    assert (wrong.asked, wrong.good, wrong.streak, wrong.best, wrong.gear.cog) == (1, 0, 0, 0, 15)
    past = drill.shift(rear=3).answer()
    assert past.last is not None
    assert (past.last.reached, past.last.good) == (None, False)
    up = good
    while up.at < 2:
        up = up.shift(rear=up.right.rear_clicks).answer()
    assert up.call == "easier"
    assert up.right.rear_clicks == -1
    lost = up.answer()
    assert (lost.streak, lost.best, lost.good) == (0, up.best, up.good)
    assert drill_of(shift_order_of(study(make((40,), (20,)))), (), 1) is None


def test_an_answer_that_nobody_can_tell_from_the_right_one_is_right() -> None:
    """34x17 and 50x25 are one gear."""
    setup = make((34, 50), (17, 25))
    order = shift_order_of(study(setup))
    drill = drill_of(order, gears_of(setup), 1)
    assert drill is not None
    twins = {(34, 17), (50, 25)}
    assert (drill.right.gear.ring, drill.right.gear.cog) in twins
    other = next(iter(twins - {(drill.right.gear.ring, drill.right.gear.cog)}))
    move = drill.levers.move(drill.gear, gear(setup, *other))
    assert drill.shift(front=move.front, rear=move.rear_clicks).answer().good == 1


def test_a_drill_turns_now_and_then() -> None:
    """About a third of the time in the middle; never past the ends."""
    setup = make((40,), (11, 12, 13, 14, 15, 16, 17, 18, 19, 20, 21))
    turned = asked = 0
    for seed in range(40):
        drill = drill_of(shift_order_of(study(setup)), gears_of(setup), seed)
        assert drill is not None
        for _ in range(12):
            after = drill.shift(rear=drill.right.rear_clicks).answer()
            if 0 < after.at < 10:
                asked += 1
                turned += after.call != drill.call
            drill = after
    assert 0.25 < turned / asked < 0.45


@pytest.mark.parametrize(
    ("off", "well", "hopeless"),
    [(0.79, True, False), (0.8, False, False), (4 / 3, False, False), (1.34, False, True)],
)
def test_a_sprocket_is_well_under_a_fifth_of_a_pitch(off: float, well: bool, hopeless: bool) -> None:
    """Two cogs 4 mm apart; a fifth is 0.8 mm, a third 1.33."""
    of = Clicks((11, 13), (4.0 - off,), (4.0,))
    assert (of.well, of.hopeless) == (well, hopeless)
    assert of.worst.off_mm == pytest.approx(-off)
    assert abs(of.worst.off_pct) == pytest.approx(25.0 * off)


def test_errors_add_up_from_where_the_cable_is_set() -> None:
    """Clicks of 3.9 mm on gaps of 4: set in the middle of five the ends are 0.2 mm off."""
    of = Clicks((11, 13, 15, 17, 19), (3.9,) * 4, (4.0,) * 4)
    assert of.drift_mm == pytest.approx((0.0, -0.1, -0.2, -0.3, -0.4))
    assert (of.best_at, of.set_on) == (2, 15)
    assert [landing.off_mm for landing in of.landings] == pytest.approx([0.2, 0.1, 0.0, -0.1, -0.2])
    four = Clicks((11, 13, 15, 17), (3.9,) * 3, (4.0,) * 3)
    assert four.set_on == 13, "of equals that nearer the smallest"
    uneven = Clicks((11, 13, 15), (4.0, 4.0), (4.0, 5.0))
    assert [uneven.pitch_mm(at) for at in range(3)] == [4.0, 4.0, 5.0]
    assert uneven.set_at(0)[2].off_pct == pytest.approx(-20.0)
    assert travel(2.0, 1.5, 2) == (3.0, 3.0)
    assert travel((2.0, 3.0, 4.0), 2.0, 2) == (4.0, 6.0)
    assert travel(None, 1.5, 2) is None
    assert travel(2.0, None, 2) is None


def shifted(**facts: object) -> Setup:
    tables = {
        "shifters": {"pull_mm": 2.5},
        "rear_derailleur": {"shift_ratio": 1.6},
        "rear": {"cog_pitch_mm": 4.0},
    }
    return make(
        (40,),
        (11, 13, 15),
        **{
            name: {k: v for k, v in {**of, **facts}.items() if k in {*of} and v is not None}
            for name, of in tables.items()
        },
    )  # type: ignore[arg-type]


def test_what_indexing_lacks() -> None:
    assert rear_indexing(shifted()).missing == ()
    assert rear_indexing(shifted(cog_pitch_mm=None)).missing == ("rear.cog_pitch_mm",)
    assert rear_indexing(shifted(pull_mm=None)).missing == ("shifters.pull_mm",)
    assert rear_indexing(shifted(pull_mm=None)).given
    assert not rear_indexing(shifted(pull_mm=None, shift_ratio=None)).given
    assert rear_indexing(shifted(shift_ratio=None)).clicks is None
    assert rear_indexing(shifted()).gaps == 2
    assert not rear_indexing(make((40,), (11,), shifters={"pull_mm": 2.5})).given


def test_a_ratio_that_was_printed_the_other_way_round() -> None:
    """0.625 for 1.6: the reciprocal would be right; of a ratio that is nearly right nothing is said."""
    assert rear_indexing(shifted(shift_ratio=0.625)).turned_round == pytest.approx(1.6)
    assert rear_indexing(shifted(shift_ratio=1.55)).turned_round is None
    assert rear_indexing(shifted(shift_ratio=3.0)).turned_round is None
    assert rear_indexing(shifted(shift_ratio=None)).turned_round is None
