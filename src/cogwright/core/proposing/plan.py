"""The plan: which rings, cassette, cogs, chain and derailleur out of the bin meet the limits, and serve best.

Every set of rings, every cassette, up to two loose cogs swapped, every chain and every derailleur. Nothing
is sampled: of the variants of a cassette with the same ends those are left out that another one beats in
step and price, and chain and derailleur are the cheapest that go. Neither can lose a change that no other
one beats.
"""

import math
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property
from itertools import islice, pairwise
from typing import Final, NamedTuple

from cogwright.core.gears.gears import gears_of, wheel_of
from cogwright.core.proposing.choices import CassetteChoice, Choices, RingChoice
from cogwright.core.proposing.front import Front, NearMisses, PlannedChange
from cogwright.core.proposing.goal import Goal, miss_of
from cogwright.core.proposing.hardware import Fitter, Hardware
from cogwright.core.proposing.lost_range import LostRange, lost_range
from cogwright.core.proposing.plan_proposals import propose, setup_of
from cogwright.core.proposing.proposal import Proposal
from cogwright.core.proposing.space import (
    Group,
    RingSet,
    Variant,
    collect,
    count_variants,
    ring_sets,
    variants,
)
from cogwright.core.setup.model import Setup

#: Variants made, and pairs of rings and ends looked at, between two reports: some hundredths of a second.
VARIANTS_A_STEP: Final = 2048
PAIRS_A_STEP: Final = 32
ANYTHING: Final = Goal()


@dataclass(frozen=True)
class Plan:
    """A search: iterate over `progress`, or take `result` at once. Nothing runs before that.

    The baseline is what range is lost against; without one it is the setup itself.
    """

    setup: Setup
    choices: Choices
    goal: Goal = ANYTHING
    baseline: Setup | None = None

    def progress(self) -> Iterator["PlanProgress"]:
        """Search piece by piece; the last piece is the result. To cancel, stop asking for more."""
        search = _Search(self)
        for done in search.run():
            yield search.progress(done)
        yield search.progress(search.total)

    def result(self) -> "PlanProgress":
        """Search to the end."""
        *_, last = self.progress()
        return last


@dataclass(frozen=True)
class PlanProgress:
    """How far a search is: changes looked at out of all, and the best of them up to now.

    `meets` says whether they meet the goal; else they are those that miss it least.
    """

    plan: Plan
    done: int
    total: int
    changes: tuple[PlannedChange, ...]
    meets: bool

    @property
    def finished(self) -> bool:
        """Whether this is the result."""
        return self.done >= self.total

    def proposals(self, most: int | None = None) -> tuple[Proposal, ...]:
        """What has been found, best first: all, or the first `most`. Setups are built only here."""
        plan = self.plan
        found = propose(plan.setup, plan.choices, plan.goal, self.changes, meets=self.meets)
        return tuple(islice(found, most))


