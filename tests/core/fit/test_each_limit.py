"""Every check at its limit and just past it: status, figure, limit, bar, and whether a default judged.

Figures are those of the facts given, by hand; defaults are common practice as DEVELOPERS.md and the modules
state them (P).
"""

import math
from typing import Any

import pytest

from bikes import bike, check
from cogwright.core.chain.line import COG_PITCH_MM, chainline_of
from cogwright.core.chain.slack import chain_of
from cogwright.core.drive.assist import reaches
from cogwright.core.drive.loads import loads_of
from cogwright.core.fit.chain import OUTER_WIDTH_MM, some_of, width_band
from cogwright.core.fit.check import Check, Limit, Status, needs
from cogwright.core.fit.rear import broken_carriers, wedged
from cogwright.core.setup.model import Setup
from cogwright.core.study import study
from support import make

OK, CAUTION, PROBLEM, UNKNOWN = "ok", "caution", "problem", "unknown"
SINGLE = {"clicks": None, "carriers": None, "family": None, "smallest_cog": None}


def one(rings: tuple[int, ...] = (42,), cogs: tuple[int, ...] = (17,), **tables: Any) -> Setup:
    """A bike of one sprocket at each end, without a derailleur."""
    return make(rings, cogs, **tables)


def told(found: Check) -> tuple[Any, ...]:
    return found.status.value, found.figure, found.limit, found.bar


def flags(found: Check) -> tuple[bool, bool]:
    """Whether the limit is the least, and whether a default of ours judged."""
    return found.least, found.default


