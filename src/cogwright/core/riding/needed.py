"""Which development a climb asks for, or a top speed, and which gear of a bike serves."""

import math
from typing import Final, NamedTuple

from cogwright.core.chain.left_out import unreachable
from cogwright.core.common.units import S_PER_MIN, kmh, m_per_s
from cogwright.core.gears.gears import Gear, gears_of
from cogwright.core.riding.efforts import Effort, short, sustained, walking_speed
from cogwright.core.riding.resistance import cadence, resistance_of, speed_at_power
from cogwright.core.setup.model import Rider, Setup

#: What a climb may be asked with: grade in %, load in kg, cadence in rpm.
GRADES: Final = (0.5, 60.0)
LOADS: Final = (0.0, 200.0)
CADENCES: Final = (20.0, 130.0)
#: Developments within this of each other, as a share, are the same.
_SAME: Final = 1e-9


class Climb(NamedTuple):
    """A climb: grade in %, load in kg, cadence in rpm, for all day or `briefly` (the short effort).

    None is what the setup says: its load, and the cadence down to which that effort is turned.
    """

    grade_pct: float
    load_kg: float | None = None
    rpm: float | None = None
    briefly: bool = False


class Needed(NamedTuple):
    """What a climb asks for: the development in m, and the speed in m/s at which the effort turns it.

    `walks` says that pushing the bike is quicker than that.
    """

    climb: Climb
    effort: Effort
    load_kg: float
    rpm: float
    speed: float
    development_m: float
    walks: bool

    @property
    def kmh(self) -> float:
        """The speed in km/h."""
        return kmh(self.speed)


class Answer(NamedTuple):
    """A climb on a bike: the hardest gear that is low enough, or None; and the easiest one.

    `easiest_rpm` is the cadence that the climb leaves in the easiest gear that the chain reaches.
    """

    needed: Needed
    gear: Gear | None
    easiest: Gear
    easiest_rpm: float


def needed_for(climb: Climb, setup: Setup) -> Needed:
    """The development in m that a climb asks for: 60 v / cadence, v the speed that the power gives there.

    The power is that of the setup's rider, the mass with the climb's load in place of the setup's.

    >>> from cogwright.core.setup.model import Crank, Rear, Wheel
    >>> bike = Setup(name="a", wheel=Wheel(size="40-622"), crank=Crank(rings=(36,)), rear=Rear(cogs=(36,)))
    >>> light, laden = (needed_for(Climb(12.0, load), bike).development_m for load in (0.0, 25.0))
    >>> laden < light
    True
    """
    rider = setup.rider if climb.load_kg is None else _laden(setup.rider, climb.load_kg)
    effort = short(rider) if climb.briefly else sustained(rider)
    of = resistance_of(setup.model_copy(update={"rider": rider}))
    grade = climb.grade_pct / 100.0
    speed = speed_at_power(effort.power_w, grade, of)
    rpm = effort.rpm if climb.rpm is None else climb.rpm
    walks = speed < walking_speed(rider, of.mass_kg, grade)
    return Needed(climb, effort, rider.load_kg, rpm, speed, S_PER_MIN * speed / rpm, walks)


def _laden(rider: Rider, load_kg: float) -> Rider:
    return rider.model_copy(update={"load_kg": load_kg})


def answer_on(climb: Climb, setup: Setup) -> Answer:
    """Which gear of a bike is low enough for a climb, of those that its chain reaches."""
    needed, beyond = needed_for(climb, setup), unreachable(setup)
    gears = gears_of(setup)
    reached = [gear for gear in gears if (gear.ring, gear.cog) not in beyond] or list(gears)
    low = [gear for gear in reached if gear.development_m <= needed.development_m * (1.0 + _SAME)]
    easiest = reached[0]
    rpm = cadence(needed.speed, easiest.development_m)
    return Answer(needed, low[-1] if low else None, easiest, rpm)


def top_development(speed_kmh: float, rider: Rider) -> float:
    """The development in m that goes a speed in km/h at the rider's high cadence.

    36 km/h are 600 m a minute, at 100 rpm 6 m a turn:

    >>> top_development(36.0, Rider(cadence_rpm=(60.0, 85.0, 100.0)))
    6.0
    """
    if not math.isfinite(speed_kmh) or speed_kmh <= 0.0:
        raise ValueError("a top speed is above 0 km/h")
    return S_PER_MIN * m_per_s(speed_kmh) / rider.cadence_rpm[2]
