"""Rides from TCX files: training centre XML, the exchange format of many devices."""

from collections.abc import Iterable
from typing import Any, Final

from cogwright.core.common.safe_text import clean
from cogwright.core.riding.recording import Moment, Place, Recorder
from cogwright.store.tracks.fields import HEIGHTS, RPMS, SPEEDS, WAYS, second_of, wanted, within
from cogwright.store.tracks.xml_stream import XmlStream, error_in

_POINT: Final = "Trackpoint"
_NUMBERS: Final = {
    "AltitudeMeters": ("height_m", HEIGHTS),
    "DistanceMeters": ("metres", WAYS),
    "Cadence": ("rpm", RPMS),
    "Speed": ("speed", SPEEDS),
}


class TcxReader(XmlStream):
    """Collects the points of all laps of all activities."""

    ROOT, KIND = "TrainingCenterDatabase", "TCX"
    TEXTS = frozenset({"Time", "LatitudeDegrees", "LongitudeDegrees", "Notes", "Name", *_NUMBERS})

    def __init__(self, file: str) -> None:
        super().__init__(file)
        self.name = ""
        self.found = Recorder()
        self._point: Moment | None = None
        self._lat = ""

    def opened(self, name: str, attributes: dict[str, str]) -> None:  # noqa: ARG002 - XmlStream asks for it
        """See XmlStream."""
        if name == _POINT:
            self._point = Moment()

    def closed(self, name: str, text: str) -> None:
        """See XmlStream."""
        if self._point is None:
            if name in {"Notes", "Name"} and not self.name:
                self.name = clean(text).strip()
            return
        if name == _POINT:
            self.take(self.found, self._point)
            self._point = None
        elif name == "Time":
            self._point = self._point._replace(seconds=second_of(text))
        elif name == "LatitudeDegrees":
            self._lat = text
        elif name == "LongitudeDegrees":
            self._point = self._point._replace(place=self._place(text))
        elif name in _NUMBERS:
            field, bounds = _NUMBERS[name]
            value: Any = within(text, bounds)
            self._point = self._point._replace(**{field: value})

    def _place(self, lon: str) -> Place:
        return Place(
            wanted(self._lat, (-90.0, 90.0), "a latitude in degrees", self),
            wanted(lon, (-180.0, 180.0), "a longitude in degrees", self),
        )


def read_tcx(pieces: Iterable[bytes], file: str = "") -> tuple[str, Recorder]:
    """Name and moments of the activities in a TCX file. Raises InputError."""
    reader = TcxReader(file)
    reader.read(pieces)
    if not len(reader.found):
        raise error_in(file, "there is no point in it", "export the ride with its track")
    return reader.name, reader.found
