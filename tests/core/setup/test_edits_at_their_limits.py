"""Edits, undo, renewed parts, ring places and typed teeth, at their limits and by hand."""

from typing import Any

import pytest

from cogwright.core.common.errors import EditRefused, InputError
from cogwright.core.parts.bin import Bin
from cogwright.core.riding.course_file import CourseFile
from cogwright.core.riding.rider_fields import RIDER_FIELDS
from cogwright.core.setup.differences import differences, known_to_differ
from cogwright.core.setup.drivetrain import Crank
from cogwright.core.setup.edits import (
    AddSprocket,
    Become,
    RemoveSprocket,
    ReplaceCassette,
    SetField,
    SetSprockets,
    SetTeeth,
    Together,
    dump,
)
from cogwright.core.setup.history import History
from cogwright.core.setup.intake import (
    INTAKE,
    Several,
    asked_of,
    edit_of,
    facts,
    given,
    read,
    said,
    suggested,
    textual,
    typed,
)
from cogwright.core.setup.model import Chain, RearDerailleur, Rider, Setup
from cogwright.core.setup.renewed import (
    FitCassette,
    FitChain,
    FitRings,
    cassette_renewed,
    chain_renewed,
    rings_renewed,
)
from cogwright.core.setup.ring_places import places, with_rings
from cogwright.core.setup.sprockets import next_teeth, riveted_with
from cogwright.core.setup.teeth_lists import CassetteRange, cassette_in, fits_range, fitting, teeth_in
from cogwright.core.setup.unusual import is_unusual
from support import make

BIKE = make((30, 46), (11, 15, 21, 28), rear={"carriers": [[21, 28]]})
ASKED = {asked.key: asked for asked in INTAKE}


@pytest.mark.parametrize(
    ("edit", "why"),
    [
        (SetTeeth("cog", 12, 13), "there is no cog of 12 teeth"),
        (SetTeeth("ring", 30, 5), "a ring has 6 to 130 teeth, not 5"),
        (SetTeeth("ring", 46, 131), "not 131"),
        (SetTeeth("cog", 11, 15), "there is a cog of 15 teeth already"),
        (AddSprocket("ring", 30), "there is a ring of 30 teeth already"),
        (RemoveSprocket("ring", 31), "there is no ring of 31 teeth"),
        (SetSprockets("cog", ()), "the last cog stays"),
        (SetSprockets("cog", tuple(range(10, 41))), "30 cogs are the most"),
        (ReplaceCassette(()), "the last cog stays"),
        (ReplaceCassette((5, 11)), "not 5"),
        (ReplaceCassette((11, 11)), "already"),
        (SetField("chain.colour", 1), "there is no chain.colour"),
        (SetField("chain.links", 19), "chain.links"),
    ],
)
def test_edits_that_leave_no_bike_are_refused(edit: Any, why: str) -> None:
    with pytest.raises(EditRefused, match=why):
        edit.apply(BIKE)


@pytest.mark.parametrize(
    ("edit", "says", "rings", "cogs"),
    [
        (SetTeeth("ring", 30, 6), "ring 30 to 6", (6, 46), BIKE.rear.cogs),
        (SetTeeth("ring", 30, 130), "ring 30 to 130", (46, 130), BIKE.rear.cogs),
        (AddSprocket("cog", 13), "add cog 13", (30, 46), (11, 13, 15, 21, 28)),
        (RemoveSprocket("ring", 30), "remove ring 30", (46,), BIKE.rear.cogs),
        (SetSprockets("cog", tuple(range(40, 10, -1))), f"cogs {' '.join(map(str, range(11, 41)))}", (30,
         46), tuple(range(11, 41))),
        (ReplaceCassette((28, 12)), "cassette 12-28, 2 cogs", (30, 46), (12, 28)),
        (FitCassette((28, 12, 14)), "cassette 12-28, 3 cogs", (30, 46), (12, 14, 28)),
        (Together((AddSprocket("cog", 13), RemoveSprocket("cog", 11)), "both"), "both", (30, 46),
        (13, 15, 21, 28)),
        (Become(make((20,), (10,)), "other"), "other", (20,), (10,)),
        (FitChain(Chain(links=100)), "a new chain", (30, 46), BIKE.rear.cogs),
        (FitRings(), "new rings", (30, 46), BIKE.rear.cogs),
        (SetField("chain.links", 100), "chain.links 100", (30, 46), BIKE.rear.cogs),
        (SetField("chain.links", None), "chain.links taken out", (30, 46), BIKE.rear.cogs),
    ],
)  # fmt: skip
def test_edits_and_what_they_say(edit: Any, says: str, rings: tuple[int, ...], cogs: tuple[int, ...]) -> None:
    now = edit.apply(BIKE)
    assert (edit.say(), now.crank.rings, now.rear.cogs) == (says, rings, cogs)


