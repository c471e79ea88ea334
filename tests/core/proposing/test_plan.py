"""The plan: against every change tried one by one, and against its limits."""

import math
import random
from collections.abc import Iterator
from functools import cache
from itertools import combinations, pairwise, product

import pytest

from cogwright.core.proposing.choices import (
    CassetteChoice,
    ChainChoice,
    Choices,
    CogChoice,
    DerailleurChoice,
    RingChoice,
)
from cogwright.core.proposing.front import PlannedChange, covers, ranked
from cogwright.core.proposing.goal import Goal
from cogwright.core.proposing.hardware import (
    CHAIN_CHECKS,
    DERAILLEUR_CHECKS,
    FIXED_CHECKS,
    Hardware,
    _first_best,
    judged,
)
from cogwright.core.proposing.lost_range import LostRange
from cogwright.core.proposing.plan import Plan
from cogwright.core.proposing.space import RingSet, Variant, count_variants, variants
from cogwright.core.setup.history import History
from cogwright.core.setup.model import RearDerailleur, Setup
from cogwright.core.study import study
from support import LONG

TOURER = {
    "name": "Yard 7 tourer",
    "wheel": {"rollout_mm": 2189},
    "crank": {"rings": (30, 46), "bolt_circle_mm": 94, "chainline_mm": 45},
    "rear": {
        "cogs": (11, 13, 15, 18, 21, 24, 28, 32),
        "carriers": ((24, 28, 32),),
        "clicks": 8,
        "smallest_cog": 11,
        "family": "even pull",
    },
    "rear_derailleur": {"largest_cog": 34, "smallest_cog": 11, "capacity": 37, "family": "even pull"},
    "shifters": {"family": "even pull"},
    "front_derailleur": {"largest_ring": 48, "difference": 16},
    "frame": {"chainstay_mm": 435},
    "chain": {"links": 110, "outer_width_mm": 7.2},
}

STOCK = Choices(
    rings=(RingChoice(34, "ring 34", 20.0), RingChoice(38, "ring 38", 22.0), RingChoice(50, "ring 50", 30.0)),
    cassettes=(
        CassetteChoice((11, 13, 15, 18, 21, 26, 31, 40), (), "cassette 11-40", 45.0, "even pull"),
        CassetteChoice(
            (12, 14, 16, 18, 20, 22, 24, 26), ((22, 24, 26),), "cassette 12-26", 18.0, "even pull"
        ),
        CassetteChoice((10, 12, 14, 17, 20, 24, 29, 36), (), "cassette 10-36", 39.0, "even pull"),
        CassetteChoice((11, 12, 13, 14, 16, 18, 21, 25), (), "other spacing", 5.0, "odd pull"),
    ),
    cogs=(
        CogChoice(12, "cog 12", 4.0),
        CogChoice(16, "cog 16", 5.0, "even pull"),
        CogChoice(17, "cog 17", 6.0, "odd pull"),
        CogChoice(25, "cog 25", 7.0, "even pull"),
    ),
    chains=(ChainChoice(116, "chain 116", 12.0, 7.2), ChainChoice(108, "chain 108", 9.0, 7.2)),
    derailleurs=(
        DerailleurChoice(
            RearDerailleur(largest_cog=42, smallest_cog=11, capacity=47, family="even pull"),
            "long cage",
            40.0,
        ),
        DerailleurChoice(
            RearDerailleur(largest_cog=36, smallest_cog=11, capacity=45, family="even pull"), "cage 45", 28.0
        ),
    ),
    currency="EUR",
)


@pytest.fixture(scope="module")
def tourer() -> Setup:
    return Setup.model_validate(TOURER)


def brute_cassettes(setup: Setup, stock: Choices) -> Iterator[tuple[dict[str, object], float]]:
    """Every cassette with up to two loose cogs swapped, as the fields of `rear` and its price."""
    rear = setup.rear
    own = CassetteChoice(rear.cogs, rear.carriers, "", 0.0, rear.family)
    for cassette in (own, *stock.cassettes):
        riveted = {n for carrier in cassette.carriers for n in carrier}
        loose = [n for n in cassette.cogs if n not in riveted]
        for many in (0, 1, 2):
            for out, into in product(combinations(loose, many), combinations(stock.cogs, many)):
                teeth = tuple(sorted({*cassette.cogs} - {*out} | {cog.teeth for cog in into}))
                squeezed = any(c[0] < cog.teeth < c[-1] for cog in into for c in cassette.carriers)
                mixed = any(cog.family not in (None, cassette.family) for cog in into)
                if len(teeth) == len(cassette.cogs) and not squeezed and not mixed:
                    price = (cassette.price or 0.0) + sum(cog.price for cog in into)
                    fields = {"cogs": teeth, "carriers": cassette.carriers, "family": cassette.family}
                    yield fields, price


