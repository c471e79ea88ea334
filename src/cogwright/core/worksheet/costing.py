"""What a change costs: the one list of its parts that order sheet, proposals and comparisons all show."""

from cogwright.core.figures import Figures
from cogwright.core.parts.bin import Bin
from cogwright.core.parts.search import EMPTY
from cogwright.core.setup.model import Setup
from cogwright.core.setup.renewed import with_new_cassette, with_new_chain, with_new_rings
from cogwright.core.worksheet.changes import changes_of
from cogwright.core.worksheet.sheet import Change, Costing, Job


def costing(baseline: Setup, bench: Setup, stock: Bin | None = None) -> Costing:
    """The parts that make the bench of the baseline, each with its price and where it comes from.

    Each part is one that lies in the bin, else the cheapest to order; without a bin, or where it has none, it
    is one to buy without a price. A new chain for one that is too short for the bench, or too wide, is among
    them without being asked for.
    """
    parts = stock or EMPTY
    changes = changes_of(Figures(bench, baseline), baseline, parts)
    return Costing(after=_after(baseline, bench, changes), currency=parts.currency, changes=changes)


def _after(baseline: Setup, bench: Setup, changes: tuple[Change, ...]) -> Setup:
    """The bench with all parts on, and the wear of what went forgotten."""
    after, jobs = with_chain_of(bench, changes), {change.job: change for change in changes}
    if Job.CASSETTE in jobs:
        after = with_new_cassette(after)
    if Job.RINGS in jobs and len(jobs[Job.RINGS].off) == len(baseline.crank.rings):
        after = with_new_rings(after)
    return after


def with_chain_of(bench: Setup, changes: tuple[Change, ...]) -> Setup:
    """The bench with the chain of its parts on."""
    for change in changes:
        if change.job is Job.NEW_CHAIN and change.chain is not None:
            return with_new_chain(bench, change.chain)
        if change.chain is not None:
            return bench.model_copy(update={"chain": change.chain})
    return bench