@pytest.mark.parametrize(
    ("name", "facts", "expected"),
    [
        ("largest cog", {"rear_derailleur": {"largest_cog": 34}}, (OK, 34, 34, (34.0, 34.0))),
        ("largest cog", {"rear_derailleur": {"largest_cog": 33}}, (PROBLEM, 34, 33, (34.0, 33.0))),
        ("smallest cog", {"rear_derailleur": {"smallest_cog": 11}}, (OK, 11, 11, None)),
        ("smallest cog", {"rear_derailleur": {"smallest_cog": 12}}, (CAUTION, 11, 12, None)),
        ("freehub driver", {"rear": {"smallest_cog": 11}}, (OK, 11, 11, None)),
        ("freehub driver", {"rear": {"smallest_cog": 12}}, (PROBLEM, 11, 12, None)),
        ("capacity", {"rear_derailleur": {"capacity": 35}}, (OK, 35, 35, (35.0, 35.0))),
        ("capacity", {"rear_derailleur": {"capacity": 34}}, (PROBLEM, 35, 34, (35.0, 34.0))),
        ("front difference", {"front_derailleur": {"difference": 12}}, (OK, 12, 12, (12.0, 12.0))),
        ("front difference", {"front_derailleur": {"difference": 11}}, (PROBLEM, 12, 11, (12.0, 11.0))),
        ("largest ring", {"front_derailleur": {"largest_ring": 46}}, (OK, 46, 46, (46.0, 46.0))),
        ("largest ring", {"front_derailleur": {"largest_ring": 45}}, (PROBLEM, 46, 45, (46.0, 45.0))),
        ("frame clearance", {"frame": {"largest_ring": 46}}, (OK, 46, 46, (46.0, 46.0))),
        ("frame clearance", {"frame": {"largest_ring": 45}}, (PROBLEM, 46, 45, (46.0, 45.0))),
        ("bolt circle", {"limits": {"smallest_ring": 34}}, (OK, 34, 34, None)),
        ("bolt circle", {"limits": {"smallest_ring": 35}}, (PROBLEM, 34, 35, None)),
        ("clicks", {"rear": {"clicks": 11}}, (OK, 11, 11, (11.0, 11.0))),
        ("clicks", {"rear": {"clicks": 10}}, (PROBLEM, 11, 10, (11.0, 10.0))),
        ("clicks", {"rear": {"clicks": 12}}, (CAUTION, 11, 12, (11.0, 12.0))),
        ("clicks", {"rear": {"clicks": 12}, "shifters": {"family": None}}, (PROBLEM, 11, 12, (11.0, 12.0))),
        ("cage reach", {"front_derailleur": {"reach_mm": 8.0}, "crank": {"ring_spacing_mm": 8.0}},
         (OK, 8.0, 8.0, (8.0, 8.0))),
        ("cage reach", {"front_derailleur": {"reach_mm": 7.9}, "crank": {"ring_spacing_mm": 8.0}},
         (PROBLEM, 8.0, 7.9, (8.0, 7.9))),
        ("ring difference", {"front_derailleur": {"smallest_difference": 12}}, (OK, 12, 12, None)),
        ("ring difference", {"front_derailleur": {"smallest_difference": 13}}, (CAUTION, 12, 13, None)),
        ("cage curve", {"front_derailleur": {"curve_teeth": [46, 50]}}, (OK, 46, 50, (46.0, 50.0))),
        ("cage curve", {"front_derailleur": {"curve_teeth": [40, 46]}}, (OK, 46, 46, (46.0, 46.0))),
        ("cage curve", {"front_derailleur": {"curve_teeth": [47, 50]}}, (CAUTION, 46, 47, None)),
        ("cage curve", {"front_derailleur": {"curve_teeth": [40, 45]}}, (CAUTION, 46, 45, (46.0, 45.0))),
        ("chain width", {"limits": {"chain_width_mm": [5.0, 5.5]}}, (OK, 5.5, 5.5, None)),
        ("chain width", {"limits": {"chain_width_mm": [5.0, 5.4]}}, (PROBLEM, 5.5, 5.4, None)),
        ("chain width", {"limits": {"chain_width_mm": [5.5, 6.0]}}, (OK, 5.5, 6.0, None)),
        ("chain width", {"limits": {"chain_width_mm": [5.6, 6.0]}}, (CAUTION, 5.5, 5.6, None)),
        ("chain make", {"chain": {"cogs": 11}}, (OK, 11, 11, None)),
        ("chain make", {"chain": {"cogs": [10, 11]}}, (OK, 11, 11, None)),
        ("chain make", {"chain": {"cogs": 12}}, (CAUTION, 11, 12, None)),
        ("chain make", {"chain": {"cogs": [12, 13]}}, (CAUTION, 11, 12, None)),
        ("chain make", {"chain": {"cogs": 13}}, (PROBLEM, 11, 13, None)),
        ("chain make", {"chain": {"cogs": 10}}, (PROBLEM, 11, 10, None)),
        ("chain make", {"chain": {"cogs": [8, 10]}}, (PROBLEM, 11, 10, None)),
        ("chain joint", {"chain": {"joint_width_mm": 5.7}}, (OK, pytest.approx(0.2), 0.2, None)),
        ("chain joint", {"chain": {"joint_width_mm": 5.3}}, (OK, pytest.approx(0.2), 0.2, None)),
        ("chain joint", {"chain": {"joint_width_mm": 5.75}}, (PROBLEM, pytest.approx(0.25), 0.2, None)),
        ("chain joint", {"chain": {"joint_cogs": 11}}, (OK, 11, 11, None)),
        ("chain joint", {"chain": {"joint_cogs": [10, 11]}}, (OK, 10, 11, None)),
        ("chain joint", {"chain": {"joint_cogs": [10, 12]}}, (PROBLEM, 10, 11, None)),
        ("chain joint", {"chain": {"joint_cogs": 11, "cogs": [9, 10]}}, (PROBLEM, 11, 9, None)),
        ("chain joint", {"chain": {"joint_cogs": 10, "cogs": [9, 10], "joint_width_mm": 5.5}}, (OK, 0.0,
         0.2, None)),
        ("joint again", {"chain": {"joint_uses": 2, "joint_most_uses": 3}}, (OK, 2, 3, (2.0, 3.0))),
        ("joint again", {"chain": {"joint_uses": 3, "joint_most_uses": 3}}, (CAUTION, 3, 3, (3.0, 3.0))),
        ("joint again", {"chain": {"joint_uses": 4, "joint_most_uses": 3}}, (PROBLEM, 4, 3, (4.0, 3.0))),
        ("B-gap", {"rear_derailleur": {"b_gap_mm": 6.0, "b_gap_cog": 34, "least_b_gap_mm": 6.0}}, (OK, 6.0,
         6.0, None)),
        ("B-gap", {"rear_derailleur": {"b_gap_mm": 6.0, "b_gap_cog": 34, "least_b_gap_mm": 6.1}},
         (CAUTION, 6.0, 6.1, None)),
        ("B-gap", {"rear_derailleur": {"b_gap_mm": 0.0, "b_gap_cog": 34}}, (CAUTION, 0.0, 5.0, None)),
        ("B-gap", {"rear_derailleur": {"b_gap_mm": 5.0, "b_gap_cog": 34}}, (OK, 5.0, 5.0, None)),
        ("clicks", {"rear": {"clicks": None}}, (UNKNOWN, 11, None, None)),
        ("largest cog", {"rear_derailleur": {"largest_cog": None}}, (UNKNOWN, 34, None, None)),
        ("bolt circle", {"crank": {"bolt_circle_mm": None}}, (UNKNOWN, 34, None, None)),
        ("chain width", {"chain": {"outer_width_mm": None}}, (UNKNOWN, None, None, None)),
        ("joint again", {"chain": {"joint_uses": 3}}, (UNKNOWN, 3, None, None)),
        ("chain joint", {"chain": {"joint_width_mm": 5.5, "outer_width_mm": None}}, (UNKNOWN, None, None,
         None)),
    ],
)  # fmt: skip
def test_a_bike_with_derailleurs(name: str, facts: dict[str, Any], expected: tuple[Any, ...]) -> None:
    """34 and 46 teeth, cogs of 11 to 34, eleven clicks, a chain 5.5 mm wide."""
    assert told(check(bike(**facts), name)) == expected


