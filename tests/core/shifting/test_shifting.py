"""Shift orders: against NetworkX, and in the figures of the trade."""

import itertools
import math
import random

import networkx as nx
import pytest

from cogwright.core.gears.gears import Gear, gears_of
from cogwright.core.gears.steps import overlap_groups
from cogwright.core.setup.model import Crank, Frame, Limits, Rear, Setup, Wheel
from cogwright.core.shifting.shift_order import (
    best_path,
    cost_of,
    every_path,
    levers_of,
    moves_along,
    shift_order_of,
)
from cogwright.core.study import study

COMPACT = ((34, 50), (11, 12, 13, 14, 15, 17, 19, 21, 23, 25, 28))


def bike(rings: tuple[int, ...], cogs: tuple[int, ...], **more: object) -> Setup:
    """A setup on 28-622."""
    rear = Rear(cogs=cogs, **more)  # type: ignore[arg-type]
    return Setup(name="Yard 7", wheel=Wheel(size="28-622"), crank=Crank(rings=rings), rear=rear)


def graph(setup: Setup, gears: tuple[Gear, ...], overlap_pct: float) -> nx.DiGraph:
    """The shift graph built from the teeth alone: every shift to a harder gear, front by one at most."""
    of = nx.DiGraph()
    of.add_nodes_from(gears)
    rings, cogs = sorted(setup.crank.rings), sorted(setup.rear.cogs)
    for a, b in itertools.permutations(gears, 2):
        front = rings.index(b.ring) - rings.index(a.ring)
        clicks = abs(cogs.index(b.cog) - cogs.index(a.cog))
        if b.ring / b.cog > a.ring / a.cog * (1 + overlap_pct / 100) * (1 + 1e-12) and abs(front) <= 1:
            of.add_edge(a, b, front=front, clicks=clicks, step=math.log(b.ring / b.cog / (a.ring / a.cog)))
    return of


@pytest.mark.parametrize("front", [1.0, 2.0, 3.0, 5.0])
def test_compact_costs_ten_clicks_and_one_front_change(front: float, monkeypatch: pytest.MonkeyPatch) -> None:
    """34-50 with eleven cogs, nothing barred: 34x28 to 50x11 costs 10 + w (project's check value)."""
    monkeypatch.setattr("cogwright.core.shifting.levers.FRONT_EFFORT", front)
    setup = bike(*COMPACT)
    gears = gears_of(setup)
    moves = moves_along(best_path(gears, levers_of(setup), 0.0), levers_of(setup))
    assert sum(move.effort for move in moves) == 10 + front
    of = graph(setup, gears, 0.0)
    assert front + 10 == nx.dijkstra_path_length(
        of, gears[0], gears[-1], weight=lambda a, b, d: d["clicks"] + front * abs(d["front"])
    )


def random_bike(rng: random.Random) -> Setup:
    """Any bike with two or three rings."""
    rings = tuple(rng.sample(range(22, 56), rng.choice([2, 2, 3])))
    cogs = tuple(rng.sample(range(9, 46), rng.randint(4, 12)))
    return bike(rings, cogs)


@pytest.mark.long(cases=15)
@pytest.mark.parametrize("seed", range(60))
def test_best_order_is_networkx_shortest_path(seed: int) -> None:
    """On random bikes the order costs what Dijkstra finds, its three weights folded into one number."""
    setup = random_bike(random.Random(seed))
    gears, levers = gears_of(setup), levers_of(setup)
    limit = math.log(1.15)
    of = graph(setup, gears, 2.5)

    def folded(_a: Gear, _b: Gear, d: dict[str, float]) -> float:
        over = max(0.0, d["step"] - limit) if d["front"] else 0.0
        return 1e9 * round(over, 9) + 1e3 * (d["clicks"] + 3 * abs(d["front"])) + d["step"] ** 2

    path = best_path(gears, levers, 2.5, 15.0)
    if not nx.has_path(of, gears[0], gears[-1]):
        assert path[-1] != gears[-1]
        return
    best = nx.dijkstra_path_length(of, gears[0], gears[-1], weight=folded)
    found = nx.path_weight(
        nx.DiGraph((a, b, {"weight": folded(a, b, of[a][b])}) for a, b in itertools.pairwise(path)),
        path,
        "weight",
    )
    assert found == pytest.approx(best, rel=1e-12, abs=1e-6)


