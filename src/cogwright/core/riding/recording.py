"""A recorded ride: times, ways, heights, speeds and cadences as a device wrote them down, one moment a row.

Kept in arrays, as a ride of a day has some ten thousand moments and a file may hold a million.
"""

import math
from array import array
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import Final, NamedTuple

#: Mean radius of the Earth, m (IUGG).
EARTH_M: Final = 6_371_008.8
#: Who stays this near to the middle of where they were, m, for this long, s, stands still: a recorder's
#: places jitter meanwhile. A slow walk leaves the middle of its own way sooner.
STOP_WITHIN_M: Final = 10.0
STOP_S: Final = 30.0
#: More moments than this, eleven days of them, are no ride.
MOST_MOMENTS: Final = 1_000_000
#: Speeds without a sensor are those between places so many s apart: nearer ones jitter.
_SPEED_OVER_S: Final = 4.0


class Place(NamedTuple):
    """Degrees north and east."""

    lat: float
    lon: float


def apart(a: Place, b: Place) -> float:
    """Distance in m between two places on a round Earth, by the haversine formula; good to 0.5 %.

    A degree of latitude is 111.2 km on a sphere of the Earth's mean radius:

    >>> round(apart(Place(50.0, 8.0), Place(51.0, 8.0)))
    111195
    """
    south, north = math.radians(a.lat), math.radians(b.lat)
    up = math.sin((north - south) / 2.0)
    across = math.sin(math.radians(b.lon - a.lon) / 2.0)
    h = up * up + math.cos(south) * math.cos(north) * across * across
    return 2.0 * EARTH_M * math.asin(min(1.0, math.sqrt(h)))


class Moment(NamedTuple):
    """A row of a recording; nan where it says nothing. Time in s since any fixed moment, speed in m/s."""

    seconds: float = math.nan
    place: Place | None = None
    metres: float = math.nan
    height_m: float = math.nan
    speed: float = math.nan
    rpm: float = math.nan


@dataclass(frozen=True, eq=False)
class Recording:
    """A recorded ride. Times in s and ways in m from its start; heights in m, speeds in m/s, cadences in rpm.

    What was not recorded is nan. Ways do not fall. Two recordings are the same only if they are one object.
    """

    name: str
    file: str
    seconds: Sequence[float]
    metres: Sequence[float]
    heights_m: Sequence[float]
    speeds: Sequence[float]
    rpms: Sequence[float]

    @cached_property
    def timed(self) -> bool:
        """Whether most moments have a time."""
        return _mostly(self.seconds)

    @cached_property
    def has_cadence(self) -> bool:
        """Whether any cadence over 0 was recorded."""
        return any(rpm > 0.0 for rpm in self.rpms)

    @cached_property
    def has_speed(self) -> bool:
        """Whether any speed is known."""
        return any(speed >= 0.0 for speed in self.speeds)

    @cached_property
    def has_heights(self) -> bool:
        """Whether two moments or more have a height."""
        return sum(not math.isnan(height) for height in self.heights_m) > 1

    @property
    def length_m(self) -> float:
        """The way in all, m."""
        return self.metres[-1] if len(self.metres) else 0.0

    @property
    def road_m(self) -> float:
        """The way from the first moment that has a height to the last one, m."""
        first = last = math.nan
        for metres, height in zip(self.metres, self.heights_m, strict=True):
            if not math.isnan(height):
                first, last = (metres if math.isnan(first) else first), metres
        return 0.0 if math.isnan(first) else last - first

    def road(self) -> Iterator[tuple[float, float]]:
        """Way and height in m of the moments that have a height, from the first of them on."""
        start: float | None = None
        for metres, height in zip(self.metres, self.heights_m, strict=True):
            if not math.isnan(height):
                start = metres if start is None else start
                yield metres - start, height


def _mostly(values: Sequence[float]) -> bool:
    return 2 * sum(not math.isnan(value) for value in values) > len(values)


