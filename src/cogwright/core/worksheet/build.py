"""The order sheet: from the baseline to the bench, with the parts of a bin."""

from dataclasses import replace
from functools import lru_cache

from cogwright.core.fit.check import Status
from cogwright.core.fit.registry import headline_problems
from cogwright.core.parts.bin import Bin
from cogwright.core.parts.search import EMPTY
from cogwright.core.parts.wear_prices import prices_for
from cogwright.core.study import Study
from cogwright.core.wear.costs import costs_of
from cogwright.core.worksheet.costing import costing
from cogwright.core.worksheet.jobs import steps_of
from cogwright.core.worksheet.sheet import OrderSheet


@lru_cache(maxsize=4)
def order_sheet(study: Study, stock: Bin | None = None) -> OrderSheet | None:
    """What the change from the study's baseline to its bench takes; None without a baseline.

    Kept for the studies and bins last seen. Without a bin every part is listed as one to buy, without a
    price. The alarms and problems are those that the new parts leave: a chain on the sheet is no longer
    short.
    """
    if study.baseline is None:
        return None
    parts = stock or EMPTY
    cost = costing(study.baseline, study.bench, stock)
    after = study if cost.after is study.bench else replace(study, bench=cost.after)
    return OrderSheet(
        bench=study.bench.name,
        baseline=study.baseline.name,
        stock=stock.name if stock else "",
        rate_per_hour=parts.labour.rate_per_hour,
        steps=steps_of(after, cost.changes, parts.labour),
        alarms=headline_problems(after),
        problems=tuple(f"{c.check}: {c.say}" for c in after.fit if c.status is Status.PROBLEM),
        unchecked=tuple(c.check for c in after.fit if c.status is Status.UNKNOWN),
        after=cost.after,
        currency=cost.currency,
        changes=cost.changes,
        costs=costs_of(study.baseline, prices_for(study.baseline, stock)),
        job=study.bench.job,
        tax=stock.tax if stock else None,
    )
