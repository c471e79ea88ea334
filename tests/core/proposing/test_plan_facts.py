"""Plans for bikes that give facts of cable, wear and hub: what those forbid is never among what meets.

Every kit is put together by hand, priced by its order and judged as a whole bike; the plan must find what no
other kit beats, and something that goes together if and only if there is such a kit.
"""

from typing import Any

import pytest

from bikes import drawer
from brute_kits import every_kit, front_of
from cogwright.core.fit.check import Status
from cogwright.core.proposing.plan import Plan
from cogwright.core.setup.model import Setup
from cogwright.core.study import study
from support import long_cases, make

FACTS: dict[str, dict[str, Any]] = {
    "crank": {"bolt_circle_mm": 94.0},
    "rear": {"clicks": 8, "smallest_cog": 11, "cog_pitch_mm": 4.8, "least_ratio": 0.9},
    "rear_derailleur": {"largest_cog": 36, "smallest_cog": 11, "capacity": 45, "shift_ratio": 1.7},
    "front_derailleur": {"largest_ring": 48, "difference": 16},
    "shifters": {"pull_mm": 2.82},
    "frame": {"chainstay_mm": 435.0},
    "chain": {"links": 110, "outer_width_mm": 7.2},
}
LIMITS = {"largest_cog": 36, "smallest_cog": 11, "capacity": 45}
STOCK = drawer(
    rings=[{"teeth": 28, "bolt_circle_mm": 94.0, "price": 20.0}],
    cassettes=[
        {"cogs": [11, 13, 15, 18, 21, 26, 31, 36], "price": 45.0, "cog_pitch_mm": 4.8},
        {"cogs": [11, 13, 15, 18, 22, 24, 28, 32], "price": 15.0, "cog_pitch_mm": 4.0},
        {"cogs": [11, 13, 15, 18, 21, 25, 28, 32], "price": 30.0, "cog_pitch_mm": 4.8},
        {"cogs": [11, 13, 15, 18, 21, 24, 28, 32], "price": 26.0, "cog_pitch_mm": 4.8},
    ],
    chains=[
        {"links": 116, "price": 12.0, "outer_width_mm": 7.2, "cogs": 8},
        {"links": 116, "price": 9.0, "outer_width_mm": 7.2, "cogs": 10},
    ],
    rear_derailleurs=[
        {**LIMITS, "shift_ratio": 1.42, "price": 25.0},
        {**LIMITS, "shift_ratio": 1.7, "price": 40.0},
    ],
    small_parts=[
        {"kind": "rear shifter", "clicks": 8, "pull_mm": 3.38, "price": 18.0},
        {"kind": "gear cable", "price": 3.0, "count": 1},
        {"kind": "chain joint", "price": 2.0, "count": 2},
        {"kind": "ring bolts", "price": 6.0},
    ],
)


def bike(**more: dict[str, Any]) -> Setup:
    tables = {name: {**facts, **more.get(name, {})} for name, facts in FACTS.items()}
    extra = {name: facts for name, facts in more.items() if name not in tables}
    return make((30, 46), (11, 13, 15, 18, 21, 24, 28, 32), **tables, **extra)


#: What is asked of a plan beyond the plain bike.
ASKED: dict[str, dict[str, dict[str, Any]]] = {
    "plain": {},
    "pull": {"shifters": {"pull_mm": 3.38}},  # wants a ratio of 1.42: the other derailleur
    "worn chain": {"wear": {"chain_pct": 1.2}},  # worn out: a new chain, and new cogs with it
    "worn cogs": {"wear": {"changed_at_pct": 1.2}},  # a new chain on worn cogs: new cogs
    "worn rings": {"wear": {"rings_state": "hooked"}},  # other rings
    "hub limit": {"rear": {"least_ratio": 1.0}},  # 34 with 36 no more
    "nothing": {"rear": {"least_ratio": 3.0}},  # nothing
    "old joint": {"chain": {"joint_uses": 3, "joint_most_uses": 1}},  # the joint goes with the chain
}


@pytest.mark.long(cases=0)
@pytest.mark.parametrize("name", long_cases(list(ASKED), 3))
def test_a_plan_is_what_no_other_kit_that_goes_together_beats(name: str) -> None:
    setup = bike(**ASKED[name])
    tried = every_kit(setup, STOCK)
    result = Plan(setup, STOCK).result()
    assert result.meets is bool(tried)
    proposals = result.proposals()
    if not tried:
        assert all(one.problems for one in proposals)
        return
    for one in proposals:
        assert one.problems == ()
        assert not [check for check in study(one.setup, setup).fit if check.status is Status.PROBLEM]
    aims = {
        (round(lost, 7), round(step, 7), round(cost, 5), doubts)
        for lost, step, cost, doubts in (kit.aims for kit in result.kits)
    }
    assert aims == front_of(tried)
