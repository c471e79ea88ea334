"""Plans for bikes that give facts of cable, wear and hub: what those forbid is never among what meets.

Every change is made by hand and judged as a whole setup; the plan must find a change that goes together if
and only if there is one, and no cheaper one may be left.
"""

from itertools import product

import pytest

from cogwright.core.fit.check import Status
from cogwright.core.proposing.choices import (
    CassetteChoice,
    ChainChoice,
    Choices,
    DerailleurChoice,
    RingChoice,
    with_rings_and_cassette,
)
from cogwright.core.proposing.hardware import with_chain, with_derailleur
from cogwright.core.proposing.plan import Plan
from cogwright.core.setup.model import RearDerailleur, Setup
from cogwright.core.study import study
from support import make

COGS = (11, 13, 15, 18, 21, 24, 28, 32)
FACTS = {
    "crank": {"bolt_circle_mm": 94.0},
    "rear": {"clicks": 8, "smallest_cog": 11, "cog_pitch_mm": 4.8, "least_ratio": 0.9},
    "rear_derailleur": {"largest_cog": 36, "smallest_cog": 11, "capacity": 45, "shift_ratio": 1.7},
    "front_derailleur": {"largest_ring": 48, "difference": 16},
    "shifters": {"pull_mm": 2.82},
    "frame": {"chainstay_mm": 435.0},
    "chain": {"links": 110, "outer_width_mm": 7.2},
}
LIMITS = {"largest_cog": 36, "smallest_cog": 11, "capacity": 45}
STOCK = Choices(
    rings=(RingChoice(28, "ring 28", 20.0), RingChoice(34, "ring 34", 22.0)),
    cassettes=(
        CassetteChoice((11, 13, 15, 18, 21, 26, 31, 36), (), "11-36", 45.0, cog_pitch_mm=4.8),
        CassetteChoice((11, 13, 15, 18, 21, 24, 28, 32), (), "11-32 narrow", 15.0, cog_pitch_mm=4.0),
        CassetteChoice((11, 13, 15, 18, 21, 25, 28, 32), (), "same ends", 30.0, cog_pitch_mm=4.8),
    ),
    chains=(ChainChoice(116, "chain for 8", 12.0, 7.2, 8), ChainChoice(116, "chain for 10", 9.0, 7.2, 10)),
    derailleurs=(
        DerailleurChoice(RearDerailleur(**LIMITS, shift_ratio=1.42), "other ratio", 25.0),
        DerailleurChoice(RearDerailleur(**LIMITS, shift_ratio=1.7), "same ratio", 40.0),
    ),
)


def bike(**more: dict[str, object]) -> Setup:
    tables = {name: {**facts, **more.get(name, {})} for name, facts in FACTS.items()}
    return make((30, 46), COGS, **(tables | {name: f for name, f in more.items() if name not in tables}))


def fits(setup: Setup) -> bool:
    return not [check for check in study(setup).fit if check.status is Status.PROBLEM]


def every_change(setup: Setup) -> list[tuple[float, Setup]]:
    """Price and setup of every change that goes together."""
    rings = {30: 0.0, 46: 0.0, 28: 20.0, 34: 22.0}
    sets = [(n,) for n in rings] + [(a, b) for a in rings for b in rings if a < b]
    own = CassetteChoice.of(setup, on_bike=True)
    found = []
    for teeth, cassette, chain, derailleur in product(
        sets, (own, *STOCK.cassettes), (None, *STOCK.chains), (None, *STOCK.derailleurs)
    ):
        changed = with_rings_and_cassette(setup, teeth, cassette)
        there = with_chain(with_derailleur(changed, derailleur), chain)
        if fits(there):
            parts = [part.price or 0.0 for part in (cassette, chain, derailleur) if part is not None]
            found.append((sum(rings[n] for n in teeth) + sum(parts), there))
    return found


@pytest.mark.parametrize(
    "more",
    [
        {},
        {"shifters": {"pull_mm": 3.38}},  # wants a ratio of 1.42: the other derailleur
        {"wear": {"chain_pct": 1.2}},  # worn out: a new chain, and new cogs with it
        {"wear": {"changed_at_pct": 1.2}},  # a new chain on worn cogs: new cogs
        {"rear": {"least_ratio": 1.0}},  # 34 with 36 no more
        {"rear": {"least_ratio": 3.0}},  # nothing
        {"chain": {"joint_uses": 3, "joint_most_uses": 1}},  # the joint goes with the chain
    ],
    ids=["plain", "other pull", "worn chain", "worn cogs", "hub limit", "nothing goes", "old joint"],
)
def test_a_plan_goes_together_if_anything_does_and_is_the_cheapest(
    more: dict[str, dict[str, object]],
) -> None:
    setup = bike(**more)
    tried = every_change(setup)
    result = Plan(setup, STOCK).result()
    assert result.meets is bool(tried)
    proposals = result.proposals()
    if tried:
        assert all(fits(one.setup) and one.problems == () for one in proposals)
        assert min(one.cost or 0.0 for one in proposals) == pytest.approx(min(cost for cost, _ in tried))
    else:
        assert all(one.problems for one in proposals)
