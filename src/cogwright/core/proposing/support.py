"""What goes with rings and cogs: derailleur, shifter, driver and chain, the cheapest with which all goes."""

from collections.abc import Callable, Iterable
from typing import Final, NamedTuple

from cogwright.core.chain.slack import chain_of
from cogwright.core.fit import derailleur, indexing, rear, teeth
from cogwright.core.fit.check import Status
from cogwright.core.proposing.goal import CENT
from cogwright.core.proposing.kit import Kit, RingSet
from cogwright.core.proposing.kit_fit import OF_ALL, OF_SPROCKETS, KitFacts, KitFit
from cogwright.core.proposing.kit_prices import KitPrice, KitPrices
from cogwright.core.proposing.options import PlanOptions
from cogwright.core.proposing.space import Group
from cogwright.core.setup.model import RearDerailleur, Setup
from cogwright.core.setup.renewed import chain_renewed, with_new_chain

#: What the driver answers for, the derailleur's cage on some rings, and derailleur and shifter on any.
_OF_DRIVER: Final = (teeth.freehub,)
_OF_CAGE: Final = (teeth.capacity,)
_OF_PAIR: Final = (
    teeth.largest_cog,
    teeth.smallest_cog,
    rear.clicks,
    rear.spacing_family,
    indexing.indexing,
)


class Support(NamedTuple):
    """Places of derailleur, shifter and driver, their price with the chain, and what does not go together.

    `new_chain` says that a worn chain is changed.
    """

    at: tuple[int, int, int]
    price: KitPrice = KitPrice()
    problems: int = 0
    loose: bool = False
    new_chain: bool = False

    @property
    def doubts(self) -> int:
        """Parts without a price, and a chain that nothing is known to keep on."""
        return self.price.unpriced + self.loose

    def as_good_as(self, other: "Support") -> bool:
        """Whether it has no more problems and doubts than another, and costs no more."""
        return (
            self.problems <= other.problems
            and self.doubts <= other.doubts
            and self.price.cost <= other.price.cost + CENT
        )


