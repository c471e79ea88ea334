"""What a fit check says when all is well, and whether it admits that a limit is ours."""

import pytest

from bikes import bike, check
from cogwright.core.chain.bolt_circle import circle_of
from cogwright.core.fit.check import Status
from cogwright.core.study import study


def test_one_family_of_spacing_is_said_by_name() -> None:
    found = check(bike(), "spacing family")
    assert (found.status, found.figure, found.limit) == (Status.OK, 1, 1)
    assert found.say == "all of one family, wide"
    assert not found.default  # the names are the setup's own


@pytest.mark.parametrize("links", [112, 116, 130])
def test_slack_is_an_estimate_of_ours_however_it_comes_out(links: int) -> None:
    """P: half of the capacity's teeth in links is what a cage is taken to take up."""
    found = check(bike(chain={"links": links}), "chain slack")
    assert found.status is (Status.OK if links == 112 else Status.CAUTION if links == 130 else found.status)
    assert found.default
    assert "estimate" in found.say


def test_what_stands_in_for_facts_of_the_chain_line_is_named() -> None:
    """P: 5 mm between rings is a trade default, as are the cogs' pitch and where they are."""
    line = study(bike(crank={"ring_spacing_mm": None}, rear={"cog_pitch_mm": None})).chainline
    assert any(said.startswith("rings ") and said.endswith(" mm apart") for said in line.assumed)
    given = study(bike(crank={"ring_spacing_mm": 8.0}, rear={"cog_pitch_mm": 3.8})).chainline
    assert not [said for said in given.assumed if said.endswith(" mm apart")]
    alone = study(bike(rings=(40,), crank={"ring_spacing_mm": None})).chainline
    assert not [said for said in alone.assumed if said.startswith("rings ")]


def test_the_slackest_gear_is_the_one_that_is_named() -> None:
    """On smallest ring and smallest cog the chain is slackest: 34x11 of 34/46 and 11 to 34."""
    found = study(bike())
    slack = check(found, "chain slack")
    rests = {gear.label: gear.at_rest for gear in found.chain.per_gear}
    assert slack.figure == max(rest for rest in rests.values() if rest is not None) == rests["34x11"]
    assert "most in 34x11" in slack.say


@pytest.mark.parametrize(
    ("rings", "inner", "on"),
    [((24, 36, 46), 74.0, (74.0, 110.0, 110.0)), ((30, 46), 74.0, (74.0, 110.0)), ((40,), 74.0, (110.0,)),
     ((34, 46), None, (110.0, 110.0))],
)  # fmt: skip
def test_the_smallest_of_several_rings_is_on_the_inner_circle(
    rings: tuple[int, ...], inner: float | None, on: tuple[float, ...]
) -> None:
    setup = bike(rings, crank={"inner_bolt_circle_mm": inner})
    assert tuple(circle_of(setup.crank, ring) for ring in rings) == on
    # 30 teeth clear a circle of 74 mm and none of 110 mm, where 33 are the fewest.
    if rings[0] == 30:
        assert check(setup, "bolt circle").status is Status.OK
        assert check(bike(rings), "bolt circle").status is not Status.OK


def test_teeth_of_rings_are_judged_by_what_the_setup_says_of_them() -> None:
    assert not check(bike(wear={"rings_state": "worn"}), "ring wear").default
