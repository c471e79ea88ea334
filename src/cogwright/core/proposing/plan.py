"""The plan: which whole kits out of the bin meet the limits, and serve best.

Every set of rings, every cassette, up to two loose cogs swapped, every derailleur, shifter and freehub
driver, with the chain and the small parts that follow from them. Nothing is sampled: of the cassettes with
the same ends those are left out that another one beats in step and price, and the support is the cheapest
with which a kit goes together. Neither can lose a kit that no other one beats. Where a plan is to serve on
rides or a course the time without a gear is an aim too; cassettes with the same ends serve alike there
unless a step is as wide as the liked cadences.
"""

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import cached_property
from itertools import islice, pairwise, product
from typing import Final, NamedTuple

from cogwright.core.gears.gears import gears_of, wheel_of
from cogwright.core.parts.bin import Bin
from cogwright.core.proposing.choices import CassetteChoice
from cogwright.core.proposing.front import Front, NearMisses, PlannedKit
from cogwright.core.proposing.goal import Goal, Miss, miss_of
from cogwright.core.proposing.kit import Kit, RingSet, Variant
from cogwright.core.proposing.kit_fit import CogEnds
from cogwright.core.proposing.kit_prices import KitPrice, KitPrices
from cogwright.core.proposing.lost_range import LostRange, lost_range
from cogwright.core.proposing.options import PlanOptions, options_for
from cogwright.core.proposing.plan_proposals import propose
from cogwright.core.proposing.proposal import Proposal
from cogwright.core.proposing.served import Served
from cogwright.core.proposing.space import Ends, Group, count_variants, ring_sets, variants
from cogwright.core.proposing.support import Support, Supports
from cogwright.core.setup.model import Setup

#: Variants made, and pairs of rings and ends looked at, between two reports: some hundredths of a second.
VARIANTS_A_STEP: Final = 1024
PAIRS_A_STEP: Final = 16
#: Pairs that are put in order at once.
PAIRS_A_BATCH: Final = 1024
#: So much money counts like a ratio of e when kits are put in the order in which they are looked at.
COST_SCALE: Final = 200.0
ANYTHING: Final = Goal()


@dataclass(frozen=True)
class Plan:
    """A search: iterate over `progress`, or take `result` at once. Nothing runs before that.

    The baseline is the bike as it is: what range is lost against, and what a kit is priced from; without one
    it is the setup itself.
    """

    setup: Setup
    stock: Bin
    goal: Goal = ANYTHING
    baseline: Setup | None = None
    served: Served | None = None

    @property
    def base(self) -> Setup:
        """The bike as it is."""
        return self.baseline or self.setup

    @property
    def bench(self) -> Setup:
        """What kits are put on: the bench, with parts as worn as they are on the bike."""
        return self.setup.model_copy(update={"wear": self.base.wear})

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
    """How far a search is: kits looked at out of all, and the best of them up to now.

    `meets` says whether they meet the goal; else they are those that miss it least.
    """

    plan: Plan
    done: int
    total: int
    kits: tuple[PlannedKit, ...]
    meets: bool

    @property
    def finished(self) -> bool:
        """Whether this is the result."""
        return self.done >= self.total

    def proposals(self, most: int | None = None) -> tuple[Proposal, ...]:
        """What has been found, best first: all, or the first `most`. Setups are built only here."""
        plan = self.plan
        found = propose(plan.bench, plan.base, plan.stock, plan.goal, self.kits, meets=self.meets)
        return tuple(islice(found, most))


class _Pair(NamedTuple):
    """Rings with the ends of a group of cassettes, and what is the same for all of them.

    `price` is the least that rings and support cost; `hope` the least that a kit loses, steps and costs, on
    one scale, by which only the order goes in which pairs are looked at.
    """

    rings: RingSet
    group: Group
    low_m: float
    high_m: float
    lost: LostRange
    price: KitPrice
    hope: float

    def miss(self, goal: Goal, worst: float = 1.0, price: KitPrice | None = None) -> Miss:
        """What a kit of these misses at the least; with its step and price, what it misses."""
        cost, unpriced = price or self.price
        return miss_of(goal, self.low_m, self.high_m, worst, cost, unpriced)


