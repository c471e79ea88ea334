"""The pieces that searches are made of, each by hand and at its limits."""

import math
from dataclasses import replace
from typing import Any

import pytest

from bikes import bike, drawer
from cogwright.core.common.errors import CogwrightError
from cogwright.core.fit import chain, derailleur, hub, rear, teeth, wheel
from cogwright.core.parts.bin import Bin, CogPart, RingPart
from cogwright.core.proposing import bin_choices, options, plan_proposals, pool, single
from cogwright.core.proposing.cassette_prices import CassettePrices
from cogwright.core.proposing.choices import CassetteChoice, RingChoice, with_cassette
from cogwright.core.proposing.even import even_out
from cogwright.core.proposing.even_words import fast_words, steps_words, title
from cogwright.core.proposing.front import Front, NearMisses, PlannedKit, _scores, covers, ranked
from cogwright.core.proposing.goal import CENT, Goal, Miss, miss_of
from cogwright.core.proposing.kit import Driver, Kit, RingSet, Shifter, Variant, with_ring_set
from cogwright.core.proposing.kit_fit import LOOKS_AT, CogEnds, KitFacts, judged
from cogwright.core.proposing.kit_prices import KitPrice, KitPrices
from cogwright.core.proposing.ladder import CassettePiece, closeness, unevenness, worst_ratio
from cogwright.core.proposing.lost_range import LostRange, lost_range
from cogwright.core.proposing.progress import FoundSoFar, even_progress, single_progress
from cogwright.core.proposing.proposal import Proposal, Swap
from cogwright.core.proposing.served import Served
from cogwright.core.proposing.space import (
    Ends,
    Group,
    count_variants,
    loose_for,
    loose_on,
    ring_sets,
    variants,
)
from cogwright.core.proposing.support import Support, Supports, _both, _with
from cogwright.core.setup.edits import SetField
from cogwright.core.setup.model import RearDerailleur, Rider, Setup
from cogwright.core.worksheet.cassettes import Worth
from support import make

CASSETTE = CassetteChoice((11, 15, 20))
KIT = Kit(
    RingSet((RingChoice(40),), (40,)),
    Variant(1.4, (11, 15, 20), CASSETTE, (), ()),
    RearDerailleur(),
    Shifter(),
    Driver(),
)


def planned(
    low: float = 0.0, high: float = 0.0, worst: float = 1.2, cost: float = 10.0, **more: Any
) -> PlannedKit:
    return PlannedKit(KIT, LostRange(low, high), 2.0, 8.0, worst, cost, **more)


def test_aims_of_a_kit() -> None:
    one = planned(0.1, 0.2, 1.25, 30.0, unpriced=2, loose=True)
    assert one.aims == pytest.approx((0.3, math.log(1.25), 30.0, 3))
    assert planned(outside_s=7.0).aims[-1] == 7.0
    assert len(planned(outside_s=0.0).aims) == 5


@pytest.mark.parametrize(
    ("at", "worse", "same"),
    [(0, 2e-9, 0.5e-9), (1, 2e-9, 0.5e-9), (2, 2e-6, 0.5e-6), (3, 1, 0), (4, 0.06, 0.04)],
)
def test_a_kit_covers_another_that_is_as_good_in_no_aim_worse(at: int, worse: float, same: float) -> None:
    aims = [0.1, 0.2, 30.0, 1, 60.0]
    for by, covered in ((worse, False), (same, True), (-worse, True)):
        more = [*aims]
        more[at] += by
        assert covers(tuple(more), tuple(aims)) is covered


def test_the_front_keeps_what_nothing_covers_and_of_equals_the_first() -> None:
    front = Front()
    cheap, even = planned(worst=1.3, cost=10.0), planned(worst=1.2, cost=20.0)
    for one in (cheap, even, planned(worst=1.3, cost=10.0), planned(worst=1.4, cost=30.0)):
        front.add(one)
    assert front.kits == [cheap, even]
    assert front.kits[0] is cheap
    best = planned(worst=1.2, cost=10.0)
    front.add(best)
    assert front.kits == [best]
    assert front.covered(best.aims)
    assert not front.covered(planned(worst=1.1, cost=99.0).aims)


def test_balance_scales_each_aim_from_the_best_to_the_worst() -> None:
    """Lost 0, 0.1 and 0.4; price 40, 10 and 20: 0 + 1, 0.25 + 0 and 1 + 1/3."""
    kits = [planned(0.0, cost=40.0), planned(0.1, cost=10.0), planned(0.4, cost=20.0)]
    assert _scores(kits) == pytest.approx([1.0, 0.25, 4 / 3])
    assert ranked(kits) == [kits[1], kits[0], kits[2]]
    equal = [planned(0.0, 0.2, cost=9.0), planned(0.2, 0.0, cost=9.0)]
    assert [kit.lost.low for kit in ranked(equal[::-1])] == [0.0, 0.2]


@pytest.mark.parametrize(
    ("goal", "missed"),
    [
        (Goal(), ()), (Goal(low_at_most_m=2.0), ()), (Goal(low_at_most_m=1.9), ("low",)),
        (Goal(high_at_least_m=8.0), ()),
        (Goal(high_at_least_m=8.1), ("high",)), (Goal(cost_at_most=30.0), ("unpriced",)),
        (Goal(cost_at_most=29.0), ("cost", "unpriced")),
        (Goal(jump_at_most_pct=25.0), ()), (Goal(jump_at_most_pct=24.0), ("jump",)),
    ],
)  # fmt: skip
def test_what_is_missed_of_a_goal(goal: Goal, missed: tuple[str, ...]) -> None:
    assert miss_of(goal, 2.0, 8.0, 1.25, 30.0, unpriced=1).missed == missed


def test_by_how_much_a_goal_is_missed() -> None:
    """As a share of the limit; over a limit of nothing by the price itself."""
    miss = miss_of(Goal(1.6, 10.0, 20.0, 0.0), 2.0, 8.0, 1.25, 30.0, 2)
    assert miss == pytest.approx(Miss(0.25, 0.25, 0.5, 0.25, 2.0))
    assert miss.total == pytest.approx(3.25)
    assert miss_of(Goal(cost_at_most=0.0), 2.0, 8.0, 1.0, 30.0).cost == 30.0
    assert miss_of(Goal(cost_at_most=0.5), 2.0, 8.0, 1.0, 30.0).cost == 29.5
    assert miss_of(Goal(cost_at_most=4.0), 2.0, 8.0, 1.0, 30.0).cost == 6.5
    assert miss_of(Goal(cost_at_most=30.0), 2.0, 8.0, 1.0, 30.0 + CENT / 2).missed == ()
    assert Miss(1e-9, 0.0, 0.0, 2e-9).missed == ("jump",)


