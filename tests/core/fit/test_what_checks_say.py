"""What a fit check says when all is well, and whether it admits that a limit is ours."""

import pytest

from bikes import bike, check
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
