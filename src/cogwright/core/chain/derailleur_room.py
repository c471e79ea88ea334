"""Room round the rear derailleur: cog on a hanger extension, B-gap, ground under the cage, chain taken up.

All of it are estimates from what was measured on the bike; the derailleur maker's limits come first.
"""

import math
from typing import Final

from cogwright.core.chain.length import pitch_radius
from cogwright.core.common.units import PITCH_MM
from cogwright.core.setup.fields import MAX_TEETH

#: The part of an extension's drop that clears the cog: the pulley stands below and before the axle, and not
#: straight under it (common practice, no source).
DROP_COUNTS: Final = 0.85
#: Teeth of a derailleur's pulley, where nobody has counted (common practice, no source).
PULLEY_TEETH: Final = 11


def extended_limit(largest_cog: int, extension_mm: float) -> int:
    """Teeth of the largest cog on a hanger extension: an estimate by radius.

    The largest n whose radius is no more than that of the maker's largest cog and what the extension's drop
    counts: R(n) <= R(limit) + 0.85 e, with R(n) = p / (2 sin(pi / n)). A tooth is 2.02 mm of radius.

    >>> extended_limit(34, 0.0), extended_limit(34, 20.0)
    (34, 42)
    """
    room = pitch_radius(largest_cog) + DROP_COUNTS * extension_mm + 1e-9
    return max(n for n in range(largest_cog, MAX_TEETH + 1) if pitch_radius(n) <= room)


def b_gap(measured_mm: float, on_cog: int, cog: int, lowered_mm: float = 0.0) -> float:
    """Gap in mm between the upper pulley and a cog before the B screw is touched, from that on another cog.

    It shrinks by what the radius grows and grows by what an extension that was not there lowers the pulley.

    >>> round(b_gap(6.0, 34, 36), 2)
    1.96
    """
    return measured_mm - (pitch_radius(cog) - pitch_radius(on_cog)) + DROP_COUNTS * lowered_mm


def ground_mm(circumference_m: float, cage_drop_mm: float, lowered_mm: float = 0.0) -> float:
    """Height in mm of the cage's lowest point over the ground: C / (2 pi) less its drop under the axle.

    >>> round(ground_mm(math.pi * 0.406, 130.0), 1)
    73.0
    """
    return circumference_m * 1000.0 / (2.0 * math.pi) - cage_drop_mm - lowered_mm


def most_take_up(cage_mm: float, pulley_teeth: int = PULLEY_TEETH) -> float:
    """Pitches that a cage takes up from drawn straight to folded right back: more it cannot.

    The chain runs back under the lower pulley, crosses between both and comes back over the upper one:
    L + sqrt(L^2 - 4 r^2) + 2 r (pi + asin(2 r / L)) more than the straight way, for pulleys of radius r whose
    middles are L apart. Raises ValueError when the pulleys would touch.

    >>> round(most_take_up(93.0), 1)
    26.7
    """
    r = pitch_radius(pulley_teeth)
    if cage_mm <= 2.0 * r:
        raise ValueError(f"pulleys of {pulley_teeth} teeth touch in a cage of {cage_mm:g} mm")
    cross = math.sqrt(cage_mm * cage_mm - 4.0 * r * r)
    return (cage_mm + cross + 2.0 * r * (math.pi + math.asin(2.0 * r / cage_mm))) / PITCH_MM