def test_near_misses_are_the_nearest_and_those_that_miss_one_limit_alone() -> None:
    near = NearMisses()
    assert near.kits == ()
    assert not near.hopeless(Miss(9.0, 9.0, 0.0, 0.0))
    both, low, dear_low, far_low, high = (planned(cost=cost) for cost in (10.0, 20.0, 30.0, 5.0, 7.0))
    near.add(far_low, Miss(0.9, 0.0, 0.0, 0.0))
    assert near.kits == (far_low,)
    near.add(both, Miss(0.1, 0.1, 0.0, 0.0))
    near.add(dear_low, Miss(0.5, 0.0, 0.0, 0.0))
    near.add(low, Miss(0.5, 0.0, 0.0, 0.0))
    near.add(high, Miss(0.0, 0.4, 0.0, 0.0))
    assert near.kits == (both, high, low)
    assert near.hopeless(Miss(0.3, 0.1, 0.0, 0.0)), "two limits, and more in all"
    assert not near.hopeless(Miss(0.05, 0.1, 0.0, 0.0)), "less in all than the nearest"
    assert not near.hopeless(Miss(0.45, 0.0, 0.0, 0.0)), "nearer than the one that misses it alone"
    assert near.hopeless(Miss(0.55, 0.0, 0.0, 0.0))
    assert not near.hopeless(Miss(0.5, 0.0, 0.0, 0.0)), "it may be cheaper"
    assert not near.hopeless(Miss(0.0, 0.0, 0.0, 0.7)), "none misses this limit alone yet"
    assert not near.hopeless(Miss(0.1, 0.1, 0.0, 0.0))


def test_near_misses_go_together_first() -> None:
    near = NearMisses()
    broken, sound = planned(problems=1), planned()
    near.add(broken, Miss(0.1, 0.0, 0.0, 0.0))
    assert near.alone == {}
    assert not near.hopeless(Miss(9.0, 9.0, 0.0, 0.0)), "whatever goes together comes before"
    near.add(sound, Miss(0.9, 0.0, 0.0, 0.0))
    assert near.kits == (sound,)
    near.add(broken, Miss(0.1, 0.0, 0.0, 0.0))
    assert near.kits == (sound,)


def variant(worst: float, *cogs: int) -> Variant:
    return Variant(worst, cogs, CASSETTE, (), ())


ENDS = Ends(CASSETTE, 3, None).of((11, 15, 20))
EVEN, UNEVEN = (11, 14, 18, 20), (11, 12, 13, 20)  # with one largest step each, said below


@pytest.mark.parametrize(
    ("second", "kept"),
    [
        ((variant(1.3, *EVEN), KitPrice(10.0, 0)), 1),  # as good in all
        ((variant(1.2, *EVEN), KitPrice(10.0, 0)), 1),  # better in one
        ((variant(1.2, *EVEN), KitPrice(11.0, 0)), 2),
        ((variant(1.3, *EVEN), KitPrice(9.0, 1)), 2),
        ((variant(1.4, *EVEN), KitPrice(9.0, 0)), 2),
        ((variant(1.4, *EVEN), KitPrice(11.0, 0)), 1),
        ((variant(1.3, *EVEN), KitPrice(10.0, 1)), 1),
        ((variant(1.3, *UNEVEN), KitPrice(10.0, 0)), 1),
        ((variant(1.3, *EVEN), KitPrice(10.0 + 5e-7, 0)), 1),
        ((variant(1.2, *EVEN), KitPrice(10.0 + 5e-7, 0)), 1),
    ],
)
def test_a_group_keeps_what_nothing_beats(second: tuple[Variant, KitPrice], kept: int) -> None:
    for order in (1, -1):
        group = Group(ENDS)
        for one in [(variant(1.3, *EVEN), KitPrice(10.0, 0)), second][::order]:
            group.add(*one)
        assert (len(group.best), group.counted) == (kept, 2)
        assert group.best == sorted(group.best, key=lambda of: (of[0].worst, of[1].cost))


def test_of_two_with_the_same_figures_the_more_even_one_stays() -> None:
    for order in (1, -1):
        group = Group(ENDS)
        for cogs in [EVEN, UNEVEN][::order]:
            group.add(variant(1.3, *cogs), KitPrice(10.0, 0))
        assert [of.cogs for of, _ in group.best] == [EVEN]
    assert unevenness(EVEN) < unevenness(UNEVEN)


def test_sets_of_rings_begin_with_those_on_the_bike() -> None:
    """Two on the bike, one in the bin: seven sets of up to three, those that change least first."""
    own = [RingChoice(30, on_bike=True), RingChoice(46, on_bike=True)]
    found = ring_sets(own, [RingChoice(38)], 3)
    assert len(found) == 7
    assert [one.place for one in found] == list(range(7))
    assert found[0].teeth == (30, 46)
    changed = [len({30, 46} ^ set(one.teeth)) for one in found]
    assert changed == sorted(changed)
    assert {len(one.teeth) for one in ring_sets(own, [RingChoice(38)], 2)} == {1, 2}
    assert all(one.rings[0].on_bike for one in ring_sets(own, [RingChoice(30)], 1) if one.teeth == (30,))


def test_rings_that_stand_together() -> None:
    """A ring of the inner circle is the smallest of several; one that retains the chain is alone."""
    inner, outer, retains = RingChoice(28, inner=True), RingChoice(42), RingChoice(38, retaining=True)
    found = {
        tuple((r.teeth, r.inner, bool(r.retaining)) for r in one.rings)
        for one in ring_sets([], [inner, outer, retains], 3)
    }
    assert found == {((42, False, False),), ((38, False, True),), ((28, True, False), (42, False, False))}
    twice = ring_sets([], [RingChoice(42), RingChoice(42, retaining=True)], 2)
    assert [len(one.rings) for one in twice] == [1, 1]
    assert [one.retaining for one in twice] == [None, True]
    wrong = ring_sets([], [RingChoice(44, inner=True), outer], 2)
    assert [one.teeth for one in wrong] == [(42,)]


