"""A proposal's bike, and the parts that make it of the bike as it is: the list that an order sheet has."""

from typing import Any, Final, NamedTuple

from cogwright.core.parts.bin import Bin, CassettePart
from cogwright.core.proposing.bin_choices import called
from cogwright.core.proposing.kit_fit import judged
from cogwright.core.proposing.proposal import Judged, Swap, swaps_between
from cogwright.core.setup.model import Setup
from cogwright.core.worksheet.costing import costing
from cogwright.core.worksheet.sheet import Costing, Job

#: What a title says of a job that changes a whole part.
_WHOLE: Final = {
    Job.DRIVER: "another freehub driver",
    Job.WHEEL: "another wheel",
    Job.REAR_DERAILLEUR: "another rear derailleur",
    Job.SHIFTER: "another rear shifter",
    Job.NEW_CHAIN: "a new chain",
    Job.CUT_CHAIN: "the chain shortened",
}


class Priced(NamedTuple):
    """The bike with all parts on, the parts, and what the fit checks say of it."""

    base: Setup
    setup: Setup
    cost: Costing
    judged: Judged
    stocked: bool

    @property
    def facts(self) -> dict[str, Any]:
        """What a proposal says of its parts and of how it goes together."""
        currency = self.cost.currency if self.stocked else ""
        said = self.judged._asdict()
        parts = {"parts": self.cost.on, "cost": self.cost.price, "currency": currency, "fits": self.fits}
        return parts | said

    @property
    def fits(self) -> tuple[str, ...]:
        """What comes onto the bike, by the bin's own names."""
        return tuple(item.what if item.part is None else called(item.part) for item in self.cost.on)

    @property
    def cassette(self) -> tuple[int, ...]:
        """The cassette that the cogs come from: a new one, else the one on the bike."""
        parts = (item.part for item in self.cost.on)
        return next((part.cogs for part in parts if isinstance(part, CassettePart)), self.base.rear.cogs)

    @property
    def swaps(self) -> tuple[Swap, ...]:
        """Loose cogs that are swapped on that cassette; none where it comes new as it is, or unknown."""
        jobs = {change.job for change in self.cost.changes}
        unknown = Job.CASSETTE in jobs and self.cassette == self.base.rear.cogs
        return () if unknown else swaps_between(self.cassette, self.setup.rear.cogs)

    @property
    def words(self) -> list[str]:
        """What is changed, part by part, in a few words; nothing where nothing is."""
        rings, cogs = self.setup.crank.rings, self.setup.rear.cogs
        said = [f"rings {' '.join(map(str, rings))}"] if rings != self.base.crank.rings else []
        for change in self.cost.changes:
            if change.job is Job.CASSETTE:
                part = change.on[0].part
                said.append(called(part) if part else f"cassette {cogs[0]}-{cogs[-1]}, {len(cogs)} cogs")
        said += [f"cog {swap.say()}" for swap in self.swaps]
        return said + [_WHOLE[change.job] for change in self.cost.changes if change.job in _WHOLE]


def priced(base: Setup, bench: Setup, stock: Bin | None) -> Priced:
    """What a change costs, with the chain that goes with it on the bike.

    The second look is at the bike as it will be: it names the chain's own width and length.
    """
    after = costing(base, bench, stock).after
    cost = costing(base, after, stock)
    return Priced(base, cost.after, cost, judged(cost.after, base), stock is not None)