@pytest.mark.long(cases=10)
@pytest.mark.parametrize("seed", range(30))
def test_every_distinct_gear_for_the_least_effort(seed: int) -> None:
    """The order through all groups costs what NetworkX finds on the layered graph."""
    setup = random_bike(random.Random(seed))
    gears, levers = gears_of(setup), levers_of(setup)
    groups = overlap_groups(gears, 2.5)
    of = nx.DiGraph()
    for one, other in itertools.pairwise(groups):
        for a, b in itertools.product(one, other):
            of.add_edge(a, b, weight=levers.move(a, b).effort)
    for gear in groups[0]:
        of.add_edge("start", gear, weight=0)
    for gear in groups[-1]:
        of.add_edge(gear, "end", weight=0)
    path = every_path(groups, levers)
    assert sum(m.effort for m in moves_along(path, levers)) == nx.dijkstra_path_length(of, "start", "end")


def test_compact_changes_the_front_once_with_three_clicks_back() -> None:
    """On 34-50 the front change is 47 %, so only three clicks at the back bring it under a jump."""
    found = shift_order_of(study(bike(*COMPACT)))
    [(before, move)] = found.range_changes
    assert (move.front, move.rear_clicks, move.double) == (1, -3, True)
    assert 0 < 50 / move.gear.cog / (34 / before.cog) - 1 <= 0.15
    assert found.double_shifts == 1


def test_crossed_pairs_are_left_out_by_common_practice() -> None:
    """Common practice, no source: with nine cogs or more, two at each far side."""
    found = shift_order_of(study(bike(*COMPACT)))
    assert {g.label for g in found.left_out} == {"34x11", "34x12", "50x28", "50x25"}
    assert not set(found.gears) & set(found.left_out)


def test_what_is_left_out_is_in_neither_order() -> None:
    """On bikes whose best order through all gears would use a crossed one."""
    wanted = 0
    for seed in range(20):
        setup = random_bike(random.Random(seed))
        gears, levers = gears_of(setup), levers_of(setup)
        found = shift_order_of(study(setup))
        every = {move.gear for move in found.every}
        assert not {*found.gears, *every} & set(found.left_out)
        free = every_path(overlap_groups(gears, setup.limits.overlap_pct), levers)
        wanted += bool({*free} & set(found.left_out))
    assert wanted > 5


@pytest.mark.long(cases=8)
@pytest.mark.parametrize("seed", range(20))
def test_an_order_rises_and_its_clicks_lead_where_it_says(seed: int) -> None:
    """Every move leads from gear to gear on the shifters, and to a harder gear each time."""
    setup = random_bike(random.Random(seed))
    found, levers = shift_order_of(study(setup)), levers_of(setup)
    for before, move in itertools.pairwise(found.moves):
        reached = levers.reach(before.gear, move.front, move.rear_clicks, move.hub_clicks)
        assert reached == (move.gear.ring, move.gear.cog, move.gear.hub)
        assert move.gear.development_m > before.gear.development_m * 1.025


def test_half_step_through_every_gear_takes_many_double_shifts() -> None:
    """52-47 with 14 17 20 24 28: ten gears evenly apart (check value: steps 5.4 to 10.6 %), half-step.

    From each 47 gear to the 52 one the front alone moves; back to 47 both move: 4 double shifts.
    """
    setup = bike((47, 52), (14, 17, 20, 24, 28))
    found = every_path(overlap_groups(gears_of(setup), 2.5), levers_of(setup))
    moves = moves_along(found, levers_of(setup))
    assert len(moves) == 10
    assert [m.double for m in moves].count(True) == 4


def test_single_ring_single_speed_and_hub_gear() -> None:
    """One ring: click by click. One gear: no shift. A hub gear: its positions."""
    one = bike((40,), (11, 13, 15))
    assert [m.rear_clicks for m in shift_order_of(study(one)).moves] == [0, 1, 1]
    single = bike((42,), (16,))
    assert len(shift_order_of(study(single)).moves) == 1
    hub = bike((38,), (19,), hub_ratios=(0.733, 1.0, 1.364))
    moves = shift_order_of(study(hub)).moves
    assert [(m.front, m.rear_clicks, m.hub_clicks) for m in moves] == [(0, 0, 0), (0, 0, 1), (0, 0, 1)]


