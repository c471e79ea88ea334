"""The order sheet: what comes off and goes on, from where, at what cost, and the work in order."""

import json
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bikes import COGS, DEMO, DRAWERS, FACTS, bike, drawer
from cogwright.core.parts.bin import Bin
from cogwright.core.setup.model import Setup
from cogwright.core.study import study
from cogwright.core.worksheet.build import order_sheet
from cogwright.core.worksheet.sheet import Job, OrderSheet, Source
from cogwright.present.lines import ASCII, Look, plain, width
from cogwright.present.report.order_sheet import order_document, order_json, order_markdown
from cogwright.present.views.order import order_lines
from cogwright.store.bins import bin_files, read_bin
from support import called, long_run, make


def sheet(bench: Setup, baseline: Setup, stock: Bin | None = None) -> OrderSheet:
    found = order_sheet(study(bench, baseline), stock)
    assert found is not None
    return found


def off(order: OrderSheet) -> list[str]:
    return [item.what for item in order.off]


def on(order: OrderSheet) -> list[str]:
    return [item.what for item in order.on]


def test_nothing_changes_nothing_is_ordered() -> None:
    order = sheet(bike(), bike())
    assert order.changes == order.steps == ()
    assert "Nothing to order" in "\n".join(map(plain, order_lines(order, Look())))


def test_without_a_baseline_it_says_how_to_set_one() -> None:
    assert order_sheet(study(bike())) is None
    assert "Set a baseline" in plain(order_lines(None, Look())[0])


def test_one_loose_cog_and_one_ring() -> None:
    order = sheet(bike((34, 48), (11, 13, 16, *COGS[3:]), chain={"links": 114}), bike(chain={"links": 114}))
    assert off(order) == ["cog 15", "ring 46, bolt circle 110 mm (5 bolts)"]
    assert on(order) == ["cog 16", "ring 48, bolt circle 110 mm (5 bolts)"]
    assert [c.job for c in order.changes] == [Job.COGS, Job.RINGS]


def test_a_broken_carrier_leaves_whole_and_its_cogs_are_bought_loose() -> None:
    order = sheet(bike(cogs=(11, 13, 15, 17, 19, 21, 23, 26, 28, 31, 34)), bike())
    assert off(order) == ["carrier 23-25-28"]
    assert on(order) == ["cog 23", "cog 26", "cog 28"]
    assert any("whole carrier must be changed" in text for text in order.problems)


def test_many_cogs_are_a_cassette() -> None:
    order = sheet(bike(cogs=(11, 12, 13, 14, 15, 16, 17, 18, 19, 20, 21), rear={"carriers": None}), bike())
    assert "cassette 11-34, 11 cogs" in off(order)
    assert "cassette 11-21, 11 cogs" in on(order)


def test_a_chain_that_has_become_too_short_appears_by_itself() -> None:
    # By the handbook's form 50x34 on 435 mm takes 2 * 435 / 12.7 + 42 + (16 / 2 pi)^2 * 12.7 / 435 = 110.69;
    # plus two to an even number is 114. Nobody has touched the chain on the bench.
    order = sheet(bike((34, 50)), bike())
    assert on(order)[-1] == "chain, 114 links, 5.5 mm wide"
    assert off(order)[-1] == "chain, 112 links"
    assert order.alarms == ()
    assert not any("short" in text for text in order.problems)
    assert "the old one is 2 links short" in order.on[-1].note


def test_a_chain_that_hangs_slack_is_shortened() -> None:
    short: dict[str, Any] = {"rear_derailleur": {"capacity": 20}, "rear": {"carriers": None}}
    close = (11, 13, 15, 17, 19, 21, 23, 24, 25, 26, 28)
    order = sheet(bike((34, 36), close, **short), bike(**short))
    cut = next(c for c in order.changes if c.job is Job.CUT_CHAIN)
    # 2 * 435 / 12.7 + 32 + (8 / 2 pi)^2 * 12.7 / 435 = 100.55; plus two to an even number is 104.
    assert cut.chain is not None
    assert cut.chain.links == 104
    assert [i.what for i in cut.on] == ["chain joint"]


def test_more_cogs_take_a_narrower_chain() -> None:
    twelve = bike(cogs=(10, *COGS), rear={"clicks": 12}, chain={"outer_width_mm": None})
    order = sheet(twelve, bike())
    assert on(order)[-1] == "chain, 112 links, 5.2 to 5.3 mm wide"
    assert "rear shifter, 12 clicks" in on(order)


