"""Checks of the room round the derailleur, chain retention, joints and hub: at their limits, by hand."""

from typing import Any

import pytest

from bikes import bike, check, drawer
from cogwright.core.fit.check import Status
from cogwright.core.parts.bin import ChainPart, HubPart
from cogwright.core.parts.which_fit import SprocketPlace, edit_for, fits, try_parts
from cogwright.core.proposing.kit_fit import judged
from cogwright.core.setup.model import Setup
from cogwright.core.study import study
from cogwright.core.worksheet.build import order_sheet
from cogwright.present.panels.part_rows import why_not
from support import make

HUB = (0.527, 0.644, 0.748, 0.851, 1.0, 1.223, 1.419, 1.615)


def names(setup: Setup) -> set[str]:
    return {c.check for c in study(setup).fit}


@pytest.mark.parametrize(
    ("largest", "extension", "status"),
    [
        (36, 20.0, Status.CAUTION),  # 34 needs none, and the small cogs shift worse
        (33, 2.0, Status.PROBLEM),  # 2 mm count 1.7: not a whole tooth of 2.02 mm
        (33, 2.5, Status.CAUTION),  # 2.125 mm: one tooth more
        (30, 20.0, Status.CAUTION),
        (None, 20.0, Status.UNKNOWN),
    ],
)
def test_largest_cog_on_an_extension(largest: int | None, extension: float, status: Status) -> None:
    setup = bike(rear_derailleur={"largest_cog": largest}, frame={"hanger_extension_mm": extension})
    assert check(setup, "largest cog").status is status


def test_over_the_makers_limit_it_says_whose_figure_is_whose() -> None:
    found = check(
        bike(rear_derailleur={"largest_cog": 30}, frame={"hanger_extension_mm": 20.0}), "largest cog"
    )
    # By hand: 0.85 x 20 = 17 mm are 8.4 teeth of 2.02 mm.
    assert (found.figure, found.limit, found.default) == (34, 38, True)
    assert "over the maker's 30" in found.say
    assert "estimate" in found.say


@pytest.mark.parametrize(("own", "status"), [(33, Status.PROBLEM), (34, Status.CAUTION)])
def test_what_the_extensions_maker_states_wins_over_the_estimate(own: int, status: Status) -> None:
    frame = {"hanger_extension_mm": 20.0, "hanger_extension_cog": own}
    found = check(bike(rear_derailleur={"largest_cog": 30}, frame=frame), "largest cog")
    assert (found.status, found.limit, found.default) == (status, own, False)
    assert f"with the extension {own}, as its maker states" in found.say
    assert "estimate" not in found.say


@pytest.mark.parametrize(
    ("gap", "cog", "least", "status"),
    [
        (6.0, 34, None, Status.OK),  # measured on the cog that is on: 6 of the usual 5
        (4.0, 34, None, Status.CAUTION),
        (6.0, 32, None, Status.CAUTION),  # two teeth larger: 6 - 4.04
        (6.0, 30, None, Status.PROBLEM),  # four: 6 - 8.09
        (6.0, 36, 10.0, Status.OK),  # two smaller: 6 + 4.04, the maker's 10 holds
        (6.0, 35, 10.0, Status.CAUTION),
    ],
)
def test_b_gap(gap: float, cog: int, least: float | None, status: Status) -> None:
    facts = {"b_gap_mm": gap, "b_gap_cog": cog, "least_b_gap_mm": least}
    found = check(bike(rear_derailleur=facts), "B-gap")
    assert found.status is status
    assert found.default, "an estimate"


def test_an_extension_that_the_baseline_has_not_lowers_the_pulley() -> None:
    facts = {"b_gap_mm": 6.0, "b_gap_cog": 30}
    bench = bike(rear_derailleur=facts, frame={"hanger_extension_mm": 20.0})
    against = study(bench, bike(rear_derailleur=facts))
    assert check(against, "B-gap").figure == pytest.approx(6.0 - 8.09 + 17.0, abs=0.02)
    assert check(bench, "B-gap").figure == pytest.approx(6.0 - 8.09, abs=0.02), "measured with it on"


def test_half_of_the_facts_asks_for_the_other_half() -> None:
    assert check(bike(rear_derailleur={"b_gap_mm": 6.0}), "B-gap").say == (
        "needs rear_derailleur.b_gap_cog in the setup"
    )
    wrap = check(
        bike(rear_derailleur={"cage_mm": 90.0, "capacity": None}, frame={"chainstay_mm": None}), "cage wrap"
    )
    assert wrap.say == "needs frame.chainstay_mm in the setup"


