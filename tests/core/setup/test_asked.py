"""What is asked of a bike, and how answers are read: by hand, and for any setup by Hypothesis."""

from pathlib import Path

import pytest
from hypothesis import given as tried
from hypothesis import settings

from cogwright.core.common.errors import InputError
from cogwright.core.fit.check import Status
from cogwright.core.setup.intake import INTAKE, Asked, Several, asked_of, edit_of, facts, given, read, typed
from cogwright.core.setup.model import Setup
from cogwright.core.setup.unusual import cautions
from cogwright.core.study import study
from cogwright.store.documents import read_setup
from strategies import setups
from support import ROOT, make

BY_KEY = {asked.key: asked for asked in INTAKE}
TWO = make([30, 46], [11, 13, 15, 17, 19, 21, 24, 28])


def test_the_intake_asks_for_wheel_rings_cogs_clicks_stay_chain_limits_and_rider() -> None:
    tables = {key.partition(".")[0] for key in BY_KEY}
    assert tables >= {
        "wheel",
        "crank",
        "rear",
        "frame",
        "chain",
        "rear_derailleur",
        "front_derailleur",
        "rider",
    }
    assert {"rear.clicks", "frame.chainstay_mm", "chain.links", "rear_derailleur.capacity"} <= set(BY_KEY)
    assert all(asked.hint for asked in INTAKE)


@settings(max_examples=15)
@tried(setups)
def test_everything_that_a_file_can_say_is_asked_once(setup: Setup) -> None:
    keys = [asked.key for asked in asked_of(setup)]
    left_out = {asked.key for asked in INTAKE if not asked.applies(setup)}
    assert len(keys) == len(set(keys))
    assert set(keys) | left_out == {key for key, _ in facts(setup)}


@pytest.mark.long(cases=0)
@settings(max_examples=15)
@tried(setups)
def test_what_a_check_lacks_is_a_fact_that_can_be_given(setup: Setup) -> None:
    known = {key for key, _ in facts(setup)}
    for check in study(setup, None).fit:
        if check.status is Status.UNKNOWN:
            assert check.lacks, check
            assert set(check.lacks) <= known, check
        else:
            assert check.lacks == ()


@pytest.mark.long(cases=4)
@pytest.mark.parametrize("path", sorted((ROOT / "setups").glob("*.toml")), ids=lambda path: path.stem)
def test_what_stands_in_a_line_means_what_the_setup_says(path: Path) -> None:
    """Each answer that is left as it stands changes nothing."""
    setup = read_setup(path).value
    for asked in asked_of(setup):
        value = given(setup, asked.key)
        if value not in (None, ""):
            again = edit_of(asked, read(asked, typed(value)), setup.rear.carriers).apply(setup)
            assert again == setup, asked.key


@pytest.mark.parametrize("text", ["11 13 15", "11-13-15", "11,13,15", "11/13/15", "[11, 13, 15]", "15 13 11"])
def test_teeth_as_people_write_them(text: str) -> None:
    assert read(BY_KEY["rear.cogs"], text) == (11, 13, 15)
    assert read(BY_KEY["crank.rings"], text) == (11, 13, 15)


@pytest.mark.parametrize(
    ("text", "value"),
    [
        ("435", 435),
        ("435 mm", 435),
        ("435mm", 435),
        ("435.5", 435.5),
        ("435,5 mm", 435.5),
        ("?", None),
        ("", None),
    ],
)
def test_a_figure_with_or_without_its_unit(text: str, value: float | None) -> None:
    assert read(BY_KEY["frame.chainstay_mm"], text) == value


@pytest.mark.parametrize("text", ["yes", "y", "TRUE", "no", "N", "false"])
def test_yes_and_no(text: str) -> None:
    assert read(Asked("chain.half_link", "half link"), text) is (text[0].lower() in "yt")


@pytest.mark.parametrize("key", ["wheel.size", "crank.rings", "rear.cogs"])
def test_no_bike_is_worked_out_without_wheel_rings_and_cogs(key: str) -> None:
    with pytest.raises(InputError, match="no bike is worked out without it"):
        read(BY_KEY[key], "?")


@pytest.mark.parametrize("text", ["", "?", "unknown", "Unknown", "-"])
def test_unknown_is_an_answer_unless_nothing_can_be_worked_out_without(text: str) -> None:
    assert read(BY_KEY["chain.links"], text) is None
    with pytest.raises(InputError, match="40-622, 700x32C"):
        read(BY_KEY["wheel.size"], text)


def test_an_unknown_fact_of_the_rider_is_the_default_again() -> None:
    asked = BY_KEY["rider.mass_kg"]
    heavy = edit_of(asked, 95).apply(TWO)
    assert heavy.rider.mass_kg == 95
    assert edit_of(asked, None).apply(heavy).rider.mass_kg == TWO.rider.mass_kg


def test_a_tyre_that_can_be_several_is_asked_about() -> None:
    """28 inch is printed on 622 (28 x 1 5/8) and on 635 (28 x 1 1/2): the printed table of old names (A)."""
    found = read(BY_KEY["wheel.size"], '28"')
    assert isinstance(found, Several)
    assert {size.split("-")[1] for size in found.sizes} == {"622", "635"}


def test_one_ring_is_not_asked_for_its_front_derailleur() -> None:
    assert "front_derailleur.difference" in {asked.key for asked in asked_of(TWO)[: len(INTAKE)]}
    one = {asked.key for asked in asked_of(make([38], [11, 13]))}
    assert "front_derailleur.difference" not in one


def test_a_sprocket_of_uncommon_size_is_asked_about_where_it_stands() -> None:
    ring, cog = (cautions(make(rings, cogs)) for rings, cogs in (([42, 72], [11, 28]), ([42], [11, 62])))
    assert [one.key for one in ring] == ["crank.rings"]
    assert [one.key for one in cog] == ["rear.cogs"]
