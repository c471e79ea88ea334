"""Jobs, sums and steps of an order sheet by hand: what each job takes, and what it is not called for by."""

from typing import Any

import pytest

from bikes import bike, drawer
from cogwright.core.common.errors import CogwrightError
from cogwright.core.figures import Figures
from cogwright.core.parts.bin import Bin, Labour, Tax
from cogwright.core.parts.search import EMPTY
from cogwright.core.setup.edits import SetField
from cogwright.core.setup.model import Chain, Setup
from cogwright.core.study import study
from cogwright.core.worksheet import changes as jobs
from cogwright.core.worksheet.build import order_sheet
from cogwright.core.worksheet.costing import costing
from cogwright.core.worksheet.jobs import steps_of
from cogwright.core.worksheet.sheet import Change, Costing, Item, Job, Source, off_bike, onto_bike
from cogwright.core.worksheet.stock import Unknown, wanted, with_fact
from support import make

#: Each job has minutes of its own.
FIELDS = [name for name in Labour.model_fields if name != "rate_per_hour"]
MINUTES = Labour(**{name: 20.0 + at for at, name in enumerate(FIELDS)})


def asked(base: Setup, bench: Setup, stock: Bin = EMPTY) -> dict[Job, Change]:
    return {change.job: change for change in costing(base, bench, stock).changes}


def names(items: tuple[Item, ...]) -> list[str]:
    return [item.what for item in items]


def with_facts(setup: Setup, **facts: Any) -> Setup:
    for key, value in facts.items():
        setup = SetField(key.replace("__", "."), value).apply(setup)
    return setup


PLAIN = make((30, 46), (11, 15, 20))


@pytest.mark.parametrize(
    ("facts", "job", "off", "on"),
    [
        ({"wheel__size": "32-622"}, Job.TYRE, ["tyre 40-622"], ["tyre 32-622"]),
        ({"wheel__size": "40-559"}, Job.WHEEL, ["wheel 40-622"], ["wheel 40-559"]),
        ({"rear__hub_ratios": [1.0, 1.5]}, Job.HUB, ["wheel with a hub without gears"],
         ["wheel with a hub gear of 2 speeds", "hub shifter", "hub gear cable"]),
    ],
)  # fmt: skip
def test_jobs_at_the_wheel(facts: dict[str, Any], job: Job, off: list[str], on: list[str]) -> None:
    found = asked(PLAIN, with_facts(PLAIN, **facts))[job]
    assert (names(found.off), names(found.on)) == (off, on)
    back = asked(with_facts(PLAIN, **facts), PLAIN)[job]
    if job is Job.HUB:
        assert (names(back.off), names(back.on)) == (on, off)
        assert found.to.endswith(", its shifter and its cable, set as the hub's maker says")
        assert back.to == "wheel with a hub without gears"


def test_a_first_cassette_wants_a_wheel_with_a_freehub() -> None:
    single = make((42,), (17,))
    assert Job.WHEEL in asked(single, make((42,), (11, 17)))
    for facts in ({"driver": "step"}, {"smallest_cog": 11}):
        assert Job.WHEEL not in asked(make((42,), (17,), rear=facts), make((42,), (11, 17), rear=facts))
    assert Job.WHEEL not in asked(single, make((42,), (18,)))
    assert Job.WHEEL not in asked(make((42,), (17,), rear_derailleur={"capacity": 30}), make((42,), (11, 17)))


def test_a_driver_or_the_wheel_with_it() -> None:
    base = make((30, 46), (11, 15), rear={"driver": "a", "smallest_cog": 11})
    bench = make((30, 46), (10, 15), rear={"driver": "b", "smallest_cog": 10})
    found = asked(base, bench)[Job.DRIVER]
    assert (names(found.off), names(found.on)) == (
        ["freehub driver a for cogs from 11"], ["freehub driver b for cogs from 10"],
    )  # fmt: skip
    wheel = drawer(small_parts=[{"kind": "wheel", "driver": "b"}])
    assert names(asked(base, bench, wheel)[Job.WHEEL].on) == ["wheel with driver b for cogs from 10"]
    both = drawer(small_parts=[{"kind": "wheel", "driver": "b"}, {"kind": "freehub driver", "driver": "b"}])
    assert Job.DRIVER in asked(base, bench, both)
    assert Job.DRIVER not in asked(base, base)
    assert Job.DRIVER not in asked(make((30, 46), (11, 15)), bench), "nobody said what it was"


