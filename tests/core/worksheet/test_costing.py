"""What a change costs: one list of parts, each found in the bin, each counted once. By hand throughout."""

from typing import Any

import pytest

from bikes import COGS, FACTS, bike, drawer
from cogwright.core.parts.bin import Bin
from cogwright.core.setup.model import Setup
from cogwright.core.study import study
from cogwright.core.worksheet.build import order_sheet
from cogwright.core.worksheet.costing import costing
from cogwright.core.worksheet.sheet import Costing, Item, Job, Source
from support import make


def put_on(cost: Costing) -> dict[str, Item]:
    assert len({item.what for item in cost.on}) == len(cost.on)
    return {item.what: item for item in cost.on}


def small(*parts: dict[str, Any]) -> Bin:
    return drawer(small_parts=[*parts])


NO_FRONT: dict[str, Any] = {"front_derailleur": {"largest_ring": None, "difference": None}}
SINGLE: dict[str, Any] = {
    "rear": {"carriers": None, "clicks": None, "smallest_cog": None},
    "rear_derailleur": dict.fromkeys(FACTS["rear_derailleur"]),
}


def test_the_sheet_and_the_costing_are_one_list() -> None:
    stock = drawer(
        rings=[{"teeth": 50, "bolt_circle_mm": 110.0, "price": 30.0, "count": 1}],
        chains=[{"links": 116, "outer_width_mm": 5.5, "price": 20.0}],
    )
    base, bench = bike(), bike((34, 50))
    sheet, cost = order_sheet(study(bench, base), stock), costing(base, bench, stock)
    assert sheet is not None
    assert sheet.on == cost.on
    assert (sheet.price, cost.price, cost.parts_cost) == (50.0, 50.0, 50.0)
    assert (cost.cost(Source.STOCK), cost.cost(Source.BUY)) == (30.0, 20.0)


def test_one_unknown_price_makes_the_whole_unknown_and_the_rest_is_still_summed() -> None:
    stock = drawer(rings=[{"teeth": 50, "bolt_circle_mm": 110.0, "price": 30.0, "count": 1}])
    cost = costing(bike(), bike((34, 50)), stock)
    assert cost.price is None
    assert cost.parts_cost == 30.0
    assert [name.split(",")[0] for name in cost.unpriced] == ["chain"]


def test_parts_and_labour_make_the_total_and_only_where_both_are_known() -> None:
    stock = drawer(cogs=[{"teeth": 16, "price": 4.0, "count": 1}])
    rated = stock.model_copy(update={"labour": stock.labour.model_copy(update={"rate_per_hour": 60.0})})
    bench = bike(cogs=(11, 13, 16, *COGS[3:]))
    sheets = [order_sheet(study(bench, bike()), of) for of in (rated, stock, None)]
    assert all(sheets)
    whole, unrated, bare = (sheet for sheet in sheets if sheet)
    assert whole.labour_cost is not None
    assert whole.total == pytest.approx(4.0 + whole.labour_cost)
    assert (unrated.price, unrated.total) == (4.0, None)
    assert (bare.price, bare.total) == (None, None)


def test_one_cable_in_the_drawer_is_not_used_twice() -> None:
    """A hub gear of three behind nothing becomes one of two rings and cogs: front and rear cable are new."""
    stock = small({"kind": "gear cable", "price": 3.0, "count": 1, "lead_days": 2})
    base = bike((40,), (17,), **{**SINGLE, **NO_FRONT})
    on = put_on(costing(base, bike(), stock))
    assert (on["front gear cable"].source, on["rear gear cable"].source) == (Source.STOCK, Source.BUY)
    assert (on["front gear cable"].lead_days, on["rear gear cable"].lead_days) == (None, 2)
    assert on["front gear cable"].price == on["rear gear cable"].price == 3.0
    enough = small({"kind": "gear cable", "price": 3.0, "count": 2})
    both = put_on(costing(base, bike(), enough))
    assert {both[what].source for what in ("front gear cable", "rear gear cable")} == {Source.STOCK}


def test_the_second_cable_is_another_one_that_lies_there_before_one_to_order() -> None:
    stock = small(
        {"name": "plain", "kind": "gear cable", "price": 3.0, "count": 1},
        {"name": "coated", "kind": "gear cable", "price": 9.0, "count": 1},
    )
    on = put_on(costing(bike((40,), (17,), **{**SINGLE, **NO_FRONT}), bike(), stock))
    assert [(i.part and i.part.name, i.price) for what, i in on.items() if "cable" in what] == [
        ("plain", 3.0),
        ("coated", 9.0),
    ]


