"""Which gear was ridden at each moment: development = 60 v / cadence, and the gear nearest to that.

Single moments are noisy: a cadence in whole rpm is off by 0.6 % at 80 rpm, and a sensor counts whole turns,
so that it tells a shift a second late. So the likeliest course of gears is sought (Viterbi 1967): how far
each moment's development is from each gear, against the cost of a shift, dearer at the front than at the
rear. Gears nearer to each other than moments can tell are told by what is ridden before and after.
"""

import math
from array import array
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from itertools import islice, pairwise
from statistics import median
from typing import Final, NamedTuple

from cogwright.core.gears.gears import Gear
from cogwright.core.riding.recording import Recording

#: What a moment is that has no gear: pedals at rest, no gear near, no cadence recorded, standing still.
COASTING, NO_GEAR, NO_CADENCE, STANDING = -1, -2, -3, -4
#: Slower than this, m/s, nobody rides; under this cadence, rpm, nobody pedals.
_STANDS: Final = 0.8
_PEDALS: Final = 20.0
#: A moment counts for no longer than this, s: after it the device was asleep.
MOST_S: Final = 5.0
#: Errors of a cadence in whole rpm and of a speed in tenths of km/h (even over their step), and of the wheel.
_RPM_ERROR: Final = 1.0 / math.sqrt(12.0)
_KMH_ERROR: Final = 0.1 / math.sqrt(12.0)
_BASE_ERROR: Final = 0.007
#: No gear is near that is farther than this, as a share: three errors of the slowest moment that is pedalled.
_FARTHEST: Final = 0.06
#: Costs: of a moment with no gear near; of shifting at the rear, and at the front. Those of a fit are halves
#: of squares over the error.
_LONE: Final = 9.0
_REAR: Final = 7.0
_FRONT: Final = 10.0
#: A cadence tells a shift so late, s: it counts whole turns.
LAG_S: Final = 1.0
#: Gears nearer to each other than this, in %, cannot be told from one another by themselves.
ALIKE_PCT: Final = 1.5
#: A moment that fits its gear worse than this lies between two gears: the sensor was counting at the shift.
_BETWEEN: Final = 3.0
#: Moments that are looked at to find out how far speeds and cadences are off; by how many moments a cadence
#: may be told late; and how much better it must fit then.
_LOOKED_AT: Final = 5000
_LATEST: Final = 2
_CLEARLY: Final = 0.9
#: So many moments are looked at together: what is kept meanwhile of each takes some hundred bytes.
LONGEST: Final = 20_000
#: The recorded speeds are taken to be off by no more than this share against the setup's wheel.
_WHEEL: Final = 0.03


@dataclass(frozen=True)
class Ridden:
    """A recording with the gear of each moment, as its place among `gears`, or why it has none (under 0).

    `lasts` is how long each moment counts, s, and `ways` how far it goes, m. `wheel` is by what share the
    recorded speeds are over those of the setup's wheel, found from the ride; gears are found with that taken
    out. `rpms` are the cadences at the moments when they were turned, not when they were told.
    """

    recording: Recording
    gears: tuple[Gear, ...]
    found: Sequence[int]
    lasts: Sequence[float]
    ways: Sequence[float]
    wheel: float
    rpms: Sequence[float]


def _nobody() -> None:
    """Tell nobody."""


def ridden_of(recording: Recording, gears: Sequence[Gear], told: Callable[[], None] = _nobody) -> Ridden:
    """The gear of each moment of a recording, out of a setup's gears, easiest first.

    `told` is called between its parts, each a second of work at most; what it raises ends the search.
    """
    lasts = array("f", _lasts(recording.seconds))
    ways = array("f", _ways(recording.metres))
    rpms, late = _in_time(recording, gears)
    states = array("h", map(_state, recording.speeds, rpms))
    wheel = _off(recording.speeds, rpms, gears).middle
    finder = _Finder(gears, wheel)
    for start, end in _runs(states, recording.seconds):
        told()
        states[start:end] = array("h", finder.course(recording.speeds[start:end], rpms[start:end]))
    if not late:
        _back_date(states, recording, finder)
    _bridge(states, lasts)
    return Ridden(recording, tuple(gears), states, lasts, ways, wheel, rpms)