@pytest.mark.parametrize(
    ("name", "setup", "expected"),
    [
        ("hub torque", one(rear={"least_ratio": 42 / 17}), (OK, 42 / 17, 42 / 17, None)),
        ("hub torque", one(rear={"least_ratio": 2.48}), (PROBLEM, 42 / 17, 2.48, None)),
        ("hub torque", one(rear={"least_ratio": 2.0, "least_ratio_motor": 2.6}), (OK, 42 / 17, 2.0, None)),
        ("hub torque", one(rear={"least_ratio": 2.0, "least_ratio_motor": 2.6}, motor={"power_w": 250.0}),
         (PROBLEM, 42 / 17, 2.6, None)),
        ("hub torque", one(rear={"least_ratio_motor": 2.6}), (UNKNOWN, 42 / 17, None, None)),
        ("skid patches", one((48,), (17,), rear={"fixed": True}), (OK, 17, 5, None)),
        ("skid patches", one((48,), (18,), rear={"fixed": True}), (CAUTION, 3, 5, None)),
        ("skid patches", one((48,), (15,), rear={"fixed": True}), (OK, 5, 5, None)),
        ("skid patches", one((48,), (18,), rear={"fixed": True}, limits={"skid_patches": 3}),
        (OK, 3, 3, None)),
        ("even wear", one((47,), (17,), rear={"fixed": False}), (OK, 1, 2, (1.0, 2.0))),
        ("even wear", one((46,), (16,), rear={"fixed": False}), (OK, 2, 2, (2.0, 2.0))),
        ("even wear", one((48,), (15,), rear={"fixed": False}), (CAUTION, 3, 2, (3.0, 2.0))),
        ("even wear", one((48,), (15,), rear={"fixed": False}, limits={"common_factor": 3}),
        (OK, 3, 3, (3.0, 3.0))),
        ("fixed drive", one(rear={"fixed": True}), (OK, 0, 0, None)),
        ("fixed drive", one(rear={"fixed": True}, frame={"tensioner_links": 1.0}), (PROBLEM, 1, 0, None)),
        ("fixed drive", one(rear={"fixed": True}, rear_derailleur={"capacity": 30}), (PROBLEM, 1, 0, None)),
        ("fixed drive", one(rear={"fixed": True}, rear_derailleur={"capacity": 30},
         frame={"tensioner_links": 1.0}),
         (PROBLEM, 2, 0, None)),
        ("timing wear", one(timing_chain={"stretch_pct": 0.5}, limits={"chain_wear_pct": 0.5}),
         (CAUTION, 0.5, 0.5, (0.5, 0.5))),
        ("timing wear", one(timing_chain={"stretch_pct": 0.48}, limits={"chain_wear_pct": 0.5}),
         (OK, 0.48, 0.5, (0.48, 0.5))),
        ("assist limit", one(motor={"cutoff_kmh": 25.0}, limits={"assist_kmh": 25.0}),
        (OK, 25.0, 25.0, (25.0, 25.0))),
        ("assist limit", one(motor={"cutoff_kmh": 25.5}, limits={"assist_kmh": 25.0}),
         (PROBLEM, 25.5, 25.0, (25.5, 25.0))),
        ("assist limit", one(motor={"cutoff_kmh": 25.0, "power_w": 250.0}, limits={"assist_kmh": 25.0,
         "assist_w": 250.0}),
         (OK, 25.0, 25.0, (25.0, 25.0))),
        ("assist limit", one(motor={"cutoff_kmh": 25.0, "power_w": 251.0}, limits={"assist_kmh": 25.0,
         "assist_w": 250.0}),
         (PROBLEM, 25.0, 25.0, (25.0, 25.0))),
        ("assist limit", one(motor={"cutoff_kmh": 25.0}, limits={"assist_kmh": 25.0, "assist_w": 250.0}),
         (OK, 25.0, 25.0, (25.0, 25.0))),
        ("assist limit", one(motor={"cutoff_kmh": 25.0}), (UNKNOWN, 25.0, None, None)),
        ("assist limit", one(motor={"power_w": 250.0}, limits={"assist_kmh": 25.0}),
        (UNKNOWN, None, None, None)),
    ],
)  # fmt: skip
def test_a_bike_of_one_pair(name: str, setup: Setup, expected: tuple[Any, ...]) -> None:
    found = told(check(setup, name))
    assert found == (expected[0], expected[1] and pytest.approx(expected[1]), *expected[2:])