def test_the_last_extra_ring_takes_derailleur_shifter_and_cable_with_it() -> None:
    single = bike((40,), front_derailleur={"largest_ring": None, "difference": None})
    order = sheet(single, bike())
    assert {"front derailleur", "front shifter", "front gear cable"} <= set(off(order))
    assert "ring bolts for one ring" in on(order)
    back = sheet(bike(), single)
    assert {"front derailleur", "front shifter", "front gear cable"} <= set(on(back))
    triple_to_double = sheet(bike(), bike((24, 34, 46)))
    assert not {"front derailleur", "front shifter"} & set(off(triple_to_double))


SINGLE: dict[str, Any] = {
    "rear": {"carriers": None, "clicks": None},
    "rear_derailleur": dict.fromkeys(FACTS["rear_derailleur"]),
}


def test_the_last_extra_cog_takes_derailleur_shifter_and_cable_with_it() -> None:
    single, many = bike((40,), (17,), **SINGLE), bike((40,))
    gone, come = sheet(single, many), sheet(many, single)
    rear = ["rear derailleur", "rear shifter", "rear gear cable"]
    assert [what for what in off(gone) if what.startswith("rear")] == rear
    assert not any(what.startswith("rear") for what in on(gone))
    assert [what.split(",")[0] for what in on(come) if what.startswith("rear")] == rear
    assert [j for c in come.changes if (j := c.job) in {Job.REAR_DERAILLEUR, Job.SHIFTER}] == [
        Job.REAR_DERAILLEUR,
        Job.SHIFTER,
    ]
    assert "Smallest pair, then chain and rear wheel off" in [step.do for step in gone.steps]
    assert "Chain and rear wheel off" in [step.do for step in come.steps]


def test_a_hub_gear_comes_and_goes_with_its_shifter_and_cable() -> None:
    hub = bike((40,), (17,), **{**SINGLE, "rear": {**SINGLE["rear"], "hub_ratios": [0.75, 1.0, 1.333]}})
    single = bike((40,), (17,), **SINGLE)
    parts = {"hub shifter", "hub gear cable"}
    assert parts <= set(on(sheet(hub, single)))
    assert parts <= set(off(sheet(single, hub)))
    assert not parts & set(on(sheet(single, hub)))


def test_without_a_derailleur_no_caution_speaks_of_its_cage() -> None:
    # Two pitches to spare and a cage pulled straight are a derailleur's, not a sliding axle's.
    order = sheet(bike((42,), (17,), **SINGLE), bike((40,), (19,), **SINGLE))
    said = " ".join(text for step in order.steps for text in step.cautions)
    assert "cage" not in said
    assert "two links" not in said
    assert "some play left where the chain is tightest" in said


def test_money_and_lengths_have_units() -> None:
    stock = drawer(chains=[{"links": 120, "outer_width_mm": 5.5, "price": 20.0, "count": 1}],
                   rings=[{"teeth": 50, "bolt_circle_mm": 110.0, "price": 30.0, "count": 1}])  # fmt: skip
    stock = stock.model_copy(update={"labour": stock.labour.model_copy(update={"rate_per_hour": 60.0})})
    text = " ".join(plain(row).strip() for row in order_lines(sheet(bike((34, 50)), bike(), stock), Look()))
    assert "min at 60.00 EUR/h " in text
    assert " To pay " in text
    assert "cut from 120 links; the old one is 2 links short" in text


def test_a_fact_that_only_one_side_gives_is_no_part_to_buy() -> None:
    bare = make((34, 46), COGS)
    assert sheet(bike(), bare).changes == ()
    assert sheet(bare, bike()).changes == ()


@pytest.mark.parametrize(
    ("changed", "job"),
    [
        ({"rear_derailleur": {"largest_cog": 46}}, Job.REAR_DERAILLEUR),
        ({"rear": {"clicks": 12}}, Job.SHIFTER),
        ({"shifters": {"family": "narrow"}}, Job.SHIFTER),
        ({"rear": {"smallest_cog": 10}}, Job.DRIVER),
        ({"rear": {"hub_ratios": [0.75, 1.0]}}, Job.HUB),
        ({"crank": {"bolt_circle_mm": 104.0}}, Job.CRANK),
        ({"front_derailleur": {"difference": 12}}, Job.FRONT_SWAP),
        ({"chain": {"links": 114}}, Job.NEW_CHAIN),
    ],
)
def test_every_part_that_differs_is_on_the_sheet(changed: dict[str, Any], job: Job) -> None:
    order = sheet(bike(**changed), bike())
    assert job in {c.job for c in order.changes}