def test_a_carrier_goes_with_its_last_cog_only() -> None:
    some = SetSprockets("cog", (11, 15, 21)).apply(BIKE)
    assert some.rear.carriers == ((21, 28),)
    assert SetSprockets("cog", (11, 15)).apply(BIKE).rear.carriers == ()
    assert ReplaceCassette((11, 21, 28), ((21, 28),)).apply(BIKE).rear.carriers == ((21, 28),)
    assert riveted_with(BIKE, 21) == (28,)
    assert riveted_with(BIKE, 11) == ()
    assert dump(Chain(links=100)) == {"links": 100}


def test_next_teeth_pass_over_those_taken_and_end_at_the_ends() -> None:
    bike = make((6, 8, 129), (11,))
    assert next_teeth(bike, "ring", 8, up=False) == 7
    assert next_teeth(bike, "ring", 7, up=False) is None
    assert next_teeth(bike, "ring", 7, up=True) == 9
    assert next_teeth(bike, "ring", 9, up=True) == 10
    assert next_teeth(bike, "ring", 10, up=False) == 9
    assert next_teeth(bike, "ring", 128, up=True) == 130
    assert next_teeth(bike, "ring", 130, up=True) is None


def test_undo_and_redo_by_hand() -> None:
    history = History(BIKE)
    assert history.first == history.undo().now == history.redo().now == BIKE
    one = history.do(AddSprocket("cog", 13))
    two = one.do(AddSprocket("cog", 17))
    assert [past.edit for past in two.past] == ["add cog 13", "add cog 17"]
    assert two.first == BIKE
    assert two.undo().now == one.now
    assert two.undo().undo().now == BIKE
    assert [future.edit for future in two.undo().undo().future] == ["add cog 13", "add cog 17"]
    assert two.undo().undo().redo().now == one.now
    assert two.undo().redo() == two
    assert two.undo().do(AddSprocket("cog", 19)).future == ()
    assert two.become(two.now, "nothing") is two


def worn(**wear: Any) -> Setup:
    return make((30, 46), (11, 15, 21, 28), wear=wear)


@pytest.mark.parametrize(
    ("before", "now", "renewed"),
    [
        ({"chain_pct": 0.5}, {"chain_pct": 0.4}, True), ({"chain_pct": 0.5}, {"chain_pct": 0.5}, False),
        ({"chain_pct": 0.5}, {"chain_pct": 0.6}, False), ({}, {"chain_pct": 0.4}, False),
        ({"chain_km": 9.0}, {"chain_km": 8.0}, True), ({"chain_km": 9.0}, {"chain_km": 9.0}, False),
        ({"chain_km": 9.0}, {}, False), ({}, {"chain_km": 0.0}, False),
        ({"chain_pct": 0.5}, {"chain_km": 0.0}, True), ({"chain_pct": 0.5}, {"chain_km": 1.0}, False),
        ({"chain_km": 0.0}, {"chain_km": 0.0}, False), ({}, {}, False),
    ],
)  # fmt: skip
def test_a_chain_is_another_one_when_it_is_shorter_or_has_run_less(
    before: dict[str, float], now: dict[str, float], renewed: bool
) -> None:
    assert chain_renewed(worn(**before), worn(**now)) is renewed


