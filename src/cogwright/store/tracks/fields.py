"""What the kinds of tracks write alike: numbers within bounds, and times."""

import math
from datetime import UTC, datetime
from typing import Final

from cogwright.core.common.safe_text import clean
from cogwright.store.tracks.xml_stream import XmlStream

#: Heights in m, cadences in rpm, speeds in m/s and ways in m beyond these are no ride's.
HEIGHTS: Final = (-500.0, 9000.0)
RPMS: Final = (0.0, 250.0)
SPEEDS: Final = (0.0, 60.0)
WAYS: Final = (0.0, 5_000_000.0)


def within(text: str, bounds: tuple[float, float]) -> float:
    """The number of a text, if it is one within bounds; else nan.

    >>> within(" 85 ", RPMS), within("255", RPMS), within("a", RPMS)
    (85.0, nan, nan)
    """
    try:
        value = float(text)
    except ValueError:
        return math.nan
    return value if bounds[0] <= value <= bounds[1] else math.nan


def wanted(text: str, bounds: tuple[float, float], what: str, of: XmlStream) -> float:
    """The number of a text within bounds. Raises InputError with `what` it should be."""
    value = within(text, bounds)
    if math.isnan(value):
        raise of.wrong(f"{clean(text.strip())[:20]!r} is not {what}", "export the track again")
    return value


def second_of(text: str) -> float:
    """A time as the standard writes it (ISO 8601) in s since 1970, UTC unless it says otherwise; else nan.

    >>> second_of("2024-05-01T10:00:00Z") - second_of("2024-05-01T09:59:58.5+00:00")
    1.5
    """
    try:
        when = datetime.fromisoformat(text.strip())
        return (when if when.tzinfo else when.replace(tzinfo=UTC)).timestamp()
    except (ValueError, OverflowError):
        return math.nan