def test_another_bolt_circle_takes_other_rings() -> None:
    order = sheet(bike(crank={"bolt_circle_mm": 104.0}), bike())
    assert "ring 34, bolt circle 104 mm (5 bolts)" in on(order)


@pytest.mark.parametrize(
    ("was", "now", "another"),
    [
        ({"bolt_circle_mm": 110.0, "bolts": 5}, {"bolt_circle_mm": 110.0, "bolts": 4}, True),
        ({"bolt_circle_mm": 110.0, "bolts": 5}, {"bolt_circle_mm": 110.0, "bolts": 5}, False),
        ({"bolts": 5}, {"bolts": 4}, False),
        ({"bolt_circle_mm": 110.0, "bolts": 5}, {"bolts": 4}, False),
        ({"length_mm": 170.0}, {"length_mm": 165.0}, True),
    ],
)
def test_another_number_of_bolts_on_a_known_circle_is_another_crank(
    was: dict[str, Any], now: dict[str, Any], another: bool
) -> None:
    order = sheet(make((34, 50), (11, 21, 32), crank=now), make((34, 50), (11, 21, 32), crank=was))
    assert (Job.CRANK in [change.job for change in order.changes]) is another


def test_stock_comes_before_what_must_be_ordered_and_the_cheap_before_the_dear() -> None:
    stock = drawer(
        rings=[
            {"teeth": 48, "bolt_circle_mm": 110.0, "price": 10.0, "count": 0, "lead_days": 2},
            {"teeth": 48, "bolt_circle_mm": 110.0, "price": 30.0, "count": 1},
            {"teeth": 48, "bolt_circle_mm": 110.0, "price": 25.0, "count": 1, "mass_g": 90.0},
            {"teeth": 48, "bolt_circle_mm": 104.0, "price": 5.0, "count": 9},
        ],
        cogs=[{"teeth": 16, "price": 4.0, "lead_days": 7}],
    )
    bench = bike((34, 48), (11, 13, 16, *COGS[3:]), chain={"links": 114})
    order = sheet(bench, bike(chain={"links": 114}), stock)
    assert [(i.source, i.price) for i in order.on] == [(Source.BUY, 4.0), (Source.STOCK, 25.0)]
    assert (order.cost(Source.BUY), order.cost(Source.STOCK), order.parts_cost) == (4.0, 25.0, 29.0)
    assert order.wait_days == 7
    assert order.unpriced == ()


def test_a_part_that_the_bin_lacks_has_no_price_and_that_is_said() -> None:
    stock = drawer(cogs=[{"teeth": 16, "price": 4.0, "count": 1}])
    bench = bike(cogs=(11, 14, 16, *COGS[3:]))
    order = sheet(bench, bike(), stock)
    assert order.unpriced == ("cog 14",)
    text = "\n".join(map(plain, order_lines(order, Look())))
    assert "the unknown price of cog 14" in text


def test_a_cassette_made_up_with_loose_cogs() -> None:
    stock = drawer(
        cassettes=[{"name": "wide", "cogs": [11, 13, 15, 17, 19, 21, 24, 28, 32, 36], "count": 1}],
        cogs=[{"teeth": 45, "count": 1}],
    )
    bench = bike((40,), (11, 13, 15, 17, 19, 21, 24, 28, 32, 36, 45), rear={"carriers": None})
    base = bike((40,), (11, 13, 15, 17, 19, 21, 24, 28, 32, 34), rear={"carriers": None, "clicks": 10})
    assert on(sheet(bench, base, stock))[:2] == ["wide", "cog 45"]


def test_mass_only_sets_a_part_against_the_one_that_it_replaces() -> None:
    stock = drawer(
        cogs=[{"teeth": 15, "mass_g": 16.0}],
        rings=[{"teeth": n, "bolt_circle_mm": 110.0, "mass_g": float(2 * n)} for n in (46, 48)],
    )
    bench = bike((34, 48), (11, 13, 16, *COGS[3:]), chain={"links": 114})
    order = sheet(bench, bike(chain={"links": 114}), stock)
    assert order.mass_change_g == pytest.approx(4.0)
    assert order.unweighed == ("cog 16",)
    assert not order.weighs_nothing, "the ring's change is known"
    assert sheet(bench, bike(chain={"links": 114}), drawer()).weighs_nothing


def test_a_cut_chain_weighs_what_is_left_of_it() -> None:
    stock = drawer(chains=[{"links": 120, "outer_width_mm": 5.5, "mass_g": 240.0, "count": 1}])
    order = sheet(bike((34, 50)), bike(), stock)
    assert order.on[-1].mass_g == pytest.approx(240.0 * 114 / 120)
    assert order.off[-1].mass_g == pytest.approx(240.0 * 112 / 120)
    assert "cut from 120" in order.on[-1].note


