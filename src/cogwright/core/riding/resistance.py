"""What the road asks of a rider: power at a speed, speed at a power, the steepest grade that a gear holds.

The model is the steady part of Martin et al., "Validation of a mathematical model for road cycling power",
J. Appl. Biomech. 14 (1998) 276-291: no acceleration, a wind along the road if any, grade G as rise over run.
On the road the authors found a standard error of 2.7 W between modelled and measured power (R^2 0.97;
abstract). Uphill, Millet et al. (Int. J. Sports Physiol. Perform. 9 (2014) 777-782; abstract) found the
measured power within about 6 % of such a model without wind, and within 10 % with it.
"""

import math
from dataclasses import dataclass
from typing import Final

from cogwright.core.common.units import GRAVITY, S_PER_MIN, m_per_s
from cogwright.core.riding.air import density, warmer_than_standard
from cogwright.core.riding.drive import efficiency_of
from cogwright.core.setup.model import Rider, Setup

#: Bearing losses of both wheels: v * (B0 + B1 * v), in W with v in m/s (Martin et al. 1998).
B0: Final = 0.091
B1: Final = 0.0087
#: A grade of 100 % is 45 degrees: no road is steeper, and figures beyond it are given as this.
STEEPEST: Final = 1.0


@dataclass(frozen=True, slots=True)
class Resistance:
    """What holds a rider back: mass in kg, rolling coefficient, drag area in m^2, air in kg/m^3.

    `efficiency` is the part of the pedal power that reaches the wheel; `headwind` is in m/s, from behind if
    negative.
    """

    mass_kg: float
    crr: float
    cda_m2: float
    air: float
    efficiency: float
    headwind: float = 0.0

    @property
    def drag(self) -> float:
        """Half of density times drag area, kg/m: the force of the air over the speed squared."""
        return 0.5 * self.air * self.cda_m2

    @property
    def weight(self) -> float:
        """Weight in N."""
        return self.mass_kg * GRAVITY


def resistance_of(setup: Setup, rider: Rider | None = None, height_m: float | None = None) -> Resistance:
    """The resistance of a setup under a rider (its own without one), at a height in m or at the rider's own.

    Mass, load, tyres and drive are the setup's; weight, position and weather the rider's.
    """
    by, bike = rider or setup.rider, setup.rider
    return Resistance(
        by.mass_kg + bike.bike_kg + bike.load_kg,
        bike.crr,
        by.cda_m2,
        air_at(by.height_m if height_m is None else height_m, by),
        efficiency_of(setup),
        m_per_s(by.headwind_kmh),
    )


def air_at(height_m: float, rider: Rider) -> float:
    """Density of the air in kg/m^3 at a height in m, on a day as the rider's file has it."""
    return density(height_m, warmer_than_standard(rider.temperature_c, rider.height_m))


def drag_at(height_m: float, rider: Rider) -> float:
    """Force of the air over the speed squared at a height in m, kg/m."""
    return 0.5 * air_at(height_m, rider) * rider.cda_m2


def road_force(grade: float, of: Resistance) -> float:
    """Force of gravity and rolling in N along a road of a grade (rise over run).

    m * g * (sin(atan G) + Crr * cos(atan G)) = m * g * (G + Crr) / sqrt(1 + G^2)
    """
    return of.weight * (grade + of.crr) / math.hypot(1.0, grade)


def forward_force(speed: float, power_w: float, grade: float, of: Resistance) -> float:
    """Force in N that is left to go faster at a speed in m/s (over 0) with a power in W at the pedals."""
    return power_w * of.efficiency / speed - road_force(grade, of) - _way_force(speed, of)


def _way_force(speed: float, of: Resistance) -> float:
    """Force in N of air and bearings at a speed in m/s."""
    through_air = speed + of.headwind
    return of.drag * through_air * abs(through_air) + B0 + B1 * speed