def _state(speed: float, rpm: float) -> int:
    """0 for a moment that is pedalled; else why it has no gear."""
    if speed < _STANDS:
        return STANDING
    if math.isnan(rpm) or math.isnan(speed):
        return NO_CADENCE
    return 0 if rpm >= _PEDALS else COASTING


def _lasts(seconds: Sequence[float]) -> Iterator[float]:
    """How long each moment counts: up to the next one."""
    for now, after in pairwise(seconds):
        gap = after - now
        yield min(gap, MOST_S) if gap > 0.0 else 0.0
    yield 0.0


def _ways(metres: Sequence[float]) -> Iterator[float]:
    yield from (max(after - now, 0.0) for now, after in pairwise(metres))
    yield 0.0


def _runs(states: Sequence[int], seconds: Sequence[float]) -> Iterator[tuple[int, int]]:
    """Start and end of each run of pedalled moments without a gap; a very long one in parts."""
    start: int | None = None
    for i, state in enumerate(states):
        gap = i > 0 and not seconds[i] - seconds[i - 1] <= MOST_S
        if start is not None and (state != 0 or gap or i - start >= LONGEST):
            yield start, i
            start = None
        if start is None and state == 0:
            start = i
    if start is not None:
        yield start, len(states)


class _Off(NamedTuple):
    """How far developments are from the nearest gear: the middle, as a share, and that of what is left."""

    middle: float
    spread: float


