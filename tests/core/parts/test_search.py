"""Which part of a bin is taken: every fact that must agree, and of several the one to take; by hand."""

from typing import Any

import pytest

from bikes import drawer
from cogwright.core.parts import changed, search
from cogwright.core.parts.bin import BeltPart, Bin, ChainPart, CogPart, HubPart, Part
from cogwright.core.parts.which_fit import _makes_sense
from cogwright.core.setup.drivetrain import Crank, FrontDerailleur, Rear, RearDerailleur
from cogwright.core.setup.model import Setup
from support import make


def name(part: Part | None) -> str | None:
    return part and part.name


def parts(*facts: dict[str, Any]) -> list[dict[str, Any]]:
    """Parts called a, b, c ..."""
    return [{"name": chr(ord("a") + at), **of} for at, of in enumerate(facts)]


@pytest.mark.parametrize(
    ("facts", "taken"),
    [
        ([{"price": 1.0}, {"price": 9.0, "count": 1}], "b"),  # in stock before to be ordered
        ([{"price": 9.0, "count": 1}, {"price": 5.0, "count": 3}], "b"),  # the cheapest
        ([{"count": 1}, {"price": 99.0, "count": 1}], "b"),  # a price before none
        ([{"price": 5.0, "lead_days": 9}, {"price": 5.0, "lead_days": 2}], "b"),  # the soonest
        ([{"price": 5.0}, {"price": 5.0, "lead_days": 30}], "b"),
        ([{"price": 5.0, "lead_days": 0}, {"price": 5.0, "lead_days": 0}], "a"),  # of equal ones the first
        ([], None),
    ],
)
def test_of_several_parts(facts: list[dict[str, Any]], taken: str | None) -> None:
    stock = drawer(cogs=parts(*({"teeth": 17, **of} for of in facts)))
    assert name(search.cog(stock, 17, None)) == taken


RETAINS = Crank(rings=(40,), retaining_teeth=True)


@pytest.mark.parametrize(
    ("facts", "crank", "circle", "taken"),
    [
        ([{"teeth": 39}], Crank(rings=(40,)), None, None),
        ([{"bolt_circle_mm": 104.0}], Crank(rings=(40,)), 110.0, None),
        ([{"bolt_circle_mm": 104.0}], Crank(rings=(40,)), None, "a"),
        ([{}], Crank(rings=(40,)), 110.0, "a"),
        ([{"bolts": 4}], Crank(rings=(40,)), 110.0, None),
        ([{"bolts": 4}], Crank(rings=(40,), bolts=4), 110.0, "a"),
        ([{"bolts": 4}], Crank(rings=(40,)), None, "a"),
        ([{"retaining_teeth": True}], Crank(rings=(30, 40)), None, None),
        ([{"retaining_teeth": False}], Crank(rings=(30, 40)), None, "a"),
        ([{"retaining_teeth": True}], Crank(rings=(40,)), None, "a"),
        ([{"retaining_teeth": False}], RETAINS, None, None),
        ([{"price": 1.0}, {"retaining_teeth": True, "price": 9.0}], RETAINS, None, "b"),
        ([{"price": 9.0}, {"retaining_teeth": True, "price": 1.0}], Crank(rings=(40,)), None, "b"),
        ([{"price": 1.0}, {"retaining_teeth": True, "price": 9.0}], Crank(rings=(40,)), None, "a"),
    ],
)
def test_rings(facts: list[dict[str, Any]], crank: Crank, circle: float | None, taken: str | None) -> None:
    stock = drawer(rings=parts(*({"teeth": 40, **of} for of in facts)))
    assert name(search.ring(stock, 40, crank, circle)) == taken


def test_cogs_and_carriers_of_a_family() -> None:
    stock = drawer(
        cogs=parts({"teeth": 17, "family": "x"}, {"teeth": 18}),
        carriers=parts({"cogs": [17, 19], "family": "x"}, {"cogs": [21, 23]}),
    )
    assert [name(search.cog(stock, n, f)) for n, f in ((17, "x"), (17, None), (17, "y"), (18, "y"),
    (19, None))] == [
        "a", "a", None, "b", None,
    ]  # fmt: skip
    found = [((17, 19), "x"), ((17, 19), "y"), ((21, 23), "y"), ((17,), None)]
    assert [name(search.carrier(stock, cogs, family)) for cogs, family in found] == ["a", None, "b", None]