def test_a_chain_of_the_wrong_width_is_not_taken_from_the_bin() -> None:
    stock = drawer(chains=[{"links": 120, "outer_width_mm": 7.1, "price": 5.0, "count": 1}])
    assert sheet(bike((34, 50)), bike(), stock).on[-1].source is Source.BUY


def test_labour_is_the_sum_of_its_steps_at_the_shop_s_rate() -> None:
    own = {"rate_per_hour": 60.0, "look": 1.0, "wheel": 2.0, "loose_cogs": 30.0, "adjust": 4.0}
    tests = {"brakes": 1.0, "stand_test": 2.0, "road_test": 5.0}
    stock = Bin.model_validate({"name": "Drawer", "labour": {**own, **tests}})
    order = sheet(bike(cogs=(11, 13, 16, *COGS[3:])), bike(), stock)
    assert order.minutes == pytest.approx(1 + 2 + 30 + 4 + 1 + 2 + 5)
    assert order.labour_cost == pytest.approx(45.0)


def test_the_work_is_in_order_and_ends_with_the_tests() -> None:
    single = bike((40,), front_derailleur={"largest_ring": None, "difference": None}, rear={"clicks": 12},
                  chain={"links": 108}, rear_derailleur={"largest_cog": 46, "capacity": 41})  # fmt: skip
    said = [step.do for step in sheet(single, bike()).steps]
    wanted = [
        "Look first",
        "Smallest pair, then chain off",
        "Take off the front derailleur",
        "Change rings",
        "Fit rear derailleur",
        "Fit rear shifter",
        "Shorten the chain",
        "Set limit screws",
        "Check both brakes",
        "Stand test",
        "Road test",
    ]
    assert [next(i for i, s in enumerate(said) if s.startswith(w)) for w in wanted] == list(
        range(len(wanted))
    )


def test_cautions_stand_at_the_steps_that_they_belong_to() -> None:
    order = sheet(bike((34, 50), rear_derailleur={"largest_cog": 46}), bike())
    by = {step.do.split(":", maxsplit=1)[0]: " ".join(step.cautions) for step in order.steps}
    assert "two links to spare" in by["Fit the chain"]
    assert "new pin or quick link" in by["Fit the chain"]
    assert "hanger" in by["Fit rear derailleur, largest cog 46, capacity 39"]
    assert "B-gap" in by["Set limit screws, B-gap and indexing"]
    assert "maker" in by["Change rings"]
    assert "50x34 first, by hand" in by["Stand test in every gear"]
    assert "qualified mechanic" in "\n".join(map(plain, order_lines(order, Look()))).replace("\n", " ")


def test_problems_that_the_parts_leave_stand_on_top() -> None:
    order = sheet(bike(cogs=(*COGS[:-1], 45), rear={"carriers": None}, chain={"links": 120}), bike())
    lines = [plain(row) for row in order_lines(order, Look())]
    said = "largest cog: 45 teeth where the rear"
    assert lines[2].startswith(f"! does not fit even with these parts, {said}")
    same = bike(cogs=(*COGS[:-1], 45), rear={"carriers": None}, chain={"links": None})
    assert not sheet(same, same).on
    assert plain(order_lines(sheet(same, same), Look())[2]).startswith(f"! does not fit, {said}")


@pytest.mark.parametrize("name", ["yard-1-first-trial", "yard-1-second-trial"])
def test_a_whole_conversion_prints_on_one_page(name: str) -> None:
    # Paper at six lines an inch has room for 60 lines of 80 characters within its margins.
    done = called("order", DEMO / f"{name}.toml", "--bin", DRAWERS)
    lines = done.stdout.splitlines()
    assert done.returncode == 0
    assert len(lines) <= 60
    assert max(map(len, lines)) <= 80


def test_the_command_takes_the_baseline_from_the_file_or_asks_for_one(tmp_path: Path) -> None:
    named = called("order", DEMO / "yard-1-second-trial.toml", "--format", "json")
    given = called("order", DEMO / "yard-1-second-trial.toml", "--format", "json",
                      "--baseline", DEMO / "yard-1-two-rings.toml")  # fmt: skip
    named_data, given_data = (json.loads(done.stdout) for done in (named, given))
    assert named_data | {"used": []} == given_data | {"used": []}
    alone = called("order", DEMO / "yard-7-pass.toml")
    assert alone.returncode == 1
    assert "--baseline" in alone.stderr


