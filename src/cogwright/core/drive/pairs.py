"""Pairs that go on a stay without a tensioner, new and with the chain worn, and how they wear."""

import math
from collections.abc import Iterable
from dataclasses import dataclass
from itertools import product
from typing import Final

from cogwright.core.chain.axle import MOST_MOVEMENT_MM, movement_mm, stay_for
from cogwright.core.chain.length import SAME, even_up, exact_pitches, pitch_radius
from cogwright.core.drive.fixed import SkidPatches, common_factor, skid_patches
from cogwright.core.setup.model import MIN_TEETH

#: How much longer a worn chain is, as a share: 0.5 % (common practice, no source).
WORN: Final = 0.005
BOTH: Final = "new and worn"
_RING_REACH: Final = 6
_COG_REACH: Final = 4
_MOST: Final = 8
#: Teeth that are usual on such bikes, where nobody says which are at hand.
USUAL_RINGS: Final = range(28, 61)
USUAL_COGS: Final = range(11, 25)
#: The stay in mm with the axle in front, and at the end of its way back.
_Stays = tuple[float, float]


@dataclass(frozen=True, slots=True)
class StayPair:
    """A pair on a stay with `links` of chain: how far the chain moves up and down, new and worn by 0.5 %, mm.

    `new_mm` is None where a new chain is too tight to go on.
    """

    ring: int
    cog: int
    links: int
    new_mm: float | None
    worn_mm: float
    patches: SkidPatches
    factor: int

    @property
    def mark(self) -> str:
        """When it is right, in words."""
        new = self.new_mm is not None and self.new_mm <= MOST_MOVEMENT_MM
        worn = self.worn_mm <= MOST_MOVEMENT_MM
        return BOTH if new and worn else "new" if new else "worn"


def stay_pairs(ring: int, cog: int, stay_mm: float, half_link: bool = False) -> tuple[StayPair, ...]:
    """Pairs near this one that are right on a stay as it is with a new chain or a worn one, nearest first.

    With a half link a chain may have an odd number of links. Worn it is 0.5 % longer. Right is up to 20 mm of
    movement midway and no tighter than straight.
    """
    rings = range(max(ring - _RING_REACH, MIN_TEETH), ring + _RING_REACH + 1)
    cogs = range(max(cog - _COG_REACH, MIN_TEETH), cog + _COG_REACH + 1)
    found = _all_right(rings, cogs, (stay_mm, stay_mm), half_link)
    found.sort(key=lambda p: (abs(math.log(p.ring / p.cog * cog / ring)), abs(p.ring - ring), p.links))
    return tuple(found[:_MOST])


def pairs_for(
    ratio: float,
    stay_mm: float,
    rings: Iterable[int] | None = None,
    cogs: Iterable[int] | None = None,
    half_link: bool = False,
    travel_mm: float = 0.0,
) -> tuple[StayPair, ...]:
    """Pairs of the teeth at hand that need no tensioner on a stay, nearest to a ratio of ring to cog first.

    An axle that goes back by some mm takes up what chain it can before it hangs.
    Of equally near ones that comes first which is right both new and worn, then the one with more teeth: it
    wears slower. Without teeth at hand the usual ones are tried.
    """
    stays = (stay_mm, stay_mm + travel_mm)
    found = _all_right(rings or USUAL_RINGS, cogs or USUAL_COGS, stays, half_link)
    found.sort(
        key=lambda p: (round(abs(math.log(p.ring / p.cog / ratio)), 6), p.mark != BOTH, -p.ring, p.links)
    )
    return tuple(found)


def _all_right(rings: Iterable[int], cogs: Iterable[int], stays: _Stays, half_link: bool) -> list[StayPair]:
    """All pairs of these that are right on a stay."""
    pairs = product(sorted(set(rings)), sorted(set(cogs)))
    room = (pair for pair in pairs if sum(map(pitch_radius, pair)) < stays[0])
    return [pair for front, back in room for pair in _right(front, back, stays, half_link)]


def _right(ring: int, cog: int, stays: _Stays, half_link: bool) -> list[StayPair]:
    """The pair with each number of links that is right new or worn: from one less than goes on, on."""
    step = 1 if half_link else 2
    first, last = (_links(ring, cog, stay, half_link) for stay in stays)
    pairs = [_pair(ring, cog, stays, links) for links in range(first - step, last + step, step)]
    return [pair for pair in pairs if pair is not None]


def _links(ring: int, cog: int, stay_mm: float, half_link: bool) -> int:
    """The fewest links that go on."""
    straight = exact_pitches(ring, cog, stay_mm)
    return math.ceil(straight - SAME) if half_link else even_up(straight)


def _pair(ring: int, cog: int, stays: _Stays, links: int) -> StayPair | None:
    straight = exact_pitches(ring, cog, stays[0])
    worn = links * (1.0 + WORN)
    if worn < straight - SAME:
        return None
    goes_on = links >= straight - SAME
    new = _movement_mm(ring, cog, stays, links) if goes_on else None
    found = StayPair(
        ring,
        cog,
        links,
        new,
        _movement_mm(ring, cog, stays, worn),
        skid_patches(ring, cog),
        common_factor(ring, cog),
    )
    right = found.worn_mm <= MOST_MOVEMENT_MM or (new is not None and new <= MOST_MOVEMENT_MM)
    return found if right else None


def _movement_mm(ring: int, cog: int, stays: _Stays, links: float) -> float:
    """Way of the slack strand, mm, with the axle as far back as the chain lets it."""
    back = min(max(stay_for(ring, cog, links), stays[0]), stays[1])
    return movement_mm(ring, cog, back, links)