def cog(teeth: int, **facts: Any) -> CogPart:
    return CogPart(name=f"cog {teeth}", teeth=teeth, price=4.0, **facts)


def test_loose_cogs_that_can_come_onto_a_cassette() -> None:
    """Not one that is there, nor between riveted ones, nor of another family; of equals the one in stock."""
    on = CassetteChoice((11, 13, 20, 24, 28), carriers=((20, 24, 28),), family="x")
    offered = [cog(n) for n in (10, 11, 12, 18, 21, 26, 29)] + [
        cog(17, family="y"),
        cog(16, family="x"),
        cog(12, count=1),
    ]
    found = loose_for(on, offered)
    assert [one.teeth for one in found] == [10, 12, 16, 18, 29]
    assert found[1].count == 1
    assert loose_on(on) == [11, 13]


def test_variants_have_up_to_two_swaps() -> None:
    on = CassetteChoice((11, 13, 15), carriers=())
    offered = [cog(12), cog(14), cog(17)]
    found = list(variants(on, offered))
    assert len(found) == count_variants(on, offered) == 1 + 3 * 3 + 3 * 3
    assert (found[0].cogs, found[0].out, found[0].into) == ((11, 13, 15), (), ())
    for one in found:
        assert len(one.cogs) == 3
        assert list(one.cogs) == sorted(set(one.cogs))
        assert one.worst == worst_ratio(one.cogs)
        assert set(one.cogs) == {11, 13, 15} - set(one.out) | {cog.teeth for cog in one.into}
    assert max(len(one.out) for one in found) == 2
    assert len({(one.out, one.into) for one in found}) == len(found)
    assert next(variants(CassetteChoice((17,)), ())).worst == 1.0


def test_ends_that_variants_share() -> None:
    """The bike's spacing holds for as many cogs; a cassette's own wins; torn carriers are said."""
    assert Ends(CASSETTE, 3, 5.0).of((11, 15, 20))[:7] == (11, 20, 3, None, None, 5.0, True)
    assert Ends(CASSETTE, 4, 5.0).of((11, 15, 20)).pitch is None
    own = CassetteChoice((11, 15, 20), cog_pitch_mm=4.0, on_bike=True)
    assert Ends(own, 3, 5.0).of((11, 15, 20))[5:7] == (4.0, False)
    for carriers, cogs, torn in (
        (((15, 20),), (11, 15, 20), False), (((15, 20), (30, 31)), (11, 15, 20), False),
        (((15, 20, 24),), (11, 15, 20), True),
        (((11, 20),), (11, 15, 20), True),
    ):  # fmt: skip
        assert Ends(CassetteChoice(cogs, carriers=carriers), 3, None).of(cogs)[-1] is torn


def test_supports_that_are_as_good() -> None:
    one = Support((0, 0, 0), KitPrice(10.0, 1), 1)
    for other, good in (
        (one, True), (one._replace(price=KitPrice(10.0 - 5e-7, 1)), True),
        (one._replace(price=KitPrice(9.0, 1)), False),
        (one._replace(problems=0), False), (one._replace(price=KitPrice(10.0, 0)), False),
        (one._replace(price=KitPrice(10.0, 2)), True),
        (one._replace(price=KitPrice(10.0, 0), loose=True), True), (one._replace(problems=2), True),
    ):  # fmt: skip
        assert one.as_good_as(other) is good
    assert one.doubts == 1
    assert one._replace(loose=True).doubts == 2
    both = _both(one, Support((3, 4, 5), KitPrice(7.0, 2), 2))
    assert both == Support((0, 0, 5), KitPrice(17.0, 3), 3)
    cheap = one._replace(price=KitPrice(9.0, 1))
    assert _with([one], cheap) == [cheap]
    assert _with([cheap], one) == [cheap]
    doubtful = one._replace(price=KitPrice(5.0, 3))
    assert _with([one], doubtful) == [one, doubtful]
    assert KitPrice(1.0, 2).plus(KitPrice(3.0, 4), KitPrice(5.0, 6)) == KitPrice(9.0, 12)


def test_what_lies_on_a_bike_and_comes_out_of_a_bin() -> None:
    base = make((30, 46), (11, 15, 20))
    stock = drawer(
        rings=[{"teeth": 38, "price": 5.0}, {"teeth": 39}],
        cassettes=[{"cogs": [11, 15, 20], "price": 5.0}, {"cogs": [12, 16, 21], "price": 5.0},
         {"cogs": [12, 16, 22]}],
        cogs=[{"teeth": 17, "price": 5.0}, {"teeth": 18}],
        rear_derailleurs=[{"capacity": 39, "price": 5.0}, {"capacity": 30}],
        small_parts=[
            {"kind": "rear shifter", "clicks": 3, "price": 5.0}, {"kind": "rear shifter", "clicks": 4},
            {"kind": "freehub driver", "driver": "step", "price": 5.0},
            {"kind": "wheel", "driver": "spline", "price": 5.0},
            {"kind": "wheel", "size": "40-406", "driver": "other", "price": 5.0},
            {"kind": "tyre", "price": 5.0},
        ],
    )  # fmt: skip
    of = options.options_for(base, base, stock)
    assert [ring.teeth for ring in of.own] == [30, 46]
    assert all(ring.on_bike for ring in of.own)
    assert [ring.teeth for ring in of.rings] == [38]
    assert [cassette.cogs for cassette in of.cassettes] == [(11, 15, 20), (12, 16, 21)]
    assert [cog.teeth for cog in of.cogs] == [17]
    # nothing is known of derailleur, shifter and driver on the bike: nobody could tell another one from it
    assert (len(of.derailleurs), of.shifters, of.drivers) == (1, (Shifter(),), (Driver(),))
    assert of.supports == 1
    known = base
    for key, value in (("rear_derailleur.capacity", 30), ("rear.clicks", 4), ("rear.driver", "old")):
        known = SetField(key, value).apply(known)
    told = options.options_for(known, known, stock)
    assert [one.capacity for one in told.derailleurs] == [30, 39]
    assert [one.clicks for one in told.shifters] == [4, 3]
    assert [one.standard for one in told.drivers] == ["old", "step", "spline"]
    assert told.supports == 2 * 2 * 3
    assert options.unpriced(stock) == ("part",) * 5