def test_taking_parts_leaves_the_bin_as_it_was() -> None:
    stock = small({"kind": "gear cable", "price": 3.0, "count": 1})
    costing(bike((40,), (17,), **{**SINGLE, **NO_FRONT}), bike(), stock)
    assert [part.count for part in stock.small_parts] == [1]


@pytest.mark.parametrize(
    ("base", "bench", "kind", "what"),
    [
        (bike(), bike(rear={"clicks": 12}), "rear shifter", "rear shifter, 12 clicks"),
        (bike(), bike(rear={"clicks": 12}), "gear cable", "rear gear cable"),
        (bike((40,), **NO_FRONT), bike(), "front shifter", "front shifter"),
        (bike((40,), **NO_FRONT), bike(), "gear cable", "front gear cable"),
        (bike(), bike((40,), **NO_FRONT), "ring bolts", "ring bolts for one ring"),
        (bike((40,), **NO_FRONT), bike(), "ring bolts", "ring bolts for 2 rings"),
        (bike(), bike(rear={"smallest_cog": 10}), "freehub driver", "freehub driver for cogs from 10"),
        (
            bike(),
            bike(crank={"length_mm": 165.0, "bolt_circle_mm": 104.0}),
            "crank",
            "crank 165 mm, bolt circle 104 mm",
        ),
        (bike(chain={"links": 114}), bike(chain={"links": 112}), "chain joint", "chain joint"),
        (bike(), bike(rear={"hub_ratios": [0.75, 1.0]}), "hub shifter", "hub shifter"),
        (bike(), bike(rear={"hub_ratios": [0.75, 1.0]}), "gear cable", "hub gear cable"),
        (bike(), bike(rear={"hub_ratios": [0.75, 1.0]}), "wheel", "wheel with a hub gear of 2 speeds"),
        (
            bike((40,), (17,), **SINGLE),
            bike((40,), rear={"smallest_cog": None}),
            "wheel",
            "wheel with a freehub",
        ),
        (make((40,), (17,), "40-622"), make((40,), (17,), "32-622"), "tyre", "tyre 32-622"),
        (make((40,), (17,), "40-622"), make((40,), (17,), "40-559"), "wheel", "wheel 40-559"),
    ],
)
def test_every_small_part_of_the_bin_is_found(base: Setup, bench: Setup, kind: str, what: str) -> None:
    stock = small({"kind": "other", "price": 1.0, "count": 9}, {"kind": kind, "price": 7.25, "count": 9})
    assert put_on(costing(base, bench, stock))[what].price == 7.25
    assert put_on(costing(base, bench, small({"kind": "other", "count": 9})))[what].source is Source.BUY


def test_a_shifter_is_found_by_clicks_and_family_and_a_cable_by_neither() -> None:
    stock = small(
        {"name": "eleven", "kind": "rear shifter", "clicks": 11, "price": 5.0, "count": 1},
        {"name": "odd", "kind": "rear shifter", "clicks": 12, "family": "odd pull", "price": 6.0, "count": 1},
        {"name": "twelve", "kind": "rear shifter", "clicks": 12, "family": "narrow", "price": 9.0},
    )
    on = put_on(costing(bike(), bike(rear={"clicks": 12}, shifters={"family": "narrow"}), stock))
    part = on["rear shifter, 12 clicks"].part
    assert part is not None
    assert part.name == "twelve"


def test_ring_bolts_are_those_of_the_crank() -> None:
    stock = small(
        {"name": "set of 4", "kind": "ring bolts", "bolts": 4, "price": 5.0, "count": 1},
        {"name": "set of 5", "kind": "ring bolts", "bolts": 5, "price": 8.0},
    )
    on = put_on(costing(bike(), bike((40,), **NO_FRONT), stock))
    assert on["ring bolts for one ring"].price == 8.0


def test_a_tyre_and_a_wheel_are_taken_by_their_size() -> None:
    """A change of tyre on the same rim, and one of the wheel; the wrong sizes cost less and are not taken."""
    tyres = [
        {"name": s, "kind": "tyre", "size": s, "price": p} for s, p in (("32-622", 30.0), ("25-622", 9.0))
    ]
    wheels = [
        {"name": s, "kind": "wheel", "size": s, "price": p} for s, p in (("40-559", 80.0), ("40-406", 50.0))
    ]
    stock = small(*tyres, *wheels)
    base = make((40,), (17,), "40-622")
    assert costing(base, make((40,), (17,), "32-622"), stock).price == 30.0
    assert costing(base, make((40,), (17,), "50-559"), stock).price == 80.0
    tyre = costing(base, make((40,), (17,), "32-622"), stock)
    assert [change.job for change in tyre.changes] == [Job.TYRE]
    assert [item.what for item in tyre.off] == ["tyre 40-622"]


