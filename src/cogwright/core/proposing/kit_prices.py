"""What the parts of a kit cost, slot by slot: the same jobs, parts and prices as an order sheet has.

Each job of an order sheet looks at one slot of a kit only (a test holds that), so that its price is worked
out once for every option and added up.
"""

from collections.abc import Callable, Iterable
from typing import NamedTuple

from cogwright.core.figures import Figures
from cogwright.core.parts.bin import Bin
from cogwright.core.proposing.cassette_prices import CassettePrices
from cogwright.core.proposing.kit import RingSet, Variant, with_ring_set
from cogwright.core.proposing.kit_fit import KitFacts
from cogwright.core.setup.model import Setup
from cogwright.core.setup.renewed import cassette_renewed, with_new_cassette
from cogwright.core.worksheet import changes as jobs
from cogwright.core.worksheet.chain_changes import chain_change
from cogwright.core.worksheet.costing import with_chain_of
from cogwright.core.worksheet.sheet import Change

#: Makes the setup of a kit, when it is asked for.
MakeSetup = Callable[[], Setup]


class KitPrice(NamedTuple):
    """Known prices added up, and how many parts have none."""

    cost: float = 0.0
    unpriced: int = 0

    def plus(self, *others: "KitPrice") -> "KitPrice":
        """Several prices as one."""
        return KitPrice(
            sum((other.cost for other in others), self.cost),
            sum((other.unpriced for other in others), self.unpriced),
        )


def price_of(changes: Iterable[Change]) -> KitPrice:
    """What the parts of some jobs cost."""
    prices = [item.price for change in changes for item in change.on]
    return KitPrice(sum(price for price in prices if price is not None), prices.count(None))


class KitPrices:
    """Prices of a bike's kits, each kept once it is known."""

    def __init__(self, base: Setup, bench: Setup, stock: Bin) -> None:
        self._base, self._bench, self._whole = base, bench, stock
        # The cable of a hub gear, if the bench has another hub, is taken out before all others.
        self._stock = _left(stock, jobs.wheel_changes(base, bench, stock))
        self._cassettes = CassettePrices(base.rear, stock)
        # Where the old cassette's wear is known, a new one is known from it even with the same cogs.
        self._told = cassette_renewed(base, with_new_cassette(bench))
        self._known: dict[object, KitPrice] = {}
        self._after_front: dict[bool, tuple[list[Change], Bin]] = {}

    def rings(self, rings: RingSet) -> KitPrice:
        """The rings with their bolts, the crank where it is another one, and what shifts between them."""
        return self._kept(rings.place, lambda: self._rings(rings))

    def _rings(self, rings: RingSet) -> Iterable[Change]:
        on = with_ring_set(self._bench, rings)
        crank = jobs.crank_changes(self._base, on, self._stock)
        front, _ = self._front(on)
        return [*front, *crank, *jobs.rings_changes(self._base, on, self._stock)]

    def cassette(self, variant: Variant) -> KitPrice:
        """The cogs, by whichever way an order sheet takes to them."""
        cassette = variant.cassette
        if self._base.belted or self._bench.belted:
            return self._kept(("pulley", variant.cogs), lambda: self._pulley(variant.cogs))
        renewed = self._told and not cassette.on_bike
        worth = self._cassettes.worth(
            variant.cogs, cassette.carriers, cassette.family, cassette.driver, renewed
        )
        return KitPrice(worth.price, worth.unpriced)

    def _pulley(self, cogs: tuple[int, ...]) -> Iterable[Change]:
        """A belt's pulley behind, or the cog in its place."""
        rear = self._bench.rear.model_copy(update={"cogs": cogs})
        on = self._bench.model_copy(update={"rear": rear})
        return jobs.cogs_changes(self._base, on, self._stock)

    def derailleur(self, kit: KitFacts, on: MakeSetup) -> KitPrice:
        """The rear derailleur of a kit."""
        key = ("derailleur", kit.derailleur, kit.tensioned)
        return self._kept(key, lambda: jobs.rear_derailleur_changes(self._base, on(), self._stock))

    def shifter(self, kit: KitFacts, on: MakeSetup) -> KitPrice:
        """The rear shifter of a kit with its cable, out of what the front's cable has left."""

        def changes() -> Iterable[Change]:
            setup = on()
            return jobs.shifter_changes(self._base, setup, self._front(setup)[1])

        return self._kept(("shifter", kit.shifter, len(kit.teeth) > 1, kit.ends.many > 1), changes)

    def driver(self, kit: KitFacts, on: MakeSetup) -> KitPrice:
        """The wheel of a kit, and its freehub driver or the wheel that has it."""
        return self._kept(("driver", kit.driver, kit.ends.many > 1), lambda: self._wheel_and_driver(on()))

    def chain(self, on: Setup) -> tuple[KitPrice, Setup]:
        """The chain of a setup that is complete but for it, and the setup with the chain on."""
        found = tuple(chain_change(Figures(on, self._base), self._base, self._stock))
        return price_of(found), with_chain_of(on, found)

    def _kept(self, key: object, changes: Callable[[], Iterable[Change]]) -> KitPrice:
        if key not in self._known:
            self._known[key] = price_of(changes())
        return self._known[key]

    def _front(self, on: Setup) -> tuple[list[Change], Bin]:
        """What shifts at the front, and what it leaves of the bin."""
        several = len(on.crank.rings) > 1
        if several not in self._after_front:
            found = list(jobs.front_changes(self._base, on, self._stock))
            self._after_front[several] = found, _left(self._stock, found)
        return self._after_front[several]

    def _wheel_and_driver(self, on: Setup) -> Iterable[Change]:
        """With them a tandem's timing chain, which no kit changes."""
        wheel = list(jobs.wheel_changes(self._base, on, self._whole))
        driver = jobs.driver_changes(self._base, on, _left(self._whole, wheel))
        return [*wheel, *driver, *jobs.timing_changes(self._base, on, self._whole)]


def _left(stock: Bin, found: Iterable[Change]) -> Bin:
    """What some jobs leave of a bin."""
    for change in found:
        stock = jobs.taken(stock, change)
    return stock