@pytest.mark.parametrize(
    ("name", "facts", "least", "default"),
    [
        ("largest cog", {}, False, False),
        ("smallest cog", {}, True, False),
        ("freehub driver", {}, True, False),
        ("bolt circle", {}, True, True),
        ("bolt circle", {"limits": {"smallest_ring": 30}}, True, False),
        ("clicks", {}, False, False),
        ("cage reach", {"front_derailleur": {"reach_mm": 30.0}}, False, True),
        ("cage reach", {"front_derailleur": {"reach_mm": 3.0}}, False, True),
        ("cage reach", {"front_derailleur": {"reach_mm": 30.0}, "crank": {"ring_spacing_mm": 8.0}}, False,
         False),
        ("cage reach", {"front_derailleur": {"reach_mm": 3.0}, "crank": {"ring_spacing_mm": 8.0}}, False,
         False),
        ("ring difference", {"front_derailleur": {"smallest_difference": 12}}, True, False),
        ("ring difference", {"front_derailleur": {"smallest_difference": 13}}, True, False),
        ("cage curve", {"front_derailleur": {"curve_teeth": [47, 50]}}, True, False),
        ("cage curve", {"front_derailleur": {"curve_teeth": [40, 45]}}, False, False),
        ("chain width", {}, False, True),
        ("chain width", {"chain": {"outer_width_mm": 5.0}}, True, True),
        ("chain width", {"chain": {"outer_width_mm": 6.0}}, False, True),
        ("chain width", {"limits": {"chain_width_mm": [5.0, 5.6]}}, False, False),
        ("chain width", {"limits": {"chain_width_mm": [5.0, 5.1]}}, False, False),
        ("chain width", {"limits": {"chain_width_mm": [5.8, 6.1]}}, True, False),
        ("chain make", {"chain": {"cogs": 11}}, False, False),
        ("chain make", {"chain": {"cogs": 12}}, True, True),
        ("chain make", {"chain": {"cogs": 13}}, True, False),
        ("chain make", {"chain": {"cogs": 10}}, False, False),
        ("chain joint", {"chain": {"joint_width_mm": 5.5}}, False, True),
        ("chain joint", {"chain": {"joint_width_mm": 6.5}}, False, True),
        ("chain joint", {"chain": {"joint_width_mm": 5.5}, "limits": {"joint_width_mm": 0.3}}, False, False),
        ("chain joint", {"chain": {"joint_width_mm": 6.5}, "limits": {"joint_width_mm": 0.3}}, False, False),
        ("B-gap", {"rear_derailleur": {"b_gap_mm": 6.0, "b_gap_cog": 34}}, True, True),
        ("B-gap", {"rear_derailleur": {"b_gap_mm": 1.0, "b_gap_cog": 34}}, True, True),
        ("B-gap", {"rear_derailleur": {"b_gap_mm": 1.0, "b_gap_cog": 11}}, True, True),
        ("cage clearance", {"rear_derailleur": {"cage_drop_mm": 150.0}}, True, True),
        ("cage clearance", {"rear_derailleur": {"cage_drop_mm": 299.0}}, True, True),
        ("cage clearance", {"rear_derailleur": {"cage_drop_mm": 150.0},
         "limits": {"cage_clearance_mm": 50.0}}, True, False),
        ("cage clearance", {"rear_derailleur": {"cage_drop_mm": 299.0},
         "limits": {"cage_clearance_mm": 50.0}}, True, False),
        ("cage wrap", {"rear_derailleur": {"cage_mm": 95.0, "capacity": None}}, False, True),
        ("cage wrap", {"rear_derailleur": {"cage_mm": 50.0, "capacity": None}}, False, True),
        ("cage wrap", {"rear_derailleur": {"cage_mm": 80.0, "capacity": None}}, False, True),
        ("chain length", {}, True, True),
        ("chain slack", {}, False, True),
        ("chain slack", {"chain": {"links": 130}}, False, True),
        ("chain angle", {}, False, True),
    ],
)  # fmt: skip
def test_which_limits_are_the_least_and_which_are_ours(
    name: str, facts: dict[str, Any], least: bool, default: bool
) -> None:
    assert flags(check(bike(**facts), name)) == (least, default)


