"""Where a motor's help ends: the cadence of each gear at the speed at which it is cut off."""

from enum import StrEnum
from typing import NamedTuple

from cogwright.core.common.units import MIN_PER_H
from cogwright.core.gears.gears import Gear, gears_of
from cogwright.core.setup.model import Setup


class Reach(StrEnum):
    """How a gear meets the cut-off speed."""

    LIKED = "reaches it"
    SPINS = "spins out before"
    DRAGS = "only at a low cadence"


class GearReach(NamedTuple):
    """One gear: cadence in rpm at the cut-off speed, and how that suits the rider."""

    gear: Gear
    cutoff_rpm: float
    reach: Reach


def cutoff_rpm(development_m: float, cutoff_kmh: float) -> float:
    """Cadence in rpm at a speed: v / (0.06 development).

    >>> round(cutoff_rpm(5.0, 25.0), 1)
    83.3
    """
    return cutoff_kmh * 1000.0 / MIN_PER_H / development_m


def reaches(setup: Setup) -> tuple[GearReach, ...]:
    """Every gear, easiest first; none while the cut-off speed is not known.

    A gear reaches it where its cadence there is one that the rider likes (from low to high) and the motor
    still helps at.
    """
    cutoff = setup.motor.cutoff_kmh
    if cutoff is None:
        return ()
    low, _, high = setup.rider.cadence_rpm
    most = min(high, setup.motor.cadence_rpm or high)
    return tuple(_reach(gear, cutoff_rpm(gear.development_m, cutoff), low, most) for gear in gears_of(setup))


def _reach(gear: Gear, rpm: float, low: float, most: float) -> GearReach:
    reach = Reach.SPINS if rpm > most else Reach.DRAGS if rpm < low else Reach.LIKED
    return GearReach(gear, rpm, reach)
