"""The bike after the work of a sheet has been done: its parts, its log, and what is known of its wear."""

import datetime
from dataclasses import dataclass
from typing import Final

from cogwright.core.common.errors import EditRefused
from cogwright.core.common.safe_text import cut
from cogwright.core.setup.model import Setup
from cogwright.core.wear.log import logged
from cogwright.core.worksheet.sheet import Change, Costing, Job

#: As long as an entry of the log may be.
_ROOM: Final = 200


def as_fitted(of: Costing, date: datetime.date, km: float | None = None) -> Setup:
    """The setup with all parts of a costing on, and the day's work in its log.

    As it was without a change; the same work of one day is not written down twice.
    """
    known = not of.changes or in_log(of, date)
    return of.after if known else logged(of.after, date, work_in_words(of.changes), km)


def in_log(of: Costing, date: datetime.date) -> bool:
    """Whether the work stands in the log of a day already."""
    entry = (date, work_in_words(of.changes))
    return any((one.date, one.what) == entry for one in of.after.log)


def work_in_words(changes: tuple[Change, ...]) -> str:
    """The jobs in a line of the log.

    >>> work_in_words((Change(Job.CASSETTE, to="cassette 11-34, 11 cogs"), Change(Job.FRONT_OFF)))
    'cassette 11-34, 11 cogs; front derailleur off'
    """
    said = [f"new chain, {c.to}" if c.job is Job.NEW_CHAIN else c.to or c.job.value for c in changes]
    return cut("; ".join(said), _ROOM)


@dataclass(frozen=True, slots=True)
class BookWork:
    """Put all parts of a costing on and write the day's work into the log, as one edit."""

    of: Costing
    date: datetime.date
    km: float | None = None

    def apply(self, setup: Setup) -> Setup:  # noqa: ARG002 - the protocol asks for it
        """See Edit; the costing's own bike is what it gives. Raises EditRefused for the same work again."""
        if in_log(self.of, self.date):
            raise EditRefused("this work is in the log of today already")
        return as_fitted(self.of, self.date, self.km)

    def say(self) -> str:
        """See Edit."""
        return "the work booked"