@pytest.mark.parametrize(
    ("now", "job"),
    [
        ({"front_derailleur": {"difference": 14}, "rings": (30,)}, Job.FRONT_OFF),
        ({"front_derailleur": {"difference": 20}}, Job.FRONT_SWAP),
        ({"front_derailleur": {"difference": 16}}, None),
    ],
)
def test_jobs_at_the_front(now: dict[str, Any], job: Job | None) -> None:
    base = make((30, 46), (11, 15), front_derailleur={"difference": 16})
    bench = make(now.get("rings", (30, 46)), (11, 15), front_derailleur=now["front_derailleur"])
    found = {one for one in asked(base, bench) if one in {Job.FRONT_OFF, Job.FRONT_ON, Job.FRONT_SWAP}}
    assert found == ({job} if job else set())
    if job is Job.FRONT_OFF:
        assert Job.FRONT_ON in asked(bench, base)


@pytest.mark.parametrize(
    ("was", "now", "new"),
    [
        ({"length_mm": 170.0}, {"length_mm": 175.0}, True), ({}, {"length_mm": 175.0}, False),
        ({"bolt_circle_mm": 110.0}, {"bolt_circle_mm": 104.0}, True),
        ({"bolt_circle_mm": 110.0, "bolts": 5}, {"bolt_circle_mm": 110.0, "bolts": 4}, True),
        ({"bolts": 5}, {"bolts": 4}, False),
        ({"bolt_circle_mm": 110.0}, {"bolts": 4}, False),
        ({"bolt_circle_mm": 110.0, "inner_bolt_circle_mm": 74.0},
         {"bolt_circle_mm": 110.0, "inner_bolt_circle_mm": 64.0}, True),
    ],
)  # fmt: skip
def test_another_crank(was: dict[str, Any], now: dict[str, Any], new: bool) -> None:
    base, bench = (make((30, 46), (11, 15), crank=crank) for crank in (was, now))
    assert jobs.new_crank(base.crank, bench.crank) is new
    assert (Job.CRANK in asked(base, bench)) is new


def test_names_of_cranks() -> None:
    assert jobs.crank_name(make((30,), (11,)).crank) == "crank"
    assert jobs.crank_name(make((30,), (11,), crank={"length_mm": 172.5, "bolt_circle_mm": 110.0}).crank) == (
        "crank 172.5 mm, bolt circle 110 mm"
    )


@pytest.mark.parametrize(
    ("base", "bench", "off", "on"),
    [
        ((30, 46), (30, 48), ["ring 46"], ["ring 48"]),
        ((30, 46), (46,), ["ring 30"], ["ring bolts for one ring"]),
        ((46,), (30, 46), [], ["ring 30", "ring bolts for 2 rings"]),
        ((30, 46), (30, 38, 46), [], ["ring 38"]), ((30, 46), (30, 46), None, None),
    ],
)  # fmt: skip
def test_rings_and_their_bolts(
    base: tuple[int, ...], bench: tuple[int, ...], off: list[str] | None, on: list[str] | None
) -> None:
    found = asked(make(base, (11, 15)), make(bench, (11, 15))).get(Job.RINGS)
    assert (found and (names(found.off), names(found.on))) == (None if off is None else (off, on))


@pytest.mark.parametrize(
    ("was", "now", "anew"),
    [
        (((46,), None), ((46,), True), False), (((46,), False), ((46,), True), True),
        (((30, 46), None), ((46,), True), True),
        (((46,), True), ((46,), True), False), (((46,), True), ((46,), False), False),
        (((46,), False), ((46,), None), False),
    ],
)  # fmt: skip
def test_a_ring_that_is_to_keep_the_chain_on(was: Any, now: Any, anew: bool) -> None:
    base, bench = (
        make(rings, (11, 15), crank={} if retains is None else {"retaining_teeth": retains})
        for rings, retains in (was, now)
    )
    assert jobs._retains_anew(base.crank, bench.crank) is anew
    found = asked(base, bench).get(Job.RINGS)
    assert (found is not None and "ring 46" in names(found.on)) is anew


