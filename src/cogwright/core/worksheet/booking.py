"""The bike after the work of a sheet has been done: its parts, its log, and what is known of its wear."""

import datetime
from typing import Final

from cogwright.core.common.safe_text import cut
from cogwright.core.setup.model import Setup
from cogwright.core.setup.renewed import with_new_cassette, with_new_rings
from cogwright.core.wear.log import logged
from cogwright.core.worksheet.sheet import Change, Costing, Job

#: As long as an entry of the log may be.
_ROOM: Final = 200


def as_fitted(of: Costing, date: datetime.date, km: float | None = None) -> Setup:
    """The setup with all parts of a costing on: the day's work in its log, the wear of what went forgotten.

    A chain that went leaves behind how far it had stretched, for the cogs that stay. Without a change the
    setup is as it was.
    """
    if not of.changes:
        return of.after
    setup = of.after
    jobs = {change.job for change in of.changes}
    if Job.CASSETTE in jobs:
        setup = with_new_cassette(setup)
    if Job.RINGS in jobs:
        setup = with_new_rings(setup)
    return logged(setup, date, work_in_words(of.changes), km)


def work_in_words(changes: tuple[Change, ...]) -> str:
    """The jobs in a line of the log.

    >>> work_in_words((Change(Job.CASSETTE, to="cassette 11-34, 11 cogs"), Change(Job.FRONT_OFF)))
    'cassette 11-34, 11 cogs; front derailleur off'
    """
    said = [f"new chain, {c.to}" if c.job is Job.NEW_CHAIN else c.to or c.job.value for c in changes]
    return cut("; ".join(said), _ROOM)