@pytest.mark.parametrize(
    ("facts", "rear", "goes"),
    [
        ({}, {}, True),
        ({"cogs": [11, 13, 16]}, {}, False),
        ({"carriers": [[13, 15]]}, {}, True),
        ({"carriers": [[13, 15]]}, {"carriers": [[13, 15]]}, True),
        ({}, {"carriers": [[13, 15]]}, False),
        ({"family": "x"}, {"family": "x"}, True),
        ({"family": "x"}, {"family": "y"}, False),
        ({"family": "x"}, {}, True),
        ({"driver": "step"}, {"cassette_driver": "step"}, True),
        ({"driver": "step"}, {"cassette_driver": "spline"}, False),
        ({"driver": "step"}, {"driver": "spline"}, True),
    ],
)
def test_cassettes(facts: dict[str, Any], rear: dict[str, Any], goes: bool) -> None:
    stock = drawer(cassettes=[{"cogs": [11, 13, 15], **facts}])
    assert (search.cassette(stock, Rear(cogs=(11, 13, 15), **rear)) is not None) is goes


@pytest.mark.parametrize(
    ("wanted", "loose"),
    [
        ((11, 13, 15, 17), None),  # the cassette itself lacks nothing
        ((11, 13, 15, 18), (18,)),
        ((11, 13, 18, 19), (18, 19)),
        ((11, 18, 19, 20), None),  # three are too many
        ((11, 13, 15, 21), None),  # not in the bin
        ((11, 13, 18, 21), None),
    ],
)
def test_a_cassette_made_up_with_loose_cogs(wanted: tuple[int, ...], loose: tuple[int, ...] | None) -> None:
    stock = drawer(cassettes=[{"cogs": [11, 13, 15, 17]}], cogs=[{"teeth": n} for n in (18, 19, 20)])
    found = list(search.cassettes_and_cogs(stock, Rear(cogs=wanted)))
    assert [tuple(cog.teeth for cog in cogs) for _, cogs in found] == ([] if loose is None else [loose])


@pytest.mark.parametrize(
    ("facts", "width", "cogs", "goes"),
    [
        ({"links": 110}, None, 10, True), ({"links": 109}, None, 10, False),
        ({"outer_width_mm": 5.5}, (5.5, 6.0), 10, True), ({"outer_width_mm": 5.4}, (5.5, 6.0), 10, False),
        ({"outer_width_mm": 6.0}, (5.5, 6.0), 10, True), ({"outer_width_mm": 6.1}, (5.5, 6.0), 10, False),
        ({"outer_width_mm": 9.0}, None, 10, True), ({}, (5.5, 6.0), 10, True),
        ({"cogs": 10}, None, 10, True), ({"cogs": 9}, None, 10, False), ({"cogs": [9, 10]}, None, 10, True),
        ({"cogs": 9}, None, 1, True), ({"cogs": 9, "outer_width_mm": 9.0}, (5.5, 6.0), 1, False),
    ],
)  # fmt: skip
def test_chains(facts: dict[str, Any], width: tuple[float, float] | None, cogs: int, goes: bool) -> None:
    stock = drawer(chains=[{"links": 116, **facts}])
    assert (search.chain(stock, 110, width, cogs) is not None) is goes


@pytest.mark.parametrize(
    ("part", "wanted", "goes"),
    [
        ({"capacity": 39}, {"capacity": 39}, True), ({"capacity": 39}, {"capacity": 37}, False),
        ({"capacity": 39}, {"largest_cog": 36}, False),
        ({"capacity": 39, "largest_cog": 36}, {"capacity": 39}, True),
        ({"capacity": 39}, {}, False), ({"capacity": 39}, {"cage_mm": 90.0}, False),
        ({"capacity": 39}, {"capacity": 39, "cage_mm": 90.0}, True),
        ({"capacity": 39, "cage_mm": 80.0}, {"capacity": 39, "cage_mm": 90.0}, False),
        ({"capacity": 39}, {"capacity": 39, "b_gap_mm": 5.0}, True), ({}, {"family": "x"}, False),
    ],
)  # fmt: skip
def test_derailleurs_as_a_setup_describes_them(
    part: dict[str, Any], wanted: dict[str, Any], goes: bool
) -> None:
    stock = drawer(rear_derailleurs=[part])
    assert (search.rear_derailleur(stock, RearDerailleur(**wanted)) is not None) is goes
    if "difference" not in part:
        front = drawer(front_derailleurs=[{"difference": 14}])
        assert search.front_derailleur(front, FrontDerailleur(difference=14)) is not None
        assert search.front_derailleur(front, FrontDerailleur(difference=16)) is None
        assert search.front_derailleur(front, FrontDerailleur()) is None


