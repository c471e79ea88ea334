"""What the road asks of a rider: power at a speed, speed at a power, the steepest grade that a gear holds.

The model is the steady part of Martin et al., "Validation of a mathematical model for road cycling power",
J. Appl. Biomech. 14 (1998) 276-291: no acceleration, still air unless a headwind is given, grade G as rise
over run. On the road the authors found a standard error of 2.7 W between modelled and measured power
(R^2 0.97; abstract). Uphill, Millet et al. (Int. J. Sports Physiol. Perform. 9 (2014) 777-782; abstract)
found the measured power within about 6 % of such a model without wind, and within 10 % with it.
"""

import math
from dataclasses import dataclass
from typing import Final

from cogwright.core.common.units import GRAVITY, S_PER_MIN
from cogwright.core.riding.air import density
from cogwright.core.setup.model import Rider

#: Bearing losses of both wheels: v * (B0 + B1 * v), in W with v in m/s (Martin et al. 1998).
B0: Final = 0.091
B1: Final = 0.0087
#: A grade of 100 % is 45 degrees: no road is steeper, and figures beyond it are given as this.
STEEPEST: Final = 1.0


@dataclass(frozen=True, slots=True)
class Resistance:
    """What holds a rider back: mass in kg, rolling coefficient, drag area in m^2, air in kg/m^3.

    `efficiency` is the part of the pedal power that reaches the wheel.
    """

    mass_kg: float
    crr: float
    cda_m2: float
    air: float
    efficiency: float

    @property
    def drag(self) -> float:
        """Half of density times drag area, kg/m: the force of the air over the speed squared."""
        return 0.5 * self.air * self.cda_m2

    @property
    def weight(self) -> float:
        """Weight in N."""
        return self.mass_kg * GRAVITY


def resistance_of(rider: Rider, height_m: float | None = None) -> Resistance:
    """The resistance of a setup's rider, bike and load, at a height in m or at the rider's own."""
    height = rider.height_m if height_m is None else height_m
    mass = rider.mass_kg + rider.bike_kg + rider.load_kg
    return Resistance(mass, rider.crr, rider.cda_m2, density(height), rider.chain_efficiency)


def road_force(grade: float, of: Resistance) -> float:
    """Force of gravity and rolling in N along a road of a grade (rise over run).

    m * g * (sin(atan G) + Crr * cos(atan G)) = m * g * (G + Crr) / sqrt(1 + G^2)
    """
    return of.weight * (grade + of.crr) / math.hypot(1.0, grade)


def road_power(speed: float, grade: float, of: Resistance, headwind: float = 0.0) -> float:
    """Power in W at the pedals that a steady speed in m/s asks for; negative where the rider must brake.

    P * eta = v * (m g sin(atan G) + m g Crr cos(atan G) + 1/2 rho CdA (v + w)^2) + v * (91 + 8.7 v) / 1000,
    with the headwind w in m/s. A textbook's 85 kg at 4.0 m/s, up 1 in 20 along the slope against 20 N
    in all, is 250 W with g = 10 and so 247 W with 9.81; the drag makes up the 20 N here:

    >>> of = Resistance(85.0, 0.0, 2.5, 1.0, 1.0)
    >>> round(road_power(4.0, math.tan(math.asin(1 / 20)), of) - 4.0 * (B0 + B1 * 4.0))
    247
    """
    air_speed = speed + headwind
    force = road_force(grade, of) + of.drag * air_speed * abs(air_speed)
    return speed * (force + B0 + B1 * speed) / of.efficiency


def speed_at_power(power_w: float, grade: float, of: Resistance) -> float:
    """Steady speed in m/s that a power in W (over 0) at the pedals gives in still air, at any grade.

    The root of k v^3 + B1 v^2 + c v = p for v > 0, with k the drag, c the force of the road and the
    bearings, and p the power at the wheel. Divided by v the left side rises and the right side falls, so
    there is one root. Newton's method from above it: with a = cbrt(p/k) and s = sqrt(max(-c, 0)/k) the
    cubic is at least p at a + s; from there on it is convex, so each step stays at or above the root and
    comes nearer, and no bracket is needed.
    """
    wheel = power_w * of.efficiency
    k, c = of.drag, road_force(grade, of) + B0
    speed = math.cbrt(wheel / k) + math.sqrt(max(-c, 0.0) / k)
    if c > 0.0:
        speed = min(speed, wheel / c)
    while True:
        value = ((k * speed + B1) * speed + c) * speed - wheel
        step = value / ((3.0 * k * speed + 2.0 * B1) * speed + c)
        speed -= step
        if step <= 1e-12 * speed:
            return speed


def coasting_speed(grade: float, of: Resistance) -> float:
    """Steady speed in m/s without pedalling in still air; 0 where the bike does not roll by itself.

    The root of k v^2 + B1 v + c = 0.
    """
    c = road_force(grade, of) + B0
    if c >= 0.0:
        return 0.0
    return (-B1 + math.sqrt(B1 * B1 - 4.0 * of.drag * c)) / (2.0 * of.drag)


def steepest_grade(speed: float, power_w: float, of: Resistance) -> float:
    """Steepest grade (rise over run) on which a power in W holds a speed in m/s; negative: downhill only.

    F = eta P / v - drag v^2 - bearings is what is left for gravity and rolling; it lifts the bike on
    theta = asin(F / (m g sqrt(1 + Crr^2))) - atan(Crr), and G = tan(theta). Kept within -100 and 100 %.
    """
    force = power_w * of.efficiency / speed - of.drag * speed * speed - B0 - B1 * speed
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
