"""The speeds that a course asks for, whatever the gears: what setups are judged by without riding each."""

import math
from functools import lru_cache
from typing import Final

from cogwright.core.common.units import m_per_s
from cogwright.core.riding.course import Course
from cogwright.core.riding.course_ride import moved, pedalled_speed
from cogwright.core.riding.legs import IDLE, SpeedLimits
from cogwright.core.riding.resistance import resistance_of, speed_at_power
from cogwright.core.setup.model import Rider, Setup

#: A rider with every gear grinds nowhere, and spins out nowhere that a bike goes, m/s.
_NEVER: Final = 1e-3
_FASTEST: Final = 1e3


@lru_cache(maxsize=8)
def wanted_speeds(course: Course, setup: Setup, rider: Rider) -> tuple[tuple[float, float], ...]:
    """Speed in m/s and time in s of each piece that is pedalled, if a gear served at every speed.

    The bike is the setup's but for its gears: mass, tyres and drive.
    """
    level = speed_at_power(rider.power_w, 0.0, resistance_of(setup, rider))
    limits = SpeedLimits(_NEVER, _FASTEST, _NEVER, max(m_per_s(rider.descent_kmh), level), hold=False)
    motion = moved(course, setup, rider, limits)
    found = []
    for at, (piece, seconds) in enumerate(zip(course.pieces, motion.seconds, strict=True)):
        spent = seconds - math.fsum(motion.by_legs[legs][at] for legs in IDLE)
        if motion.pedalled_m[at] > 0.0:
            found.append((pedalled_speed(motion, at, piece.length_m), spent))
    return tuple(found)