@pytest.mark.parametrize(
    ("before", "now", "renewed"),
    [
        ({"km": 9.0}, {"km": 8.0}, True), ({"km": 9.0}, {"km": 9.0}, False), ({"km": 9.0}, {}, False),
        ({"state": "worn"}, {"state": "new"}, True), ({"state": "new"}, {"state": "new"}, False),
        ({"km": 9.0}, {"km": 9.0, "state": "new"}, True), ({}, {"state": "new"}, False),
        ({}, {"km": 0.0}, False),
    ],
)  # fmt: skip
def test_cassette_and_rings_are_new_when_said_so_or_run_less(
    before: dict[str, Any], now: dict[str, Any], renewed: bool
) -> None:
    for part, judge in (("cassette", cassette_renewed), ("rings", rings_renewed)):
        was, is_now = (worn(**{f"{part}_{key}": v for key, v in of.items()}) for of in (before, now))
        assert judge(was, is_now) is renewed


def test_what_a_new_part_forgets() -> None:
    """A new chain keeps how far the old one wore the cogs; a new cassette forgets that."""
    old = worn(
        chain_pct=0.6, chain_km=900.0, changed_at_pct=0.4, cassette_km=5.0, rings_state="worn", rings_km=7.0
    )
    chain = FitChain(Chain(links=90)).apply(old)
    assert (chain.chain.links, chain.wear.chain_km, chain.wear.stretch_pct, chain.wear.changed_at_pct) == (
        90,
        0.0,
        None,
        0.6,
    )
    assert chain.wear.rings_km == 7.0
    cassette = FitCassette((11, 12)).apply(old)
    assert (cassette.wear.cassette_state, cassette.wear.cassette_km, cassette.wear.changed_at_pct) == (
        "new",
        None,
        None,
    )
    assert cassette.wear.chain_pct == 0.6
    rings = FitRings().apply(old)
    assert (rings.wear.rings_state, rings.wear.rings_km) == ("new", None)
    for edit in (FitRings(), FitCassette(BIKE.rear.cogs), FitChain(Chain())):
        assert edit.apply(worn()).wear == worn().wear
    assert FitCassette((11, 12)).apply(worn(chain_pct=0.2)).wear.cassette_state == "new"


