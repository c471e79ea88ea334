"""Rides from FIT files, decoded by fitdecode, which is imported only when one is read."""

import math
import struct
from pathlib import Path
from typing import Any, Final

from cogwright.core.common.errors import InputError, Problem
from cogwright.core.common.safe_text import shown_name
from cogwright.core.riding.recording import MOST_MOMENTS, Moment, Place, Recorder
from cogwright.store.files import opened
from cogwright.store.tracks.fields import HEIGHTS, RPMS, SPEEDS, WAYS
from cogwright.store.tracks.stream import TRACK_LIMIT, ReadProgress, no_progress

#: Places are in 2^31 parts of half a turn.
_DEGREES: Final = 180.0 / 2**31
#: Frames between two reports of progress.
_A_WHILE: Final = 2000
#: What a damaged file makes the decoder raise, besides its own error.
_DAMAGE: Final = (
    ArithmeticError,
    AssertionError,
    AttributeError,
    LookupError,
    TypeError,
    ValueError,
    struct.error,
)


def is_fit(start: bytes) -> bool:
    """Whether a file that begins so is a FIT file: its header has the letters .FIT at byte 8."""
    return start[8:12] == b".FIT"


def read_fit(path: Path, progress: ReadProgress = no_progress) -> tuple[str, Recorder]:
    """Moments of the ride in a FIT file; it has no name. Raises InputError."""
    import fitdecode  # noqa: PLC0415 - for FIT files alone

    file, status = opened(path, TRACK_LIMIT)
    found = Recorder()
    how = {"check_crc": fitdecode.CrcCheck.RAISE, "error_handling": fitdecode.ErrorHandling.IGNORE}
    with file:
        try:
            with fitdecode.FitReader(file, **how) as reader:
                for count, frame in enumerate(reader):
                    if frame.frame_type == fitdecode.FIT_FRAME_DATA and frame.name == "record":
                        _take(found, frame, path)
                    if count % _A_WHILE == 0:
                        progress(min(file.tell() / max(status.st_size, 1), 1.0))
        except (fitdecode.FitError, *_DAMAGE) as error:
            raise _error(path, "it is damaged, or not whole", "export it again") from error
    if not len(found):
        raise _error(path, "there is no ride in it", "name the file of a recorded ride")
    return "", found


def _take(found: Recorder, frame: Any, path: Path) -> None:
    if found.full:
        raise _error(path, f"it has more than {MOST_MOMENTS:,} moments", "cut it into rides of a day")
    found.add(_moment(frame))


def _moment(frame: Any) -> Moment:
    lat, lon = _number(frame, "position_lat"), _number(frame, "position_long")
    place = Place(lat * _DEGREES, lon * _DEGREES)
    return Moment(
        seconds=_second(frame),
        place=place if abs(place.lat) <= 90.0 and abs(place.lon) <= 180.0 else None,
        metres=_number(frame, "distance", WAYS),
        height_m=_number(frame, "enhanced_altitude", HEIGHTS, other="altitude"),
        speed=_number(frame, "enhanced_speed", SPEEDS, other="speed"),
        rpm=_cadence(frame),
    )


def _cadence(frame: Any) -> float:
    """Turns a minute, with their fraction where the device gives one."""
    whole, fraction = _number(frame, "cadence", RPMS), _number(frame, "fractional_cadence", (0.0, 1.0))
    return whole if math.isnan(fraction) else whole + fraction


def _second(frame: Any) -> float:
    when = frame.get_value("timestamp", fallback=None)
    return float(when.timestamp()) if hasattr(when, "timestamp") else math.nan


def _number(
    frame: Any, name: str, bounds: tuple[float, float] = (-math.inf, math.inf), other: str = ""
) -> float:
    """A field's number, or another's; nan where it is missing or out of bounds."""
    value = frame.get_value(name, fallback=None)
    if value is None and other:
        value = frame.get_value(other, fallback=None)
    if isinstance(value, bool) or not isinstance(value, int | float):
        return math.nan
    return float(value) if bounds[0] <= value <= bounds[1] else math.nan


def _error(path: Path, what: str, mend: str) -> InputError:
    return InputError(Problem(what, mend, file=shown_name(str(path))))