def test_what_a_ring_is_called_and_what_to_look_at() -> None:
    stock = drawer(rings=[{"teeth": 48, "bolt_circle_mm": 110.0}])
    unsure = asked(make((30, 46), (11, 15)), make((30, 48), (11, 15)), stock)[Job.RINGS].on[0]
    assert (unsure.what, unsure.note) == ("ring 48", "see that the crank takes 110 mm")
    known = asked(bike((34, 46)), bike((34, 48)), stock)[Job.RINGS].on[0]
    assert (known.what, known.note) == ("ring 48, bolt circle 110 mm (5 bolts)", "")


def test_a_rear_derailleur_comes_changes_and_goes() -> None:
    single, geared = (
        make((42,), (17,)),
        make((42,), (11, 17), rear_derailleur={"largest_cog": 34, "capacity": 0}),
    )
    first = asked(single, geared)
    assert names(first[Job.REAR_DERAILLEUR].off) == []
    assert names(first[Job.REAR_DERAILLEUR].on) == ["rear derailleur, largest cog 34, capacity 0"]
    assert names(first[Job.SHIFTER].on) == ["rear shifter", "rear gear cable"]
    assert names(first[Job.SHIFTER].off) == []
    last = asked(geared, single)
    assert names(last[Job.REAR_OFF].off) == ["rear derailleur", "rear shifter", "rear gear cable"]
    assert last[Job.REAR_OFF].on == ()
    other = asked(geared, make((42,), (11, 17), rear_derailleur={"largest_cog": 36}))
    assert names(other[Job.REAR_DERAILLEUR].off) == ["rear derailleur"]
    assert Job.SHIFTER not in other
    assert Job.REAR_DERAILLEUR not in asked(
        geared, make((42,), (11, 17), rear_derailleur={"largest_cog": 34})
    )


def test_a_shifter_for_other_clicks() -> None:
    base = make((42,), (11, 17), rear={"clicks": 2})
    found = asked(base, make((42,), (11, 17), rear={"clicks": 3}))[Job.SHIFTER]
    assert (names(found.off), found.to) == (["rear shifter", "rear gear cable"], "rear shifter, 3 clicks")
    assert Job.SHIFTER not in asked(base, make((42,), (11, 17)))
    for facts in ({"family": "x"}, {"pull_mm": 2.5}):
        was = make((42,), (11, 17), shifters={key: "y" if key == "family" else 3.0 for key in facts})
        assert Job.SHIFTER in asked(was, make((42,), (11, 17), shifters=facts))


def test_a_tandems_timing_chain() -> None:
    def tandem(**facts: Any) -> Setup:
        return make((42,), (17, 20), timing_chain=facts)

    longer = asked(tandem(links=100), tandem(links=102))[Job.TIMING]
    assert (names(longer.off), names(longer.on)) == (["timing chain, 100 links"], ["timing chain, 102 links"])
    rings = asked(tandem(rings=[40, 40]), tandem(rings=[42, 42]))[Job.TIMING]
    assert (names(rings.off), names(rings.on)) == (
        ["timing chain", "timing rings"],
        ["timing chain", "timing rings 42 and 42"],
    )
    assert Job.TIMING in asked(tandem(stretch_pct=0.5), tandem(stretch_pct=0.4))
    for was, now in (
        ({"stretch_pct": 0.5}, {"stretch_pct": 0.5}),
        ({"stretch_pct": 0.5}, {}),
        ({}, {"stretch_pct": 0.1}),
        ({}, {"links": 100}),
    ):
        assert Job.TIMING not in asked(tandem(**was), tandem(**now))


def item(
    price: float | None = None,
    mass: float | None = None,
    source: Source = Source.BUY,
    wait: int | None = None,
    what: str = "x",
) -> Item:
    return Item(what, source, price, mass, wait)


def cost(*changes: Change) -> Costing:
    return Costing(PLAIN, "EUR", changes)


