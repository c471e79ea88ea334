"""What candidates are called and told of, by hand."""

import pytest

from bikes import bike, drawer
from cogwright.core.comparing.columns import FitTally, baseline_column, column_of, side_by_side
from cogwright.core.comparing.naming import candidate_names, changed_name, short_name, what_differs
from cogwright.core.comparing.story import _edits, story_of
from cogwright.core.fit.check import Status
from cogwright.core.setup.edits import SetField
from cogwright.core.setup.model import Setup
from support import make

BASE = make((30, 46), (11, 13, 15, 17, 20))


def other(**facts: object) -> Setup:
    setup = BASE
    for key, value in facts.items():
        setup = SetField(key.replace("__", "."), value).apply(setup)
    return setup


@pytest.mark.parametrize(
    ("facts", "name"),
    [
        ({}, "as the baseline"), ({"crank__rings": [40]}, "40 ring"),
        ({"crank__rings": [32, 48]}, "32-48 rings"),
        ({"rear__cogs": [11, 13, 15, 17, 21]}, "11-21"), ({"rear__cogs": [17]}, "17 cog"),
        ({"rear__cogs": [11, 13, 15, 20]}, "4 cogs"),
        ({"rear__cogs": [11, 13, 15, 18, 20]}, "cog 18"),
        ({"rear__cogs": [11, 14, 15, 18, 20]}, "cogs 14 18"),
        ({"rear__cogs": [11, 12, 14, 18, 20]}, "cogs 12 14 18"),
        ({"rear__hub_ratios": [1.0, 1.5]}, "hub of 2"),
        ({"wheel__size": "32-622"}, "32-622"), ({"wheel__rollout_mm": 2100}, "rollout 2100 mm"),
        ({"chain__links": 110}, "chain.links: 110, not given before"),
        ({"crank__rings": [40], "wheel__size": "32-622"}, "40 ring, 32-622"),
        ({"notes": "x"}, "as the baseline"),
    ],
)  # fmt: skip
def test_what_differs(facts: dict[str, object], name: str) -> None:
    assert what_differs(BASE, other(**facts)) == name


def test_many_new_cogs_are_counted_and_a_hub_that_goes_is_said() -> None:
    wide = make((40,), (11, 13, 15, 17, 19, 28))
    assert what_differs(wide, make((40,), (11, 12, 14, 16, 18, 28))) == "4 cogs new"
    assert what_differs(other(rear__hub_ratios=[1.0, 1.5]), BASE) == "no hub gear"
    assert short_name(make((40,), (17,))) == "40 ring, 17 cog"


def test_candidates_with_one_name_are_told_apart() -> None:
    same = other(crank__rings=[40])
    found = candidate_names(BASE, [same, SetField("chain.links", 110).apply(same), other(crank__rings=[42])])
    assert found == (
        "40 ring, chain.links: taken out, was 110",
        "40 ring, chain.links: 110, not given before",
        "42 ring",
    )
    assert candidate_names(BASE, [same, same.model_copy()])[0] == "40 ring, the same again"
    assert candidate_names(None, [BASE]) == ("30-46 rings, 11-20",)


@pytest.mark.parametrize(
    ("facts", "name"),
    [
        ({"crank__rings": [40]}, "Test bike, 1x5, 40"), ({"crank__rings": [32, 46]}, "Test bike, 32-46"),
        ({"chain__links": 110}, "Test bike, changed"),
        ({"rear__cogs": [11, 13, 15, 20]}, "Test bike, 2x4"),
        ({"rear__cogs": [11, 13, 15, 21]}, "Test bike, 2x4, 11-21"),
        ({"rear__cogs": [11, 13, 15, 18, 20]}, "Test bike, cog 18"),
    ],
)  # fmt: skip
def test_names_of_changed_bikes(facts: dict[str, object], name: str) -> None:
    assert changed_name(BASE, other(**facts)) == name
    long = BASE.model_copy(update={"name": "x" * 200})
    assert len(changed_name(long, other(crank__rings=[40]))) == 200


def test_the_tally_of_the_fit() -> None:
    good = column_of(bike(), None, None, None)
    assert good.tally.worst is Status.CAUTION
    bad = column_of(bike(rear_derailleur={"largest_cog": 30}, frame={"chainstay_mm": None}), None, None, None)
    assert bad.tally == FitTally(Status.PROBLEM, 1, bad.tally.unknown)
    assert bad.tally.unknown > 0
    assert good.fit_with_parts is None


