"""The order sheet as values: what comes off, what goes on and from where, its cost, the work in order."""

from dataclasses import dataclass
from enum import StrEnum
from functools import cached_property
from typing import Final

from cogwright.core.parts.bin import Part, Tax
from cogwright.core.setup.model import Chain, JobTicket, Setup
from cogwright.core.wear.costs import Costs

NO_JOB: Final = JobTicket.model_construct()


class Source(StrEnum):
    """Where a part comes from, or that it comes off the bike."""

    STOCK = "stock"
    BUY = "buy"
    OFF = "off"


class Job(StrEnum):
    """One kind of work on the bike."""

    WHEEL = "wheel"
    TYRE = "tyre"
    HUB = "hub"
    DRIVER = "driver"
    CASSETTE = "cassette"
    COGS = "loose cogs"
    FRONT_OFF = "front derailleur off"
    FRONT_ON = "front derailleur on"
    FRONT_SWAP = "front derailleur"
    CRANK = "crank"
    RINGS = "rings"
    REAR_OFF = "rear derailleur off"
    REAR_DERAILLEUR = "rear derailleur"
    SHIFTER = "rear shifter"
    NEW_CHAIN = "new chain"
    CUT_CHAIN = "shorten chain"
    BELT = "belt"
    TIMING = "timing chain"


@dataclass(frozen=True, slots=True)
class Item:
    """One part. Price in the bin's currency, mass in g, wait in days; None where nobody wrote it down.

    `part` is the bin's own that goes on; None when the bin has none.
    """

    what: str
    source: Source
    price: float | None = None
    mass_g: float | None = None
    lead_days: int | None = None
    note: str = ""
    part: Part | None = None


@dataclass(frozen=True, slots=True)
class Change:
    """One job with the parts that it takes off and puts on; `to` is what it is done to, in words.

    `chain` is the chain afterwards, where the job is the chain's.
    """

    job: Job
    off: tuple[Item, ...] = ()
    on: tuple[Item, ...] = ()
    to: str = ""
    chain: Chain | None = None

    @property
    def not_weighed(self) -> tuple[Item, ...]:
        """Parts without a known mass."""
        return tuple(item for item in (*self.off, *self.on) if item.mass_g is None)

    @property
    def mass_change_g(self) -> float:
        """What the job adds, g; 0 when a part on one side cannot be set against the other's."""
        if self.off and self.on and self.not_weighed:
            return 0.0
        return sum(i.mass_g or 0.0 for i in self.on) - sum(i.mass_g or 0.0 for i in self.off)


@dataclass(frozen=True, slots=True)
class WorkStep:
    """One step of the work, its estimated minutes, and what to mind."""

    do: str
    minutes: float = 0.0
    cautions: tuple[str, ...] = ()


@dataclass(frozen=True)
class Costing:
    """The parts of a change and their prices, in the bin's currency: one list, wherever it is shown.

    Sums leave out what is not known, and name it. `after` is the bike with all of it on: the bench with
    the chain that goes with it.
    """

    after: Setup
    currency: str
    changes: tuple[Change, ...]

    @cached_property
    def off(self) -> tuple[Item, ...]:
        """Parts that come off."""
        return tuple(item for change in self.changes for item in change.off)

    @cached_property
    def on(self) -> tuple[Item, ...]:
        """Parts that go on."""
        return tuple(item for change in self.changes for item in change.on)

    def parts_from(self, source: Source) -> tuple[Item, ...]:
        """Parts that go on from the bin, or that must be bought."""
        return tuple(item for item in self.on if item.source is source)

    def cost(self, source: Source) -> float:
        """Known prices of the parts from the bin, or of those to buy."""
        return sum(item.price for item in self.parts_from(source) if item.price is not None)

    @property
    def parts_cost(self) -> float:
        """Known prices of all parts that go on."""
        return self.cost(Source.STOCK) + self.cost(Source.BUY)

    @property
    def unpriced(self) -> tuple[str, ...]:
        """Parts that go on and have no known price."""
        return tuple(item.what for item in self.on if item.price is None)

    @property
    def price(self) -> float | None:
        """What all parts that go on cost; None when one of them has no known price."""
        return None if self.unpriced else self.parts_cost

    @property
    def mass_change_g(self) -> float:
        """Known masses that go on less those that come off, g.

        A part is only set against the one that it replaces: a job with parts both ways counts when all of
        them are known, so that a new cassette that nobody has weighed does not pass for a saving.
        """
        return sum(change.mass_change_g for change in self.changes)

    @property
    def unweighed(self) -> tuple[str, ...]:
        """Parts of no known mass."""
        return tuple(item.what for change in self.changes for item in change.not_weighed)

    @property
    def weighs_nothing(self) -> bool:
        """Whether no change of mass is known at all."""
        if all(change.off and change.on and change.not_weighed for change in self.changes):
            return True
        weighed = {item.what for change in self.changes for item in (*change.on, *change.off)}
        return len(self.unweighed) >= len(weighed)

    @property
    def wait_days(self) -> int | None:
        """Longest known wait for a part to buy, days; None when none is known."""
        known = [i.lead_days for i in self.parts_from(Source.BUY) if i.lead_days is not None]
        return max(known, default=None)

    @property
    def unscheduled(self) -> tuple[str, ...]:
        """Parts to buy whose wait is not known."""
        return tuple(i.what for i in self.parts_from(Source.BUY) if i.lead_days is None)


@dataclass(frozen=True)
class OrderSheet(Costing):
    """The change from a baseline to a bench: its parts, the work in order, and what is to mind.

    `problems` remain with the new parts on; `unchecked` are checks that the setup lacks the facts for.
    `costs` are those of wear on the bike as it came in, where they are known.
    """

    bench: str
    baseline: str
    stock: str
    rate_per_hour: float | None
    steps: tuple[WorkStep, ...]
    alarms: tuple[str, ...]
    problems: tuple[str, ...]
    unchecked: tuple[str, ...] = ()
    costs: Costs | None = None
    job: JobTicket = NO_JOB
    tax: Tax | None = None

    @property
    def minutes(self) -> float:
        """Labour, an estimate."""
        return sum(step.minutes for step in self.steps)

    @property
    def labour_cost(self) -> float | None:
        """Labour at the shop's rate; None without one."""
        return None if self.rate_per_hour is None else self.rate_per_hour * self.minutes / 60.0

    @property
    def total(self) -> float | None:
        """Parts and labour; None while a price or the rate is not known."""
        if self.price is None or self.labour_cost is None:
            return None
        return self.price + self.labour_cost

    @property
    def tax_amount(self) -> float | None:
        """The tax on the total, or in it; None without a rate, or while the total is not known."""
        return None if self.tax is None or self.total is None else self.tax.part_of(self.total)

    @property
    def to_pay(self) -> float | None:
        """What the customer pays, tax and all; None while a price or the rate is not known."""
        if self.total is None or self.tax is None or self.tax.included:
            return self.total
        return self.total + self.tax.part_of(self.total)


def off_bike(what: str, like: Part | None = None) -> Item:
    """A part that comes off; its mass is that of a like part in the bin."""
    return Item(what, Source.OFF, mass_g=like.mass_g if like else None)


def onto_bike(what: str, part: Part | None, note: str = "") -> Item:
    """A part that goes on: out of the bin when one lies there, else to buy."""
    if part is None:
        return Item(what, Source.BUY, note=note)
    source = Source.STOCK if part.count else Source.BUY
    wait = None if part.count else part.lead_days
    return Item(what, source, part.price, part.mass_g, wait, note, part)