def changed(setup: Setup, **sections: dict[str, object]) -> Setup:
    data = setup.model_dump()
    for name, fields in sections.items():
        data[name] = {**data[name], **fields}
    return Setup.model_validate(data)


Tried = tuple[tuple[float, float, float], Setup]


def brute(setup: Setup, stock: Choices, goal: Goal) -> list[Tried]:
    """Every change that goes together, one by one; aims and setups of those that meet the goal."""
    return [(aims, there) for aims, there in every_change(setup, stock) if meets(goal, there, aims[2])]


def meets(goal: Goal, setup: Setup, cost: float) -> bool:
    figures = study(setup).summary
    return (
        (goal.low_at_most_m is None or figures.lowest_m <= goal.low_at_most_m + 1e-9)
        and (goal.high_at_least_m is None or figures.highest_m >= goal.high_at_least_m - 1e-9)
        and (goal.cost_at_most is None or cost <= goal.cost_at_most + 1e-9)
        and (goal.jump_at_most_pct is None or figures.worst_rear_step_pct <= goal.jump_at_most_pct + 1e-9)
    )


@cache
def every_change(setup: Setup, stock: Choices) -> list[Tried]:
    """Aims and setups of all changes that go together, each studied as a whole setup."""
    base = study(setup).summary
    prices = {ring.teeth: ring.price or 0.0 for ring in stock.rings} | dict.fromkeys(setup.crank.rings, 0.0)
    ring_sets = [rings for many in (1, 2) for rings in combinations(sorted(prices), many)]
    found = []
    for rings, (rear, cassette_cost) in product(ring_sets, brute_cassettes(setup, stock)):
        front = {"largest_ring": None, "difference": None} if len(rings) == 1 else {}
        on = changed(setup, crank={"rings": rings}, rear=rear, front_derailleur=front)
        for chain, derailleur in product((None, *stock.chains), (None, *stock.derailleurs)):
            there = on
            if derailleur is not None:
                there = there.model_copy(update={"rear_derailleur": derailleur.limits})
            if chain is not None:
                needed = study(there).chain.fit_pitches
                there = changed(there, chain={"links": min(chain.links, needed or chain.links)})
            of = study(there)
            figures = of.summary
            cost = sum(prices[n] for n in rings) + cassette_cost
            cost += sum(part.price for part in (chain, derailleur) if part is not None)
            if not any(check.status == "problem" for check in of.fit):
                lost = max(math.log(figures.lowest_m / base.lowest_m), 0.0)
                lost += max(math.log(base.highest_m / figures.highest_m), 0.0)
                found.append(((lost, math.log1p(figures.worst_rear_step_pct / 100.0), cost), there))
    return found


def front_of(aims: list[tuple[float, float, float]]) -> set[tuple[float, ...]]:
    distinct = {tuple(round(x, 7) for x in aim): aim for aim in aims}
    return {
        key
        for key, aim in distinct.items()
        if not any(covers(other, aim) and not covers(aim, other) for other in distinct.values())
    }


def small(stock: Choices, cassettes: int, cogs: int) -> Choices:
    """Less of everything: every change of it can be studied as a whole within seconds."""
    return Choices(
        stock.rings[:2],
        stock.cassettes[:cassettes],
        stock.cogs[:cogs],
        stock.chains[:1],
        stock.derailleurs[:1],
        stock.currency,
    )


GOALS = [
    Goal(),
    Goal(low_at_most_m=1.95, high_at_least_m=7.0),
    Goal(jump_at_most_pct=21.0),
    Goal(cost_at_most=30.0, jump_at_most_pct=20.0),
]


