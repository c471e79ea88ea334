"""Density of the air, from the standard atmosphere (ISO 2533), on a warm or a cold day."""

from typing import Final

#: Constants of ISO 2533 for the lowest layer, -2 to 11 km.
SEA_LEVEL_DENSITY: Final = 1.225
_SEA_LEVEL_K: Final = 288.15
_LAPSE_K_PER_M: Final = 0.0065
_GRAVITY: Final = 9.80665
_GAS_J_PER_KG_K: Final = 287.05287
_EARTH_RADIUS_M: Final = 6_356_766.0
_ZERO_C: Final = 273.15


def density(height_m: float, warmer_k: float = 0.0) -> float:
    """Density of still, dry air in kg/m^3 at a height above sea level in m, -2,000 to 11,000.

    rho = rho0 * (1 - L * H / T0) ^ (g / (R * L) - 1), with the geopotential height H = r * h / (r + h). On a
    day that is warmer than the standard one by some K (colder if negative), at the same pressure, it is
    less by T / (T + warmer). Pressure alone makes a real day differ by some 3 %.
    At 1 km the published ratio to sea level is 0.9075:

    >>> round(density(1000.0) / density(0.0), 4)
    0.9075
    """
    standard = standard_kelvin(height_m)
    power: float = (standard / _SEA_LEVEL_K) ** (_GRAVITY / (_GAS_J_PER_KG_K * _LAPSE_K_PER_M) - 1.0)
    return SEA_LEVEL_DENSITY * power * standard / (standard + warmer_k)


def standard_kelvin(height_m: float) -> float:
    """Temperature of the standard atmosphere in K at a height in m: 15 degrees C at the sea, 6.5 K less a km.

    >>> round(standard_kelvin(0.0), 2)
    288.15
    """
    geopotential = _EARTH_RADIUS_M * height_m / (_EARTH_RADIUS_M + height_m)
    return _SEA_LEVEL_K - _LAPSE_K_PER_M * geopotential


def standard_celsius(height_m: float) -> float:
    """The same in degrees C.

    >>> round(standard_celsius(2000.0), 1)
    2.0
    """
    return standard_kelvin(height_m) - _ZERO_C


def warmer_than_standard(temperature_c: float | None, height_m: float) -> float:
    """By how many K a temperature in degrees C at a height in m is over the standard one; 0 where not given.

    >>> round(warmer_than_standard(25.0, 0.0), 2)
    10.0
    """
    return 0.0 if temperature_c is None else temperature_c + _ZERO_C - standard_kelvin(height_m)
