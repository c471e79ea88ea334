"""How a rider moves along a road: speed by the equation of motion, and what the legs do meanwhile.

m dv/dt = eta P / v - m g (G + Crr) / sqrt(1 + G^2) - 1/2 rho CdA (v + w)^2 - (B0 + B1 v), as in `resistance`,
with the speed carried from one piece of road into the next. The mass is that of rider, bike and load; what
the spinning wheels add to it (some 1 to 2 %) is left out. Written for the kinetic energy E = m v^2 / 2 over
the distance s it is dE/ds = F(E), which is stepped by the exponential Euler method: exact where F is a
straight line in E, and steps are so short that E changes by a seventh at most.

What the legs do follows rules of our own. They pedal with the sustained power. Where the hardest gear would
turn faster than the high cadence they let the bike roll, or hold that cadence if it would roll slower.
Downhill the rider keeps to the speed they like, by easing off and braking. Where the road would bring the
easiest gear under the least cadence, or the rider under walking pace, they stand up for the short effort if
that is enough and lasts, else get off and walk, until the sustained effort is enough again.
"""

import math
from collections.abc import Sequence
from typing import Final, NamedTuple

from cogwright.core.riding.efforts import walking_speed
from cogwright.core.riding.legs import IDLE, Legs, Motion, Mover, Road, Run
from cogwright.core.riding.resistance import B0, B1

#: In one step the kinetic energy changes by at most this share.
_MOST: Final = 0.15
#: Speeds within this share of each other are the same.
_SAME: Final = 1e-9
#: A short effort is begun again only with this part of its time recovered; a second of it takes a second.
_RESTED: Final = 1.0 / 3.0


def move(roads: Sequence[Road], mover: Mover, start: float) -> Motion:
    """Ride pieces of road one after the other, starting at a speed in m/s."""
    ride = _Ride(mover, start, len(roads))
    for road in roads:
        ride.over(road)
    by_legs = {legs: tuple(row) for legs, row in ride.spent.items()}
    rows = tuple(ride.seconds), by_legs, tuple(ride.pedalled_m), tuple(ride.runs), tuple(ride.speeds)
    return Motion(*rows, ride.pedalled_j, ride.braked_j)


class _Step(NamedTuple):
    """What comes next: what the legs do, with which power in W, between which speeds in m/s.

    With `steady` the speed stays as it is whatever the forces are: legs or brakes make up for them.
    """

    legs: Legs
    power_w: float = 0.0
    low: float = 0.0
    high: float = math.inf
    steady: bool = False