@pytest.mark.parametrize(
    ("name", "setup", "least", "default"),
    [
        ("skid patches", one((48,), (17,), rear={"fixed": True}), True, True),
        ("skid patches", one((48,), (18,), rear={"fixed": True}), True, True),
        ("skid patches", one((48,), (17,), rear={"fixed": True}, limits={"skid_patches": 4}), True, False),
        ("skid patches", one((48,), (18,), rear={"fixed": True}, limits={"skid_patches": 4}), True, False),
        ("even wear", one((47,), (17,), rear={"fixed": False}), False, True),
        ("even wear", one((48,), (15,), rear={"fixed": False}), False, True),
        ("even wear", one((47,), (17,), rear={"fixed": False}, limits={"common_factor": 1}), False, False),
        ("even wear", one((48,), (15,), rear={"fixed": False}, limits={"common_factor": 1}), False, False),
        ("hub torque", one(rear={"least_ratio": 2.0}), True, False),
        ("hub torque", one(rear={"least_ratio": 3.0}), True, False),
        ("hub torque", one(rear={"least_ratio_motor": 3.0}), True, False),
        ("timing wear", one(timing_chain={"stretch_pct": 0.1}), False, True),
        ("timing wear", one(timing_chain={"stretch_pct": 2.0}), False, True),
        ("timing wear", one(timing_chain={"stretch_pct": 0.1}, limits={"chain_wear_pct": 0.5}), False, False),
        ("timing wear", one(timing_chain={"stretch_pct": 2.0}, limits={"chain_wear_pct": 0.5}), False, False),
    ],
)  # fmt: skip
def test_which_limits_of_one_pair_are_the_least_and_which_are_ours(
    name: str, setup: Setup, least: bool, default: bool
) -> None:
    assert flags(check(setup, name)) == (least, default)


MOTOR = {"cutoff_kmh": 25.0}


@pytest.mark.parametrize(
    ("rpm", "reach", "status"),
    [(60.0, "reaches it", OK), (59.9, "only at a low cadence", CAUTION), (105.0, "reaches it", OK),
     (105.1, "spins out before", CAUTION)],
)  # fmt: skip
def test_the_speed_at_which_a_motor_is_cut_off(rpm: float, reach: str, status: str) -> None:
    """25 km/h are 416.7 m a minute; liked from 60 to 105 rpm."""
    setup = one((40,), (20,), rollout_mm=25e6 / 120.0 / rpm, motor=MOTOR)
    [found] = reaches(setup)
    assert (found.reach.value, found.cutoff_rpm) == (reach, pytest.approx(rpm))
    told_ = check(setup, "assist reach")
    assert (told_.status.value, told_.figure, told_.limit, told_.least) == (
        status,
        int(status == OK),
        1,
        True,
    )
    assert reaches(one()) == ()
    slow = one((40,), (20,), rollout_mm=25e6 / 120.0 / rpm, motor=MOTOR | {"cadence_rpm": 70.0})
    assert (reaches(slow)[0].reach.value == "reaches it") is (rpm == 60.0)


def test_loads_by_hand() -> None:
    """100 Nm of rider and 50 of motor on 42 teeth: over the radius of its pins; on 17 teeth by theirs."""
    setup = one(rider={"crank_torque_nm": 100.0}, motor={"crank_torque_nm": 50.0})
    radius, small = (12.7 / 2000 / math.sin(math.pi / teeth) for teeth in (42, 17))
    loads = loads_of(setup)
    assert loads is not None
    assert (loads.rider_nm, loads.motor_nm, loads.ring, loads.cog) == (100.0, 50.0, 42, 17)
    assert (loads.chain_n, loads.hub_nm) == pytest.approx((150.0 / radius, 150.0 / radius * small))
    weight = loads_of(one(rider={"mass_kg": 80.0}, crank={"length_mm": 170.0}))
    assert weight is not None
    assert (weight.rider_nm, weight.motor_nm) == (pytest.approx(80.0 * 9.80665 * 0.17), 0.0)
    assert loads_of(one()) is None