@pytest.mark.parametrize(
    ("crank", "rings", "chainline", "spacing"),
    [
        # 41 and 49 mm out: alone each stands where it stood
        ({"rings": (28, 42), "chainline_mm": 45.0, "ring_spacing_mm": 8.0}, (42,), 49.0, 8.0),
        ({"rings": (28, 42), "chainline_mm": 45.0, "ring_spacing_mm": 8.0}, (28,), 41.0, 8.0),
        ({"rings": (28, 42), "chainline_mm": 45.0, "ring_spacing_mm": 8.0}, (36,), 49.0, 8.0),
        ({"rings": (28, 42), "chainline_mm": 45.0, "ring_spacing_mm": 8.0}, (34,), 41.0, 8.0),
        ({"rings": (28, 42), "chainline_mm": 45.0}, (42,), 48.75, None),
        # a ring of its own circle inside is no place for another
        ({"rings": (28, 42), "chainline_mm": 45.0, "ring_spacing_mm": 8.0, "inner_bolt_circle_mm": 74.0},
         (30,), 49.0, 8.0),
        ({"rings": (28, 42), "chainline_mm": 45.0, "ring_spacing_mm": 8.0, "inner_bolt_circle_mm": 74.0},
         (28,), 41.0, 8.0),
        # three of them, 8 and 7 mm apart: 40, 48 and 55 mm out
        ({"rings": (22, 32, 44), "chainline_mm": 47.5, "ring_spacing_mm": (8.0, 7.0)}, (32, 44), 51.5, 7.0),
        ({"rings": (22, 32, 44), "chainline_mm": 47.5, "ring_spacing_mm": (8.0, 7.0)}, (22, 32), 44.0, 8.0),
        ({"rings": (22, 32, 44), "chainline_mm": 47.5, "ring_spacing_mm": (8.0, 7.0)}, (22, 44), 47.5, 15.0),
        ({"rings": (22, 32, 44), "chainline_mm": 47.5, "ring_spacing_mm": (8.0, 7.0),
         "inner_bolt_circle_mm": 64.0},
         (30, 42), 51.5, 7.0),
        # beside the others: inside the smallest, outside the largest
        ({"rings": (42,), "chainline_mm": 45.0, "ring_spacing_mm": 8.0}, (30, 42), 41.0, 8.0),
        ({"rings": (42,), "chainline_mm": 45.0, "ring_spacing_mm": 8.0}, (42, 50), 49.0, 8.0),
        ({"rings": (42,), "chainline_mm": 45.0, "ring_spacing_mm": 8.0}, (30, 42, 50), 45.0, 8.0),
        ({"rings": (32, 42), "chainline_mm": 45.0, "ring_spacing_mm": (8.0,)}, (22, 32, 42), 41.0, 8.0),
        # between them, other ones altogether, unknown
        ({"rings": (32, 42), "chainline_mm": 45.0, "ring_spacing_mm": 8.0}, (32, 36, 42), 45.0, 8.0),
        ({"rings": (42,), "chainline_mm": 45.0, "ring_spacing_mm": 8.0}, (30, 44), 45.0, 8.0),
        ({"rings": (32, 42), "ring_spacing_mm": 8.0}, (42,), None, 8.0),
        ({"rings": (32, 42), "chainline_mm": 45.0, "ring_spacing_mm": 8.0}, (30, 44), 45.0, 8.0),
    ],
)  # fmt: skip
def test_rings_that_stay_keep_their_places(
    crank: dict[str, Any], rings: tuple[int, ...], chainline: float | None, spacing: Any
) -> None:
    now = with_rings(Crank(**crank), rings)
    assert (now.rings, now.chainline_mm, now.ring_spacing_mm) == (rings, chainline, spacing)


def test_gaps_that_differ_stay_a_list() -> None:
    three = Crank(rings=(22, 32, 44), chainline_mm=47.5, ring_spacing_mm=(8.0, 7.0))
    four = with_rings(three, (12, 22, 32, 44))
    assert four.ring_spacing_mm == (8.0, 8.0, 7.0)
    assert places(four.chainline_mm or 0.0, four.ring_spacing_mm) == pytest.approx([32.0, 40.0, 48.0, 55.0])


@pytest.mark.parametrize(
    ("text", "teeth"),
    [
        ("6 130", (6, 130)),
        (" ".join(map(str, range(10, 40))), tuple(range(10, 40))),
        ("(28t)", (28,)),
        ("13;11", (11, 13)),
    ],
)
def test_typed_teeth(text: str, teeth: tuple[int, ...]) -> None:
    assert teeth_in(text) == teeth


@pytest.mark.parametrize(
    ("text", "why"),
    [
        ("5", "5 is not a number of teeth, 6 to 130"), ("131", "131 is not"), ("", "no tooth count"),
        ("[]", "no tooth count"),
        ("11 11", "11 teeth stand there more than once"),
        (" ".join(map(str, range(10, 41))), "31 tooth counts are too many"),
        ("11 x", "'x' is not a number of teeth"), ("1" * 30, "1111111111111111111~ is not"),
        ("1 " * 201, "the list is too long"),
    ],
)  # fmt: skip
def test_what_are_no_teeth(text: str, why: str) -> None:
    with pytest.raises(InputError, match=why):
        teeth_in(text)


@pytest.mark.parametrize(
    ("text", "found"),
    [
        ("11-32", CassetteRange(11, 32)), ("11-32, 2", CassetteRange(11, 32, 2)),
        ("11-40 x 30", CassetteRange(11, 40, 30)),
        ("11-20, 10", CassetteRange(11, 20, 10)), ("11-32 10sp", CassetteRange(11, 32, 10)),
    ],
)  # fmt: skip
def test_ranges_of_cassettes(text: str, found: CassetteRange) -> None:
    assert cassette_in(text) == found