@pytest.mark.parametrize(
    ("had", "has", "says"),
    [
        (112, 112, "112 as is"),
        (110, 110, "112 new"),
        (130, 130, "112 cut"),
        (None, None, "as is"),
    ],
)
def test_what_becomes_of_the_chain(had: int | None, has: int | None, says: str) -> None:
    base, bench = bike(chain={"links": had}), bike(chain={"links": has})
    assert column_of(bench, base, None, None).chain_to_fit == says


def test_columns_side_by_side() -> None:
    stock = drawer(cogs=[{"teeth": 17}])
    benches = [other(crank__rings=[40]), other(rider__mass_kg=90.0)]
    of = side_by_side(BASE, benches, stocks=[stock])
    assert (of.marks, of.names[0], len(of.all)) == ("AB", "40 ring", 3)
    assert of.all[0] is of.baseline
    assert of.currencies == ("EUR",)
    assert not of.one_rider
    assert side_by_side(BASE, [other(rider__bike_kg=20.0), BASE]).one_rider
    assert len(side_by_side(None, benches).all) == 2
    assert [column.currency for column in of.columns] == ["EUR", ""]
    with pytest.raises(ValueError, match="6 candidates at most"):
        side_by_side(None, [BASE] * 7)
    assert len(side_by_side(None, [BASE] * 6).columns) == 6
    under = baseline_column(other(rider__bike_kg=20.0), benches[1], None).setup.rider
    assert (under.mass_kg, under.bike_kg) == (90.0, 20.0)
    assert of.columns[0].widest is not None
    assert of.columns[0].widest.step_pct == pytest.approx(100 * 13 / 11 - 100)
    assert column_of(make((40,), (17,)), None, None, None).widest is None
    assert not of.columns[0].promises


def test_each_sprocket_takes_the_place_of_the_nearest() -> None:
    base, bench = make((40,), (11, 13, 15, 20)), make((40,), (12, 15, 21, 24, 28))
    assert [edit.say() for edit in _edits(base, bench, "cog")] == [
        "cog 11 to 12",
        "cog 20 to 21",
        "cog 13 to 24",
        "add cog 28",
    ]
    assert [edit.say() for edit in _edits(bench, base, "cog")] == [
        "cog 12 to 11",
        "cog 21 to 20",
        "cog 24 to 13",
        "remove cog 28",
    ]
    assert [edit.say() for edit in _edits(base, base, "cog")] == []


@pytest.mark.parametrize(
    ("facts", "says"),
    [
        ({"wheel__size": "32-622"}, ["wheel 32-622"]), ({"wheel__rollout_mm": 2100}, ["wheel measured anew"]),
        ({"crank__rings": [30, 48]}, ["ring 46 to 48"]), ({"crank__rings": [46]}, ["ring 30 off"]),
        ({"crank__rings": [30, 38, 46]}, ["ring 38 on"]),
        ({"rear__cogs": [11, 13, 15, 17, 21]}, ["cog 20 to 21"]),
        ({"rear__cogs": [10, 12, 14, 16, 21]}, ["cassette 11-20 (5) to 10-21 (5)"]),
        ({"rear__cogs": [18, 19]}, ["cassette 11-20 (5) to 18-19 (2)"]),
        ({"rear__hub_ratios": [1.0, 1.5]}, ["hub gear of 2, cassette 11-20 (5) to 11-20 (5)"]),
        ({}, []),
    ],
)  # fmt: skip
def test_steps_of_a_story(facts: dict[str, object], says: list[str]) -> None:
    assert [step.say for step in story_of(BASE, other(**facts))] == says


def test_figures_of_a_step() -> None:
    """46 to 48 teeth: the highest gear is 48 / 46 of what it was; the lowest stays."""
    [step] = story_of(BASE, other(crank__rings=[30, 48]))
    assert (step.low_pct, step.high_pct) == pytest.approx((0.0, 100 * 48 / 46 - 100))
    assert step.unpriced == ("ring 48",)
    assert step.cost == 0.0
    assert step.tells
    stock = drawer(rings=[{"teeth": 48, "price": 9.0}])
    [priced] = story_of(BASE, other(crank__rings=[30, 48]), stock)
    assert (priced.cost, priced.unpriced) == (9.0, ())
    wider = story_of(BASE, other(rear__cogs=[11, 13, 15, 17, 24]))[0]
    assert wider.widest_pct == pytest.approx((100 * 13 / 11 - 100, 100 * 24 / 17 - 100))
    assert wider.over_limit[1] >= wider.over_limit[0]
    assert wider.jumps == (0, 2)
    short = story_of(bike(chain={"links": 112}), bike((34, 50), chain={"links": 112}))
    assert (short[0].short_links[0], short[0].short_links[1] > 0) == (0, True)