@pytest.mark.parametrize(
    ("drop", "status"), [(100.0, Status.OK), (153.0, Status.CAUTION), (200.0, Status.PROBLEM)]
)
def test_the_cage_over_the_ground_on_a_small_wheel(drop: float, status: Status) -> None:
    # By hand: 40-305 is 385 mm across: 192.5 mm to the axle; 40 mm are the usual least.
    small = make((44,), (11, 14, 18), size="40-305", rear_derailleur={"cage_drop_mm": drop})
    found = check(small, "cage clearance")
    assert (found.status, found.limit) == (status, 40.0)
    assert found.figure == pytest.approx(192.5 - drop)
    own = make(
        (44,),
        (11, 14),
        size="40-305",
        rear_derailleur={"cage_drop_mm": 153.0},
        limits={"cage_clearance_mm": 30.0},
    )
    assert check(own, "cage clearance").status is Status.OK


def test_cage_wrap_is_what_lies_between_the_longest_and_the_shortest_way() -> None:
    found = check(bike(rear_derailleur={"cage_mm": 93.0, "capacity": None}), "cage wrap")
    ways = [way.pitches for way in study(bike()).chain.per_gear]
    assert found.figure == pytest.approx(max(ways) - min(ways) + 2)
    assert (found.status, found.default) == (Status.OK, True)
    # By hand: 35 teeth and two links to spare are 19.5; 60 mm take up 22.0 at most, 85 % of it is 18.7.
    assert (
        check(bike(rear_derailleur={"cage_mm": 60.0, "capacity": None}), "cage wrap").status is Status.CAUTION
    )
    # 26 and 31 teeth and two links are 30.5, more than the 26.7 of 93 mm.
    wide = bike(
        (24, 50), (11, 20, 42), rear={"carriers": None}, rear_derailleur={"cage_mm": 93.0, "capacity": None}
    )
    assert check(wide, "cage wrap").status is Status.PROBLEM
    assert "cage wrap" not in names(bike(rear_derailleur={"cage_mm": 60.0})), "its maker states a capacity"


@pytest.mark.parametrize(
    ("teeth", "clutch", "guide", "limit", "status"),
    [
        (True, None, None, None, Status.OK),
        (False, False, False, None, Status.CAUTION),
        (None, False, None, None, Status.CAUTION),
        (True, True, None, 2, Status.OK),
        (True, False, None, 2, Status.CAUTION),
    ],
)
def test_what_holds_the_chain_on_a_single_ring(
    teeth: bool | None, clutch: bool | None, guide: bool | None, limit: int | None, status: Status
) -> None:
    facts: dict[str, Any] = {
        "crank": {"retaining_teeth": teeth},
        "rear_derailleur": {"clutch": clutch},
        "frame": {"chain_guide": guide},
        "limits": {"retainers": limit},
    }
    assert check(bike((40,), **facts), "chain retention").status is status
    assert "chain retention" not in names(bike((34, 46), **facts)), "two rings have a front derailleur"


def test_what_holds_it_already_is_not_asked_for_again() -> None:
    facts: dict[str, Any] = {"crank": {"retaining_teeth": True}, "limits": {"retainers": 2}}
    said = check(bike((40,), **facts), "chain retention").say
    assert "add a clutch in the derailleur or a chain guide (2 retainers wanted)" in said


def test_nothing_is_asked_of_retention_where_nothing_is_said() -> None:
    assert "chain retention" not in names(bike((40,)))


@pytest.mark.parametrize(
    ("made_for", "status"),
    [
        (11, Status.OK),
        ([10, 11], Status.OK),
        (12, Status.CAUTION),
        (10, Status.PROBLEM),
        (13, Status.PROBLEM),
    ],
)
def test_a_chain_made_for_other_numbers_of_cogs(made_for: Any, status: Status) -> None:
    assert check(bike(chain={"cogs": made_for}), "chain make").status is status


@pytest.mark.parametrize(
    ("facts", "status"),
    [
        ({"joint_cogs": 11}, Status.OK),
        ({"joint_cogs": [10, 11]}, Status.OK),
        ({"joint_cogs": 10}, Status.PROBLEM),
        ({"joint_cogs": 12, "cogs": 12}, Status.OK),  # it goes by its chain
        ({"joint_cogs": 11, "cogs": 12}, Status.PROBLEM),
        ({"joint_width_mm": 5.6}, Status.OK),  # the chain is 5.5 mm wide
        ({"joint_width_mm": 5.7}, Status.OK),
        ({"joint_width_mm": 5.71}, Status.PROBLEM),
        ({"joint_width_mm": 5.9, "joint_cogs": 11}, Status.PROBLEM),
        ({"joint_width_mm": 5.5, "outer_width_mm": None}, Status.UNKNOWN),
    ],
)
def test_the_joint_is_made_for_its_chain(facts: dict[str, Any], status: Status) -> None:
    assert check(bike(chain=facts), "chain joint").status is status
    assert (
        check(bike(chain={"joint_width_mm": 5.9}, limits={"joint_width_mm": 0.5}), "chain joint").status
        is Status.OK
    )


