"""Checks of a hub gear: the least ratio of ring to cog that its maker permits."""

import math
from typing import Final

from cogwright.core.figures import Figures
from cogwright.core.fit.check import Check, Status
from cogwright.core.setup.model import Setup

_SAME: Final = 1e-9


def least_ratio(setup: Setup) -> tuple[float, str] | None:
    """The least ratio of ring to cog that holds for the setup, and the key that gives it.

    With a motor its own where the file gives one: it is the stricter of the two.
    """
    rear = setup.rear
    given = [] if rear.least_ratio is None else [(rear.least_ratio, "rear.least_ratio")]
    if setup.motor.given and rear.least_ratio_motor is not None:
        given.append((rear.least_ratio_motor, "rear.least_ratio_motor"))
    return max(given, default=None)


def hub_torque(figures: Figures) -> Check | None:
    """Smallest ring over largest cog against the least that the hub's maker permits: its torque limit."""
    setup = figures.bench
    limit = least_ratio(setup)
    motor_alone = setup.rear.least_ratio_motor is not None and setup.rear.least_ratio is None
    if limit is None:
        return None if not motor_alone else _without_motor(figures)
    least, key = limit
    ring, cog = setup.crank.rings[0], setup.rear.cogs[-1]
    figure = ring / cog
    whose = "with a motor" if key.endswith("motor") else "as its maker states"
    if figure >= least - _SAME:
        say = f"{ring}x{cog} keeps the torque in the hub as low as permitted {whose}"
        return Check("hub torque", Status.OK, figure, least, "ring to cog", say, least=True)
    mend = (
        f"a cog of {int(ring / least + _SAME)} or less, or a ring of {math.ceil(cog * least - _SAME)} or more"
    )
    say = f"{ring}x{cog} puts more torque into the hub than permitted {whose}: it can break; take {mend}"
    return Check("hub torque", Status.PROBLEM, figure, least, "ring to cog", say, least=True)


def _without_motor(figures: Figures) -> Check:
    setup = figures.bench
    figure = setup.crank.rings[0] / setup.rear.cogs[-1]
    say = "needs rear.least_ratio in the setup: the limit with a motor says nothing of it without"
    return Check("hub torque", Status.UNKNOWN, figure, None, "ring to cog", say, least=True)