def test_a_bike_of_one_pair_takes_any_derailleur_shifter_and_wheel() -> None:
    single_speed = make((42,), (17,))
    stock = drawer(
        rear_derailleurs=[{"capacity": 39, "price": 5.0}],
        small_parts=[
            {"kind": "rear shifter", "clicks": 3, "price": 5.0},
            {"kind": "freehub driver", "driver": "step", "price": 5.0},
            {"kind": "wheel", "driver": "spline", "price": 5.0},
        ],
        cassettes=[{"cogs": [11, 15], "price": 5.0}],
    )  # fmt: skip
    of = options.options_for(single_speed, single_speed, stock)
    assert (len(of.derailleurs), len(of.shifters), [d.standard for d in of.drivers]) == (
        2,
        2,
        [None, "spline"],
    )
    assert len(of.cassettes) == 2
    hub = make((42,), (17,), rear={"hub_ratios": [1.0, 1.5]})
    assert len(options.options_for(hub, hub, stock).cassettes) == 1


def test_rings_and_cassettes_of_a_bench_that_is_another_bike() -> None:
    base, bench = make((30, 46), (11, 15, 20)), make((34, 46), (12, 15, 20))
    of = options.options_for(base, bench, drawer())
    assert [(ring.teeth, ring.on_bike) for ring in of.own] == [
        (30, True),
        (46, True),
        (34, False),
        (46, False),
    ]
    assert [(one.cogs, one.on_bike) for one in of.cassettes] == [((11, 15, 20), True), ((12, 15, 20), True)]
    inner = make((28, 42), (11, 15), crank={"inner_bolt_circle_mm": 74.0}).crank
    assert [ring.inner for ring in options.rings_on(inner, on_bike=True)] == [True, False]
    alone = make((42,), (11, 15), crank={"inner_bolt_circle_mm": 74.0, "retaining_teeth": True}).crank
    assert [(ring.inner, ring.retaining) for ring in options.rings_on(alone, on_bike=True)] == [(False, True)]
    assert [
        ring.retaining
        for ring in options.rings_on(
            make((30, 42), (11,), crank={"retaining_teeth": True}).crank, on_bike=True
        )
    ] == [None, None]


@pytest.mark.parametrize(
    ("crank", "ring", "goes", "inner"),
    [
        ({}, {}, True, False), ({"bolt_circle_mm": 110.0}, {"bolt_circle_mm": 110.0}, True, False),
        ({"bolt_circle_mm": 110.0}, {"bolt_circle_mm": 104.0}, False, False),
        ({"bolt_circle_mm": 110.0}, {}, True, False),
        ({}, {"bolt_circle_mm": 104.0}, True, False),
        ({"bolt_circle_mm": 110.0}, {"bolt_circle_mm": 110.0, "bolts": 4}, False, False),
        ({"bolt_circle_mm": 110.0, "inner_bolt_circle_mm": 74.0}, {"bolt_circle_mm": 74.0}, True, True),
        ({"bolt_circle_mm": 110.0, "inner_bolt_circle_mm": 74.0}, {"bolt_circle_mm": 74.0, "bolts": 4},
         False, False),
        ({"bolt_circle_mm": 110.0, "inner_bolt_circle_mm": 110.0}, {"bolt_circle_mm": 110.0}, True, False),
        ({"bolt_circle_mm": 110.0, "inner_bolt_circle_mm": 74.0}, {"bolt_circle_mm": 104.0}, False, False),
    ],
)  # fmt: skip
def test_which_ring_goes_on_a_crank(
    crank: dict[str, Any], ring: dict[str, Any], goes: bool, inner: bool
) -> None:
    setup, part = make((30, 46), (11, 15), crank=crank), RingPart(name="r", teeth=38, **ring)
    assert bin_choices.goes_on(setup, part) is goes
    assert bin_choices.ring_choice(setup, part).inner is inner
    stock = drawer(rings=[{"teeth": 38, **ring}])
    assert len(bin_choices.rings_for(setup, stock)) == int(goes and not inner)


def test_cassettes_and_names_of_a_bin() -> None:
    stock = drawer(
        cassettes=[{"cogs": [11, 15]}, {"cogs": [17]}, {"cogs": [12, 16], "count": 1, "name": "wide"}]
    )
    shifts, alone = make((40,), (11, 15)), make((40,), (18,))
    assert [one.cogs for one in bin_choices.cassettes_for(shifts, stock)] == [(11, 15), (17,), (12, 16)]
    assert [one.cogs for one in bin_choices.cassettes_for(alone, stock)] == [(18,), (17,)]
    hung = make((40,), (18,), rear_derailleur={"capacity": 30})
    assert [one.cogs for one in bin_choices.cassettes_for(hung, stock)] == [(18,), (11, 15), (17,), (12, 16)]
    assert [one.cogs for one in bin_choices.cassettes_for(shifts, None)] == [(11, 15)]
    assert [bin_choices.called(part) for part in stock.cassettes] == [
        "part (to order)",
        "part (to order)",
        "wide",
    ]
    late = stock.cassettes[0].model_copy(update={"lead_days": 3})
    assert bin_choices.called(late) == "part (to order, 3 days)"
    assert bin_choices.ring_source(shifts, None) == "all tooth counts"
    assert bin_choices.ring_source(shifts, stock) == "all tooth counts (Drawer: no ring for this crank)"
    assert bin_choices.ring_source(shifts, drawer(rings=[{"teeth": 38}])) == "Drawer"


