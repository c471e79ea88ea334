"""Picking from the parts bin: what is offered, why a part does not fit, and what picking it does."""

from typing import Any

import pytest

from bikes import COGS, DRAWERS, bike, check, drawer
from cogwright.core.common.errors import EditRefused
from cogwright.core.fit.check import Status
from cogwright.core.parts.bin import Bin, CogPart
from cogwright.core.parts.which_fit import SprocketPlace, TriedPart, cassette_of, edit_for, try_parts
from cogwright.core.setup.history import History
from cogwright.core.setup.model import Setup
from cogwright.core.study import study
from cogwright.present.lines import Look, plain, width
from cogwright.present.panels.part_rows import part_lines, why_not
from cogwright.store.bins import read_bin
from cogwright.store.documents import read_setup
from support import long_cases, make

RING, COG = SprocketPlace("ring", 46), SprocketPlace("cog", 15)


def only(stock: Bin, setup: Setup, place: SprocketPlace) -> TriedPart:
    (pick,) = try_parts(stock, study(setup), place)
    return pick


@pytest.mark.parametrize(
    ("kind", "part", "place", "reason"),
    [
        (
            "rings",
            {"teeth": 48, "bolt_circle_mm": 104.0},
            RING,
            "bolt circle is 104 mm, the crank's 110",
        ),
        ("rings", {"teeth": 48, "bolt_circle_mm": 110.0, "bolts": 4}, RING, "it has 4 bolts, the crank 5"),
        (
            "rings",
            {"teeth": 52, "bolt_circle_mm": 110.0},
            RING,
            "the front derailleur takes 50",
        ),
        ("rings", {"teeth": 34, "bolt_circle_mm": 110.0}, RING, "there is a ring of 34 teeth already"),
        ("cogs", {"teeth": 16, "family": "narrow"}, COG, "it is spaced for narrow, the cassette for wide"),
        ("cogs", {"teeth": 26}, SprocketPlace("cog", 25), "25 is riveted to 23 and 28"),
        ("cassettes", {"cogs": [10, *COGS[1:]]}, COG, "a cog of 10 does not go on this driver"),
        ("cassettes", {"cogs": [11, 13, 45]}, COG, "45 teeth where the rear derailleur takes 36"),
        ("cassettes", {"cogs": [9, *COGS]}, COG, "12 cogs but 11 clicks"),
        ("cassettes", {"cogs": list(COGS), "family": "narrow"}, COG, "spacing families are mixed"),
        ("chains", {"links": 108, "outer_width_mm": 5.5}, COG, "4 links short"),
        ("chains", {"links": 118, "outer_width_mm": 7.1}, COG, "too wide"),
        ("rear_derailleurs", {"largest_cog": 28, "capacity": 39, "family": "wide"}, COG, "takes 28"),
    ],
)
def test_what_does_not_fit_says_why_and_can_be_picked(
    kind: str, part: dict[str, Any], place: SprocketPlace, reason: str
) -> None:
    pick = only(drawer(**{kind: [part]}), bike(), place)
    assert any(reason in said for said in pick.why_not), pick.why_not
    if "already" not in reason:
        assert pick.edit.apply(bike()) != bike()


@pytest.mark.parametrize(
    ("kind", "part", "place"),
    [
        ("rings", {"teeth": 48, "bolt_circle_mm": 110.0}, RING),
        ("rings", {"teeth": 48}, RING),
        ("cogs", {"teeth": 16}, COG),
        ("cogs", {"teeth": 16, "family": "wide"}, COG),
        ("cassettes", {"cogs": [*COGS[:-1], 36], "family": "wide"}, COG),
        ("carriers", {"cogs": [24, 26, 28]}, SprocketPlace("cog", 25)),
        ("chains", {"links": 118, "outer_width_mm": 5.5}, COG),
        ("front_derailleurs", {"largest_ring": 52, "difference": 18}, RING),
    ],
)
def test_what_fits_has_nothing_against_it(kind: str, part: dict[str, Any], place: SprocketPlace) -> None:
    roomy = bike(chain={"links": 114}, rear_derailleur={"capacity": 45}, front_derailleur={"difference": 18})
    assert only(drawer(**{kind: [part]}), roomy, place).why_not == ()


def test_a_problem_that_was_there_before_is_not_held_against_a_part() -> None:
    short = bike(rear_derailleur={"largest_cog": 30})
    assert only(drawer(cogs=[{"teeth": 16}]), short, COG).fits