def test_sums_of_a_sheet() -> None:
    """5 from the bin, 7 and one unknown to buy."""
    of = cost(
        Change(Job.COGS, (item(mass=20.0),), (item(5.0, 30.0, Source.STOCK), item(7.0, 15.0, wait=3))),
        Change(Job.CRANK, (), (item(None, 500.0, wait=9, what="y"), item(0.0, 1.0, what="z"))),
        Change(Job.RINGS, (item(mass=40.0),), (item(1.0, None, Source.STOCK),)),
    )
    assert (of.cost(Source.STOCK), of.cost(Source.BUY), of.parts_cost) == (6.0, 7.0, 13.0)
    assert (of.price, of.unpriced) == (None, ("y",))
    assert of.mass_change_g == 30 + 15 - 20 + 501
    assert (of.wait_days, of.unscheduled) == (9, ("z",))
    assert len(of.off) == 2
    assert len(of.on) == 5
    assert not of.weighs_nothing
    assert cost().price == 0.0
    assert cost().wait_days is None


@pytest.mark.parametrize(
    ("off", "on", "nothing"),
    [
        ([20.0], [None], True),
        ([None], [20.0], True),
        ([20.0], [20.0], False),
        ([], [20.0], False),
        ([], [None], True),
        ([20.0], [], False),
    ],
)
def test_whether_any_change_of_mass_is_known(
    off: list[float | None], on: list[float | None], nothing: bool
) -> None:
    change = Change(
        Job.COGS,
        tuple(item(mass=m, what=f"a{m}") for m in off),
        tuple(item(mass=m, what=f"b{m}") for m in on),
    )
    assert cost(change).weighs_nothing is nothing


def test_labour_tax_and_what_is_to_pay() -> None:
    """Parts of 6, and of labour 60 an hour."""
    stock = drawer(cogs=[{"teeth": 18, "price": 6.0, "count": 1}]).model_copy(
        update={"labour": Labour(rate_per_hour=60.0)}
    )
    base, bench = make((42,), (11, 15, 17)), make((42,), (11, 15, 18))
    for tax, amount, pay in (
        (None, None, 0.0),
        (Tax(rate_pct=20), 0.2, 0.2),
        (Tax(rate_pct=25, included=True), 0.2, 0.0),
    ):
        sheet = order_sheet(study(bench, base), stock.model_copy(update={"tax": tax}))
        assert sheet is not None
        assert sheet.labour_cost == sheet.minutes > 0.0
        total = 6.0 + sheet.minutes
        assert sheet.total == total
        assert sheet.to_pay == pytest.approx(total * (1.0 + pay))
        assert sheet.tax_amount == (None if amount is None else pytest.approx(total * amount))
    free = order_sheet(study(bench, base), drawer(cogs=[{"teeth": 18}]))
    assert free is not None
    assert (free.total, free.labour_cost, free.to_pay, free.tax_amount) == (None, None, None, None)


def test_where_a_part_comes_from() -> None:
    stock = drawer(
        cogs=[
            {"teeth": 17, "count": 1, "lead_days": 3, "price": 1.0, "mass_g": 9.0},
            {"teeth": 18, "lead_days": 3},
        ]
    )
    there, to_order = stock.cogs
    assert onto_bike("x", there) == Item("x", Source.STOCK, 1.0, 9.0, None, "", there)
    assert onto_bike("x", to_order, "n") == Item("x", Source.BUY, None, None, 3, "n", to_order)
    assert onto_bike("x", None) == Item("x", Source.BUY)
    assert off_bike("x", there) == Item("x", Source.OFF, mass_g=9.0)
    assert off_bike("x") == Item("x", Source.OFF)


def minutes(base: Setup, bench: Setup) -> dict[str, float]:
    of = costing(base, bench)
    return {step.do: step.minutes for step in steps_of(Figures(of.after, base), of.changes, MINUTES)}


def test_minutes_of_each_step() -> None:
    found = minutes(bike((34, 46)), bike((34, 50)))
    field = MINUTES.model_dump()
    assert [round(m) for m in found.values()] == [
        field["look"], 0, field["ring"], field["new_chain"], field["adjust"], field["adjust"],
        field["brakes"],
        field["stand_test"], field["road_test"],
    ]  # fmt: skip
    two = minutes(bike((34, 46)), bike((36, 50)))
    assert two[next(do for do in two if do.startswith("Change rings"))] == 2 * field["ring"]
    wheel = minutes(
        bike(),
        bike(cogs=(11, 13, 15, 17, 19, 21, 23, 25, 28, 31, 36), rear={"carriers": [[23, 25, 28], [31, 36]]}),
    )
    assert field["wheel"] in wheel.values()
    assert "Rear wheel in" in wheel
    assert steps_of(Figures(bike()), (), MINUTES) == ()
    first = list(wheel)
    assert first[0].startswith("Look first")
    assert first[-1].startswith("Road test")


