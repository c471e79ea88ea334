"""What a ride, or several, say of a bike's gears: time and way in each, cadences, where they ran out."""

import math
from array import array
from collections import Counter, defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Final

from cogwright.core.common.units import kmh
from cogwright.core.gears.gears import Gear
from cogwright.core.riding.evidence.gear_found import COASTING, NO_CADENCE, NO_GEAR, STANDING, Ridden
from cogwright.core.riding.recording import Recording
from cogwright.core.setup.model import Rider

#: Cadences and speeds are counted in classes so wide, rpm and km/h.
CLASS_RPM: Final = 5
CLASS_KMH: Final = 5
#: Stretches outside of the liked cadences that are shorter than this, s, are not told; those with less way
#: than this between them, m, are told as one.
LEAST_S: Final = 5.0
_JOIN_M: Final = 50.0


@dataclass(frozen=True, slots=True)
class Spell:
    """A stretch at cadences too low or too high: where in the ride, how long, its mean cadence and grade.

    From and to in m from the start of `ride`; `grade` is rise over run, None where heights are unknown.
    """

    ride: str
    start_m: float
    end_m: float
    seconds: float
    rpm: float
    grade: float | None
    gear: Gear


@dataclass(frozen=True)
class Use:
    """What rides say of a bike's gears; times in s, ways in m.

    `times` and `ways` are those of each gear, easiest first; `cadences` and `speeds` the time by class, named
    by its lowest rpm or km/h. `below_s` and `above_s` are pedalled under the low cadence and over the high
    one. `other_s` is pedalled with no gear near, `unknown_s` ridden without a cadence. `shifts` are changes
    of gear. `ridden` are the rides themselves.
    """

    rides: tuple[str, ...]
    seconds: float
    metres: float
    pedalled_s: float
    coasted_s: float
    other_s: float
    unknown_s: float
    times: Mapping[Gear, float]
    ways: Mapping[Gear, float]
    cadences: Mapping[int, float]
    speeds: Mapping[int, float]
    below_s: float
    above_s: float
    shifts: int
    grinding: tuple[Spell, ...]
    spinning: tuple[Spell, ...]
    wheel: float
    ridden: tuple[Ridden, ...]

    @property
    def has_cadence(self) -> bool:
        """Whether any cadence was recorded."""
        return any(one.recording.has_cadence for one in self.ridden)

    @property
    def never(self) -> tuple[Gear, ...]:
        """The gears that were never ridden."""
        return tuple(gear for gear, spent in self.times.items() if spent == 0.0)

    @property
    def shifts_a_km(self) -> float:
        """Changes of gear a kilometre."""
        return 1000.0 * self.shifts / self.metres if self.metres > 0.0 else 0.0


def use_of(ridden: Ridden, rider: Rider) -> Use:
    """What one ride says, judged by a rider's cadences."""
    low, _, high = rider.cadence_rpm
    spent = _by_state(ridden.found, ridden.lasts)
    pedalled = _pedalled(ridden)
    grinding = array("L", (i for i in pedalled if _turned(ridden, i) < low))
    spinning = array("L", (i for i in pedalled if _turned(ridden, i) > high))
    return Use(
        rides=(ridden.recording.name,),
        seconds=math.fsum(ridden.lasts),
        metres=ridden.recording.length_m,
        pedalled_s=math.fsum(ridden.lasts[i] for i in pedalled) + spent[NO_GEAR],
        coasted_s=spent[COASTING],
        other_s=spent[NO_GEAR],
        unknown_s=spent[NO_CADENCE],
        times={gear: spent[place] for place, gear in enumerate(ridden.gears)},
        ways=_ways(ridden),
        cadences=_classes(((_turned(ridden, i), ridden.lasts[i]) for i in pedalled), CLASS_RPM),
        speeds=_classes(_moving(ridden), CLASS_KMH),
        below_s=math.fsum(ridden.lasts[i] for i in grinding),
        above_s=math.fsum(ridden.lasts[i] for i in spinning),
        shifts=_shifts(ridden.found),
        grinding=_spells(ridden, grinding),
        spinning=_spells(ridden, spinning),
        wheel=ridden.wheel,
        ridden=(ridden,),
    )


def _pedalled(ridden: Ridden) -> Sequence[int]:
    """The moments that have a gear."""
    return array("L", (i for i, state in enumerate(ridden.found) if state >= 0))


def _turned(ridden: Ridden, i: int) -> float:
    """Cadence of a moment in rpm: as told, or by speed and gear where it was not."""
    rpm = ridden.rpms[i]
    if rpm > 0.0:
        return rpm
    return (
        60.0
        * ridden.recording.speeds[i]
        / (ridden.gears[ridden.found[i]].development_m * (1.0 + ridden.wheel))
    )


