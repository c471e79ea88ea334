"""What goes together is not a matter of names alone: clicks, drivers, and what one ring means."""

from typing import Any

import pytest

from bikes import COGS, bike, check
from cogwright.core.fit.check import Status
from cogwright.core.setup.model import Setup
from cogwright.core.shifting.shift_order import shift_order_of
from cogwright.core.study import study
from cogwright.core.worksheet.build import order_sheet
from cogwright.present.report.card import card_text
from support import make


def clicks(cogs: int, clicks: int, cogs_family: str | None, shifter_family: str | None) -> Status:
    rear = {"clicks": clicks, "family": cogs_family, "carriers": None}
    return check(bike(cogs=COGS[:cogs], rear=rear, shifters={"family": shifter_family}), "clicks").status


def test_as_many_clicks_as_cogs_are_right_whatever_the_family() -> None:
    assert clicks(10, 10, None, None) is clicks(10, 10, "one", "other") is Status.OK


def test_fewer_cogs_than_clicks_are_a_problem_unless_both_are_of_one_family() -> None:
    assert clicks(10, 11, None, None) is Status.PROBLEM
    assert clicks(10, 11, "wide", None) is Status.PROBLEM
    assert clicks(10, 11, None, "wide") is Status.PROBLEM
    assert clicks(10, 11, "wide", "narrow") is Status.PROBLEM
    assert clicks(10, 11, "wide", "wide") is Status.CAUTION


def test_fewer_cogs_than_clicks_go_by_the_figures_where_these_are_known() -> None:
    def status(pull: float) -> Status:
        rear = {"clicks": 11, "family": "wide", "carriers": None, "cog_pitch_mm": 3.8}
        facts = {"shifters": {"family": "narrow", "pull_mm": pull}, "rear_derailleur": {"shift_ratio": 1.4}}
        return check(bike(cogs=COGS[:10], rear=rear, **facts), "clicks").status

    # By hand: 2.7 x 1.4 = 3.78, 0.02 under the pitch a click; 3.4 x 1.4 = 4.76, a quarter of it over.
    assert status(2.7) is Status.CAUTION
    assert status(3.4) is Status.PROBLEM


def test_more_cogs_than_clicks_are_a_problem_in_any_family() -> None:
    assert clicks(11, 10, None, None) is clicks(11, 10, "wide", "wide") is Status.PROBLEM


@pytest.mark.parametrize(
    ("rear", "first", "status"),
    [
        # P: the common splined driver takes cogs from 11; drivers from 10 or 9 are stepped, another standard.
        ({"smallest_cog": 11}, 11, Status.OK),
        ({"smallest_cog": 10}, 10, Status.OK),
        ({"smallest_cog": 10}, 11, Status.PROBLEM),
        ({"smallest_cog": 9}, 12, Status.PROBLEM),
        ({"smallest_cog": 13}, 14, Status.OK),
        ({"smallest_cog": 11}, 10, Status.PROBLEM),
        ({"smallest_cog": None}, 11, Status.UNKNOWN),
        # Facts by the shop's own names decide.
        ({"smallest_cog": 10, "driver": "step", "cassette_driver": "step"}, 11, Status.OK),
        ({"smallest_cog": 11, "driver": "spline", "cassette_driver": "step"}, 11, Status.PROBLEM),
        ({"smallest_cog": None, "driver": "step", "cassette_driver": "step"}, 11, Status.OK),
        ({"smallest_cog": None, "driver": "step", "cassette_driver": "spline"}, 11, Status.PROBLEM),
        ({"smallest_cog": 11, "driver": "step", "cassette_driver": "step"}, 10, Status.PROBLEM),
        # One side alone says nothing of the other.
        ({"smallest_cog": 10, "driver": "step"}, 11, Status.PROBLEM),
        ({"smallest_cog": 11, "driver": "spline"}, 11, Status.OK),
    ],
)
def test_the_driver_s_standard_must_be_the_cassette_s(
    rear: dict[str, Any], first: int, status: Status
) -> None:
    assert check(bike(cogs=(first, *COGS[2:]), rear=rear), "freehub driver").status is status


def test_a_single_cog_is_not_judged_by_the_spline_of_cassettes() -> None:
    single = bike((42,), (17,), rear={"smallest_cog": 10, "carriers": None})
    assert check(single, "freehub driver").status is Status.OK


def single_ring(**more: Any) -> Setup:
    """One ring 47 mm out, eleven cogs of 3.8 mm round 45 mm: the largest stands at 26 mm, 21 mm inwards: on
    410 mm 2.93 degrees. The smallest at 64 mm, 17 mm outwards: 2.37.
    """
    none = {"largest_ring": None, "difference": None}
    return bike(
        (40,),
        crank={"chainline_mm": 47.0},
        rear={"chainline_mm": 45.0, "carriers": None},
        frame={"chainstay_mm": 410.0},
        front_derailleur=none,
        **more,
    )


def test_on_one_ring_there_is_nothing_to_avoid() -> None:
    of = study(single_ring())
    assert of.chainline.avoid == ()
    assert [angle.label for angle in of.chainline.wearing] == ["40x34"]
    found = check(of, "chain angle")
    assert found.status is Status.CAUTION
    assert found.say.startswith("chain and cogs wear sooner in 40x34")
    assert "avoid" not in found.say


def test_card_order_and_job_list_agree_that_one_ring_has_nothing_to_avoid() -> None:
    bench, base = single_ring(), single_ring(rear_derailleur={"largest_cog": 46})
    of = study(bench, base)
    sheet = order_sheet(of)
    assert sheet is not None
    told = " ".join(text for step in sheet.steps for text in step.cautions)
    assert "chain and cogs wear sooner in 40x34" in told
    assert shift_order_of(of).left_out == {}
    assert "40x34" not in card_text(of)
    assert "ring 40: 34 31" in card_text(of)
    for said in (told, card_text(of), " ".join(one.say for one in of.fit)):
        assert "avoid" not in said.lower()
        assert "leave out" not in said.lower()


def test_a_chain_that_hangs_slack_on_one_ring_is_shortened_not_avoided() -> None:
    # 40x11 on 410 mm: 64.57 + 25.5 + 0.66 = 90.7; 112 leave 21.3; four and half of a capacity of 23 are 15.5.
    found = check(single_ring(rear_derailleur={"capacity": 23}), "chain slack")
    assert found.status is Status.CAUTION
    assert "shorten the chain" in found.say
    assert "avoid" not in found.say


def test_two_rings_still_have_gears_to_avoid() -> None:
    sheet = order_sheet(study(bike(), bike(rear_derailleur={"largest_cog": 46})))
    assert sheet is not None
    told = " ".join(text for step in sheet.steps for text in step.cautions)
    assert "tell the rider to avoid 46x34 and 34x11" in told


def test_what_has_no_freehub_is_not_asked_for_its_driver() -> None:
    """A fixed cog is screwed on, the sprocket of a hub gear sits on the hub's own driver."""
    for rear in ({"fixed": True}, {"hub_ratios": [0.75, 1.0, 1.333]}):
        names = {found.check for found in study(make((44,), (16,), rear=rear)).fit}
        assert "freehub driver" not in names
        given = make((44,), (16,), rear={**rear, "smallest_cog": 17})
        assert check(given, "freehub driver").status is Status.PROBLEM, "what the file says is judged"
    assert check(make((44,), (16,)), "freehub driver").status is Status.UNKNOWN, "a single speed may have one"