def test_pieces_that_a_cassette_may_be_made_of() -> None:
    setup = make((40,), (11, 13, 15, 17), rear={"carriers": [[15, 17]], "family": "x"})
    every = pool.all_tooth_counts(setup)
    loose = {piece.cogs for piece in every.pieces if piece.new}
    assert loose == {(12,), (14,), (15,), (16,), (17,)}
    assert {piece.cogs for piece in every.pieces if not piece.new} == {(11,), (13,), (15, 17)}
    stock = drawer(
        cogs=[{"teeth": 12}, {"teeth": 12, "family": "x"}, {"teeth": 14, "family": "y"}, {"teeth": 13}],
        carriers=[{"cogs": [15, 18]}, {"cogs": [15, 17]}],
    )
    of_bin = pool.Pool(bin_choices.pool_for(setup, stock).pieces)
    assert [piece.cogs for piece in of_bin.pieces if piece.new] == [(12,), (15, 18)]
    kept, stay = pool.pinned(every, setup, [15])
    assert stay == (15, 17)
    assert (15, 17) in [piece.cogs for piece in kept.pieces]
    assert not {(15,), (17,)} & {piece.cogs for piece in kept.pieces}
    with pytest.raises(CogwrightError, match="no cog of 9, 12 teeth can stay: the cassette has 11 13 15 17"):
        pool.pinned(every, setup, [12, 9, 11])


def test_a_cassette_put_on() -> None:
    setup = make((40,), (11, 15, 20), rear={"cog_pitch_mm": 5.0, "family": "x"})
    same = with_cassette(setup, CassetteChoice((12, 16, 21), family="y", driver="step")).rear
    assert (same.cogs, same.family, same.cassette_driver, same.cog_pitch_mm) == (
        (12, 16, 21),
        "y",
        "step",
        5.0,
    )
    assert with_cassette(setup, CassetteChoice((12, 16))).rear.cog_pitch_mm is None
    assert with_cassette(setup, CassetteChoice((12, 16, 21), cog_pitch_mm=4.0)).rear.cog_pitch_mm == 4.0
    own = CassetteChoice.of(setup, "own", on_bike=True)
    assert own.is_on(setup)
    assert not replace(own, family=None).is_on(setup)
    assert not replace(own, cog_pitch_mm=4.0).is_on(setup)
    assert replace(own, cog_pitch_mm=None).is_on(setup)
    assert (own.called(), replace(own, name="").called()) == ("own", "cassette 11-20, 3 cogs")
    assert (RingChoice(38).called(), RingChoice(38, "blue").called()) == ("ring of 38 teeth", "blue")


def test_rings_put_on() -> None:
    setup = make(
        (28, 42),
        (11, 15),
        crank={"inner_bolt_circle_mm": 74.0, "bolt_circle_mm": 110.0},
        front_derailleur={"difference": 14},
        wear={"rings_state": "worn"},
    )
    keeps = with_ring_set(
        setup, RingSet((RingChoice(26, inner=True), RingChoice(42, on_bike=True)), (26, 42))
    )
    assert keeps.crank.inner_bolt_circle_mm == 74.0
    assert keeps.front_derailleur.difference == 14
    assert keeps.wear.rings_state == "worn", "one of them is the old one"
    other = with_ring_set(setup, RingSet((RingChoice(34), RingChoice(46)), (34, 46)))
    assert other.crank.inner_bolt_circle_mm is None
    assert other.wear.rings_state == "new"
    alone = with_ring_set(setup, RingSet((RingChoice(38, retaining=True),), (38,)))
    assert (alone.crank.retaining_teeth, alone.front_derailleur.difference) == (True, None)
    assert with_ring_set(setup, RingSet((RingChoice(28), RingChoice(42)), (28, 42))) is setup
    plain = make((28, 42), (11, 15))
    assert (
        with_ring_set(plain, RingSet((RingChoice(30), RingChoice(42)), (30, 42))).crank.inner_bolt_circle_mm
        is None
    )


def test_range_lost_by_hand() -> None:
    lost = lost_range(2.5, 7.2, 2.0, 8.0)
    assert (lost.low_pct, lost.high_pct, lost.range_pct) == pytest.approx((25.0, 10.0, 28.0))
    assert lost_range(1.0, 9.0, 2.0, 8.0) == LostRange(0.0, 0.0)


@pytest.mark.parametrize(
    ("lost", "says"),
    [
        ((2.0, 8.0), "loses none of the baseline's range"),
        ((2.5, 8.0), "loses 20.0 % of the baseline's range: the lowest gear is 25.0 % harder"),
        ((2.0, 7.2), "loses 10.0 % of the baseline's range: the highest 10.0 % lower"),
        (
            (2.5, 7.2),
            "loses 28.0 % of the baseline's range: the lowest gear is 25.0 % harder, the highest"
            " 10.0 % lower",
        ),
    ],
)
def test_range_lost_in_words(lost: tuple[float, float], says: str) -> None:
    kit = planned()._replace(lost=lost_range(*lost, 2.0, 8.0))
    assert plan_proposals._range_words(kit) == says


def test_steps_and_prices_in_words() -> None:
    """A sixth of the range, five points of a step and the chain's keeping against the cheapest."""
    assert plan_proposals._step_words(planned(worst=1.0)) == "there is no click to make"
    assert plan_proposals._step_words(planned(worst=1.125)) == "the largest step of a click is 12.5 %"
    cheapest = planned(math.log(1.25), worst=1.25, cost=10.0, loose=True)
    better = planned(worst=1.2, cost=22.5)
    assert plan_proposals._against(better, cheapest, "EUR") == (
        "for 12.50 EUR more than the cheapest it keeps 20.0 % more of the range and has a largest step"
        " 5.0 points smaller and has what keeps the chain on"
    )
    assert (
        plan_proposals._against(cheapest._replace(cost=11.0), cheapest, "")
        == "for 1.00 more than the cheapest it gains little"
    )
    assert plan_proposals._reasons(cheapest, cheapest, "EUR")[2:] == ()
    assert len(plan_proposals._reasons(better, cheapest, "EUR")) == 3


def test_marks_of_a_plan() -> None:
    kits = [
        planned(0.2, worst=1.3, cost=20.0),
        planned(0.1, worst=1.4, cost=30.0),
        planned(0.4, worst=1.2, cost=40.0),
        planned(0.5, worst=1.5, cost=10.0),
        planned(0.5, worst=1.5, cost=1.0, unpriced=1),
    ]
    assert plan_proposals._marks(kits) == [
        ("best balance",), ("least range lost",), ("smallest largest step",), ("cheapest",), (),
    ]  # fmt: skip
    goal = Goal(low_at_most_m=1.9, cost_at_most=10.0)
    near = [planned(cost=20.0), planned(cost=5.0), planned(cost=5.0, problems=1)]
    assert plan_proposals._near_marks(goal, near) == [("nearest miss",), ("misses only the lowest gear",), ()]
    assert plan_proposals._near_marks(goal, near[1:2]) == [("nearest miss", "misses only the lowest gear")]