class _Search:
    """The state of a running search."""

    def __init__(self, plan: Plan) -> None:
        self.plan = plan
        self.front = Front()
        self.near = NearMisses()
        self.fitter = Fitter(plan.choices.chains, plan.choices.derailleurs)

    @cached_property
    def cassettes(self) -> tuple[CassetteChoice, ...]:
        return (CassetteChoice.of(self.plan.setup, on_bike=True), *self.plan.choices.cassettes)

    @cached_property
    def ring_sets(self) -> list[RingSet]:
        return ring_sets(rings_on(self.plan.setup), self.plan.choices.rings, len(self.plan.setup.crank.rings))

    @cached_property
    def each(self) -> int:
        """Changes that one set of rings with one variant stands for: each chain with each derailleur."""
        choices = self.plan.choices
        return (len(choices.chains) + 1) * (len(choices.derailleurs) + 1)

    @cached_property
    def total(self) -> int:
        many = sum(count_variants(cassette, self.plan.choices.cogs) for cassette in self.cassettes)
        return many * len(self.ring_sets) * self.each

    @cached_property
    def base(self) -> tuple[float, float]:
        gears = gears_of(self.plan.baseline or self.plan.setup)
        return gears[0].development_m, gears[-1].development_m

    @cached_property
    def wheel_m(self) -> float:
        return wheel_of(self.plan.setup).m

    @cached_property
    def hubs(self) -> tuple[float, ...]:
        return tuple(sorted(self.plan.setup.rear.hub_ratios))

    def progress(self, done: int) -> PlanProgress:
        meets = bool(self.front.changes)
        changes = tuple(self.front.changes) if meets else self.near.changes
        return PlanProgress(self.plan, done, self.total, changes, meets)

    def run(self) -> Iterator[int]:
        """Look at everything; yields how many changes have been looked at."""
        done = 0
        yield done
        for cassette in self.cassettes:
            groups: dict[tuple[int, int], Group] = {}
            for made, variant in enumerate(variants(cassette, self.plan.choices.cogs), 1):
                collect(groups, variant)
                if made % VARIANTS_A_STEP == 0:
                    yield done
            pairs = ((rings, group) for rings in self.ring_sets for group in groups.values())
            for looked, (rings, group) in enumerate(pairs, 1):
                self.look(rings, group)
                done += group.counted * self.each
                if looked % PAIRS_A_STEP == 0:
                    yield done

    def look(self, rings: RingSet, group: Group) -> None:
        """Look at one set of rings with all variants of a cassette that share their ends."""
        case = self.case(rings, group)
        out_of_reach = miss_of(self.plan.goal, case.low_m, case.high_m, 1.0, 0.0).total > 0.0
        if out_of_reach and self.front.changes:
            return
        hardware: Hardware | None = None
        for variant in group.best:
            if self.wanted(case, variant):
                hardware = hardware or self.fitter.find(setup_of(self.plan.setup, rings, variant))
                self.enter(case, variant, hardware)

    def case(self, rings: RingSet, group: Group) -> "_Case":
        """What is the same for all variants of a group on these rings."""
        low_m = rings.teeth[0] / group.high * self.hubs[0] * self.wheel_m
        high_m = rings.teeth[-1] / group.low * self.hubs[-1] * self.wheel_m
        return _Case(rings, low_m, high_m, lost_range(low_m, high_m, *self.base))

    def wanted(self, case: "_Case", variant: Variant) -> bool:
        """Whether the variant could come into the front or be a near miss, if it needed nothing else."""
        worst, cost = self.worst(variant), variant.cost + case.rings.cost
        if self.front.changes:
            return not self.front.covered((case.lost.low + case.lost.high, math.log(worst), cost))
        return not self.near.hopeless(miss_of(self.plan.goal, case.low_m, case.high_m, worst, cost))

    def worst(self, variant: Variant) -> float:
        """The largest step as a ratio: of the cassette, or of the hub gear where there is one cog."""
        if len(variant.cogs) > 1:
            return variant.worst
        return max((b / a for a, b in pairwise(self.hubs)), default=1.0)

    def enter(self, case: "_Case", variant: Variant, hardware: Hardware) -> None:
        """Take a change into the front, or among the near misses."""
        rings, low_m, high_m, lost = case
        cost = rings.cost + variant.cost + hardware.cost
        change = PlannedChange(rings, variant, hardware, lost, low_m, high_m, self.worst(variant), cost)
        miss = miss_of(self.plan.goal, low_m, high_m, change.worst, cost)
        if miss.total == 0.0 and not hardware.problems:
            self.front.add(change)
        elif not self.front.changes:
            self.near.add(change, miss)


class _Case(NamedTuple):
    """Rings with the ends of a cassette."""

    rings: RingSet
    low_m: float
    high_m: float
    lost: LostRange


def rings_on(setup: Setup) -> tuple[RingChoice, ...]:
    """The rings on the bike; the smallest of several is on the inner bolt circle where there is one."""
    rings = setup.crank.rings
    inner = rings[0] if setup.crank.inner_bolt_circle_mm is not None and len(rings) > 1 else None
    return tuple(RingChoice(n, price=0.0, inner=n == inner, on_bike=True) for n in rings)
