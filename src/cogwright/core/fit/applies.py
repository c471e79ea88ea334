"""Which bikes a check is for at all."""

from collections.abc import Callable
from functools import wraps

from cogwright.core.figures import Figures
from cogwright.core.fit.check import Check

CheckFunction = Callable[[Figures], Check | None]


def for_chains(check: CheckFunction) -> CheckFunction:
    """A check that says nothing of a bike with a belt."""

    @wraps(check)
    def checked(figures: Figures) -> Check | None:
        return None if figures.bench.belted else check(figures)

    return checked