class Supports:
    """Finds the support of rings with a group of cassettes, and keeps what it has found."""

    def __init__(self, base: Setup, bench: Setup, options: PlanOptions, prices: KitPrices) -> None:
        self._bench, self._options, self._prices = bench, options, prices
        self._fit = KitFit(base)
        self._had_none = not chain_of(base).tensioned
        self._base = base
        self._chains: dict[object, tuple[KitPrice, int, bool]] = {}
        self._found: dict[object, tuple[Support, ...]] = {}
        self._pairs: dict[object, list[Support]] = {}
        self._least: dict[object, KitPrice] = {}

    def of(self, rings: RingSet, group: Group) -> tuple[Support, ...]:
        """The support with the fewest problems; of that, what no other beats in price and doubt."""
        key = (rings.place, group.ends)
        if key not in self._found:
            self._found[key] = self._best(rings, group)
        return self._found[key]

    def least(self, rings: RingSet, group: Group) -> KitPrice:
        """The support of a group costs no less than this, with any rings that are as many."""
        key = (len(rings.teeth), group.ends)
        if key not in self._least:
            sound = [one.price for one in self._without_chain(rings, group) if not one.problems]
            cost = min((price.cost for price in sound), default=0.0)
            self._least[key] = KitPrice(cost, min((price.unpriced for price in sound), default=0))
        return self._least[key]

    def _best(self, rings: RingSet, group: Group) -> tuple[Support, ...]:
        first = self._facts(rings, group, (0, 0, 0))
        of_rings = self._fit.problems(first, OF_SPROCKETS, self._on(rings, group, (0, 0, 0)))
        found: list[Support] = []
        for one in self._without_chain(rings, group):
            least = one._replace(problems=one.problems + of_rings, loose=self._loose(rings, group, one.at))
            if any(other.as_good_as(least) for other in found):
                continue
            found = _with(found, self._with_chain(rings, group, least))
        fewest = min((one.problems for one in found), default=0)
        return tuple(one for one in found if one.problems == fewest)

    def _without_chain(self, rings: RingSet, group: Group) -> list[Support]:
        """Every derailleur and shifter with the best driver: the soundest and cheapest first."""
        key = (len(rings.teeth), group.ends)
        if key not in self._pairs:
            drivers = self._drivers(rings, group)
            pairs = (
                self._pair(rings, group, d, s)
                for d in self._derailleurs(rings, group)
                for s in self._shifters
            )
            both = (_both(pair, driver) for pair in pairs for driver in drivers)
            self._pairs[key] = sorted(
                both, key=lambda one: (one.problems, one.price.cost, one.price.unpriced)
            )
        return self._pairs[key]

    @property
    def _shifters(self) -> range:
        return range(len(self._options.shifters))

    def _derailleurs(self, rings: RingSet, group: Group) -> list[int]:
        """All of them; not none where there has to be one."""
        needed = self._had_none and len(rings.teeth) * group.ends.many > 1
        every = enumerate(self._options.derailleurs)
        return [at for at, one in every if not (needed and one == RearDerailleur())]

    def _drivers(self, rings: RingSet, group: Group) -> list[Support]:
        found: list[Support] = []
        for at in range(len(self._options.drivers)):
            place = (0, 0, at)
            facts, on = self._facts(rings, group, place), self._on(rings, group, place)
            problems = self._fit.problems(facts, _OF_DRIVER, on)
            found = _with(found, Support(place, self._prices.driver(facts, on), problems))
        return found

    def _pair(self, rings: RingSet, group: Group, derailleur_at: int, shifter_at: int) -> Support:
        at = (derailleur_at, shifter_at, 0)
        facts, on = self._facts(rings, group, at), self._on(rings, group, at)
        problems = self._fit.problems(facts, _OF_PAIR, on)
        price = self._prices.derailleur(facts, on).plus(self._prices.shifter(facts, on))
        return Support(at, price, problems)

    def _loose(self, rings: RingSet, group: Group, at: tuple[int, int, int]) -> bool:
        facts, on = self._facts(rings, group, at), self._on(rings, group, at)
        return self._fit.status(facts, derailleur.retention, on) is Status.CAUTION

    def _with_chain(self, rings: RingSet, group: Group, one: Support) -> Support:
        """With the chain's price, and the problems of what looks at the chain or at all."""
        facts, on = self._facts(rings, group, one.at), self._on(rings, group, one.at)
        key = (facts.teeth, group.ends, one.at[0])
        if key not in self._chains:
            self._chains[key] = self._chain(facts, on())
        price, problems, new = self._chains[key]
        return one._replace(price=one.price.plus(price), problems=one.problems + problems, new_chain=new)

    def _chain(self, facts: KitFacts, on: Setup) -> tuple[KitPrice, int, bool]:
        """The chain of a kit: the old one, unless it is worn and a new one brings fewer problems."""
        kept = self._judged(facts, on)
        new = with_new_chain(on, on.chain)
        if not kept[1] or not chain_renewed(self._base, new):
            return *kept, False
        other = self._judged(facts._replace(new_chain=True), new)
        return (*other, True) if other[1] < kept[1] else (*kept, False)

    def _judged(self, facts: KitFacts, on: Setup) -> tuple[KitPrice, int]:
        price, complete = self._prices.chain(on)
        return price, self._fit.problems(facts, (*OF_ALL, *_OF_CAGE), lambda: complete)

    def _facts(self, rings: RingSet, group: Group, at: tuple[int, int, int]) -> KitFacts:
        several = len(rings.teeth) * group.ends.many > 1
        tensioned = several or self._options.derailleurs[at[0]] != RearDerailleur()
        return KitFacts(rings.place, rings.teeth, group.ends, *at, tensioned)

    def _on(self, rings: RingSet, group: Group, at: tuple[int, int, int]) -> Callable[[], Setup]:
        """A kit's setup, without its chain, when it is asked for."""
        options, variant = self._options, group.best[0][0]
        chosen = options.derailleurs[at[0]], options.shifters[at[1]], options.drivers[at[2]]
        return lambda: Kit(rings, variant, *chosen).on(self._bench)


def _both(one: Support, driver: Support) -> Support:
    at = (one.at[0], one.at[1], driver.at[2])
    return Support(at, one.price.plus(driver.price), one.problems + driver.problems)


def _with(found: Iterable[Support], one: Support) -> list[Support]:
    """What is as good as nothing else, with one more."""
    found = list(found)
    if any(other.as_good_as(one) for other in found):
        return found
    return [*(other for other in found if not one.as_good_as(other)), one]