@pytest.mark.parametrize("text", ["11-32, 1", "11-20, 11", "11-60, 31", "11-11", "11-32, 99999999999999"])
def test_ranges_that_no_cassette_has(text: str) -> None:
    with pytest.raises(InputError):
        cassette_in(text)


def test_cassettes_that_a_range_can_mean() -> None:
    class Has:
        def __init__(self, *cogs: int) -> None:
            self.cogs = cogs

    some = Has(11, 20, 32), Has(11, 32), Has(11, 34), Has(12, 32)
    assert fitting(CassetteRange(11, 32), some) == some[:2]
    assert fitting(CassetteRange(11, 32, 2), some) == some[1:2]
    assert not fits_range(CassetteRange(11, 32), ())


def test_differences_in_the_trades_words() -> None:
    now = make((30, 48), (11, 15, 17, 30), chain={"links": 112}, rear={"clicks": 4})
    assert differences(make((30, 46), (11, 15, 21, 28), chain={"links": 110}), now) == (
        "ring 46 to 48",
        "cogs 21 28 to 17 30",
        "rear.clicks: 4, not given before",
        "chain.links: 112, was 110",
    )
    fewer = make((30,), (11, 15, 17, 30))
    assert differences(now, fewer) == (
        "rings: 48 gone",
        "rear.clicks: taken out, was 4",
        "chain.links: taken out, was 112",
    )
    assert differences(fewer, make((30, 48), (11, 16, 17))) == ("rings: 48 new", "cogs: 15 30 gone, 16 new")
    assert differences(now, now) == ()
    assert differences(now, now.model_copy(update={"notes": "x", "name": "y"})) == (
        "name: y, was Test bike",
        "notes: changed",
    )
    one, other = RearDerailleur(capacity=39, family="a"), RearDerailleur(capacity=39, family="b")
    assert known_to_differ(one, other, "family")
    assert not known_to_differ(one, other, "capacity", "largest_cog")
    assert not known_to_differ(one, RearDerailleur(), "family")


def test_what_is_asked_of_a_bike() -> None:
    keys = [asked.key for asked in asked_of(BIKE, ("limits.jump_pct",))]
    assert keys[0] == "limits.jump_pct"
    assert keys[1:4] == ["name", "wheel.size", "crank.rings"]
    assert len(keys) == len(set(keys))
    assert not {"format", "log"} & set(keys)
    assert "rear_derailleur.capacity" in keys
    assert "front_derailleur.difference" in keys
    assert {key for key, _ in facts(BIKE)} == set(keys)
    plain = {asked.key: asked.kind for asked in asked_of(BIKE)}
    assert (plain["notes"], plain["rear.family"], plain["limits.jump_pct"]) == ("text", "text", "figure")
    assert textual(str | None)
    assert not textual(int | None)


def test_what_is_suggested() -> None:
    assert suggested(ASKED["rear.clicks"], BIKE) == "4"
    assert suggested(ASKED["rear.clicks"], make((40,), (17,))) == ""
    assert suggested(ASKED["rear.clicks"], make((40,), (17, 19), rear={"clicks": 9})) == "9"
    assert suggested(ASKED["crank.length_mm"], BIKE) == "170"
    assert suggested(ASKED["crank.rings"], BIKE) == "30 46"
    assert suggested(ASKED["chain.links"], BIKE) == ""


def test_what_is_shown_of_a_fact() -> None:
    assert said(ASKED["crank.rings"], (30,)) == "30"
    assert said(ASKED["crank.rings"], (30, 46)) == "30 46"
    assert said(ASKED["wheel.size"], "40-621") == "40-621"
    assert (typed((30,)), typed((1, "a")), typed((1, 2.5))) == ("[30]", "[1, a]", "1 2.5")
    assert given(BIKE, "rear.carriers") == ((21, 28),)