@pytest.mark.parametrize(
    ("kind", "part", "changed", "reason"),
    [
        # P: a chain of 5.9 mm goes with 10 cogs, not with the 11 of this bike.
        ("chains", {"links": 118, "outer_width_mm": 5.9}, {"chain": {"outer_width_mm": 5.9}}, "too wide"),
        ("chains", {"links": 118, "outer_width_mm": 8.6}, {"chain": {"outer_width_mm": 5.9}}, "too wide"),
        ("small_parts", {"kind": "rear shifter", "clicks": 12}, {}, "1 click of wide too many"),
        (
            "rear_derailleurs",
            {"largest_cog": 30, "capacity": 39, "family": "wide"},
            {"rear_derailleur": {"largest_cog": 30}},
            "the rear derailleur takes 30",
        ),
        (
            "small_parts",
            {"kind": "rear shifter", "clicks": 10, "family": "wide"},
            {"rear": {"clicks": 10}},
            "10",
        ),
    ],
)
def test_a_whole_part_that_leaves_its_problem_as_it_was_does_not_fit(
    kind: str, part: dict[str, Any], changed: dict[str, Any], reason: str
) -> None:
    pick = only(drawer(**{kind: [part]}), bike(**changed), COG)
    assert any(reason in said for said in pick.why_not), pick.why_not


def test_one_ring_needs_no_front_derailleur() -> None:
    stock = drawer(front_derailleurs=[{"largest_ring": 44}])
    assert only(stock, bike((40,)), SprocketPlace("ring", 40)).why_not == (
        "one ring needs no front derailleur",
    )


def test_another_cassette_does_not_keep_the_spacing_of_the_one_before() -> None:
    # Nobody has said how the new cassette is spaced: the family check cannot pass on the old one's word.
    pitched = bike(rear={"cog_pitch_mm": 3.8})
    unknown = only(drawer(cassettes=[{"cogs": [11, 13, 15]}]), pitched, COG).edit.apply(pitched)
    assert (unknown.rear.family, unknown.rear.cog_pitch_mm) == (None, None)
    assert check(unknown, "spacing family").status is Status.UNKNOWN
    borrowed = cassette_of(bike(rear={"family": "narrow"}), study(pitched), COG)
    assert borrowed.edit.apply(pitched).rear.family == "narrow"
    assert any("spacing families are mixed" in said for said in borrowed.why_not)


def test_a_cassette_of_as_many_cogs_keeps_a_spacing_that_is_known() -> None:
    """Eleven cogs for eleven on the same bike: 3.8 mm still; one that says 3.9 brings its own."""
    pitched = bike(rear={"cog_pitch_mm": 3.8})
    cogs = [11, 13, 15, 17, 19, 21, 24, 27, 30, 33, 36]
    kept = only(drawer(cassettes=[{"cogs": cogs}]), pitched, COG).edit.apply(pitched)
    assert kept.rear.cog_pitch_mm == 3.8
    own = only(drawer(cassettes=[{"cogs": cogs, "cog_pitch_mm": 3.9}]), pitched, COG).edit.apply(pitched)
    assert own.rear.cog_pitch_mm == 3.9


def test_a_cassette_is_judged_by_the_driver_that_it_is_made_for() -> None:
    """The bike as it would be with it: a cassette for another driver does not go on."""
    plain = bike(rear={"driver": "plain", "cassette_driver": "plain"})
    cogs = [11, 13, 15, 17, 19, 21, 23, 25, 28, 31, 34]
    other = only(drawer(cassettes=[{"cogs": cogs, "driver": "stepped", "family": "wide"}]), plain, COG)
    assert any("the cassette is for stepped, the driver is plain" in said for said in other.why_not)
    assert other.edit.apply(plain).rear.cassette_driver == "stepped"
    same = only(drawer(cassettes=[{"cogs": cogs, "driver": "plain", "family": "wide"}]), plain, COG)
    assert same.fits


def test_a_single_ring_brings_the_teeth_that_keep_the_chain_on() -> None:
    base = bike((40,), front_derailleur={"largest_ring": None, "difference": None})
    tall = {"teeth": 38, "bolt_circle_mm": 110.0, "retaining_teeth": True}
    tried = only(drawer(rings=[tall]), base, SprocketPlace("ring", 40))
    assert tried.edit.apply(base).crank.retaining_teeth is True
    assert check(tried.edit.apply(base), "chain retention").status is Status.OK
    double = bike((34, 46))
    beside = only(drawer(rings=[{**tall, "teeth": 36}]), double, SprocketPlace("ring", 34))
    assert beside.edit.apply(double).crank.retaining_teeth is None


def test_picking_a_cassette_is_one_step_of_undo() -> None:
    stock = drawer(cassettes=[{"cogs": [11, 13, 15], "carriers": [[13, 15]], "family": "narrow"}])
    history = History(bike()).do(only(stock, bike(), COG).edit)
    assert history.now.rear.cogs == (11, 13, 15)
    assert history.now.rear.carriers == ((13, 15),)
    assert history.now.rear.family == "narrow"
    assert history.undo().now == bike()


def test_picking_a_chain_cuts_it_to_length() -> None:
    stock = drawer(chains=[{"links": 124, "outer_width_mm": 5.6}])
    changed = only(stock, bike(chain={"links": 100}), COG).edit.apply(bike(chain={"links": 100}))
    assert (changed.chain.links, changed.chain.outer_width_mm) == (112, 5.6)
    assert study(changed).chain.short_by == 0


