"""What rider and motor put on chain and hub at the most.

Where the setup does not say how hard the rider pushes, it is estimated: all the weight on one pedal. On a
tandem that is the weight of both riders, on cranks in step.
"""

from typing import NamedTuple

from cogwright.core.chain.length import pitch_radius
from cogwright.core.common.units import GRAVITY
from cogwright.core.setup.model import Setup


class Loads(NamedTuple):
    """The hardest case: torque of rider and motor at the crank, Nm; the chain's pull, N; the cog's, Nm."""

    rider_nm: float
    motor_nm: float
    chain_n: float
    hub_nm: float
    ring: int
    cog: int


def rider_torque(mass_kg: float, crank_mm: float) -> float:
    """Torque in Nm of a rider's whole weight on a level crank: m g l (common practice for the worst case).

    >>> round(rider_torque(75.0, 170.0), 1)
    125.0
    """
    return mass_kg * GRAVITY * crank_mm / 1000.0


def rider_most(setup: Setup) -> float | None:
    """The most torque of the rider at the crank, Nm: what the setup says, else the estimate."""
    if setup.rider.crank_torque_nm is not None:
        return setup.rider.crank_torque_nm
    crank_mm = setup.crank.length_mm
    return None if crank_mm is None else rider_torque(setup.rider.mass_kg, crank_mm)


def loads_of(setup: Setup) -> Loads | None:
    """The most that chain and hub see; None while neither the rider's torque nor the crank's length is known.

    The chain pulls at T / R on the smallest ring, R being the radius of its pins; at the largest cog that is
    a torque of T r / R. A motor at the wheel does not load the chain.
    """
    rider = rider_most(setup)
    if rider is None:
        return None
    ring, cog = setup.crank.rings[0], setup.rear.cogs[-1]
    motor = setup.motor.crank_torque_nm or 0.0
    pull = (rider + motor) / (pitch_radius(ring) / 1000.0)
    return Loads(rider, motor, pull, pull * pitch_radius(cog) / 1000.0, ring, cog)