def _by_state(found: Sequence[int], lasts: Sequence[float]) -> Mapping[int, float]:
    spent: dict[int, float] = defaultdict(float)
    for state, seconds in zip(found, lasts, strict=True):
        spent[state] += seconds
    return spent


def _ways(ridden: Ridden) -> dict[Gear, float]:
    ways = dict.fromkeys(ridden.gears, 0.0)
    for state, way in zip(ridden.found, ridden.ways, strict=True):
        if state >= 0:
            ways[ridden.gears[state]] += way
    return ways


def _moving(ridden: Ridden) -> Iterator[tuple[float, float]]:
    """Speed in km/h and time in s of each moment that does not stand still."""
    for state, speed, seconds in zip(ridden.found, ridden.recording.speeds, ridden.lasts, strict=True):
        if state != STANDING and speed > 0.0:
            yield kmh(speed), seconds


def _classes(values: Iterable[tuple[float, float]], width: int) -> dict[int, float]:
    """Times in s by class of a value, named by its lowest whole one."""
    spent: dict[int, float] = defaultdict(float)
    for value, seconds in values:
        spent[int(value // width) * width] += seconds
    return dict(sorted(spent.items()))


def _shifts(found: Sequence[int]) -> int:
    gears = (state for state in found if state >= 0)
    return sum(a != b for a, b in pairwise(gears))


def _spells(ridden: Ridden, moments: Sequence[int]) -> tuple[Spell, ...]:
    """The moments as stretches, those of some length, in the order of the ride."""
    metres, runs = ridden.recording.metres, list[list[int]]()
    for i in moments:
        if runs and metres[i] - metres[runs[-1][-1]] <= _JOIN_M:
            runs[-1].append(i)
        else:
            runs.append([i])
    found = (_spell(ridden, run) for run in runs)
    return tuple(spell for spell in found if spell.seconds >= LEAST_S)


def _spell(ridden: Ridden, run: Sequence[int]) -> Spell:
    first, last = run[0], run[-1]
    seconds = math.fsum(ridden.lasts[i] for i in run)
    turns = math.fsum(_turned(ridden, i) * ridden.lasts[i] for i in run)
    places = Counter(ridden.found[i] for i in run)
    return Spell(
        ridden.recording.name,
        ridden.recording.metres[first],
        ridden.recording.metres[last] + ridden.ways[last],
        seconds,
        turns / seconds if seconds > 0.0 else 0.0,
        _grade(ridden.recording, first, last),
        ridden.gears[places.most_common(1)[0][0]],
    )


def _grade(recording: Recording, first: int, last: int) -> float | None:
    """Rise over run between two moments; None where it is too short, or has no heights."""
    run = recording.metres[last] - recording.metres[first]
    rise = recording.heights_m[last] - recording.heights_m[first]
    return None if run < 20.0 or math.isnan(rise) else rise / run


def together(uses: Sequence[Use]) -> Use:
    """Several rides of one bike added up; of one gear set, one at least."""
    first = uses[0]
    return Use(
        rides=tuple(name for use in uses for name in use.rides),
        seconds=_sum(uses, "seconds"),
        metres=_sum(uses, "metres"),
        pedalled_s=_sum(uses, "pedalled_s"),
        coasted_s=_sum(uses, "coasted_s"),
        other_s=_sum(uses, "other_s"),
        unknown_s=_sum(uses, "unknown_s"),
        times={gear: math.fsum(use.times[gear] for use in uses) for gear in first.times},
        ways={gear: math.fsum(use.ways[gear] for use in uses) for gear in first.ways},
        cadences=_added([use.cadences for use in uses]),
        speeds=_added([use.speeds for use in uses]),
        below_s=_sum(uses, "below_s"),
        above_s=_sum(uses, "above_s"),
        shifts=sum(use.shifts for use in uses),
        grinding=tuple(spell for use in uses for spell in use.grinding),
        spinning=tuple(spell for use in uses for spell in use.spinning),
        wheel=math.fsum(use.wheel * use.pedalled_s for use in uses) / (_sum(uses, "pedalled_s") or 1.0),
        ridden=tuple(one for use in uses for one in use.ridden),
    )


def _sum(uses: Sequence[Use], name: str) -> float:
    return math.fsum(getattr(use, name) for use in uses)


def _added(counts: Sequence[Mapping[int, float]]) -> dict[int, float]:
    names = sorted({name for each in counts for name in each})
    return {name: math.fsum(each.get(name, 0.0) for each in counts) for name in names}
