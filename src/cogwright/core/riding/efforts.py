"""The two efforts of a rider: one for all day, one for some minutes; and when they get off and walk."""

import math
from typing import Final, NamedTuple

from cogwright.core.common.units import GRAVITY, m_per_s
from cogwright.core.setup.model import Rider

#: Power of the short effort over the sustained one, where the file gives none: common practice, no source. By
#: the relation P = CP + W / t between power and the time for which it lasts (Monod and Scherrer 1965) it is
#: what a rider of 190 W has for three minutes out of a reserve W of 14 kJ, and adults have some 10 to 25 kJ.
SHORT_SHARE: Final = 1.4
#: Cadence of the short effort, standing, and the least one that is ridden at all, rpm: common practice.
SHORT_RPM: Final = 50.0
LEAST_RPM: Final = 40.0


class Effort(NamedTuple):
    """A power in W, the cadence in rpm down to which it is turned, and the time in s for which it lasts."""

    power_w: float
    rpm: float
    seconds: float


def sustained(rider: Rider) -> Effort:
    """The effort for all day: sitting, at the low cadence."""
    return Effort(rider.power_w, rider.cadence_rpm[0], math.inf)


def short(rider: Rider) -> Effort:
    """The effort for some minutes: standing, at a lower cadence.

    >>> short(Rider(power_w=200.0))
    Effort(power_w=280.0, rpm=50.0, seconds=180.0)
    """
    power = SHORT_SHARE * rider.power_w if rider.short_power_w is None else rider.short_power_w
    rpm = min(SHORT_RPM, rider.cadence_rpm[0]) if rider.short_cadence_rpm is None else rider.short_cadence_rpm
    return Effort(power, rpm, rider.short_s)


def least_cadence(rider: Rider) -> float:
    """The cadence in rpm under which a rider gets off."""
    given = rider.least_cadence_rpm
    return min(LEAST_RPM, rider.cadence_rpm[0]) if given is None else given


def walking_speed(rider: Rider, mass_kg: float, grade: float) -> float:
    """Speed in m/s at which a rider of a total mass in kg pushes the bike up a grade (rise over run).

    The pace that the rider walks at on the level; on a climb no more than the sustained effort lifts: on
    gradients over 15 % walking turns what the muscles burn into height as well as their own efficiency allows
    (Minetti et al., J. Appl. Physiol. 93 (2002) 1039-1046; abstract), which is what pedalling does too.

    >>> round(3.6 * walking_speed(Rider(), 86.0, 0.25), 2)
    3.34
    """
    pace = m_per_s(rider.walk_kmh)
    lift = mass_kg * GRAVITY * grade / math.hypot(1.0, grade)
    return pace if lift <= 0.0 else min(pace, rider.power_w / lift)