def _off(speeds: Sequence[float], rpms: Sequence[float], gears: Sequence[Gear]) -> _Off:
    """How far developments of pedalled moments, of some thousands, are from the gears nearest to them."""
    logs = [math.log(gear.development_m) for gear in gears]
    every = max(1, len(rpms) // _LOOKED_AT)
    pairs = zip(speeds[::every], rpms[::every], strict=True)
    found = [math.log(60.0 * speed / rpm) for speed, rpm in pairs if _state(speed, rpm) == 0]
    off, close = 0.0, list[float]()
    for _ in range(3):
        near = [min((x - off - log for log in logs), key=abs) for x in found]
        close = [miss for miss in near if abs(miss) < _FARTHEST]
        off += median(close) if close else 0.0
    share = math.exp(off) - 1.0
    return _Off(share if abs(share) <= _WHEEL else 0.0, median(map(abs, close)) if close else math.inf)


def _in_time(recording: Recording, gears: Sequence[Gear]) -> tuple[Sequence[float], int]:
    """The cadences moved to when they were turned, and by how many moments: what fits the gears best.

    A cadence that is told late misses whenever the rider speeds up or slows down.
    """
    rpms, speeds = recording.rpms, recording.speeds
    steps = [b - a for a, b in islice(pairwise(recording.seconds), _LOOKED_AT)]
    if not steps or abs(median(steps) - 1.0) > 0.2:
        return rpms, 0
    moved = [array("f", rpms[late:]) + array("f", [math.nan] * late) for late in range(_LATEST + 1)]
    spreads = [_off(speeds, each, gears).spread for each in moved]
    late = min(range(_LATEST + 1), key=spreads.__getitem__)
    return (moved[late], late) if spreads[late] < _CLEARLY * spreads[0] else (rpms, 0)


class _Finder:
    """Finds the likeliest course of gears through a run of moments."""

    def __init__(self, gears: Sequence[Gear], wheel: float) -> None:
        self.logs = [math.log(gear.development_m * (1.0 + wheel)) for gear in gears]
        rings = sorted({gear.ring for gear in gears})
        self.of_ring = [[i for i, gear in enumerate(gears) if gear.ring == ring] for ring in rings]

    def course(self, speeds: Sequence[float], rpms: Sequence[float]) -> list[int]:
        """The gear of each moment, as its place, or NO_GEAR; moments are pedalled."""
        costs, back = [0.0] * len(self.logs), list[Sequence[int]]()
        for speed, rpm in zip(speeds, rpms, strict=True):
            came, reached = self._reached(costs)
            back.append(came)
            misfits = self._misfits(speed, rpm)
            costs = [cost + misfit for cost, misfit in zip(reached, misfits, strict=True)]
        at, path = costs.index(min(costs)), list[int]()
        for came in reversed(back):
            path.append(at)
            at = came[at]
        path.reverse()
        return [
            self._named(gear, *moment)
            for gear, moment in zip(path, zip(speeds, rpms, strict=True), strict=True)
        ]

    def _reached(self, costs: Sequence[float]) -> tuple[Sequence[int], list[float]]:
        """What each gear costs at the next moment, and the gear that it is come to from."""
        best = min(range(len(costs)), key=costs.__getitem__)
        came, reached = array("H", range(len(costs))), list(costs)
        for places in self.of_ring:
            rear = min(places, key=costs.__getitem__)
            shifted, start = min((costs[rear] + _REAR, rear), (costs[best] + _FRONT, best))
            for gear in places:
                if costs[gear] > shifted:
                    reached[gear], came[gear] = shifted, start
        return came, reached

    def _misfits(self, speed: float, rpm: float) -> list[float]:
        """How badly each gear fits a moment; no worse than having no gear."""
        x = math.log(60.0 * speed / rpm)
        scale = 0.5 / _error2(speed, rpm)
        return [min((x - log) ** 2 * scale, _LONE) for log in self.logs]

    def misfit(self, gear: int, speed: float, rpm: float) -> float:
        """How badly a gear fits a moment."""
        return self._misfits(speed, rpm)[gear]

    def _named(self, gear: int, speed: float, rpm: float) -> int:
        off = abs(math.log(60.0 * speed / rpm) - self.logs[gear])
        return gear if off <= _FARTHEST else NO_GEAR


def _error2(speed: float, rpm: float) -> float:
    """Square of the relative error of a development."""
    return (_RPM_ERROR / rpm) ** 2 + (_KMH_ERROR / (3.6 * speed)) ** 2 + _BASE_ERROR**2


def _back_date(states: "array[int]", recording: Recording, finder: "_Finder") -> None:
    """Begin each gear a second before it was told: a sensor counts whole turns first.

    A moment that lies between two gears is the second itself.
    """
    for i in range(1, len(states)):
        before, now = states[i - 1], states[i]
        soon = recording.seconds[i] - recording.seconds[i - 1] <= 1.5 * LAG_S
        if now >= 0 and (before >= 0 or before == NO_GEAR) and before != now and soon:
            told = finder.misfit(now, recording.speeds[i], recording.rpms[i]) <= _BETWEEN
            states[i - 1] = now if told else before


def _bridge(states: "array[int]", lasts: Sequence[float]) -> None:
    """Fill moments without a cadence, and single ones at which it dropped to 0, between two of one gear."""
    known, spent = -1, 0.0  # the last moment in a gear, and the time since
    for i, state in enumerate(states):
        if state >= 0:
            single = i - known == 2 and spent <= 2.5 * LAG_S
            if known >= 0 and i - known > 1 and states[known] == state and (spent <= MOST_S or single):
                for at in range(known + 1, i):
                    states[at] = state if states[at] == NO_CADENCE or single else states[at]
            known, spent = i, 0.0
        elif state == STANDING:
            known = -1
        spent += lasts[i]


def alike(gears: Sequence[Gear]) -> tuple[tuple[Gear, Gear], ...]:
    """Neighbouring gears that cannot be told from one another by themselves."""
    most = 1.0 + ALIKE_PCT / 100.0
    return tuple((a, b) for a, b in pairwise(gears) if b.development_m < most * a.development_m)
