"""The bike's history: what was done to it and when."""

import datetime

from cogwright.core.setup.model import LogEntry, Setup


def logged(setup: Setup, date: datetime.date, what: str, km: float | None = None) -> Setup:
    """The setup with an entry more in its log, in the order of the dates."""
    entry = LogEntry(date=date, what=what, km=km)
    return setup.model_copy(update={"log": tuple(sorted((*setup.log, entry), key=lambda one: one.date))})