@pytest.mark.parametrize(("over", "status"), [(0.999999, PROBLEM), (1.000001, OK)])
@pytest.mark.parametrize("torque", [100.0, None])
def test_loads_against_what_their_makers_permit(over: float, status: str, torque: float | None) -> None:
    facts = {"rider": {"crank_torque_nm": torque} if torque else {}, "crank": {"length_mm": 170.0}}
    loads = loads_of(one(**facts))
    assert loads is not None
    setup = one(
        **facts, rear={"most_torque_nm": loads.hub_nm * over}, chain={"most_load_n": loads.chain_n * over}
    )
    for name, figure in (("hub load", loads.hub_nm), ("chain load", loads.chain_n)):
        found = check(setup, name)
        assert told(found) == (status, figure, figure * over, (figure, figure * over))
        assert found.default is (torque is None)
        assert "an estimate" in found.say or torque


def test_bars_of_wear_stand_where_figure_and_limit_are_known() -> None:
    ten = (11, 12, 13, 14, 15, 17, 19, 21, 24, 28)
    for wear, name, bar, default in (
        ({"chain_pct": 0.3}, "chain wear", (0.3, 0.5), True),
        ({"chain_pct": 0.6}, "chain wear", (0.6, 0.5), True),
        ({"rings_km": 7.0}, "ring wear", None, False),
        ({"rings_state": "worn", "rings_km": 7.0}, "ring wear", None, False),
        ({"cassette_state": "hooked"}, "new on worn", None, False),
        ({"changed_at_pct": 0.3}, "new on worn", (0.3, 0.75), True),
        ({"cassette_km": 7.0}, "new on worn", None, False),
        ({"changed_at_pct": 0.8}, "new on worn", (0.8, 0.75), True),
    ):  # fmt: skip
        found = check(make((34, 50), ten, wear=wear), name)
        assert (found.bar, found.default) == (bar, default), wear
        assert ("common practice" in found.say) is (default and found.status.value != OK), wear
    for own, default in (({"slip_pct": 0.75}, False), ({"chain_wear_pct": 0.5}, True)):
        assert (
            check(make((34, 50), ten, wear={"changed_at_pct": 0.8}, limits=own), "new on worn").default
            is default
        )
    assert not check(
        make((34, 50), ten, wear={"chain_pct": 0.6}, limits={"chain_wear_pct": 0.5}), "chain wear"
    ).default


@pytest.mark.parametrize(
    ("wear", "status"),
    [({"changed_at_pct": 0.8}, PROBLEM), ({"chain_pct": 0.8}, CAUTION),
     ({"changed_at_pct": 0.8, "chain_pct": 0.3}, PROBLEM),
     ({"cassette_state": "hooked", "chain_pct": 0.8}, CAUTION), ({"chain_pct": 0.6}, CAUTION),
     ({"chain_pct": 0.3}, OK)],
)  # fmt: skip
def test_a_worn_cassette_is_no_problem_while_its_worn_chain_runs_on_it(
    wear: dict[str, Any], status: str
) -> None:
    ten = (11, 12, 13, 14, 15, 17, 19, 21, 24, 28)
    assert check(make((34, 50), ten, wear=wear), "new on worn").status.value == status


def test_carriers_of_which_one_cog_is_left() -> None:
    assert broken_carriers(((21, 23),), (21,)) == {(21, 23): (21,)}
    assert broken_carriers(((21, 23),), (21, 23)) == broken_carriers(((21, 23),), (19,)) == {}
    assert wedged(((21, 25), (30, 34)), (19, 21, 22, 24, 25, 26, 30, 34)) == {(21, 25): (22, 24)}


@pytest.mark.parametrize(
    ("name", "figure"),
    [
        ("front difference", 22),
        ("largest ring", 44),
        ("frame clearance", 44),
        ("capacity", 45),
        ("ring difference", 10),
    ],
)
def test_three_rings_are_judged_by_their_ends(name: str, figure: int) -> None:
    """22, 32 and 44 teeth, cogs of 11 to 34."""
    setup = bike(
        (22, 32, 44),
        front_derailleur={"smallest_difference": 9},
        frame={"largest_ring": 50},
        crank={"bolt_circle_mm": 64.0},
    )
    assert check(setup, name).figure == figure


def test_a_chain_made_for_fewer_and_for_more_cogs_than_there_are() -> None:
    found = check(make((30, 46), tuple(range(11, 20)), chain={"cogs": [8, 10]}), "chain make")
    assert (told(found), found.least) == ((PROBLEM, 9, 10, None), False)