def test_how_near_misses_are_said() -> None:
    goal = Goal(1.9, 9.0, 5.0, 15.0)
    one = Proposal("plan", make((40,), (11, 15)), "x")
    said = plan_proposals._near_words(goal, planned(cost=10.0), one, "EUR", True)
    assert said == (
        "nothing meets all limits; the nearest miss is this: lowest gear 2.00 m instead of at most 1.90 m;"
        " highest gear 8.00 m instead of at least 9.00 m; costs 10.00 instead of at most 5.00 EUR;"
        " largest step 20.0 instead of at most 15 %"
    )
    alone = plan_proposals._near_words(Goal(low_at_most_m=1.9), planned(), one, "EUR", False)
    assert alone == "all is met but one: lowest gear 2.00 m instead of at most 1.90 m"


@pytest.mark.parametrize(
    ("had", "now", "says"),
    [
        (110, 112, ("cut the chain to 112 links; measure it on the bike before it is cut",)),
        (110, 110, ()),
        (110, None, ()),
    ],
)
def test_a_chain_to_be_cut(had: int, now: int | None, says: tuple[str, ...]) -> None:
    setups = [bike(chain={"links": links}) for links in (had, now)]
    assert plan_proposals._chain_words(*setups) == says


def test_a_first_derailleur_needs_a_hanger() -> None:
    one, several = make((40,), (17,)), make((40,), (17, 19))
    assert [len(plan_proposals._hanger(*pair)) for pair in ((one, several), (several, several),
      (several, one), (one, one))] == [
        1, 0, 0, 0,
    ]  # fmt: skip


def swaps(*pairs: tuple[int, int]) -> tuple[Swap, ...]:
    return tuple(Swap(old, new) for old, new in pairs)


def test_evening_out_in_words() -> None:
    """11-13-17-20 has steps of 18.2, 30.8 and 17.6 %; with 15 for 13 they are 36.4, 13.3 and 17.6 %."""
    limits = make((40,), (11, 13)).limits
    three, four = swaps((1, 2), (3, 4), (5, 6)), swaps((1, 2), (3, 4), (5, 6), (7, 8))
    assert title((11, 20), three) == f"even out: {', '.join(swap.say() for swap in three)}"
    assert title((11, 20), four) == "even out 11-20, 4 cogs changed"
    worse = steps_words((11, 13, 17, 20), (11, 15, 17, 20), limits, three)
    assert worse[0].endswith("the largest step grows from 30.8 % (13 to 17) to 36.4 % (11 to 15)")
    better = steps_words((11, 15, 17, 20), (11, 13, 17, 20), limits, four)
    assert "the largest step falls from 36.4 % (11 to 15) to 30.8 % (13 to 17)" in better[0]
    assert better[-1] == "cogs 11 13 17 20"
    same = steps_words((10, 20, 22), (10, 20, 21), limits, three)
    assert not any(said.startswith("cogs ") for said in (*worse, *same)), "three are named one by one"
    assert same[0] == "the largest step stays 100.0 % (10 to 20); the others come closer to each other"
    assert fast_words((10, 12, 15, 20, 30), (10, 11, 14, 20, 30)) == (
        "the 2 fastest steps average 18.3 % (22.5 % now); no step is larger than now"
    )


def test_worse_steps_are_said_first_and_others_counted() -> None:
    """Over 15 % are wide steps, those that stand out from their neighbours jumps."""
    limits = make((40,), (11, 13)).limits
    more = steps_words((10, 11, 12, 13), (10, 11, 13, 16), limits, swaps((1, 2)))
    assert len(more) == 1
    assert more[0].startswith("the worse first:")
    assert "wide steps more (2, was 0)" in more[0]
    assert ", but the largest step grows" in more[0]
    fewer = steps_words((10, 11, 13, 16), (10, 11, 12, 13), limits, swaps((1, 2)))
    assert len(fewer) == 2
    assert "steps over 15 % 0 (was 2)" in fewer[1]
    alike = steps_words((10, 11, 13, 16), (10, 11, 13, 16), limits, swaps((1, 2)))
    assert "steps over 15 % 2 as before" in alike[1]


def case(setup: Setup, cassette: CassetteChoice = CASSETTE) -> single._Case:
    return single._Case(setup, setup, cassette, None)


def test_rings_within_reach_of_both_ends() -> None:
    """30x20 and 46x11 of the bike on 11 to 20 teeth itself: rings from 30 - 2 to 46 + 2."""
    setup = make((30, 46), (11, 15, 20), rollout_mm=2000)
    assert case(setup).reach() == list(range(28, 49))
    assert case(setup).largest_legal is None
    assert case(setup).ends(30) == pytest.approx((0.0, math.log(30 / 46)))
    legal = make((30, 46), (11, 15, 20), rollout_mm=2000, limits={"rollout_m": 2.0 * 60 / 11})
    assert case(legal).largest_legal == 60
    assert case(legal).reach() == [*range(28, 49), 60]
    small = make((6, 8), (11, 15, 20), rollout_mm=2000)
    assert case(small).reach() == list(range(6, 11))
    large = make((120, 129), (11, 15, 20), rollout_mm=2000)
    assert case(large).reach() == list(range(118, 131))
    odd = make((30, 46), (11, 15, 20), rollout_mm=2000)
    wide = CassetteChoice((10, 21))  # 31.5 keeps the bottom, 41.8 the top
    assert case(odd, wide).reach() == list(range(29, 45))
    hub = make((30,), (20,), rollout_mm=2000, rear={"hub_ratios": [0.5, 2.0]})
    assert case(hub, CassetteChoice((20,))).per_tooth == pytest.approx((0.05, 0.2))


def test_marks_of_rings() -> None:
    setup = make((30, 46), (11, 15, 20), rollout_mm=2000, limits={"rollout_m": 2.0 * 40 / 11})
    marks = case(setup).marks(range(28, 49))
    assert {word: ring for ring, words in marks.items() for word in words} == {
        single.KEEPS_BOTTOM: 30, single.KEEPS_TOP: 46, single.LEGAL: 40, single.SPLITS: 37,
    }  # fmt: skip
    assert case(setup).marks([38])[38] == (single.SPLITS, single.LEGAL)
    assert case(setup).marks([]) == {}