@pytest.mark.parametrize("goal", GOALS)
def test_the_front_is_that_of_every_change_tried(tourer: Setup, goal: Goal) -> None:
    stock = small(STOCK, 1, 2)
    found = Plan(tourer, stock, goal).result()
    every = brute(tourer, stock, goal)
    assert found.meets == bool(every)
    assert every, "a goal that nothing meets proves nothing here"
    assert {tuple(round(x, 7) for x in entry.aims) for entry in found.changes} == front_of(
        [a for a, _ in every]
    )


def random_stock(seed: int) -> Choices:
    """A small bin: now a wide cassette, now a short cage, now a chain that does not reach."""
    rng = random.Random(seed)

    def cassette() -> CassetteChoice:
        low, high = rng.choice((10, 11, 12)), rng.choice((28, 34, 38, 42))
        cogs = (low, *sorted(rng.sample(range(low + 1, high), 6)), high)
        carriers = (cogs[-3:],) if rng.random() < 0.7 else (cogs[2:4], cogs[-2:])
        return CassetteChoice(cogs, carriers, "cassette", float(rng.randint(10, 60)), "even pull")

    limits = {"largest_cog": rng.choice((34, 38, 42)), "capacity": rng.randint(24, 50), "family": "even pull"}
    return Choices(
        rings=(RingChoice(rng.randint(31, 44), "ring", float(rng.randint(5, 30))),),
        cassettes=(cassette(),),
        cogs=tuple(CogChoice(n, f"cog {n}", float(rng.randint(1, 9))) for n in (15, rng.randint(16, 30))),
        chains=(ChainChoice(rng.choice((108, 112, 116, 120)), "chain", float(rng.randint(8, 20)), 7.2),),
        derailleurs=(DerailleurChoice(RearDerailleur(**limits), "derailleur", float(rng.randint(10, 50))),),
        currency="EUR",
    )


@pytest.fixture(scope="module")
def uneven(tourer: Setup) -> Setup:
    """A cassette with a gap that one loose cog mends, so that the cheapest and the most even are two."""
    return changed(tourer, rear={"cogs": (11, 12, 13, 17, 21, 24, 28, 32)})


