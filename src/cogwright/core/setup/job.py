"""The job that a setup is made for: who it is for, its number, its day, and what was said."""

import datetime
from typing import Annotated

from pydantic import Field

from cogwright.core.setup.fields import Name, Section


class JobTicket(Section):
    """What order, quote and hand-out print at their top. All of it may be left out."""

    customer: Name | None = None
    number: Name | None = None
    date: Annotated[datetime.date, Field(strict=True)] | None = None
    note: Name | None = None

    @property
    def lines(self) -> tuple[str, ...]:
        """What is given, a short line each.

        >>> JobTicket(customer="A. Rider", number="17").lines
        ('Customer: A. Rider', 'Job: 17')
        """
        said = {"Customer": self.customer, "Job": self.number, "Date": self.date, "Note": self.note}
        return tuple(f"{name}: {value}" for name, value in said.items() if value is not None)