class Recorder:
    """Takes moments in, one after the other, and makes a recording of them."""

    def __init__(self) -> None:
        self.seconds, self.metres = array("d"), array("d")
        self.lats, self.lons = array("d"), array("d")
        self.heights, self.speeds, self.rpms = array("f"), array("f"), array("f")

    def __len__(self) -> int:
        return len(self.seconds)

    @property
    def full(self) -> bool:
        """Whether there is no room for another moment."""
        return len(self.seconds) >= MOST_MOMENTS

    def add(self, moment: Moment) -> None:
        """Take a moment in."""
        self.seconds.append(moment.seconds)
        self.metres.append(moment.metres)
        self.lats.append(moment.place.lat if moment.place else math.nan)
        self.lons.append(moment.place.lon if moment.place else math.nan)
        self.heights.append(moment.height_m)
        self.speeds.append(moment.speed)
        self.rpms.append(moment.rpm)

    def recording(self, name: str, file: str) -> Recording:
        """All that was taken in. Ways are as recorded, else between the places, else by the speeds."""
        seconds = _from_start(self.seconds)
        if _mostly(self.metres):
            metres = _not_falling(self.metres)
        elif _mostly(self.lats):
            metres = _along(self.lats, self.lons, seconds)
        else:
            metres = _by_speed(seconds, self.speeds)
        speeds = self.speeds if _mostly(self.speeds) else _speeds(seconds, metres)
        return Recording(name, file, seconds, metres, self.heights, speeds, self.rpms)


def _from_start(seconds: Sequence[float]) -> "array[float]":
    start = next((value for value in seconds if not math.isnan(value)), 0.0)
    return array("d", (value - start for value in seconds))


def _not_falling(metres: Sequence[float]) -> "array[float]":
    """Ways as recorded, from 0; a gap keeps the way before it, and so does one that falls."""
    start = next(value for value in metres if not math.isnan(value))
    out, at = array("d"), 0.0
    for value in metres:
        at = max(at, value - start) if not math.isnan(value) else at
        out.append(at)
    return out


def _by_speed(seconds: Sequence[float], speeds: Sequence[float]) -> "array[float]":
    """Ways by speeds and times; what is not known adds nothing."""
    out, at, before = array("d"), 0.0, math.nan
    for second, speed in zip(seconds, speeds, strict=True):
        way = speed * (second - before)
        at += way if way > 0.0 else 0.0
        before = second if not math.isnan(second) else before
        out.append(at)
    return out


def _along(lats: Sequence[float], lons: Sequence[float], seconds: Sequence[float]) -> "array[float]":
    """Ways between places. While the rider stands still all moments have one place, their mean."""
    out, at, i = array("d"), 0.0, 0
    last: Place | None = None
    while i < len(lats):
        if math.isnan(lats[i]):
            out.append(at)
            i += 1
            continue
        end = _stop(lats, lons, seconds, i)
        place = Place(sum(lats[i:end]) / (end - i), sum(lons[i:end]) / (end - i))
        at += apart(last, place) if last else 0.0
        out.extend([at] * (end - i))
        last, i = place, end
    return out


def _stop(lats: Sequence[float], lons: Sequence[float], seconds: Sequence[float], first: int) -> int:
    """The moment after those that stand still from a first one on; just the next one where none do.

    A single place that is off is passed over.
    """
    lat, lon, end, off = lats[first], lons[first], first + 1, 0
    for at in range(first + 1, len(lats)):
        near = apart(Place(lat, lon), Place(lats[at], lons[at])) <= STOP_WITHIN_M
        off = 0 if near else off + 1
        if off > 1:
            break
        if near:
            end = at + 1
            lat += (lats[at] - lat) / (end - first)
            lon += (lons[at] - lon) / (end - first)
    return end if seconds[end - 1] - seconds[first] >= STOP_S else first + 1


def _speeds(seconds: Sequence[float], metres: Sequence[float]) -> "array[float]":
    """Speeds in m/s out of ways and times, each over some seconds around its moment; nan without times."""
    out, first, last = array("f"), 0, 0
    for i, second in enumerate(seconds):
        while first < i and not second - seconds[first] <= _SPEED_OVER_S / 2.0:
            first += 1
        last = max(last, i)
        while last + 1 < len(seconds) and seconds[last + 1] - second <= _SPEED_OVER_S / 2.0:
            last += 1
        spent = seconds[last] - seconds[first]
        out.append((metres[last] - metres[first]) / spent if spent > 0.0 else math.nan)
    return out