def test_rings_to_be_looked_at() -> None:
    """Those within reach and the bike's own; beside rings offered those of the bike that are not bought."""
    setup = make((30, 46), (11, 15, 20), rollout_mm=2000)
    every = case(setup).rings(())
    assert [ring.teeth for ring in every] == list(range(28, 49))
    assert [ring.teeth for ring in every if ring.on_bike] == [30, 46]
    offered = case(setup).rings([RingChoice(38), RingChoice(46, retaining=True), RingChoice(46)])
    assert [(ring.teeth, ring.on_bike, bool(ring.retaining)) for ring in offered] == [
        (30, True, False), (38, False, False), (46, True, False), (46, False, True),
    ]  # fmt: skip
    bench = make((30, 48), (11, 15, 20), rollout_mm=2000)
    bought = single._Case(bench, setup, CASSETTE, None).rings([RingChoice(48)])
    assert [(ring.teeth, ring.on_bike) for ring in bought] == [(30, True), (48, False)]
    far = single._Case(
        make((60,), (11, 15, 20), rollout_mm=2000, crank={"retaining_teeth": True}), setup, CASSETTE, None
    )
    assert 60 not in [ring.teeth for ring in far.rings(())]
    assert [ring.retaining for ring in far.rings([RingChoice(38)]) if ring.on_bike] == [True]
    two = make((30, 46), (11, 15, 20), crank={"retaining_teeth": True})
    assert [ring.retaining for ring in case(two).rings([RingChoice(38)])] == [None, None, None]


@pytest.mark.parametrize(("rpm", "outside"), [(60.0, 0.0), (59.999, 7.0), (105.0, 0.0), (105.001, 7.0)])
def test_a_speed_just_at_a_liked_cadence_is_served(rpm: float, outside: float) -> None:
    rider = Rider(cadence_rpm=(60.0, 85.0, 105.0))
    served = Served.of("x", [(3.7 * rpm / 60.0, 7.0)])
    assert served.outside_s([3.7], rider) == outside
    assert served.outside_s([], rider) == 7.0
    assert served.total_s == 7.0
    assert Served.of("x", []).total_s == 0.0
    assert served.say(3.5 * 60) == "on x: no gear has a liked cadence for 3.5 of 0 min pedalled"


def test_how_far_searches_say_that_they_are() -> None:
    setup = make((30, 46), (11, 13, 15, 17, 19))
    even = list(even_progress(setup))
    assert [(p.done, p.total, p.finished, p.meets) for p in even] == [(0, 1, False, True), (1, 1, True, True)]
    found = list(single_progress(setup, rings=[RingChoice(38)]))
    assert [(p.done, p.total, p.finished) for p in found] == [(0, 1, False), (1, 1, True)]
    assert found[0].proposals() == ()
    assert found[1].proposals() == single.single_ring(setup, rings=[RingChoice(38)])
    assert len(found[1].proposals(1)) == 1
    assert FoundSoFar((), 1, 2).finished is False


def test_closeness_weighs_a_step_by_its_speed() -> None:
    """A step of 20 % at 10 teeth counts twice as much as at 20."""
    assert closeness((10, 12)) == pytest.approx(2 * closeness((20, 24)))
    assert closeness((10, 12, 15)) == closeness((10, 12)) + closeness((12, 15))
    assert unevenness((10, 12)) == unevenness((20, 24)) == pytest.approx(math.log(1.2) ** 2 * 2**50)
    assert CassettePiece((15, 18, 20)).worst == 18 / 15
    assert worst_ratio((17,)) == 1.0


def facts_of(teeth: tuple[int, ...], low: int, high: int, many: int = 3, **more: Any) -> KitFacts:
    ends = CogEnds(low, high, many, more.pop("family", None), more.pop("driver", None), None, False, False)
    return KitFacts(
        more.pop("rings", 0),
        teeth,
        ends,
        **{"derailleur": 0, "shifter": 0, "driver": 0, "tensioned": True, **more},
    )


def test_what_a_check_looks_at_tells_kits_apart_that_it_judges_otherwise() -> None:
    """46-30 with 11-34 wants a capacity of 39; so do 48-32 and 10-33; what no check sees is left out."""
    looks = LOOKS_AT[teeth.capacity]
    one = facts_of((30, 46), 11, 34)
    assert looks(one) == looks(facts_of((32, 48), 10, 33)) == (39, 0, True)
    for other in (
        facts_of((30, 46), 11, 36),
        facts_of((30, 46), 10, 34),
        facts_of((30, 48), 11, 34),
        facts_of((28, 46), 11, 34),
    ):
        assert looks(other) != looks(one)
    for check_, same, differs in (
        (teeth.largest_cog, {"low": 12}, {"high": 36}), (teeth.smallest_cog, {"high": 36}, {"low": 12}),
        (teeth.freehub, {"high": 36}, {"low": 12}), (rear.clicks, {"low": 12}, {"many": 4}),
        (chain.chain_length, {"driver": "x"}, {"many": 4}),
        (chain.chain_length, {"shifter": 1}, {"new_chain": True}),
        (hub.hub_torque, {"low": 12}, {"high": 36}),
        (wheel.rollout_limit, {"high": 36}, {"low": 12}), (derailleur.retention, {"low": 12}, {"rings": 1}),
        (rear.spacing_family, {"low": 12}, {"family": "x"}),
        (rear.spacing_family, {"driver": "x"}, {"shifter": 1}),
        (teeth.bolt_circle, {"low": 12}, {"rings": 1}),
    ):  # fmt: skip
        key = LOOKS_AT[check_]
        base = {"low": 11, "high": 34}
        assert key(facts_of((30, 46), **(base | same))) == key(one), check_.__name__
        assert key(facts_of((30, 46), **(base | differs))) != key(one), check_.__name__


def test_a_kit_judged_has_its_checks_by_how_they_came_out() -> None:
    found = judged(bike(rear_derailleur={"largest_cog": 30}, frame={"chainstay_mm": None}))
    assert [name.split(":")[0] for name in found.problems] == ["largest cog"]
    assert {"chain length", "chain angle"} <= set(found.unchecked)
    assert "largest cog" not in found.unchecked
    assert not {name.split(":")[0] for name in found.cautions} & set(found.unchecked)