def test_a_front_change_under_the_limit_costs_nothing_over() -> None:
    """A plain click over the limit is the cassette's doing; only front changes pay for their step."""
    setup = bike((30, 40), (10, 20))
    a, b = gears_of(setup)[0], gears_of(setup)[-1]
    levers = levers_of(setup)
    assert cost_of(levers.move(a, b), 15.0)[0] == pytest.approx(math.log(40 / 10 / (30 / 20) / 1.15))


def test_a_hub_behind_a_cassette_is_changed_with_clicks_made_up() -> None:
    """Three speeds 36 % apart behind eight cogs: no change of the hub feels larger than the jump limit."""
    setup = bike((50,), (11, 13, 15, 18, 21, 24, 28, 32), hub_ratios=(0.733, 1.0, 1.364))
    found = shift_order_of(study(setup))
    assert len(found.range_changes) == 2
    for _, move in found.range_changes:
        assert move.hub_clicks == 1
        assert move.rear_clicks < 0
        assert move.step_pct is not None
        assert 0 < move.step_pct <= 15.0


@pytest.mark.long(cases=2)
@pytest.mark.parametrize(
    "hubs",
    [
        (0.733, 1.0, 1.364),
        (0.527, 0.644, 0.748, 0.851, 1.0, 1.223, 1.419, 1.615),
        (0.279, 0.316, 0.36, 0.409, 0.464, 0.528, 0.6, 0.682, 0.774, 0.881, 1.0, 1.135, 1.292, 1.467),
    ],
    ids=["3", "8", "14"],
)
@pytest.mark.parametrize("rings", [(42,), (34, 50)])
def test_a_hub_behind_cogs_is_changed_no_more_often_than_it_has_gears(
    hubs: tuple[float, ...], rings: tuple[int, ...]
) -> None:
    """Hub sets from memory. Each range once: few shifts take two shifters, and all are felt."""
    setup = bike(rings, (11, 13, 15, 18, 21, 24, 28, 32), hub_ratios=hubs)
    moves = shift_order_of(study(setup)).moves[1:]
    assert min(move.step_pct or 0.0 for move in moves) > setup.limits.overlap_pct
    assert sum(move.double for move in moves) < len(hubs) + len(rings) - 1
    assert len(moves) < 2 * (len(hubs) + 8)
    inside = [step for step in study(setup).rear_steps if step.in_hub]
    assert not any(step.jump or step.stands_out for step in inside)


@pytest.mark.long(cases=0)
def test_more_gears_than_any_bike_has_are_still_ordered() -> None:
    """Thirty rings, cogs and hub gears: 27,000 gears, which are thinned rather than searched for hours."""
    hubs = tuple(0.3 + 0.1 * i for i in range(30))
    setup = Setup(
        name="absurd",
        wheel=Wheel(size="28-622"),
        crank=Crank(rings=tuple(range(22, 52))),
        rear=Rear(cogs=tuple(range(9, 39)), hub_ratios=hubs),
        limits=Limits(overlap_pct=0.0),
    )
    moves = shift_order_of(study(setup)).moves
    assert len(moves) > 2


def test_the_easiest_and_the_hardest_gear_stay_in_however_the_chain_runs() -> None:
    """With a limit of half a degree nearly every gear is one to avoid, the ends of the order among them."""
    setup = Setup(
        name="Yard 7",
        wheel=Wheel(size="28-622"),
        crank=Crank(rings=(34, 50), chainline_mm=43.5),
        rear=Rear(cogs=(11, 13, 15, 17, 19, 23, 28)),
        frame=Frame(chainstay_mm=410),
        limits=Limits(chain_angle_deg=0.5),
    )
    gears = gears_of(setup)
    found = shift_order_of(study(setup))
    assert len(found.left_out) >= len(gears) - 4
    assert (found.gears[0], found.gears[-1]) == (gears[0], gears[-1])
    assert not {gears[0], gears[-1]} & set(found.left_out)
