"""What in a setup may be meant but is unusual: said, never refused."""

from cogwright.core.common.errors import Problem
from cogwright.core.setup.model import Setup
from cogwright.core.setup.sizes import is_known_bead_seat


def cautions(setup: Setup) -> tuple[Problem, ...]:
    """Unusual facts of a setup: a bead seat diameter that is not on the list of those in use."""
    size = setup.wheel.size
    if size is None or is_known_bead_seat(size):
        return ()
    what = f"{size.rsplit('-', 1)[-1]} mm is no bead seat diameter in common use"
    measure = "" if setup.wheel.rollout_mm is not None else ", or measure rollout_mm"
    return (Problem(what, f"read the marking on the tyre again{measure}", "wheel.size"),)
