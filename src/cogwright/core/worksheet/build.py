"""The order sheet: from the baseline to the bench, with the parts of a bin."""

from dataclasses import replace

from cogwright.core.fit.check import Status
from cogwright.core.fit.registry import headline_problems
from cogwright.core.parts.bin import Bin
from cogwright.core.parts.search import EMPTY
from cogwright.core.study import Study
from cogwright.core.worksheet.changes import changes_of
from cogwright.core.worksheet.jobs import steps_of
from cogwright.core.worksheet.sheet import Change, OrderSheet


def order_sheet(study: Study, stock: Bin | None = None) -> OrderSheet | None:
    """What the change from the study's baseline to its bench takes; None without a baseline.

    Without a bin every part is listed as one to buy, without a price. The alarms and problems are those
    that the new parts leave: a chain on the sheet is no longer short.
    """
    if study.baseline is None:
        return None
    parts = stock or EMPTY
    changes = changes_of(study, study.baseline, parts)
    after = _with_chain_of(study, changes)
    return OrderSheet(
        bench=study.bench.name,
        baseline=study.baseline.name,
        stock=stock.name if stock else "",
        currency=parts.currency,
        rate_per_hour=parts.labour.rate_per_hour,
        changes=changes,
        steps=steps_of(after, changes, parts.labour),
        alarms=headline_problems(after),
        problems=tuple(f"{c.check}: {c.say}" for c in after.fit if c.status is Status.PROBLEM),
        unchecked=tuple(c.check for c in after.fit if c.status is Status.UNKNOWN),
    )


def _with_chain_of(study: Study, changes: tuple[Change, ...]) -> Study:
    """The study as it will be with the chain of the sheet on the bike."""
    chain = next((change.chain for change in changes if change.chain is not None), None)
    if chain is None:
        return study
    return replace(study, bench=study.bench.model_copy(update={"chain": chain}))