def test_small_parts_and_wheels() -> None:
    stock = drawer(
        small_parts=parts(
            {"kind": "rear shifter", "clicks": 10},
            {"kind": "wheel", "size": "40-622", "driver": "step", "smallest_cog": 11},
        )
    )
    assert name(search.small(stock, "rear shifter", clicks=10)) == "a"
    assert name(search.small(stock, "rear shifter", clicks=None, family="x")) == "a"
    assert search.small(stock, "rear shifter", clicks=9) is None
    assert search.small(stock, "front shifter") is None
    for size, rear, goes in (
        ("40-622", {}, True), ("32-622", {}, True), ("40-559", {}, False),
        ("40-622", {"driver": "step"}, True),
        ("40-622", {"driver": "spline"}, False), ("40-622", {"smallest_cog": 11}, True),
        ("40-622", {"smallest_cog": 10}, False),
    ):  # fmt: skip
        assert (search.wheel(stock, make((40,), (17, 19), size, rear=rear)) is not None) is goes
    assert search.wheel(stock, make((40,), (17, 19), rollout_mm=2100)) is not None


def test_belts_and_hubs() -> None:
    stock = drawer(
        belts=parts(
            {"teeth": 115, "pitch_mm": 11.0, "price": 9.0},
            {"teeth": 115, "pitch_mm": 8.0, "price": 5.0},
            {"teeth": 113, "pitch_mm": 11.0},
        ),
        hubs=parts({"ratios": [2.0, 1.0], "source": "x"}),
    )
    assert [name(search.belt(stock, 115, pitch)) for pitch in (11.0, 8.0, None, 9.0)] == ["a", "b", "b", None]
    assert {teeth: part.name for teeth, part in search.belts(stock, 11.0).items()} == {113: "c", 115: "a"}
    assert list(search.belts(stock, 11.0)) == [113, 115]
    assert name(search.hub(stock, (1.0, 2.0))) == "a"
    assert search.hub(stock, (1.0, 3.0)) is None


def test_one_piece_is_taken_out_of_a_bin() -> None:
    stock = drawer(
        cogs=parts({"teeth": 17, "count": 2}, {"teeth": 17, "count": 0}, {"teeth": 18, "count": 1})
    )
    fewer = search.without(stock, stock.cogs[0])
    assert [cog.count for cog in fewer.cogs] == [1, 0, 1]
    assert search.without(stock, stock.cogs[1]) is stock
    assert [cog.count for cog in search.without(fewer, stock.cogs[2]).cogs] == [1, 0, 0]
    assert search.without(stock, Part(name="x", count=3)) is stock


def test_a_bin_with_other_parts() -> None:
    stock = drawer(cogs=parts({"teeth": 17}, {"teeth": 18}, {"teeth": 19}))
    new = stock.cogs[0].model_copy(update={"name": "new"})
    assert [p.name for p in changed.with_part(stock, "cogs", new).cogs] == ["a", "b", "c", "new"]
    assert [p.name for p in changed.with_part(stock, "cogs", new, stock.cogs[1]).cogs] == ["a", "new", "c"]
    assert [p.name for p in changed.without_part(stock, "cogs", stock.cogs[1]).cogs] == ["a", "c"]
    assert [p.price for p in changed.priced(stock, stock.cogs[1], 7.0).cogs] == [None, 7.0, None]
    assert changed.kind_of(stock, stock.cogs[1]) == "cogs"
    assert changed.model_of("cogs") is type(stock.cogs[0])
    assert [p.name for p in Bin(name="x").parts] == []


@pytest.mark.parametrize(
    ("kind", "setup", "sense"),
    [
        (ChainPart, make((40,), (17,)), True), (BeltPart, make((40,), (17,)), False),
        (ChainPart, make((40,), (17,), belt={"teeth": 115}), False),
        (BeltPart, make((40,), (17,), belt={"teeth": 115}), True), (HubPart, make((40,), (17,)), True),
        (HubPart, make((40,), (17, 19)), False),
        (HubPart, make((40,), (17, 19), rear={"hub_ratios": [1.0, 1.5]}), True),
        (CogPart, make((40,), (17, 19)), True),
    ],
)  # fmt: skip
def test_kinds_of_parts_that_a_bike_has_any_use_for(kind: type[Part], setup: Setup, sense: bool) -> None:
    assert _makes_sense(kind, setup) is sense