class _Search:
    """The state of a running search."""

    def __init__(self, plan: Plan) -> None:
        self.plan = plan
        self.front = Front()
        self.near = NearMisses()
        self.prices = KitPrices(plan.base, plan.bench, plan.stock)
        self.supports = Supports(plan.base, plan.bench, self.options, self.prices)

    @cached_property
    def options(self) -> PlanOptions:
        return options_for(self.plan.base, self.plan.setup, self.plan.stock)

    @cached_property
    def ring_sets(self) -> list[RingSet]:
        most = max(len(self.plan.setup.crank.rings), len(self.plan.base.crank.rings))
        wanted = self.plan.goal.rings_at_most
        allowed = most if wanted is None else min(most, int(wanted))
        return ring_sets(self.options.own, self.options.rings, allowed)

    @cached_property
    def total(self) -> int:
        many = sum(count_variants(cassette, self.options.cogs) for cassette in self.options.cassettes)
        return many * len(self.ring_sets) * self.options.supports

    @cached_property
    def base(self) -> tuple[float, float]:
        gears = gears_of(self.plan.base)
        return gears[0].development_m, gears[-1].development_m

    @cached_property
    def wheel_m(self) -> float:
        return wheel_of(self.plan.setup).m

    @cached_property
    def hubs(self) -> tuple[float, ...]:
        return tuple(sorted(self.plan.setup.rear.hub_ratios))

    def progress(self, done: int) -> PlanProgress:
        meets = bool(self.front.kits)
        kits = tuple(self.front.kits) if meets else self.near.kits
        return PlanProgress(self.plan, done, self.total, kits, meets)

    def run(self) -> Iterator[int]:
        """Look at everything, a cassette at a time; yields how many kits have been looked at."""
        done = 0
        yield done
        for cassette in self.options.cassettes:
            groups: dict[CogEnds, Group] = {}
            for made, _ in enumerate(self.make(cassette, groups), 1):
                if made % VARIANTS_A_STEP == 0:
                    yield done
            for pairs in self.batches(groups.values()):
                for looked, pair in enumerate(pairs, 1):
                    self.look(pair)
                    done += pair.group.counted * self.options.supports
                    if looked % PAIRS_A_STEP == 0:
                        yield done
                yield done

    def batches(self, groups: Iterable[Group]) -> Iterator[list[_Pair]]:
        """Sets of rings with groups, those that change least first; within a batch the most hopeful first.

        What can meet the limits comes before what cannot, of equals as the rings come.
        """
        groups, pairs = tuple(groups), list[_Pair]()
        for at, rings in enumerate(self.ring_sets, 1):
            pairs += [self.pair(rings, group) for group in groups]
            if len(pairs) >= PAIRS_A_BATCH or at == len(self.ring_sets):
                yield sorted(pairs, key=lambda pair: (pair.miss(self.plan.goal).total > 0.0, pair.hope))
                pairs = []

    def make(self, cassette: CassetteChoice, groups: dict[CogEnds, Group]) -> Iterator[None]:
        """Put every variant of a cassette into the group of its ends, one at a time."""
        rear = self.plan.setup.rear
        ends = Ends(cassette, len(rear.cogs), rear.cog_pitch_mm)
        for variant in variants(cassette, self.options.cogs):
            key = ends.of(variant.cogs)
            groups.setdefault(key, Group(key)).add(variant, self.prices.cassette(variant))
            yield

    def pair(self, rings: RingSet, group: Group) -> _Pair:
        """Rings and a group, with the least that a kit of them costs."""
        low_m = rings.teeth[0] / group.ends.high * self.hubs[0] * self.wheel_m
        high_m = rings.teeth[-1] / group.ends.low * self.hubs[-1] * self.wheel_m
        lost = lost_range(low_m, high_m, *self.base)
        least = self.prices.rings(rings).plus(self.supports.least(rings, group))
        variant, price = group.best[0]
        spent = (least.cost + price.cost) / COST_SCALE
        hope = round(lost.low + lost.high + math.log(self.worst(variant)) + spent, 9)
        return _Pair(rings, group, low_m, high_m, lost, least, hope)

    def look(self, pair: _Pair) -> None:
        """Look at one set of rings with all variants of a group."""
        if self.front.kits and pair.miss(self.plan.goal).total:
            return
        for variant, price in pair.group.best:
            if self.wanted(pair, variant, price):
                for support in self.supports.of(pair.rings, pair.group):
                    self.enter(pair, variant, price, support)

    def wanted(self, pair: _Pair, variant: Variant, price: KitPrice) -> bool:
        """Whether the variant could come into the front or be a near miss, with the cheapest support."""
        worst, least = self.worst(variant), pair.price.plus(price)
        miss = pair.miss(self.plan.goal, worst, least)
        if self.front.kits:
            outside = self.outside_s(pair.rings, variant)
            aims: tuple[float, ...] = (
                pair.lost.low + pair.lost.high,
                math.log(worst),
                least.cost,
                least.unpriced,
            )
            aims = aims if outside is None else (*aims, outside)
            return not miss.total and not self.front.covered(aims)
        return not self.near.hopeless(miss)

    def worst(self, variant: Variant) -> float:
        """The largest step as a ratio: of the cassette, or of the hub gear where there is one cog."""
        if len(variant.cogs) > 1:
            return variant.worst
        return max((b / a for a, b in pairwise(self.hubs)), default=1.0)

    def outside_s(self, rings: RingSet, variant: Variant) -> float | None:
        """Time in s for which no gear serves where the plan is to serve."""
        if self.plan.served is None:
            return None
        pairs = product(rings.teeth, variant.cogs, self.hubs)
        metres = [self.wheel_m * hub * ring / cog for ring, cog, hub in pairs]
        return round(self.plan.served.outside_s(metres, self.plan.setup.rider), 1)

    def enter(self, pair: _Pair, variant: Variant, price: KitPrice, support: Support) -> None:
        """Take a kit into the front, or among the near misses."""
        cost, unpriced = self.prices.rings(pair.rings).plus(price, support.price)
        planned = PlannedKit(
            self.kit(pair.rings, variant, support),
            pair.lost,
            pair.low_m,
            pair.high_m,
            self.worst(variant),
            cost,
            unpriced,
            support.loose,
            support.problems,
            self.outside_s(pair.rings, variant),
        )
        miss = pair.miss(self.plan.goal, planned.worst, KitPrice(cost, unpriced))
        if miss.total == 0.0 and not support.problems:
            self.front.add(planned)
        elif not self.front.kits:
            self.near.add(planned, miss)

    def kit(self, rings: RingSet, variant: Variant, support: Support) -> Kit:
        """The whole kit."""
        options, (derailleur, shifter, driver) = self.options, support.at
        return Kit(
            rings,
            variant,
            options.derailleurs[derailleur],
            options.shifters[shifter],
            options.drivers[driver],
            support.new_chain,
        )