@pytest.mark.parametrize(
    ("key", "text", "value"),
    [
        ("chain.links", "112", 112), ("chain.links", "112 links", 112),
        ("frame.chainstay_mm", "435.0", 435.0),
        ("rider.mass_kg", "7e1", 70.0), ("chain.links", "N/A", None), ("chain.links", "many", "many"),
        ("rear.clicks", "yes", True), ("rear.clicks", "NO", False), ("rear.clicks", "[4]", (4,)),
        ("rear.clicks", "4, 5", (4, 5)), ("rear.clicks", "4 5.5; 6", (4, 5.5, 6)),
        ("rear.clicks", "[[21, 28], [15, 17]]", ((21, 28), (15, 17))),
        ("rear.clicks", "21 28],[15 17", ((21, 28), (15, 17))),
        ("rear.clicks", "[[1]]", "[[1]]"), ("name", " Yard ", "Yard"), ("rear.cogs", "11 13", (11, 13)),
        ("rear.cogs", "11-32", Several(cassette=CassetteRange(11, 32))), ("crank.rings", "46 30", (30, 46)),
    ],
)  # fmt: skip
def test_what_is_typed_is_read_as_what_it_is(key: str, text: str, value: object) -> None:
    found = read(ASKED[key], text)
    assert found == value
    assert type(found) is type(value)


def test_what_a_bike_cannot_be_without_stays_known() -> None:
    with pytest.raises(InputError, match="no bike is worked out without it"):
        read(ASKED["name"], "?")
    notes = next(asked for asked in asked_of(BIKE) if asked.key == "notes")
    assert read(notes, "") == ""


def test_edits_of_facts() -> None:
    assert edit_of(ASKED["rear.cogs"], (11, 21, 28), ((21, 28),)) == ReplaceCassette(
        (11, 21, 28), ((21, 28),)
    )
    assert edit_of(ASKED["crank.rings"], (30,)) == SetSprockets("ring", (30,))
    assert edit_of(ASKED["chain.links"], 9) == SetField("chain.links", 9)
    assert edit_of(ASKED["rider.mass_kg"], None) == SetField("rider.mass_kg", 72.0)


def test_a_field_of_the_rider_moves_by_its_step_both_ways() -> None:
    steps = {
        "rider": 1.0, "bike": 0.5, "load": 1.0, "sustained power": 5.0, "short effort": 5.0,
        "short effort lasts": 10.0,
        "low cadence": 1.0, "preferred cadence": 1.0, "high cadence": 1.0, "low cadence, standing": 1.0,
        "gets off under": 1.0,
        "walking pace": 0.5, "downhill at most": 5.0, "position: drag area": 0.01,
        "tyres and surface: rolling": 0.0005,
        "headwind (- from behind)": 5.0, "height of the road": 100.0, "temperature": 1.0,
        "drive efficiency": 0.005,
    }  # fmt: skip
    start = BIKE.model_copy(
        update={
            "rider": BIKE.rider.model_copy(update={"load_kg": 9.0, "crr": 0.0055, "least_cadence_rpm": 50.0})
        }
    )
    for field in RIDER_FIELDS:
        if field.switch:
            continue
        now = field.value(start)
        up, down = (field.value(field.nudge(start, up).apply(start)) for up in (True, False))
        assert (up, down) == pytest.approx(
            (now + steps[field.label], now - steps[field.label]), abs=0.51 * 10.0**-field.digits
        )
        assert up > now > down
        assert field.value(field.edit(start, now).apply(start)) == now
    assert len(steps) == len(RIDER_FIELDS) - 1


def test_fields_of_the_rider_are_moved_to_whole_ones_or_to_their_digits() -> None:
    digits = {
        1: {"rider", "bike", "load", "walking pace"}, 3: {"position: drag area", "drive efficiency"},
        4: {"tyres and surface: rolling"},
    }  # fmt: skip
    for field in RIDER_FIELDS:
        wanted = next((many for many, labels in digits.items() if field.label in labels), 0)
        assert field.digits == wanted, field.label
    odd = BIKE.model_copy(
        update={"rider": BIKE.rider.model_copy(update={"short_s": 65.44, "mass_kg": 70.44})}
    )
    by = {field.label: field for field in RIDER_FIELDS}
    assert by["short effort lasts"].nudge(odd, True).apply(odd).rider.short_s == 75.0
    assert by["rider"].nudge(odd, True).apply(odd).rider.mass_kg == 71.4