def test_a_single_speed_that_becomes_a_derailleur_bike_takes_a_wheel_with_a_freehub() -> None:
    single = bike((40,), (17,), **SINGLE)
    on = put_on(costing(single, bike((40,)), None))
    assert {"wheel with a freehub", "cassette 11-34, 11 cogs", "rear gear cable"} <= set(on)
    assert "unless the hub takes a cassette" in on["wheel with a freehub"].note
    freehub = bike((40,), (17,), **{**SINGLE, "rear": {"carriers": None, "clicks": None}})
    assert "wheel with a freehub" not in put_on(costing(freehub, bike((40,)), None))


def test_another_driver_is_a_driver_body_or_the_wheel_that_has_it() -> None:
    base, bench = bike(rear={"driver": "plain spline"}), bike(rear={"driver": "stepped"})
    name = "freehub driver stepped for cogs from 11"
    assert put_on(costing(base, bench, None))[name].source is Source.BUY
    wheel = {"name": "rear wheel", "kind": "wheel", "driver": "stepped", "price": 120.0, "count": 1}
    body = {"name": "body", "kind": "freehub driver", "driver": "stepped", "price": 40.0}
    plain = {
        "name": "plain body",
        "kind": "freehub driver",
        "driver": "plain spline",
        "price": 4.0,
        "count": 1,
    }
    assert costing(base, bench, small(wheel, plain)).price == 120.0
    assert costing(base, bench, small(wheel, body, plain)).price == 40.0


CASSETTE = {"cogs": [11, 12, 15, 17, 19, 21, 23, 25, 28, 31, 34], "carriers": [[23, 25, 28], [31, 34]]}


@pytest.mark.parametrize(
    ("cassettes", "cogs", "price", "names"),
    [
        # One loose cog that lies there, whatever a cassette costs less to order.
        ([{"price": 2.0}], [{"teeth": 12, "price": 5.0, "count": 1}], 5.0, ["cog 12"]),
        # Both lie there: the cheaper.
        (
            [{"price": 2.0, "count": 1}],
            [{"teeth": 12, "price": 5.0, "count": 1}],
            2.0,
            ["cassette 11-34, 11 cogs"],
        ),
        # Only the cassette lies there.
        ([{"price": 50.0, "count": 1}], [{"teeth": 12, "price": 5.0}], 50.0, ["cassette 11-34, 11 cogs"]),
        # Nobody knows of the cog: the cassette that can be ordered.
        ([{"price": 50.0}], [], 50.0, ["cassette 11-34, 11 cogs"]),
        # Nobody knows of either: the one cog is to buy.
        ([], [], None, ["cog 12"]),
        # A cog that nobody has priced lies there: it is used all the same, and the price is not known.
        ([{"price": 50.0}], [{"teeth": 12, "count": 1}], None, ["cog 12"]),
    ],
)
def test_which_way_to_the_cogs_is_taken(
    cassettes: list[dict[str, Any]], cogs: list[dict[str, Any]], price: float | None, names: list[str]
) -> None:
    stock = drawer(cassettes=[CASSETTE | one for one in cassettes], cogs=cogs)
    cost = costing(bike(), bike(cogs=(11, 12, *COGS[2:])), stock)
    assert ([item.what for item in cost.on], cost.price) == (names, price)


def test_a_cassette_for_another_driver_is_not_taken() -> None:
    stock = drawer(cassettes=[CASSETTE | {"driver": "stepped", "price": 5.0, "count": 1}])
    bench = bike(cogs=(11, 12, *COGS[2:]), rear={"cassette_driver": "plain spline"})
    assert costing(bike(), bench, stock).price is None


def test_one_cog_for_several_is_the_loose_cog_of_the_bin() -> None:
    stock = drawer(cogs=[{"teeth": 17, "price": 6.0, "count": 1}])
    cost = costing(bike((40,)), bike((40,), (17,), **SINGLE), stock)
    assert put_on(cost)["cog 17"].price == 6.0