def test_slack_that_nobody_knows_the_cage_for_is_told_by_the_tenth() -> None:
    for stay in (433.0, 434.0, 435.0, 436.0):
        found = check(bike(rear_derailleur={"capacity": None}, frame={"chainstay_mm": stay}), "chain slack")
        slack = max(gear.at_rest or 0.0 for gear in chain_of(bike(frame={"chainstay_mm": stay})).per_gear)
        assert (found.status.value, found.figure) == (UNKNOWN, round(slack, 1))
        assert found.figure != slack


@pytest.mark.parametrize(
    ("families", "says"),
    [
        (("a", "a", "a"), "all of one family, a"), (("a", "b", "a"), "mixed (a and b), ok by the figures"),
        (("a", None, "a"), "not all known, and not asked for: the figures decide, see indexing"),
    ],
)  # fmt: skip
def test_spacing_families_beside_the_figures(families: tuple[str | None, ...], says: str) -> None:
    """Clicks of 2.5 mm times 1.6 are the cogs' 4 mm."""
    cogs, derailleur, shifter = ({} if name is None else {"family": name} for name in families)
    setup = make((40,), (11, 13, 15), rear={"cog_pitch_mm": 4.0, **cogs},
     rear_derailleur={"shift_ratio": 1.6, **derailleur},
                 shifters={"pull_mm": 2.5, **shifter})  # fmt: skip
    assert check(setup, "spacing family").say == says


def test_the_bar_of_a_chain_begins_four_links_under_the_smallest_pair() -> None:
    chain_ = chain_of(bike())
    assert chain_.least_pitches is not None
    floor = min(gear.pitches for gear in chain_.per_gear) - 4.0
    assert check(bike(), "chain length").bar == pytest.approx((chain_.least_pitches - floor, 112.0 - floor))
    short = check(bike(chain={"links": 60}), "chain length").bar
    assert short is not None
    assert short[1] == 0.0
    assert check(bike(chain={"links": None}), "chain length").bar is None


@pytest.mark.parametrize(
    ("cogs", "smallest", "status", "default"),
    [((11, 13), 10, PROBLEM, True), ((11,), 10, OK, False), ((11, 13), 11, OK, False),
     ((10, 13), 10, OK, False),
     ((11, 13), 12, PROBLEM, False)],
)  # fmt: skip
def test_cassettes_from_11_and_drivers_from_10_have_other_splines(
    cogs: tuple[int, ...], smallest: int, status: str, default: bool
) -> None:
    """Common practice; a single cog and a cassette from 10 go on."""
    found = check(make((40,), cogs, rear={"smallest_cog": smallest}), "freehub driver")
    assert (found.status.value, found.default, found.figure, found.limit) == (
        status,
        default,
        cogs[0],
        smallest,
    )


def test_drivers_and_cassettes_by_their_names() -> None:
    for cassette, driver, status in (
        ("a", "a", OK),
        ("a", "b", PROBLEM),
        (None, "a", UNKNOWN),
        ("a", None, UNKNOWN),
    ):
        rear = {key: name for key, name in (("cassette_driver", cassette), ("driver", driver)) if name}
        assert check(make((40,), (10, 13), rear=rear), "freehub driver").status.value == status
    same = check(
        make((40,), (11, 13), rear={"cassette_driver": "a", "driver": "a", "smallest_cog": 10}),
        "freehub driver",
    )
    assert (same.status.value, same.limit) == (OK, 10)


def test_of_many_names_the_first_three_are_said() -> None:
    assert some_of(list("abcd")) == "a, b, c and d"
    assert some_of(list("abcde")) == "a, b, c and 2 more"


@pytest.mark.parametrize(("links", "status"), [(60, OK), (61, OK), (62, PROBLEM), (58, PROBLEM)])
def test_a_tensioner_takes_up_what_it_can(links: int, status: str) -> None:
    """20x20 on 254 mm take just 60 links."""
    setup = one((20,), (20,), frame={"chainstay_mm": 254.0, "tensioner_links": 1.0}, chain={"links": links})
    assert check(setup, "tensioner").status.value == status


def test_skids_are_no_matter_with_gears_in_the_hub() -> None:
    for ratios, asked in (([1.0], True), ([1.0, 1.5], False)):
        found = {c.check for c in study(one((48,), (17,), rear={"fixed": True, "hub_ratios": ratios})).fit}
        assert ("skid patches" in found) is asked