@pytest.mark.parametrize(
    ("facts", "taken"),
    [
        ({"least_cadence_rpm": 60.0}, True), ({"least_cadence_rpm": 60.1}, False),
        ({"short_power_w": 190.0}, True),
        ({"short_power_w": 189.9}, False), ({"cadence_rpm": (60.0, 60.0, 105.0)}, False),
        ({"cadence_rpm": (60.0, 85.0, 85.0)}, False),
    ],
)  # fmt: skip
def test_a_riders_efforts_stand_in_their_order(facts: dict[str, Any], taken: bool) -> None:
    if taken:
        assert Rider(**facts).power_w == 190.0
        return
    with pytest.raises(ValueError, match=r"cadence|power"):
        Rider(**facts)


def test_long_values_are_cut_and_formats_are_1() -> None:
    long = BIKE.model_copy(update={"name": "x" * 41})
    assert differences(BIKE, long) == (f"name: {'x' * 39}~, was Test bike",)
    assert differences(BIKE, BIKE.model_copy(update={"name": "x" * 40})) == (
        f"name: {'x' * 40}, was Test bike",
    )
    course = CourseFile(name="x", points=((0.0, 0.0), (9.0, 0.0)))
    assert (BIKE.format, course.format, Bin(name="x").format) == (1, 1, 1)


def test_a_switch_of_the_rider_is_on_or_off() -> None:
    switch = next(field for field in RIDER_FIELDS if field.switch)
    on = switch.nudge(BIKE, True)
    assert on.say() == "descents hold the high cadence"
    assert on.apply(BIKE).rider.hold_descents is True
    assert switch.nudge(BIKE, False).apply(BIKE).rider.hold_descents is False
    assert switch.nudge(on.apply(BIKE), True).apply(BIKE).rider.hold_descents is True
    assert (switch.given(BIKE), switch.default) == (0.0, 0.0)


def test_what_a_field_of_the_rider_says() -> None:
    by = {field.label: field for field in RIDER_FIELDS}
    mass, high, drag = by["rider"], by["high cadence"], by["position: drag area"]
    assert (mass.given(BIKE), mass.default, mass.value(BIKE)) == (72.0, 72.0, 72.0)
    assert (high.given(BIKE), high.default, high.index) == (105.0, 105.0, 2)
    assert high.edit(BIKE, 110.0).apply(BIKE).rider.cadence_rpm == (60.0, 85.0, 110.0)
    assert high.edit(BIKE, 110.0).say() == "high cadence 110 rpm"
    briefly = by["short effort"]
    assert (briefly.given(BIKE), briefly.default, briefly.value(BIKE)) == (None, None, pytest.approx(266.0))
    assert by["temperature"].value(BIKE) == pytest.approx(15.0)
    usual = drag.usual_now(BIKE)
    assert usual is not None
    assert usual.label == "touring, hands on the tops"
    assert drag.usual_now(drag.edit(BIKE, 0.41).apply(BIKE)) is None
    assert [(one.value, one.label.split(",")[0]) for one in drag.usual] == [
        (0.632, "upright"),
        (0.4, "touring"),
        (0.317, "racing crouch"),
    ]
    assert [one.value for one in by["tyres and surface: rolling"].usual] == [
        0.004,
        0.006,
        0.008,
        0.012,
        0.020,
    ]


def test_more_teeth_than_such_are_made_with() -> None:
    """Rings of up to 70 and cogs of up to 60 teeth are made, larger ones hardly (P)."""
    assert [is_unusual("ring", teeth) for teeth in (70, 71)] == [False, True]
    assert [is_unusual("cog", teeth) for teeth in (60, 61)] == [False, True]