def test_a_single_ring_with_retaining_teeth_is_sooner_one_known_to_have_them() -> None:
    rings = [
        {
            "name": "plain",
            "teeth": 40,
            "bolt_circle_mm": 110.0,
            "price": 10.0,
            "count": 1,
            "retaining_teeth": False,
        },
        {"name": "unsaid", "teeth": 40, "bolt_circle_mm": 110.0, "price": 12.0, "count": 1},
        {"name": "tall", "teeth": 40, "bolt_circle_mm": 110.0, "price": 20.0, "retaining_teeth": True},
    ]
    tall = bike((40,), crank={"retaining_teeth": True}, **NO_FRONT)

    def ring(stock: Bin, bench: Setup) -> str:
        part = next(item.part for item in costing(bike(), bench, stock).on if item.what.startswith("ring 40"))
        assert part is not None
        return part.name

    assert ring(drawer(rings=rings), tall) == "tall"
    assert ring(drawer(rings=rings[:2]), tall) == "unsaid"
    assert ring(drawer(rings=rings), bike((40,), **NO_FRONT)) == "plain"


# Chains: by the handbook's form 50x34 on 435 mm takes 68.50 + 42 + 0.19 = 110.69; two more, even: 114. 40x34
# takes 68.50 + 37 + 0.03 = 105.53: 108.


@pytest.mark.parametrize(
    ("base", "bench", "links"),
    [
        # Too short for 50x34: never to the old one's 112.
        ({"links": 112}, {"links": 112}, 114),
        # Long enough, but another width is asked for: by the rule, not the old 120.
        ({"links": 120}, {"links": 120, "outer_width_mm": 5.6}, 114),
        # An odd old one: a new one is even.
        ({"links": 119}, {"links": 119, "outer_width_mm": 5.6}, 114),
        # Its own length is odd, or too short: the rule.
        ({"links": 112}, {"links": 115}, 114),
        ({"links": 110}, {"links": 112}, 114),
    ],
)
def test_a_new_chain_is_cut_to_the_rule(base: dict[str, Any], bench: dict[str, Any], links: int) -> None:
    cost = costing(bike(chain=base), bike((34, 50), chain=bench), None)
    change = next(change for change in cost.changes if change.job is Job.NEW_CHAIN)
    assert change.chain is not None
    assert change.chain.links == links
    assert cost.after.chain.links == links
    assert f"chain, {links} links" in change.on[0].what


def test_a_new_chain_has_the_length_that_the_file_gives_it_where_that_keeps_the_rule() -> None:
    cage: dict[str, Any] = {"rear_derailleur": {"capacity": 45}}
    assert costing(bike(**cage), bike((34, 50), chain={"links": 116}, **cage), None).after.chain.links == 116


def test_a_new_chain_for_more_cogs_is_cut_to_the_rule_and_not_to_the_old_one_s_length() -> None:
    # From 11 cogs to 12: another width. 40x34 takes 108 where 116 are on the bike.
    base = bike((40,), chain={"links": 116}, **NO_FRONT)
    bench = bike((40,), (10, *COGS), chain={"links": 116, "outer_width_mm": None}, **NO_FRONT)
    assert costing(base, bench, None).after.chain.links == 108


def test_without_the_stay_a_new_chain_s_length_is_found_on_the_bike() -> None:
    unknown = {"frame": {"chainstay_mm": None}}
    cost = costing(bike(**unknown), bike(chain={"outer_width_mm": 5.6}, **unknown), None)
    assert "length to be found on the bike" in cost.on[0].what
    assert cost.after.chain.links is None


def test_a_chain_of_the_bin_that_is_too_short_for_the_rule_is_not_taken() -> None:
    stock = drawer(
        chains=[
            {"name": "short", "links": 112, "outer_width_mm": 5.5, "price": 5.0, "count": 1},
            {"name": "long", "links": 118, "outer_width_mm": 5.5, "price": 25.0},
        ]
    )
    cost = costing(bike(), bike((34, 50)), stock)
    assert (cost.price is None, cost.cost(Source.BUY)) == (True, 25.0)
    assert "cut from 118 links" in cost.on[-1].note


def test_what_goes_on_is_the_bike_afterwards_and_costs_the_same_again() -> None:
    base, bench = bike(), bike((34, 50), (10, *COGS), rear={"clicks": 12}, chain={"outer_width_mm": None})
    stock = drawer(chains=[{"links": 126, "outer_width_mm": 5.25, "price": 20.0, "count": 1}])
    for of in (stock, None):
        first = costing(base, bench, of)
        again = costing(base, first.after, of)
        assert again.after == first.after
        assert [(i.part, i.price, i.source) for i in again.on] == [
            (i.part, i.price, i.source) for i in first.on
        ]
        assert costing(base, again.after, of).on == again.on