def priced_kits(base: Setup, stock: Bin) -> KitPrices:
    return KitPrices(base, base, stock)


def test_a_shifter_is_priced_for_kits_that_shift_only() -> None:
    """A bike of one pair: with several cogs it wants shifter and cable, with one none of them."""
    base = make((42,), (17,))
    stock = drawer(
        small_parts=[
            {"kind": "rear shifter", "price": 20.0, "count": 1},
            {"kind": "gear cable", "price": 3.0, "count": 1},
            {"kind": "freehub driver", "driver": "x", "price": 9.0},
        ],
        rear_derailleurs=[{"capacity": 30, "price": 40.0}],
    )  # fmt: skip
    prices = priced_kits(base, stock)
    one, several = make((42,), (17,)), make((42,), (11, 17))
    for _ in range(2):
        assert prices.shifter(facts_of((42,), 17, 17, many=1), lambda: one) == KitPrice()
        assert prices.shifter(facts_of((42,), 11, 17, many=2), lambda: several) == KitPrice(23.0, 0)
        assert prices.driver(facts_of((42,), 17, 17, many=1), lambda: one) == KitPrice()
        assert prices.driver(facts_of((42,), 11, 17, many=2), lambda: several) == KitPrice(0.0, 1), (
            "a wheel with a freehub"
        )
    hung = make((42,), (11, 17), rear_derailleur={"capacity": 30})
    assert prices.derailleur(facts_of((42,), 11, 17, derailleur=1), lambda: hung) == KitPrice(40.0, 0)
    assert prices.derailleur(facts_of((42,), 17, 17, many=1, tensioned=False), lambda: one) == KitPrice()


def test_front_cables_are_taken_before_rear_ones() -> None:
    """Two cables in the bin: a front derailleur that comes on has the cheaper one, the shifter the other."""
    base = make((42,), (11, 17), rear={"clicks": 2})
    stock = drawer(
        small_parts=[
            {"kind": "gear cable", "price": 3.0, "count": 1},
            {"kind": "gear cable", "price": 5.0, "count": 1},
        ]
    )
    prices = priced_kits(base, stock)
    single, double = (make(rings, (11, 17), rear={"clicks": 3}) for rings in ((42,), (30, 42)))
    assert prices.shifter(facts_of((42,), 11, 17, many=2, shifter=1), lambda: single).cost == 3.0
    assert prices.shifter(facts_of((30, 42), 11, 17, many=2, shifter=1), lambda: double).cost == 5.0


def test_a_belt_has_no_cassette() -> None:
    belted = make((50,), (24,), belt={"teeth": 115})
    prices = priced_kits(belted, drawer(cogs=[{"teeth": 22, "price": 5.0, "count": 1}]))
    other = Variant(1.0, (22,), CassetteChoice((22,)), (), ())
    assert prices.cassette(other) == KitPrice(0.0, 1)
    assert prices.cassette(other._replace(cogs=(24,))) == KitPrice()


def test_a_cassette_that_stays_keeps_its_wear() -> None:
    worn = make((30, 46), (11, 15, 20), wear={"cassette_state": "worn"})
    [found] = single.single_ring(worn, rings=[RingChoice(38)])[:1]
    assert found.setup.wear.cassette_state == "worn"
    *_, last = single_progress(worn, rings=[RingChoice(38)])
    assert {one.setup.wear.cassette_state for one in last.proposals()} == {"worn"}
    new = single.single_ring(worn, cassettes=[CassetteChoice((11, 15, 21))], rings=[RingChoice(38)])
    assert {one.setup.wear.cassette_state for one in new} == {"new"}


def test_a_renewed_cassette_comes_whole_or_is_to_be_bought() -> None:
    """Even with the same cogs; where nothing is renewed and nothing changes it costs nothing."""
    setup = make((30, 46), (11, 15, 20))
    cogs = drawer(cogs=[{"teeth": 21, "price": 4.0, "count": 1}])
    whole = drawer(cassettes=[{"cogs": [11, 15, 20], "price": 30.0, "count": 1}])
    for stock, renewed, worth in (
        (cogs, False, Worth(0, 0, 0.0, 0)), (cogs, True, Worth(2, 1, 0.0, 1)),
        (whole, False, Worth(0, 0, 0.0, 0)),
        (whole, True, Worth(0, 0, 30.0, 1)),
    ):  # fmt: skip
        assert CassettePrices(setup.rear, stock).worth((11, 15, 20), (), None, None, renewed) == worth
    prices = CassettePrices(setup.rear, cogs)
    assert prices.worth((11, 15, 21), (), None, None) == Worth(0, 0, 4.0, 1)
    assert prices.worth((11, 15, 21), (), None, None, True) == Worth(2, 1, 0.0, 1)


def test_a_cassette_of_other_ends_that_is_no_more_even_is_not_named() -> None:
    """Steps of 20 and 25 %: twice the teeth are the same; 20 and 20.8 % are more even, 20 and 29 less."""
    setup = make((30,), (10, 12, 15))
    for cogs, named in (((20, 24, 30), False), ((20, 24, 31), False), ((20, 24, 29), True)):
        found = even_out(setup, cassettes=[CassetteChoice(cogs)])
        assert ("whole-cassette" in {one.kind for one in found}) is named


def test_no_support_costs_less_than_the_least(monkeypatch: pytest.MonkeyPatch) -> None:
    """Of those that go together the least price, and the fewest prices that nobody knows, each by itself."""
    base = make((30, 46), (11, 15, 20))
    rings, group = RingSet((RingChoice(30), RingChoice(46)), (30, 46)), Group(ENDS)
    for found, least in (
        ([(9.0, 2, 0), (5.0, 3, 0), (1.0, 0, 1)], KitPrice(5.0, 2)), ([(1.0, 1, 1)], KitPrice(0.0, 0)),
        ([], KitPrice(0.0, 0)),
    ):  # fmt: skip
        told = [Support((0, 0, 0), KitPrice(cost, unpriced), problems) for cost, unpriced, problems in found]
        supports = Supports(
            base, base, options.options_for(base, base, drawer()), priced_kits(base, drawer())
        )
        monkeypatch.setattr(supports, "_without_chain", lambda *_, of=told: of)
        assert supports.least(rings, group) == least
