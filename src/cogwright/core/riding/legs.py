"""What the legs do on a road, and the values of a ride: the road, who moves on it, and how that went."""

import math
from dataclasses import dataclass
from enum import StrEnum
from typing import Final, NamedTuple

from cogwright.core.riding.efforts import Effort
from cogwright.core.setup.model import Rider


class Legs(StrEnum):
    """What the legs do at a moment."""

    PEDAL = "pedalling"
    GRIND = "grinding"
    SPIN = "spinning"
    ROLL = "rolling"
    STAND = "standing"
    WALK = "walking"


#: What they do without turning the pedals.
IDLE: Final = (Legs.ROLL, Legs.WALK)


class Road(NamedTuple):
    """A piece of road for a rider and bike: m along it, grade, gravity and rolling in N, drag in kg/m."""

    length_m: float
    grade: float
    force: float
    drag: float


@dataclass(frozen=True, slots=True)
class SpeedLimits:
    """Speeds in m/s: the easiest gear at the low cadence, the hardest at the high one, the least ridden.

    `downhill` is the most that the rider likes where the road falls; `hold` says that they rather hold the
    high cadence there than roll.
    """

    grind: float
    spin: float
    least: float
    downhill: float
    hold: bool


@dataclass(slots=True)
class Run:
    """A way in m along the road on which the legs do one thing: time in s, slowest and fastest in m/s."""

    legs: Legs
    start_m: float
    end_m: float
    seconds: float = 0.0
    slowest: float = math.inf
    fastest: float = 0.0

    def add(self, way: float, seconds: float) -> None:
        """Go on for a way in m and a time in s."""
        self.end_m += way
        self.seconds += seconds
        self.slowest = min(self.slowest, way / seconds)
        self.fastest = max(self.fastest, way / seconds)


@dataclass(frozen=True)
class Motion:
    """Per piece s in all, s by what the legs do, m pedalled; J put in at the pedals, taken out by brakes.

    `runs` are the same in the order of the road. `speeds` are those at the start of each piece and at the
    end of the last one, m/s.
    """

    seconds: tuple[float, ...]
    by_legs: dict[Legs, tuple[float, ...]]
    pedalled_m: tuple[float, ...]
    runs: tuple[Run, ...]
    speeds: tuple[float, ...]
    pedalled_j: float
    braked_j: float


@dataclass(frozen=True, slots=True)
class Mover:
    """Who moves: person, both efforts, total mass in kg, efficiency of the drive, headwind in m/s, limits."""

    rider: Rider
    sustained: Effort
    short: Effort
    mass_kg: float
    efficiency: float
    headwind: float
    limits: SpeedLimits