def test_widths_and_pitches_are_those_of_the_number_of_cogs() -> None:
    """Of 5 to 7 cogs as the trade has them (P, from memory); those of more cogs are held in `test_fit`."""
    widths = OUTER_WIDTH_MM | {5: (7.1, 7.8), 6: (7.1, 7.8), 7: (7.1, 7.3)}
    pitches = COG_PITCH_MM | {5: 5.5, 6: 5.3, 7: 5.0, 11: 3.8, 12: 3.6}
    for many, width in widths.items():
        setup = make((30, 46), tuple(range(11, 11 + many)), chain={"outer_width_mm": 6.0})
        assert width_band(setup) == width
        assert chainline_of(setup).cog_gaps_mm == (pitches[many],) * (many - 1)
    assert width_band(make((30, 46), (11, 13))) is None
    assert chainline_of(make((30, 46), (11, 13))).ring_gaps_mm == (7.5,)


def test_more_cogs_stand_closer_and_want_a_chain_that_is_no_wider() -> None:
    assert sorted(COG_PITCH_MM.values(), reverse=True) == [COG_PITCH_MM[n] for n in range(5, 13)]
    for end in (0, 1):
        ends = [OUTER_WIDTH_MM[n][end] for n in range(5, 13)]
        assert ends == sorted(ends, reverse=True)


@pytest.mark.parametrize("least", [False, True])
@pytest.mark.parametrize(("figure", "kept"), [(11, (True, False)), (12, (True, True)), (13, (False, True))])
def test_a_limit_is_kept_at_just_its_figure(figure: int, kept: tuple[bool, bool], least: bool) -> None:
    limit = Limit(
        "x", "a.bc", "fine {figure} {limit}", "wrong {figure} {limit}", least=least, breach=Status.CAUTION
    )
    found = limit.judge(figure, 12)
    good = kept[least]
    assert found.status is (Status.OK if good else Status.CAUTION)
    assert found.say == f"{'fine' if good else 'wrong'} {figure} 12"
    assert (found.figure, found.limit, found.unit, found.least) == (figure, 12, "teeth", least)
    assert found.bar == (None if least else (figure, 12.0))
    unknown = limit.judge(figure, None)
    assert (unknown.status, unknown.figure, unknown.limit, unknown.lacks) == (
        Status.UNKNOWN,
        figure,
        None,
        ("a.bc",),
    )
    assert found.lacks == ()
    assert needs("x", "mm", None, "a.bc", "d.ef").say == "needs a.bc and d.ef in the setup"


@pytest.mark.parametrize(("links", "status"), [(98, OK), (99, CAUTION), (96, CAUTION)])
def test_a_chain_without_a_derailleur(links: int, status: str) -> None:
    """42x17 on 430 mm: 2 x 430 / 12.7 + 59 / 2 and (25 / 2 pi)^2 x 12.7 / 430 are 97.68 pitches, 98 even."""
    setup = one(frame={"chainstay_mm": 430.0, "axle_travel_mm": 20.0}, chain={"links": links})
    found = check(setup, "chain length")
    assert told(found)[:3] == (status, links, 98)
    assert found.least
    half = setup.model_copy(update={"chain": setup.chain.model_copy(update={"half_link": True})})
    if links == 99:
        assert check(half, "chain length").status.value == OK
    assert found.bar is None


def test_a_check_that_does_not_apply_says_nothing() -> None:
    plain = {found.check for found in study(one()).fit}
    for name in ("clicks", "spacing family", "chain width", "front difference", "largest ring", "largest cog",
                 "smallest cog", "capacity", "cage reach", "ring difference", "cage curve", "skid patches",
                 "even wear", "fixed drive", "tensioner", "hub torque", "timing wear", "timing chain",
                 "assist limit", "assist reach", "chain joint", "joint again", "chain make", "B-gap",
                 "cage clearance", "cage wrap", "chain retention", "belt", "belt line"):  # fmt: skip
        assert name not in plain, name


@pytest.mark.parametrize("capacity", [None, 30])
def test_a_chain_that_is_too_long_hangs_where_the_derailleur_is_known(capacity: int | None) -> None:
    cage = {} if capacity is None else {"capacity": capacity}
    bike = {"frame": {"chainstay_mm": 430.0}, "chain": {"links": 126}, "rear_derailleur": cage}
    say = check(make((30, 46), (11, 34), **bike), "chain length").say
    assert "links too long, cut to" in say
    assert ("rear_derailleur.capacity would say whether it hangs slack" in say) is (capacity is None)
    assert ("hangs slack in 30x34, 30x11" in say) is (capacity is not None)
