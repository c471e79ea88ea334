"""Tracks from GPX files (Topografix GPX 1.0 and 1.1), with the cadence that devices add to their points."""

from collections.abc import Iterable
from typing import Final

from cogwright.core.common.safe_text import clean
from cogwright.core.riding.recording import Moment, Place, Recorder
from cogwright.store.tracks.fields import HEIGHTS, RPMS, SPEEDS, second_of, wanted, within
from cogwright.store.tracks.xml_stream import XmlStream, error_in

_POINTS: Final = {"trkpt": "trk", "rtept": "rte"}
_NAMED: Final = {"trk", "rte", "metadata"}
_CADENCES: Final = {"cad", "cadence"}


class GpxReader(XmlStream):
    """Collects the points of tracks, and those of routes; gaps between segments are bridged straight."""

    ROOT, KIND = "gpx", "GPX"
    TEXTS = frozenset({"ele", "time", "name", "speed", *_CADENCES})

    def __init__(self, file: str) -> None:
        super().__init__(file)
        self.name = ""
        self.found = {"trk": Recorder(), "rte": Recorder()}
        self._point: Moment | None = None

    def opened(self, name: str, attributes: dict[str, str]) -> None:
        """See XmlStream."""
        if name in _POINTS:
            lat = wanted(attributes.get("lat", ""), (-90.0, 90.0), "a latitude in degrees", self)
            lon = wanted(attributes.get("lon", ""), (-180.0, 180.0), "a longitude in degrees", self)
            self._point = Moment(place=Place(lat, lon))

    def closed(self, name: str, text: str) -> None:
        """See XmlStream."""
        inside = self.path[-1] if self.path else ""
        if self._point is None:
            if name == "name" and inside in _NAMED and not self.name:
                self.name = clean(text).strip()
            return
        if name in _POINTS:
            self.take(self.found[_POINTS[name]], self._point)
            self._point = None
        elif name == "ele" and inside in _POINTS:
            self._point = self._point._replace(height_m=wanted(text, HEIGHTS, "a height in m", self))
        elif name == "time" and inside in _POINTS:
            self._point = self._point._replace(seconds=second_of(text))
        elif name in _CADENCES:
            self._point = self._point._replace(rpm=within(text, RPMS))
        elif name == "speed":
            self._point = self._point._replace(speed=within(text, SPEEDS))


def read_gpx(pieces: Iterable[bytes], file: str = "") -> tuple[str, Recorder]:
    """Name and moments of the tracks in a GPX file, or of its routes. Raises InputError."""
    reader = GpxReader(file)
    reader.read(pieces)
    found = reader.found["trk"] if len(reader.found["trk"]) else reader.found["rte"]
    if not len(found):
        raise error_in(file, "there is no track in it", "export the ride or route as a GPX track")
    if len(found) == 1:
        raise error_in(file, "its track is a single point", "record or draw a longer one")
    return reader.name, found