@pytest.mark.long
@pytest.mark.parametrize("seed", [0, 1, 2, 3, 4, 35, 37, 42] if LONG else [1, 35])
def test_random_bins_against_every_change_tried(uneven: Setup, seed: int) -> None:
    """Front without limits; then, under limits that little meets, the front or the least miss of all."""
    stock = random_stock(seed)
    every = brute(uneven, stock, Goal())
    free = Plan(uneven, stock).result()
    assert {tuple(round(x, 7) for x in e.aims) for e in free.changes} == front_of([aims for aims, _ in every])
    lows, steps, costs = (
        sorted(column) for column in zip(*(three(aims, s) for aims, s in every), strict=True)
    )
    limits = (lows[len(lows) // 20], steps[len(steps) // 10], costs[len(costs) // 5])
    goal = Goal(low_at_most_m=limits[0], jump_at_most_pct=100.0 * (limits[1] - 1.0), cost_at_most=limits[2])
    found = Plan(uneven, stock, goal).result()
    missed = [missed_by_hand(three(aims, setup), limits) for aims, setup in every]
    assert found.meets == any(not any(by) for by in missed)
    if not found.meets:
        reached = [missed_by_hand((e.low_m, e.worst, e.cost), limits) for e in found.changes]
        assert sum(reached[0]) == pytest.approx(min(map(sum, missed)))
        for limit in range(3):
            alone = [by[limit] for by in missed if sum(by) == by[limit]]
            ours = [by[limit] for by in reached if sum(by) == by[limit]]
            assert min(ours, default=None) == (pytest.approx(min(alone)) if alone else None)


def three(aims: tuple[float, float, float], setup: Setup) -> tuple[float, float, float]:
    """Lowest gear in m, largest step as a ratio, cost."""
    of = study(setup).summary
    return of.lowest_m, 1.0 + of.worst_rear_step_pct / 100.0, aims[2]


def missed_by_hand(of: tuple[float, float, float], limits: tuple[float, float, float]) -> tuple[float, ...]:
    """Shares of the limits that are missed."""
    shares = [figure / limit for figure, limit in zip(of, limits, strict=True)]
    return tuple(share - 1.0 if share > 1.0 + 1e-8 else 0.0 for share in shares)


def test_the_figures_of_a_proposal_are_those_of_its_setup(tourer: Setup) -> None:
    found = Plan(tourer, STOCK).result()
    proposals = found.proposals()
    assert len(proposals) == len(found.changes)
    by_aims = {(round(p.lost.low + p.lost.high, 7), p.cost) for p in proposals if p.lost}
    assert by_aims == {(round(e.aims[0], 7), e.cost) for e in found.changes}
    for proposal in proposals:
        of = study(proposal.setup, tourer)
        assert proposal.low_m == pytest.approx(of.summary.lowest_m)
        assert proposal.worst_step_pct == pytest.approx(of.summary.worst_rear_step_pct)
        assert proposal.problems == ()
        assert of.comparison is not None
        assert proposal.lost is not None
        assert proposal.lost.low_pct == pytest.approx(max(of.comparison.low_change_pct, 0.0))
        assert proposal.lost.high_pct == pytest.approx(max(-of.comparison.high_change_pct, 0.0))


def test_what_was_judged_in_pieces_holds_for_whole_setups(tourer: Setup) -> None:
    """The search judges chain, derailleur and the rest apart and by the ends; the whole study must agree."""
    from cogwright.core.proposing.hardware import Fitter
    from cogwright.core.proposing.plan import rings_on
    from cogwright.core.proposing.plan_proposals import setup_of
    from cogwright.core.proposing.space import ring_sets

    fitter = Fitter(STOCK.chains, STOCK.derailleurs)
    seen = {True: 0, False: 0}
    own = CassetteChoice.of(tourer, on_bike=True)
    for rings in ring_sets(rings_on(tourer), STOCK.rings, 2):
        for cassette in (own, *STOCK.cassettes):
            for variant in list(variants(cassette, STOCK.cogs))[::9]:
                setup = setup_of(tourer, rings, variant)
                hardware = fitter.find(setup)
                assert bool(hardware.problems) == bool(judged(hardware.on(setup)).problems)
                seen[bool(hardware.problems)] += 1
    assert min(seen.values()) > 20


def test_of_equal_changes_the_one_that_leaves_the_bike_alone_is_kept() -> None:
    """Three rings: without the middle one the ends, the clicks and the price are the same; it stays on."""
    triple = Setup.model_validate(
        {
            "name": "Yard 2",
            "wheel": {"rollout_mm": 2000},
            "crank": {"rings": (26, 36, 48)},
            "rear": {"cogs": (11, 13, 15, 18, 21, 24, 28, 32)},
        }
    )
    found = Plan(triple, Choices(rings=(RingChoice(38, "ring 38", 9.0),))).result().proposals()
    assert [(p.rings, p.title) for p in found] == [((26, 36, 48), "as it stands")]


@pytest.mark.parametrize("teeth", [(16, 17), (17, 16)])
@pytest.mark.parametrize("own", [(12, 13, 14, 19, 24), (12, 14, 15, 19, 24)])
def test_of_equally_large_steps_at_a_price_the_more_even_cassette_is_kept(
    teeth: tuple[int, ...], own: tuple[int, ...]
) -> None:
    """12 to 24 in five cogs with one swap: 24/19 is the largest step of several, of one price."""
    setup = Setup.model_validate(
        {
            "name": "Yard 1",
            "wheel": {"rollout_mm": 2000},
            "crank": {"rings": (40,)},
            "rear": {"cogs": own},
        }
    )
    stock = Choices(cogs=tuple(CogChoice(n, f"cog {n}", 5.0) for n in teeth))
    found = Plan(setup, stock, Goal(jump_at_most_pct=26.4)).result().proposals()
    swaps = [(out, into) for out in own[1:4] for into in teeth]
    tried = [tuple(sorted({*own, into} - {out})) for out, into in swaps]
    tried = [cogs for cogs in tried if max(b / a for a, b in pairwise(cogs)) <= 24 / 19 + 1e-9]
    assert len(tried) > 1
    best = min(tried, key=lambda cogs: sum(math.log(b / a) ** 2 for a, b in pairwise(cogs)))
    assert [p.cogs for p in found if p.cogs[::4] == (12, 24) and p.cost == 5.0] == [best]


def test_the_balance_puts_the_middle_change_first() -> None:
    """Scaled from 0 to 1 by hand: (0, 1, 0) and (1, 0, 1) against (.2, .3, .4), which adds up to least."""

    def entry(lost: float, step: float, cost: float) -> PlannedChange:
        rings, variant = RingSet((), (), 0.0), Variant(math.exp(step), 0.0, (), CassetteChoice(()), (), ())
        return PlannedChange(
            rings, variant, Hardware(None, None, 0, ()), LostRange(lost, 0), 1, 9, math.exp(step), cost
        )

    cheap, even, middle = entry(0.1, 0.3, 10.0), entry(0.6, 0.1, 60.0), entry(0.2, 0.16, 30.0)
    assert ranked([cheap, even, middle]) == [middle, cheap, even]
    assert ranked([middle, even, cheap]) == [middle, cheap, even]


def test_where_no_hardware_goes_the_first_of_the_least_bad_is_taken() -> None:
    assert _first_best([(1, ("a", "b")), (2, ("a",)), (3, ("c",))]) == (2, ("a",))
    assert _first_best([(1, ("a",)), (2, ()), (3, ())]) == (2, ())


def test_every_check_is_judged_once() -> None:
    from cogwright.core.fit.registry import CHECKS

    assert sorted(map(id, (*CHAIN_CHECKS, *DERAILLEUR_CHECKS, *FIXED_CHECKS))) == sorted(map(id, CHECKS))


def test_all_changes_are_counted(tourer: Setup) -> None:
    own = CassetteChoice.of(tourer)
    for cassette in (own, *STOCK.cassettes):
        assert count_variants(cassette, STOCK.cogs) == len(list(variants(cassette, STOCK.cogs)))
    assert (
        Plan(tourer, STOCK).result().total
        == sum(len(list(variants(c, STOCK.cogs))) for c in (own, *STOCK.cassettes)) * (5 + 10) * 3 * 3
    )


def test_progress_rises_to_the_end_and_can_be_left(tourer: Setup) -> None:
    steps = list(Plan(tourer, STOCK).progress())
    done = [step.done for step in steps]
    assert done == sorted(done)
    assert steps[-1].finished
    assert all(step.total == steps[0].total for step in steps)
    first = next(iter(Plan(tourer, STOCK).progress()))
    assert not first.finished
    assert first.proposals() == ()


def test_the_bike_as_it_stands_is_the_cheapest_when_it_meets_the_goal(tourer: Setup) -> None:
    found = Plan(tourer, STOCK).result().proposals()
    cheapest = next(p for p in found if "cheapest" in p.marks)
    assert cheapest.cost == 0.0
    assert cheapest.setup.crank.rings == (30, 46)


def test_a_chain_that_has_become_too_short_is_bought(tourer: Setup) -> None:
    """40 teeth behind need a longer chain than the 110 pitches on the bike, and a longer cage."""
    goal = Goal(low_at_most_m=2.189 * 30 / 40 + 1e-6, high_at_least_m=9.0)
    found = Plan(tourer, STOCK, goal).result()
    assert found.meets
    best = found.proposals()[0]
    assert {"cassette 11-40", "chain 116"} <= set(best.fits)
    assert best.setup.chain.links == study(best.setup).chain.fit_pitches
    assert any("measure it on the bike before it is cut" in note for note in best.notes)


def test_a_chain_that_has_become_too_long_is_cut(tourer: Setup) -> None:
    """40x32 on 435 mm: 68.50 + 36 + .05 = 104.55 pitches, and two, to an even number: 108 of 116."""
    single = changed(
        tourer,
        crank={"rings": (40,)},
        chain={"links": 116},
        rear_derailleur={"largest_cog": 34, "smallest_cog": 11, "capacity": 21},
        front_derailleur={"largest_ring": None, "difference": None},
    )
    (only,) = Plan(single, Choices()).result().proposals()
    assert only.setup.chain.links == 108
    assert only.notes == ("cut the chain to 108 links; measure it on the bike before it is cut",)
    assert only.problems == ()


def test_nothing_meets_all_and_the_nearest_miss_is_named(tourer: Setup) -> None:
    goal = Goal(low_at_most_m=1.7, high_at_least_m=8.0, cost_at_most=40.0)
    found = Plan(tourer, STOCK, goal).result()
    assert not found.meets
    assert brute(tourer, small(STOCK, 4, 1), goal) == []
    proposals = found.proposals()
    assert "nearest miss" in proposals[0].marks
    assert proposals[0].reasons[0].startswith("nothing meets all limits; the nearest miss is this: ")
    assert all(not p.meets for p in proposals)
    cheapest = next(
        p for p in proposals if p.cost is not None and p.cost > 40.0 and "misses only the cost" in p.marks
    )
    assert cheapest.low_m <= 1.7
    assert cheapest.high_m >= 8.0


def test_the_nearest_miss_is_the_least_of_all(tourer: Setup) -> None:
    """With the limits opened to what the nearest miss reaches something meets them; a hair less, nothing."""
    stock = small(STOCK, 1, 2)
    goal = Goal(low_at_most_m=1.2, cost_at_most=1000.0)
    near = Plan(tourer, stock, goal).result()
    assert not near.meets
    reached = near.changes[0].low_m
    every = brute(tourer, stock, Goal(cost_at_most=1000.0))
    assert reached == pytest.approx(min(study(setup).summary.lowest_m for _, setup in every))


def test_what_does_not_fit_is_never_among_what_meets(tourer: Setup) -> None:
    """A driver that takes 11 teeth and more keeps the 10-36 out, although it would lose no range."""
    for proposal in Plan(tourer, STOCK).result().proposals():
        assert proposal.cogs[0] >= 11
        assert proposal.setup.rear.family == "even pull"


def test_riveted_cogs_stay_and_nothing_goes_between_them(tourer: Setup) -> None:
    own = CassetteChoice.of(tourer)
    for variant in variants(own, STOCK.cogs):
        assert {24, 28, 32} <= set(variant.cogs)
        assert 25 not in variant.cogs


def test_inner_bolt_circle_takes_the_smallest_ring_only(tourer: Setup) -> None:
    from cogwright.core.proposing.space import ring_sets

    own = (
        RingChoice(24, price=0.0, inner=True, on_bike=True),
        RingChoice(34, price=0.0),
        RingChoice(44, price=0.0),
    )
    stock = (RingChoice(22, "inner 22", 9.0, inner=True), RingChoice(48, "ring 48", 20.0))
    sets = ring_sets(own, stock, 3)
    for rings in sets:
        inner = [ring.teeth for ring in rings.rings if ring.inner]
        assert inner in ([], [rings.teeth[0]])
        assert not inner or len(rings.teeth) > 1
    assert (22, 24, 34) not in {rings.teeth for rings in sets}
    assert (22, 34, 48) in {rings.teeth for rings in sets}


def test_hub_gear_with_one_cog_is_judged_by_its_own_steps() -> None:
    """A 3-speed hub .733 1 1.364 (from memory): no cog changes its largest step of 36.4 %."""
    hub = Setup.model_validate(
        {
            "name": "Yard 4",
            "wheel": {"size": "40-622"},
            "crank": {"rings": (40,)},
            "rear": {"cogs": (18,), "hub_ratios": (0.733, 1.0, 1.364)},
        }
    )
    stock = Choices(cogs=(CogChoice(16, "cog 16", 6.0), CogChoice(22, "cog 22", 7.0)), currency="EUR")
    low = study(hub).summary.lowest_m * 18 / 22
    found = Plan(hub, stock, Goal(low_at_most_m=low + 1e-6)).result()
    assert found.meets
    assert [p.cogs for p in found.proposals()] == [(22,)]
    assert found.changes[0].worst == pytest.approx(1.0 / 0.733)


def test_another_smallest_cog_must_be_made_for_its_place(tourer: Setup) -> None:
    """Common practice, no source."""
    for proposal in Plan(tourer, STOCK).result().proposals():
        moved = any(swap.out == 11 for swap in proposal.swaps)
        assert moved == any("made for that place" in note for note in proposal.notes)


def test_a_plan_is_taken_as_one_edit(tourer: Setup) -> None:
    proposal = Plan(tourer, STOCK, Goal(jump_at_most_pct=21.0)).result().proposals()[0]
    taken = History(tourer).do(proposal.edit())
    assert taken.now == proposal.setup
    assert taken.undo().now == tourer
