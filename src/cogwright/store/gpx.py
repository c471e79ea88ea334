"""Tracks from GPX files, with the hazards of XML closed.

Why the standard library's expat will do, with no further package: all hazards of XML but one come with a
document type (entities that grow without end, entities that fetch files or addresses), which no GPX file
needs. A file with `<!DOCTYPE` or `<!ENTITY` is refused before it is parsed; one that hides them from that
search in another encoding is refused by the parser's handlers, at the declaration and before any entity is
used. External entities are never fetched: nothing here opens anything. The remaining hazard is size, so
the file, the depth of its elements and the text kept of each are limited. Parsing builds no tree.
"""

import math
from dataclasses import dataclass, field
from itertools import pairwise
from typing import Final, NoReturn
from xml.parsers import expat

from cogwright.core.common.errors import InputError, Problem
from cogwright.core.common.safe_text import clean

#: A day's ride recorded every second with heart rate and all is some 20 MB.
GPX_LIMIT: Final = 64_000_000
MAX_DEPTH: Final = 50
_TEXT: Final = 200
#: Mean radius of the Earth, m (IUGG).
EARTH_M: Final = 6_371_008.8
_POINTS: Final = {"trkpt": "trk", "rtept": "rte"}


@dataclass(slots=True)
class Point:
    """A point of a track: degrees north and east, and the height in m where it has one."""

    lat: float
    lon: float
    height: float | None = None


@dataclass(slots=True)
class _Tracks:
    name: str = ""
    points: dict[str, list[Point]] = field(default_factory=lambda: {"trk": [], "rte": []})


def parse_gpx(data: bytes, file: str = "") -> tuple[str, list[tuple[float, float]]]:
    """Name and (distance, height) points in m of the tracks in a GPX file, or of its routes.

    All tracks and segments are strung together in the order of the file, gaps bridged straight. Points
    without a height count for the distance alone. Raises InputError.
    """
    if b"<!DOCTYPE" in data or b"<!ENTITY" in data:
        raise _refused(file, None)
    found = _Reader(file).read(data)
    points = found.points["trk"] or found.points["rte"]
    if not points:
        raise _error("there is no track in it", "export the ride or route as a GPX track", file)
    if len(points) == 1:
        raise _error("its track is a single point", "record or draw a longer one", file)
    road = along(points)
    if len(road) < 2:
        raise _error("its track has no heights", "export it with elevation", file)
    return found.name, road


def along(points: list[Point]) -> list[tuple[float, float]]:
    """Distance from the start and height, in m, of the points that have a height."""
    road: list[tuple[float, float]] = []
    distance = 0.0
    if points[0].height is not None:
        road.append((0.0, points[0].height))
    for a, b in pairwise(points):
        distance += apart(a, b)
        if b.height is not None:
            road.append((distance, b.height))
    return [(at - road[0][0], height) for at, height in road]


def apart(a: Point, b: Point) -> float:
    """Distance in m between two points on a round Earth, by the haversine formula; good to 0.5 %.

    A degree of latitude is 111.2 km on a sphere of the Earth's mean radius:

    >>> round(apart(Point(50.0, 8.0), Point(51.0, 8.0)))
    111195
    """
    south, north = math.radians(a.lat), math.radians(b.lat)
    up = math.sin((north - south) / 2.0)
    across = math.sin(math.radians(b.lon - a.lon) / 2.0)
    h = up * up + math.cos(south) * math.cos(north) * across * across
    return 2.0 * EARTH_M * math.asin(min(1.0, math.sqrt(h)))


class _Reader:
    """Collects points while expat goes through the file."""

    def __init__(self, file: str) -> None:
        self._file = file
        self._tracks = _Tracks()
        self._path: list[str] = []
        self._text: list[str] = []
        self._room = 0
        self._point: Point | None = None
        self._parser = expat.ParserCreate()
        self._parser.buffer_text = True
        self._parser.StartElementHandler = self._start
        self._parser.EndElementHandler = self._end
        self._parser.CharacterDataHandler = self._chars
        self._parser.StartDoctypeDeclHandler = self._refuse
        self._parser.EntityDeclHandler = self._refuse
        self._parser.UnparsedEntityDeclHandler = self._refuse
        self._parser.ExternalEntityRefHandler = self._refuse

    def read(self, data: bytes) -> _Tracks:
        """All points. The data go in at once: fed in parts, one huge token would be read again and again."""
        try:
            self._parser.Parse(data, True)
        except expat.ExpatError as error:
            said = expat.ErrorString(error.code)
            raise _error(f"not valid XML: {said}", "export it again", self._file, error.lineno) from error
        except (UnicodeError, LookupError) as error:
            raise _error("its text encoding cannot be read", "save it as UTF-8", self._file) from error
        return self._tracks

    def _start(self, tag: str, attributes: dict[str, str]) -> None:
        name = tag.rpartition(":")[2]
        if not self._path and name != "gpx":
            raise self._wrong(f"this is no GPX file: it starts with <{clean(name)[:20]}>", "name a GPX file")
        self._path.append(name)
        if len(self._path) > MAX_DEPTH:
            raise self._wrong("elements stand inside elements too deep", "export it again")
        if name in _POINTS:
            self._point = self._at(attributes)
        self._text, self._room = [], _TEXT if name in {"ele", "name"} else 0

    def _chars(self, text: str) -> None:
        if self._room > 0:
            self._text.append(text[: self._room])
            self._room -= len(text)

    def _end(self, _tag: str) -> None:
        name = self._path.pop()
        inside = self._path[-1] if self._path else ""
        if name == "ele" and inside in _POINTS and self._point is not None:
            self._point.height = self._number("".join(self._text), -500.0, 9000.0, "a height in m")
        elif name == "name" and inside in {"trk", "rte", "metadata"} and not self._tracks.name:
            self._tracks.name = clean("".join(self._text)).strip()
        elif name in _POINTS and self._point is not None:
            self._tracks.points[_POINTS[name]].append(self._point)
            self._point = None
        self._room = 0

    def _at(self, attributes: dict[str, str]) -> Point:
        return Point(
            self._number(attributes.get("lat", ""), -90.0, 90.0, "a latitude in degrees"),
            self._number(attributes.get("lon", ""), -180.0, 180.0, "a longitude in degrees"),
        )

    def _number(self, text: str, low: float, high: float, what: str) -> float:
        try:
            value = float(text)
        except ValueError:
            value = math.nan
        if not low <= value <= high:
            raise self._wrong(f"{clean(text.strip())[:20]!r} is not {what}", "export the track again")
        return value

    def _refuse(self, *_about: object) -> NoReturn:
        raise _refused(self._file, self._parser.CurrentLineNumber)

    def _wrong(self, what: str, mend: str) -> InputError:
        return _error(what, mend, self._file, self._parser.CurrentLineNumber)


def _refused(file: str, line: int | None) -> InputError:
    what = "a document type or entity is declared in it, which no GPX file needs and which can do harm"
    return _error(what, "take it out, or export the track again", file, line)


def _error(what: str, mend: str, file: str, line: int | None = None) -> InputError:
    return InputError(Problem(what, mend, file=file, line=line))