def test_steps_without_a_derailleur() -> None:
    single = make((42,), (17,), frame={"chainstay_mm": 430.0}, chain={"links": 98})
    found = minutes(single, make((42,), (18,), frame={"chainstay_mm": 430.0}, chain={"links": 98}))
    assert "Set the chain's slack with the axle, wheel straight" in found
    assert "Stand test" in found
    assert "Rear wheel off" in found
    assert "Set limit screws, B-gap and indexing" not in found


def test_parts_that_a_sheet_puts_into_a_bin() -> None:
    after = bike()
    change = Change(Job.NEW_CHAIN, chain=Chain(links=112, outer_width_mm=5.5))

    def made(what: str) -> dict[str, Any]:
        part = wanted(change, Item(what, Source.BUY), after)
        return {"type": type(part).__name__} | part.model_dump(exclude_defaults=True, exclude_none=True)

    assert made("ring 46, bolt circle 110 mm (5 bolts)")["bolt_circle_mm"] == 110.0
    assert made("ring 46")["teeth"] == 46
    assert (made("cog 17")["teeth"], made("cog 17")["family"]) == (17, "wide")
    assert made("carrier 23-25-28")["cogs"] == (23, 25, 28)
    assert made("cassette 11-34, 11 cogs")["cogs"] == after.rear.cogs
    assert (made("chain, 112 links")["links"], made("chain, 112 links")["outer_width_mm"]) == (112, 5.5)
    assert made("rear derailleur, largest cog 36")["capacity"] == 39
    assert made("front derailleur")["difference"] == 16
    assert made("rear shifter, 11 clicks") == {
        "type": "SmallPart", "name": "rear shifter, 11 clicks", "kind": "rear shifter", "clicks": 11,
        "family": "wide",
    }  # fmt: skip
    assert made("ring bolts for one ring")["kind"] == "ring bolts"
    assert made("chain joint")["kind"] == "chain joint"
    assert made("tyre 32-622") == {
        "type": "SmallPart",
        "name": "tyre 32-622",
        "kind": "tyre",
        "size": "40-622",
    }
    assert made("wheel 40-622")["smallest_cog"] == 11
    assert made("freehub driver x")["smallest_cog"] == 11
    assert made("crank 170 mm")["kind"] == "crank"
    assert made("hub gear cable")["kind"] == "gear cable"
    for what in ("belt, 115 teeth", "ring x", "wheelset"):
        if what != "wheelset":
            with pytest.raises(CogwrightError, match="write it into the bin's file"):
                made(what)
    for chain in (None, Chain()):
        with pytest.raises(CogwrightError, match="length is not known"):
            wanted(Change(Job.NEW_CHAIN, chain=chain), Item("chain, x", Source.BUY), after)


def test_a_fact_goes_to_the_part_or_a_new_part_is_put_in() -> None:
    stock = drawer(cogs=[{"teeth": 15, "count": 2}, {"teeth": 17, "count": 1}])
    change = Change(Job.COGS)
    known = with_fact(
        stock, Unknown(change, Item("cog 17", Source.STOCK, part=stock.cogs[1]), "price"), PLAIN, 7.5
    )
    assert [(cog.teeth, cog.price, cog.count) for cog in known.cogs] == [(15, None, 2), (17, 7.5, 1)]
    new = with_fact(stock, Unknown(change, Item("cog 19", Source.BUY), "lead_days"), PLAIN, 3)
    assert [(cog.teeth, cog.lead_days, cog.count) for cog in new.cogs] == [
        (15, None, 2),
        (17, None, 1),
        (19, 3, 0),
    ]


def test_usual_minutes() -> None:
    """Round figures of our own (P); the shop's own win."""
    assert Labour().model_dump() == {
        "rate_per_hour": None, "look": 5, "wheel": 5, "cassette": 8, "loose_cogs": 15, "ring": 8,
        "crank": 25, "new_chain": 8,
        "shorten_chain": 5, "rear_derailleur": 15, "front_derailleur": 20, "take_off_front": 12,
        "take_off_rear": 12,
        "shifter": 20, "hub": 40, "tyre": 12, "adjust": 12, "brakes": 2, "stand_test": 5, "road_test": 10,
    }  # fmt: skip
