"""One ring, one cog, no derailleur: where the axle must stand for the chain to be right."""

import math
from itertools import product
from typing import Final, NamedTuple

from cogwright.core.chain.length import ChainLength, even_up, exact_pitches, pitch_radius
from cogwright.core.common.units import PITCH_MM

#: The chain may move this much up and down midway between the sprockets, mm (common practice, no source;
#: the maker's figure wins).
MOST_MOVEMENT_MM: Final = 20.0
_RING_REACH: Final = 6
_COG_REACH: Final = 4
_PAIRS: Final = 5


class RightPair(NamedTuple):
    """A ring and a cog that are right on this stay as it stands, with `pitches` of chain."""

    ring: int
    cog: int
    pitches: int
    movement_mm: float


class AxleFit(NamedTuple):
    """How far the axle moves back (forward when negative), in mm, to take up `pitches` of chain.

    `travel_mm` is how far back it can go from where the stay was measured; None when not known.
    """

    pitches: int
    move_mm: float
    travel_mm: float | None
    nearby: tuple[RightPair, ...]

    @property
    def reachable(self) -> bool | None:
        """Whether the axle can get there; None when the setup does not say how far it goes."""
        if self.travel_mm is None:
            return None
        return -0.05 <= self.move_mm <= self.travel_mm


def stay_for(ring: int, cog: int, pitches: float) -> float:
    """Distance of the centres in mm at which a chain of so many pitches is taut.

    z 20 and 63 with 114 pitches: 35.6 pitches (a chain-drive design paper's reference; see `exact_pitches`).

    >>> round(stay_for(63, 20, 114) / 12.7, 1)
    35.6
    """
    least = (pitch_radius(ring) + pitch_radius(cog)) * (1.0 + 1e-9)
    stay = max((pitches - (ring + cog) / 2.0) * PITCH_MM / 2.0, least)
    for _ in range(50):
        off = pitches - exact_pitches(ring, cog, stay)
        stay = max(stay + off * PITCH_MM / 2.0, least)
        if abs(off) < 1e-12:
            break
    return stay


def movement_mm(ring: int, cog: int, stay_mm: float, pitches: float) -> float:
    """Way in mm, up and down together, of the slack strand's middle when the other strand is taut.

    The strand is as long as a straight one and the chain's spare length: a flat triangle.
    """
    spare = (pitches - exact_pitches(ring, cog, stay_mm)) * PITCH_MM
    if spare <= 0:
        return 0.0
    lean = math.asin((pitch_radius(ring) - pitch_radius(cog)) / stay_mm)
    strand = stay_mm * math.cos(lean)
    return 2.0 * math.sqrt(((strand + spare) / 2.0) ** 2 - (strand / 2.0) ** 2)


def right_pairs(ring: int, cog: int, stay_mm: float) -> tuple[RightPair, ...]:
    """Pairs near this one that leave a right chain with the axle where it is, nearest in gear first."""
    rings = range(max(ring - _RING_REACH, 6), ring + _RING_REACH + 1)
    cogs = range(max(cog - _COG_REACH, 6), cog + _COG_REACH + 1)
    room = (pair for pair in product(rings, cogs) if sum(map(pitch_radius, pair)) < stay_mm)
    tried = (_pair(front, back, stay_mm) for front, back in room)
    right = [pair for pair in tried if pair.movement_mm <= MOST_MOVEMENT_MM]
    right.sort(key=lambda p: (abs(math.log(p.ring / p.cog * cog / ring)), abs(p.ring - ring)))
    return tuple(right[:_PAIRS])


def _pair(ring: int, cog: int, stay_mm: float) -> RightPair:
    pitches = even_up(exact_pitches(ring, cog, stay_mm))
    return RightPair(ring, cog, pitches, movement_mm(ring, cog, stay_mm, pitches))


def axle_of(chain: ChainLength) -> AxleFit | None:
    """Where the axle must stand; None with a derailleur, or when the stay is not known."""
    if chain.tensioned or chain.stay_mm is None or chain.fit_pitches is None:
        return None
    ring, cog = chain.largest
    pitches = chain.fit_pitches if chain.installed is None else chain.installed
    return AxleFit(
        pitches=pitches,
        move_mm=stay_for(ring, cog, pitches) - chain.stay_mm,
        travel_mm=chain.setup.frame.axle_travel_mm,
        nearby=right_pairs(ring, cog, chain.stay_mm),
    )
