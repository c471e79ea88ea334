"""The study: the figures of a bench against a baseline, and whether it goes together.

Every view and report reads one. What only some of them ask for is a function of it, in a folder of its own:
the ride (`riding.grades.ride_of`), a course (`riding.course_ride.on_course`), how to shift
(`shifting.shift_order.shift_order_of`), the order sheet (`worksheet.build.order_sheet`).
"""

from functools import cached_property

from cogwright.core.figures import Figures
from cogwright.core.fit.check import Check
from cogwright.core.fit.registry import fit_of
from cogwright.core.setup.model import Setup


class Study(Figures):
    """A bench against a baseline: its figures, and the fit checks made of them."""

    @cached_property
    def fit(self) -> tuple[Check, ...]:
        """Will it go together: every check that applies."""
        return fit_of(self)


def study(bench: Setup, baseline: Setup | None = None) -> Study:
    """All that every view reads of a bench, against a baseline if there is one."""
    return Study(bench, baseline)
