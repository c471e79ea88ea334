"""Checks of a motor, and of what rider and motor together put on chain and hub.

The law of the place decides how fast and how strongly a motor may help: nothing here says that it is allowed.
"""

from collections.abc import Callable
from typing import Final

from cogwright.core.common.words import few
from cogwright.core.drive.assist import Reach, reaches
from cogwright.core.drive.loads import Loads, loads_of
from cogwright.core.figures import Figures
from cogwright.core.fit.applies import for_chains
from cogwright.core.fit.check import Check, Status, needs
from cogwright.core.setup.model import Setup

#: Where the standard holds (scope of EN 15194; Directive 2002/24/EC, article 1(h)).
STANDARD: Final = "25 km/h and 250 W continuous where EN 15194 holds"
LAW: Final = f"The law of the place wins over every figure here ({STANDARD}), and so do the makers' limits."
_NAMED: Final = 4


def assist_reach(figures: Figures) -> Check | None:
    """How many gears come to the speed at which the motor is cut off at a cadence that the rider likes."""
    setup = figures.bench
    if not setup.motor.given:
        return None
    found = reaches(setup)
    if not found:
        return needs("assist reach", "gears", None, "motor.cutoff_kmh")
    liked = [one for one in found if one.reach is Reach.LIKED]
    speed = f"{setup.motor.cutoff_kmh:g} km/h"
    if liked:
        named = few([f"{one.gear.label} ({one.cutoff_rpm:.0f} rpm)" for one in liked], _NAMED)
        return Check("assist reach", Status.OK, len(liked), 1, "gears", f"{speed} in {named}", least=True)
    top = found[-1]
    how = "too fast for the legs" if top.reach is Reach.SPINS else "too slow for the legs"
    say = (
        f"no gear comes to {speed} at a cadence you like: {top.gear.label} at {top.cutoff_rpm:.0f} rpm, {how}"
    )
    return Check("assist reach", Status.CAUTION, 0, 1, "gears", say, least=True)


def assist_limit(figures: Figures) -> Check | None:
    """The speed at which the motor is cut off, and its power, against the law of the place."""
    motor, limits = figures.bench.motor, figures.bench.limits
    if not motor.given:
        return None
    if limits.assist_kmh is None:
        say = f"needs limits.assist_kmh in the setup: the law of the place wins ({STANDARD})"
        return Check("assist limit", Status.UNKNOWN, motor.cutoff_kmh, None, "km/h", say)
    if motor.cutoff_kmh is None:
        return needs("assist limit", "km/h", None, "motor.cutoff_kmh")
    over = [f"it helps up to {motor.cutoff_kmh:g} km/h"] if motor.cutoff_kmh > limits.assist_kmh else []
    if limits.assist_w is not None and motor.power_w is not None and motor.power_w > limits.assist_w:
        over.append(f"with {motor.power_w:g} W where {limits.assist_w:g} W are allowed")
    bar = (motor.cutoff_kmh, limits.assist_kmh)
    if over:
        say = f"{' and '.join(over)}: not on the road here; the law of the place wins"
        return Check("assist limit", Status.PROBLEM, motor.cutoff_kmh, limits.assist_kmh, "km/h", say, bar)
    say = "within what the setup says is allowed; the law of the place wins"
    return Check("assist limit", Status.OK, motor.cutoff_kmh, limits.assist_kmh, "km/h", say, bar)


def hub_load(figures: Figures) -> Check | None:
    """Torque at the cog in the hardest case against what the hub's maker permits."""
    limit = figures.bench.rear.most_torque_nm
    mend = "a smaller cog or a larger ring"
    return _load("hub load", figures, limit, "Nm", lambda loads: loads.hub_nm, mend)


@for_chains
def chain_load(figures: Figures) -> Check | None:
    """The chain's pull in the hardest case against what its maker permits."""
    limit = figures.bench.chain.most_load_n
    mend = "a larger ring or a stronger chain"
    return _load("chain load", figures, limit, "N", lambda loads: loads.chain_n, mend)


def _load(
    check: str,
    figures: Figures,
    limit: float | None,
    unit: str,
    of: Callable[[Loads], float],
    mend: str,
) -> Check | None:
    if limit is None:
        return None
    loads = loads_of(figures.bench)
    if loads is None:
        return needs(check, unit, None, "crank.length_mm")
    guessed = figures.bench.rider.crank_torque_nm is None
    figure, case = of(loads), _case(loads, figures.bench)
    if figure <= limit:
        return Check(check, Status.OK, figure, limit, unit, case, (figure, limit), default=guessed)
    say = f"{case}; more than its maker states, it can break: {mend}"
    return Check(check, Status.PROBLEM, figure, limit, unit, say, (figure, limit), default=guessed)


def _case(loads: Loads, setup: Setup) -> str:
    """The hardest case in words: whose torque on which pair, and what an estimate of it took."""
    motor = f" and {loads.motor_nm:.0f} Nm of motor" if loads.motor_nm else ""
    rider = f"{loads.rider_nm:.0f} Nm of rider{motor} on {loads.ring}x{loads.cog}"
    if setup.rider.crank_torque_nm is not None:
        return rider
    if not setup.timing_chain.given:
        return f"{rider}, an estimate: all weight on one pedal"
    both = f"the {setup.rider.mass_kg:g} kg of rider.mass_kg as those of both riders"
    return f"{rider}, an estimate: {both}, all weight on pedals in step"