def test_picking_a_carrier_takes_the_old_one_off_whole() -> None:
    stock = drawer(carriers=[{"cogs": [22, 26, 29]}])
    changed = only(stock, bike(), SprocketPlace("cog", 25)).edit.apply(bike())
    assert changed.rear.cogs == (11, 13, 15, 17, 19, 21, 22, 26, 29, 31, 34)
    assert changed.rear.carriers == ((31, 34), (22, 26, 29))


def test_a_carrier_out_of_reach_takes_the_place_of_the_chosen_one() -> None:
    stock = drawer(carriers=[{"cogs": [38, 42]}])
    changed = only(stock, bike(), SprocketPlace("cog", 34)).edit.apply(bike())
    assert changed.rear.cogs == (*COGS[:-2], 38, 42)
    assert changed.rear.carriers == ((23, 25, 28), (38, 42))


@pytest.mark.long(cases=1)
@pytest.mark.parametrize(
    "name", long_cases(sorted(path.name for path in (DRAWERS.parents[1]).glob("*.toml")), 3)
)
def test_whatever_is_picked_the_bench_stays_a_valid_setup(name: str) -> None:
    stock, setup = read_bin(DRAWERS).value, read_setup(DRAWERS.parents[1] / name).value
    places = [SprocketPlace("ring", n) for n in setup.crank.rings] + [
        SprocketPlace("cog", n) for n in setup.rear.cogs[::3]
    ]
    for place in places:
        found = try_parts(stock, study(setup), place)
        assert len(found) == len({id(pick.part) for pick in found})
        for pick in found:
            try:
                changed = pick.edit.apply(setup)
            except EditRefused:
                assert pick.why_not
            else:
                assert Setup.model_validate(changed.model_dump()) == changed


def test_another_derailleur_leaves_no_limit_of_the_old_one() -> None:
    stock = drawer(rear_derailleurs=[{"largest_cog": 40}])
    changed = only(stock, bike(), COG).edit.apply(bike())
    assert changed.rear_derailleur.model_dump(exclude_none=True) == {"largest_cog": 40}


def test_adding_beside_instead_of_swapping() -> None:
    stock = drawer(cogs=[{"teeth": 36}])
    pick = only(stock, bike(), SprocketPlace("cog", 34, add=True))
    assert pick.edit.apply(bike()).rear.cogs == (*COGS, 36)
    assert any("12 cogs but 11 clicks" in said for said in pick.why_not)


def test_what_fits_and_lies_there_comes_first() -> None:
    stock = drawer(cogs=[{"name": "order", "teeth": 16}, {"name": "there", "teeth": 18, "count": 1}],
                   cassettes=[{"name": "small", "cogs": [10, 20]}])  # fmt: skip
    assert [p.part.name for p in try_parts(stock, study(bike()), COG)] == ["there", "order", "small"]


def test_rings_offer_rings_and_cogs_offer_cogs() -> None:
    stock = read_bin(DRAWERS).value
    found = study(make((28, 42), (11, 13, 15, 17, 30)))
    rings = {type(p.part).__name__ for p in try_parts(stock, found, SprocketPlace("ring", 42))}
    cogs = {type(p.part).__name__ for p in try_parts(stock, found, SprocketPlace("cog", 15))}
    assert "RingPart" in rings - cogs
    assert {"CogPart", "CarrierPart", "CassettePart", "SmallPart"} <= cogs - rings


@pytest.mark.long(cases=1)
@pytest.mark.parametrize("room", [30, 40, 80, 120])
def test_rows_fit_their_room(room: int) -> None:
    stock = read_bin(DRAWERS).value
    found = try_parts(stock, study(bike()), COG)
    lines = part_lines(found, stock.currency, Look(room))
    assert max(map(width, lines)) <= room
    assert all(why_not(pick).startswith(pick.part.name) for pick in found)
    if room >= 80:
        assert any("fits" in plain(row) for row in lines)
        assert any("order, 5 days" in plain(row) for row in lines)


def test_a_wide_row_says_the_mass_too() -> None:
    stock = drawer(cogs=[{"teeth": 16, "mass_g": 18.0, "price": 4.5, "count": 2}])
    found = try_parts(stock, study(bike()), COG)
    narrow, wide = (plain(part_lines(found, "EUR", Look(width))[0]) for width in (80, 120))
    assert "18 g" in wide
    assert "18 g" not in narrow
    assert wide.split()[-1] == narrow.split()[-1] == "fits"


@pytest.mark.parametrize(("teeth", "gone"), [(16, 15), (18, 17), (20, 19), (14, 13)])
def test_a_cog_picked_from_a_ring_takes_the_place_of_the_nearest(teeth: int, gone: int) -> None:
    """Of two equally near ones the smaller goes; cogs 11, 13, 15, 17, 19, 21."""
    bench = make((34, 46), (11, 13, 15, 17, 19, 21))
    after = edit_for(CogPart(name="cog", teeth=teeth), bench, RING).apply(bench)
    assert set(bench.rear.cogs) - set(after.rear.cogs) == {gone}
    assert set(after.rear.cogs) - set(bench.rear.cogs) == {teeth}