def test_json_keys_and_sums() -> None:
    stock = read_bin(DRAWERS).value
    data = json.loads(order_json(sheet(bike((34, 50)), bike(), stock)))
    assert {"remove", "fit", "buy", "from_stock", "cost", "mass_change_g", "labour_minutes", "steps"} <= set(
        data
    )
    assert data["currency"] == "EUR"
    prices = [item["price"] for item in data["fit"]]
    assert data["cost"]["parts"] == pytest.approx(sum(p for p in prices if p is not None))
    assert data["labour_minutes"] == pytest.approx(sum(step["minutes"] for step in data["steps"]))


def test_markdown_is_harmless() -> None:
    hostile = bike((34, 50)).model_copy(update={"name": "[x](y) <b> | # *"})
    text = order_markdown(sheet(hostile, bike()))
    assert "<b>" not in text.replace("\\<b>", "")
    assert "\\[x\\]" in text
    assert text.count("- [ ] ") == len(sheet(hostile, bike()).steps)


def test_a_name_of_any_length_leaves_the_prices_in_sight() -> None:
    name = "\u6f22" * 150 + "\x1b[31m"
    stock = drawer(cassettes=[{"name": name, "cogs": [11, 13, 15, 17], "price": 12.5, "count": 1}],
                   cogs=[{"teeth": 45, "price": 7.5, "count": 1}])  # fmt: skip
    bench = bike((40,), (11, 13, 15, 17, 45), rear={"carriers": None})
    base = bike((40,), (11, 13, 15, 16), rear={"carriers": None})
    lines = order_lines(sheet(bench, base, stock), Look())
    assert max(map(width, lines)) <= 80
    assert any("12.50" in plain(row) for row in lines)
    assert not any("\x1b" in plain(row) for row in lines)


def test_the_demo_bin_is_found_and_read() -> None:
    assert bin_files(DEMO) == (DRAWERS,)
    stock = read_bin(DRAWERS).value
    assert stock.currency == "EUR"
    assert all(part.price is not None and part.mass_g is not None for part in stock.parts)
    assert {part.count > 0 for part in stock.parts} == {True, False}


def test_a_bin_with_mistakes_names_every_one(tmp_path: Path) -> None:
    bad = tmp_path / "bad.toml"
    bad.write_text('format = 1\nname = "B"\ncurrency = "euro"\n[[rings]]\nname = "r"\nteeth = 3\npric = 4\n')
    done = called("order", DEMO / "yard-1-second-trial.toml", "--bin", bad)
    assert done.returncode == 1
    assert {"bad.toml:3", "bad.toml:6", "bad.toml:7"} <= {
        line.rsplit("/", 1)[-1][:10] for line in done.stderr.splitlines()
    }
    assert "price" in done.stderr


parts = st.tuples(
    st.lists(st.integers(20, 60), min_size=1, max_size=3, unique=True),
    st.lists(st.integers(9, 52), min_size=1, max_size=12, unique=True),
    st.fixed_dictionaries({}, optional={
        "frame": st.just({"chainstay_mm": 430.0}),
        "chain": st.fixed_dictionaries({"links": st.integers(80, 140)}),
    }),
)  # fmt: skip


@pytest.mark.long
@settings(max_examples=long_run(120))
@given(parts, parts, st.integers(30, 130), st.booleans())
def test_any_change_makes_a_sound_sheet(was: Any, now: Any, room: int, stocked: bool) -> None:
    base, bench = make(was[0], was[1], **was[2]), make(now[0], now[1], **now[2])
    order = sheet(bench, base, read_bin(DRAWERS).value if stocked else None)
    lines = order_lines(order, Look(room, glyphs=ASCII))
    assert max(map(width, lines)) <= room
    assert order_markdown(order)
    assert order_document(order)
    assert bool(order.steps) == bool(order.changes)
    if order.steps:
        assert order.steps[-1].do.startswith("Road test")
    rings = {
        int(i.what.split(",")[0].split()[1])
        for i in order.on
        if i.what.startswith("ring ") and "bolts for" not in i.what
    }
    assert rings == set(bench.crank.rings) - set(base.crank.rings)


@pytest.mark.parametrize(("rings", "avoids"), [((34, 48), True), ((40,), False)])
def test_the_rider_is_told_of_gears_to_avoid_where_another_ring_has_them(
    rings: tuple[int, ...], avoids: bool
) -> None:
    told = [said for step in sheet(bike(rings), bike()).steps for said in step.cautions]
    assert any(said.startswith("tell the rider to avoid") for said in told) is avoids