@pytest.mark.parametrize(
    ("uses", "most", "status"),
    [
        (0, 1, Status.OK),
        (1, 1, Status.CAUTION),
        (2, 1, Status.PROBLEM),
        (1, 3, Status.OK),
        (2, None, Status.UNKNOWN),
    ],
)
def test_a_joint_used_again(uses: int, most: int | None, status: Status) -> None:
    found = check(bike(chain={"joint_uses": uses, "joint_most_uses": most}), "joint again")
    assert found.status is status
    assert "as its maker states" in found.say or status in {Status.UNKNOWN, Status.CAUTION}
    assert "joint again" not in names(bike(chain={"joint_most_uses": most} if most else {}))


@pytest.mark.parametrize(
    ("ring", "cog", "least", "status"),
    [
        # A: the least ratios that two makers were quoted with, 2.35 and 1.9: never a default.
        (47, 20, 2.35, Status.OK),  # 2.35 exactly
        (46, 20, 2.35, Status.PROBLEM),
        (38, 20, 1.9, Status.OK),
        (38, 21, 1.9, Status.PROBLEM),
    ],
)
def test_hub_torque(ring: int, cog: int, least: float, status: Status) -> None:
    setup = make((ring,), (cog,), rear={"hub_ratios": HUB, "least_ratio": least})
    found = check(setup, "hub torque")
    assert (found.status, found.figure, found.limit) == (status, ring / cog, least)
    problems = [said for said in judged(setup).problems if said.startswith("hub torque")]
    assert bool(problems) is (status is Status.PROBLEM), "and so in every proposal"


def test_hub_torque_says_what_would_do() -> None:
    said = check(make((38,), (21,), rear={"hub_ratios": HUB, "least_ratio": 1.9}), "hub torque").say
    assert "a cog of 20 or less, or a ring of 40 or more" in said  # 38 / 1.9 = 20; 21 x 1.9 = 39.9
    assert "as its maker states" in said


def test_with_a_motor_its_own_limit_holds() -> None:
    rear = {"hub_ratios": HUB, "least_ratio": 1.9, "least_ratio_motor": 2.1}
    assert check(make((40,), (20,), rear=rear), "hub torque").limit == 1.9
    motor = {"crank_torque_nm": 60.0}
    found = check(make((40,), (20,), rear=rear, motor=motor), "hub torque")
    assert (found.limit, found.status) == (2.1, Status.PROBLEM)
    assert "with a motor" in found.say
    alone = {"hub_ratios": HUB, "least_ratio_motor": 2.1}
    unknown = check(make((40,), (20,), rear=alone), "hub torque")
    assert (unknown.status, unknown.figure) == (Status.UNKNOWN, 2.0)
    assert "hub torque" not in names(make((40,), (20,), rear={"hub_ratios": HUB}))


def test_the_smallest_ring_and_the_largest_cog_decide() -> None:
    setup = make((34, 50), (17, 20), rear={"hub_ratios": HUB, "least_ratio": 1.9})
    assert check(setup, "hub torque").figure == 34 / 20


def test_a_hub_of_the_bin_brings_its_ratios_and_its_limits() -> None:
    part = HubPart(
        name="eight speeds", ratios=HUB, least_ratio=1.9, least_ratio_motor=2.1, source="its sheet of 2024"
    )
    bench = make((38,), (21,), rear={"hub_ratios": [1.0, 1.5], "least_ratio_motor": 3.0})
    place = SprocketPlace("cog", 21)
    after = edit_for(part, bench, place).apply(bench)
    assert after.rear.hub_ratios == HUB
    assert (after.rear.least_ratio, after.rear.least_ratio_motor) == (1.9, 2.1)
    assert any("more torque" in why for why in fits(part, study(bench), place))
    assert fits(part, study(make((40,), (20,), rear={"hub_ratios": [1.0, 1.5]})), place) == ()


def test_where_a_hubs_figures_stand_written_is_said_when_it_is_chosen_and_ordered() -> None:
    part = {"name": "eight", "ratios": list(HUB), "source": "its sheet of 2024", "price": 200.0, "count": 1}
    stock = drawer(hubs=[part])
    bench = make((40,), (20,), rear={"hub_ratios": [1.0, 1.5]})
    (tried,) = [
        t for t in try_parts(stock, study(bench), SprocketPlace("cog", 20)) if isinstance(t.part, HubPart)
    ]
    assert why_not(tried).endswith("ratios and limits: its sheet of 2024.")
    sheet = order_sheet(study(tried.edit.apply(bench), bench), stock)
    assert sheet is not None
    assert [item.note for item in sheet.on if item.part] == ["ratios and limits: its sheet of 2024"]


def test_a_new_chain_out_of_the_bin_brings_its_own_joint() -> None:
    bench = bike(chain={"joint_cogs": 10, "joint_uses": 3, "joint_most_uses": 1})
    part = ChainPart(name="chain", links=118, outer_width_mm=5.5, cogs=11)
    after = edit_for(part, bench, SprocketPlace("cog", 34)).apply(bench)
    assert (after.chain.joint_uses, after.chain.joint_cogs, after.chain.cogs) == (None, None, 11)
    assert not {"joint again", "chain joint"} & names(after)
