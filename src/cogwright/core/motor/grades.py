"""The steepest grade that rider and motor hold together in each gear, by the model for the rider alone."""

import math
from dataclasses import dataclass

from cogwright.core.common.units import S_PER_MIN, kmh
from cogwright.core.drive.assist import GearReach, reaches
from cogwright.core.figures import Figures
from cogwright.core.riding.efforts import sustained
from cogwright.core.riding.grades import steepest_pct
from cogwright.core.riding.resistance import Resistance, resistance_of, speed_at_cadence, steepest_grade
from cogwright.core.setup.model import Motor


@dataclass(frozen=True, slots=True)
class AssistedGear:
    """One gear: how it meets the cut-off speed, and the grade in % held without and with help.

    `motor_w` is what the motor adds there, W.
    """

    reach: GearReach
    alone_pct: float
    helped_pct: float
    motor_w: float


def motor_power(motor: Motor, rpm: float, speed: float, circumference_m: float) -> float:
    """Power in W that the motor adds at a cadence in rpm and a speed in m/s: torque times angular speed.

    At the crank w = 2 pi rpm / 60, at the wheel w = 2 pi v / C; no more than `power_w`, and nothing above the
    cadence up to which it helps or from the cut-off speed on.

    >>> round(motor_power(Motor(crank_torque_nm=50.0), 60.0, 3.0, 2.1))
    314
    """
    too_fast = motor.cutoff_kmh is not None and kmh(speed) >= motor.cutoff_kmh
    if too_fast or (motor.cadence_rpm is not None and rpm > motor.cadence_rpm):
        return 0.0
    crank = (motor.crank_torque_nm or 0.0) * 2.0 * math.pi * rpm / S_PER_MIN
    wheel = (motor.wheel_torque_nm or 0.0) * 2.0 * math.pi * speed / circumference_m
    power = crank + wheel
    return power if motor.power_w is None else min(power, motor.power_w)


def assisted(figures: Figures) -> tuple[AssistedGear, ...]:
    """Every gear, easiest first; none without a motor's torque or its cut-off speed."""
    setup = figures.bench
    motor = setup.motor
    if motor.crank_torque_nm is None and motor.wheel_torque_nm is None:
        return ()
    of, effort = resistance_of(setup), sustained(setup.rider)
    return tuple(
        _assisted(found, figures, of, effort.rpm, effort.power_w, steepest_pct(found.gear, effort, of))
        for found in reaches(setup)
    )


def _assisted(
    found: GearReach, figures: Figures, of: Resistance, rpm: float, rider_w: float, alone_pct: float
) -> AssistedGear:
    motor = figures.bench.motor
    speed = speed_at_cadence(found.gear.development_m, rpm)
    added = motor_power(motor, rpm, speed, figures.wheel.m)
    # A motor at the wheel loses nothing in the chain: at the pedals it would take that much more.
    at_pedals = added / of.efficiency if motor.crank_torque_nm is None else added
    helped = 100.0 * steepest_grade(speed, rider_w + at_pedals, of)
    return AssistedGear(found, alone_pct, helped, added)
