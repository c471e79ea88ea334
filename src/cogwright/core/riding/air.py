"""Density of the air, from the standard atmosphere (ISO 2533)."""

from typing import Final

#: Constants of ISO 2533 for the lowest layer, -2 to 11 km.
SEA_LEVEL_DENSITY: Final = 1.225
_SEA_LEVEL_K: Final = 288.15
_LAPSE_K_PER_M: Final = 0.0065
_GRAVITY: Final = 9.80665
_GAS_J_PER_KG_K: Final = 287.05287
_EARTH_RADIUS_M: Final = 6_356_766.0


def density(height_m: float) -> float:
    """Density of still, dry air in kg/m^3 at a height above sea level in m, -2,000 to 11,000.

    rho = rho0 * (1 - L * H / T0) ^ (g / (R * L) - 1), with the geopotential height H = r * h / (r + h).
    A real day differs from the standard one by some 5 %, through temperature and pressure.
    At 1 km the published ratio to sea level is 0.9075:

    >>> round(density(1000.0) / density(0.0), 4)
    0.9075
    """
    geopotential = _EARTH_RADIUS_M * height_m / (_EARTH_RADIUS_M + height_m)
    cooling = 1.0 - _LAPSE_K_PER_M * geopotential / _SEA_LEVEL_K
    power: float = cooling ** (_GRAVITY / (_GAS_J_PER_KG_K * _LAPSE_K_PER_M) - 1.0)
    return SEA_LEVEL_DENSITY * power
