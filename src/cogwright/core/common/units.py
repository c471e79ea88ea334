"""Constants and conversions, each written once. SI inside; convert at the edges."""

from typing import Final

MM_PER_INCH: Final = 25.4
M_PER_INCH: Final = 0.0254
#: Pitch of a bicycle chain, mm: half an inch (DIN 8187, sections 081 and 082).
PITCH_MM: Final = 12.7
S_PER_MIN: Final = 60.0
MIN_PER_H: Final = 60.0
S_PER_H: Final = 3600.0
#: Standard gravity, m/s^2 (ISO 80000-3).
GRAVITY: Final = 9.80665


def kmh(m_per_s: float) -> float:
    """Speed in km/h from m/s.

    >>> kmh(10.0)
    36.0
    """
    return m_per_s * S_PER_H / 1000.0


def m_per_s(km_per_h: float) -> float:
    """Speed in m/s from km/h.

    >>> m_per_s(36.0)
    10.0
    """
    return km_per_h * 1000.0 / S_PER_H


def percent(ratio: float) -> float:
    """Growth in % of a ratio of two like quantities.

    >>> round(percent(17 / 15), 1)
    13.3
    """
    return (ratio - 1.0) * 100.0