class _Ride:
    """A ride as it goes on."""

    def __init__(self, mover: Mover, start: float, pieces: int) -> None:
        self.by = mover
        self.v = max(start, mover.limits.least)
        self.walks = self.stands = False
        self.rested_s = mover.short.seconds
        self.piece = -1
        self.seconds = [0.0] * pieces
        self.pedalled_m = [0.0] * pieces
        self.speeds: list[float] = [self.v]
        self.runs: list[Run] = []
        self.at = 0.0
        self.spent = {legs: [0.0] * pieces for legs in Legs}
        self.pedalled_j = self.braked_j = 0.0

    def over(self, road: Road) -> None:
        """Ride one piece."""
        self.piece += 1
        self.road = road
        self.cap = self._cap()
        self._begin()
        left = road.length_m
        while left > 0.0:
            left -= self._step(left)
        self.speeds.append(self.v)

    def _cap(self) -> float:
        limits = self.by.limits
        most = limits.downhill if self.road.grade < 0.0 else math.inf
        return min(most, limits.spin) if limits.hold else most

    def _begin(self) -> None:
        """Slow down to what is liked here; sit down, or get on again, where the sustained effort will do."""
        if self.v > self.cap:
            self.braked_j += self._energy(self.v) - self._energy(self.cap)
            self.v = self.cap
        if self._force(self.by.limits.least, self.by.sustained.power_w) >= 0.0:
            self.pedalled_j += self._energy(self.v) if self.walks else 0.0
            self.stands = self.walks = False

    def _energy(self, speed: float) -> float:
        return 0.5 * self.by.mass_kg * speed * speed

    def _force(self, speed: float, power_w: float) -> float:
        """Force in N that is left to go faster."""
        air = speed + self.by.headwind
        way = self.road.force + self.road.drag * air * abs(air) + B0 + B1 * speed
        return power_w * self.by.efficiency / speed - way

    def _step(self, left: float) -> float:
        """Ride some of what is left of the piece, m; how far that was."""
        step = self._next()
        if step.legs is Legs.WALK:
            return self._walk(left)
        return self._hold(step.legs, left) if step.steady else self._accelerate(step, left)

    def _next(self) -> _Step:
        """What the legs do at this speed on this piece."""
        limits, power = self.by.limits, self.by.sustained.power_w
        if self.walks:
            return _Step(Legs.WALK)
        if self.v >= self.cap * (1.0 - _SAME) and self._force(self.cap, power) > 0.0:
            return self._at_cap()
        if self.v > limits.spin * (1.0 + _SAME):
            return _Step(Legs.ROLL, 0.0, limits.spin, self.cap)
        if self.v >= limits.spin * (1.0 - _SAME) and self._force(limits.spin, power) > 0.0:
            rolls = self._force(limits.spin, 0.0) > 0.0
            return _Step(Legs.ROLL, 0.0, 0.0, self.cap) if rolls else _Step(Legs.SPIN, steady=True)
        return self._pedal(min(limits.spin, self.cap))

    def _at_cap(self) -> _Step:
        """At the most that is liked, with power to spare: brake where it would roll faster, else ease off."""
        limits = self.by.limits
        spins = self.cap >= limits.spin * (1.0 - _SAME)
        if limits.hold and spins:
            return _Step(Legs.SPIN, steady=True)
        if self._force(self.cap, 0.0) >= 0.0:
            return _Step(Legs.ROLL, steady=True)
        if self.cap > limits.spin * (1.0 + _SAME):
            return _Step(Legs.ROLL, 0.0, limits.spin, self.cap)
        return _Step(Legs.SPIN if spins else Legs.PEDAL, steady=True)

    def _pedal(self, most: float) -> _Step:
        """Pedal; at the least speed, if the sustained effort is not enough, stand up or get off."""
        least, power = self.by.limits.least, self.by.sustained.power_w
        self.v = min(self.v, most)
        slow = self.v <= least * (1.0 + _SAME) and self._force(least, power) < 0.0
        self.stands = self._stands(slow)
        if self.stands:
            return _Step(Legs.STAND, self.by.short.power_w, least, most)
        if slow:
            self.walks = True
            self.braked_j += self._energy(self.v)
            return _Step(Legs.WALK)
        return _Step(Legs.PEDAL, power, least, most)

    def _stands(self, slow: bool) -> bool:
        """Whether the rider stands now: goes on with it while it lasts, or begins where it is enough."""
        wanted = 0.0 if self.stands else _RESTED * self.by.short.seconds
        if not (self.stands or slow) or self.rested_s <= 0.0 or self.rested_s < wanted:
            return False
        return not slow or self._force(self.by.limits.least, self.by.short.power_w) >= 0.0

    def _walk(self, left: float) -> float:
        speed = walking_speed(self.by.rider, self.by.mass_kg, self.road.grade)
        return self._pass(Legs.WALK, left, left / speed)

    def _hold(self, legs: Legs, left: float) -> float:
        """Go on at this speed: the legs or the brakes make up for what the road gives or takes."""
        left = min(left, self.rested_s * self.v) if legs is Legs.STAND else left
        force = self._force(self.v, 0.0)
        if force < 0.0:
            self.pedalled_j -= force * left / self.by.efficiency
        else:
            self.braked_j += force * left
        return self._pass(legs, left, left / self.v)

    def _accelerate(self, step: _Step, left: float) -> float:
        """Let the forces work for a while: to the end of the piece, to a speed limit, or a short way."""
        before, force = self._energy(self.v), self._force(self.v, step.power_w)
        slope = self._slope(self.v, step.power_w)
        way = min(left, _MOST * before / abs(force)) if force else left
        gained = force * way * _growth(slope * way)
        after = math.sqrt(2.0 * (before + gained) / self.by.mass_kg)
        if step.low <= after <= step.high:
            return self._moved(step, way, after)
        limit = step.high if after > step.high else step.low
        gained = self._energy(limit) - before
        if gained * force <= 0.0:
            return self._hold(step.legs, left)
        return self._moved(step, min(way, _way(gained, force, slope)), limit)

    def _slope(self, speed: float, power_w: float) -> float:
        """Change of the force with the kinetic energy, N/J."""
        push, air = power_w * self.by.efficiency / speed**2, abs(speed + self.by.headwind)
        return -(push + 2.0 * self.road.drag * air + B1) / (self.by.mass_kg * speed)

    def _moved(self, step: _Step, way: float, after: float) -> float:
        """Take in a way in m to a speed in m/s; a short effort ends when its time is over."""
        mean = 0.5 * (self.v + after)
        seconds = way / mean
        if step.legs is Legs.STAND and seconds > self.rested_s:
            share = self.rested_s / seconds
            after = self.v + share * (after - self.v)
            way, seconds = way * share, self.rested_s
        grinds = step.legs is Legs.PEDAL and mean < self.by.limits.grind * (1.0 - _SAME)
        self.v = after
        self.pedalled_j += step.power_w * seconds
        return self._pass(Legs.GRIND if grinds else step.legs, way, seconds)

    def _pass(self, legs: Legs, way: float, seconds: float) -> float:
        self.spent[legs][self.piece] += seconds
        self.seconds[self.piece] += seconds
        self.pedalled_m[self.piece] += 0.0 if legs in IDLE else way
        if not self.runs or self.runs[-1].legs is not legs:
            self.runs.append(Run(legs, self.at, self.at))
        self.runs[-1].add(way, seconds)
        self.at = self.runs[-1].end_m
        if legs is Legs.STAND:
            self.rested_s = max(self.rested_s - seconds, 0.0)
        else:
            self.rested_s = min(self.rested_s + seconds, self.by.short.seconds)
        return way


def _growth(z: float) -> float:
    """(e^z - 1) / z, with its limit at 0.

    >>> _growth(0.0), round(_growth(1.0), 4)
    (1.0, 1.7183)
    """
    return math.expm1(z) / z if z else 1.0


def _way(gained: float, force: float, slope: float) -> float:
    """Way in m after which a force in N that changes by `slope` N/J has put in an energy in J.

    >>> round(_way(_growth(0.5) * 10.0, 10.0, 0.5), 9)
    1.0
    """
    z = slope * gained / force
    return math.log1p(z) / slope if slope else gained / force