def road_power(speed: float, grade: float, of: Resistance) -> float:
    """Power in W at the pedals that a steady speed in m/s asks for; negative where the rider must brake.

    P * eta = v * (m g sin(atan G) + m g Crr cos(atan G) + 1/2 rho CdA (v + w)^2) + v * (91 + 8.7 v) / 1000,
    with the headwind w in m/s (pushing where it outruns the rider). A textbook's 85 kg at 4.0 m/s, up 1 in 20
    along the slope against 20 N in all, is 250 W with g = 10 and so 247 W with 9.81; the drag makes up the
    20 N here:

    >>> of = Resistance(85.0, 0.0, 2.5, 1.0, 1.0)
    >>> round(road_power(4.0, math.tan(math.asin(1 / 20)), of) - 4.0 * (B0 + B1 * 4.0))
    247
    """
    return speed * (road_force(grade, of) + _way_force(speed, of)) / of.efficiency


def speed_at_power(power_w: float, grade: float, of: Resistance) -> float:
    """Steady speed in m/s that a power in W (over 0) at the pedals gives, at any grade, in any wind.

    The root of F(v) = p / v for v > 0, with F the force of road, air and bearings and p the power at the
    wheel. F rises and p / v falls, so there is one root. It is bracketed by doubling, then found by Newton's
    method, with a bisection wherever that would leave the bracket.
    """
    low, high = 0.0, 1.0
    while forward_force(high, power_w, grade, of) > 0.0:
        low, high = high, 2.0 * high
    return _root(low, high, power_w, grade, of)


def coasting_speed(grade: float, of: Resistance) -> float:
    """Steady speed in m/s without pedalling; 0 where the bike does not roll by itself."""
    if forward_force(_CRAWL, 0.0, grade, of) <= 0.0:
        return 0.0
    high = 1.0
    while forward_force(high, 0.0, grade, of) > 0.0:
        high *= 2.0
    return _root(_CRAWL, high, 0.0, grade, of)


#: No bike rolls slower than this, m/s.
_CRAWL: Final = 1e-6


def _root(low: float, high: float, power_w: float, grade: float, of: Resistance) -> float:
    """The speed between two, in m/s, at which nothing is left to go faster: Newton's method in a bracket."""
    speed = high
    while True:
        value = forward_force(speed, power_w, grade, of)
        low, high = (speed, high) if value > 0.0 else (low, speed)
        wind = abs(speed + of.headwind)
        falls = power_w * of.efficiency / speed**2 + 2.0 * of.drag * wind + B1
        step = value / falls
        if abs(step) <= 1e-12 * speed or high - low <= 1e-14 * high:
            return speed
        speed = speed + step if low < speed + step < high else (low + high) / 2.0


def steepest_grade(speed: float, power_w: float, of: Resistance) -> float:
    """Steepest grade (rise over run) on which a power in W holds a speed in m/s; negative: downhill only.

    F = eta P / v - drag (v + w)^2 - bearings is what is left for gravity and rolling; it lifts the bike on
    theta = asin(F / (m g sqrt(1 + Crr^2))) - atan(Crr), and G = tan(theta). Kept within -100 and 100 %.
    """
    force = power_w * of.efficiency / speed - _way_force(speed, of)
    lift = force / (of.weight * math.hypot(1.0, of.crr))
    if abs(lift) >= 1.0:
        return math.copysign(STEEPEST, lift)
    grade = math.tan(math.asin(lift) - math.atan(of.crr))
    return max(-STEEPEST, min(STEEPEST, grade))


def speed_at_cadence(development_m: float, rpm: float) -> float:
    """Speed in m/s of a development in m at a cadence in rpm."""
    return development_m * rpm / S_PER_MIN


def cadence(speed: float, development_m: float) -> float:
    """Cadence in rpm that a speed in m/s asks for in a gear of a development in m.

    >>> cadence(5.0, 3.0)
    100.0
    """
    return speed * S_PER_MIN / development_m
