"""Fixed and single drives: skid patches, and which pairs wear evenly."""

import math
from collections.abc import Callable
from itertools import product
from math import gcd
from typing import Final, NamedTuple

from cogwright.core.setup.fields import MIN_TEETH

#: How far from a pair others are looked for, teeth of ring and cog.
_RING_REACH: Final = 3
_COG_REACH: Final = 2


class SkidPatches(NamedTuple):
    """Places of the tyre that skids wear: always with the same foot in front, and with either."""

    one_foot: int
    either_foot: int


def skid_patches(ring: int, cog: int) -> SkidPatches:
    """Skid patches of a fixed pair.

    With the ratio reduced to a/b the tyre stands at one of b places each time the same foot is in front. With
    either foot half turns of the cranks count: 2b places if a is odd, and the same b if it is even. (Proof in
    a public forum thread of 2007; 48x18 with 3 and 48x17 with 17 in a city cycling magazine, no. 9.)

    >>> skid_patches(48, 18), skid_patches(44, 16)
    (SkidPatches(one_foot=3, either_foot=3), SkidPatches(one_foot=4, either_foot=8))
    """
    common = gcd(ring, cog)
    a, b = ring // common, cog // common
    return SkidPatches(b, 2 * b if a % 2 else b)


def common_factor(ring: int, cog: int) -> int:
    """The greatest common factor f of a pair: a push of one foot loads only one in f of the cog's teeth.

    With 1 they all take their turn and wear evenly.

    >>> common_factor(48, 16), common_factor(47, 17)
    (16, 1)
    """
    return gcd(ring, cog)


def pairs_near(ring: int, cog: int, good: Callable[[int, int], bool], most: int = 3) -> tuple[str, ...]:
    """Other pairs nearest in ratio that are good, of equals the one nearest in ring.

    >>> pairs_near(48, 16, lambda ring, cog: common_factor(ring, cog) == 1)
    ('50x17', '49x16', '47x16')
    """
    rings = range(max(ring - _RING_REACH, MIN_TEETH), ring + _RING_REACH + 1)
    cogs = range(max(cog - _COG_REACH, MIN_TEETH), cog + _COG_REACH + 1)
    found = [pair for pair in product(rings, cogs) if pair != (ring, cog) and good(*pair)]
    found.sort(key=lambda pair: (abs(math.log(pair[0] / pair[1] * cog / ring)), abs(pair[0] - ring)))
    return tuple(f"{front}x{back}" for front, back in found[:most])
