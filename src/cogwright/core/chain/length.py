"""How long a chain must be: round any pair of sprockets, and for a whole setup.

Lengths of chain are in pitches of 12.7 mm, all others in mm.
"""

import math
from dataclasses import dataclass
from enum import StrEnum
from functools import cached_property
from typing import Final

from cogwright.core.common.facts import absent
from cogwright.core.common.units import PITCH_MM
from cogwright.core.setup.model import RearDerailleur, Setup

#: Pitches that a derailleur chain has over the way round the largest pair (common practice, no source).
ALLOWANCE: Final = 2
#: With less than this over the way round, the cage is pulled straight and something gives (common practice,
#: no source).
TIGHT: Final = 1
#: Lengths within this of each other, in pitches, are the same.
SAME: Final = 1e-9


class Room(StrEnum):
    """What an installed derailleur chain leaves over the way round the largest pair."""

    AMPLE = "two pitches or more"
    UNDER_TWO = "under two pitches"
    UNDER_ONE = "under one pitch"
    NOT_ROUND = "too short to go round"

    @property
    def tears(self) -> bool:
        """Whether shifting to the largest pair can tear something off."""
        return self in {Room.UNDER_ONE, Room.NOT_ROUND}


def pitch_radius(teeth: int, pitch_mm: float = PITCH_MM) -> float:
    """Radius in mm of the circle through the pins of a chain on a sprocket: p / (2 sin(pi / z)).

    30 teeth of 9.525 mm pitch have a pitch diameter of 91.12 mm (ISO 606, table for 06B):

    >>> round(2 * pitch_radius(30, 9.525), 2)
    91.12
    """
    return pitch_mm / (2.0 * math.sin(math.pi / teeth))


def exact_pitches(ring: int, cog: int, stay_mm: float, pitch_mm: float = PITCH_MM) -> float:
    """Pitches of a taut chain round a ring and a cog whose centres are `stay_mm` apart.

    The strands are common tangents of the two pitch circles. On a sprocket the chain is a polygon of one
    side a tooth, shorter than the pitch circle's arc, so the wrapped parts count in teeth:
    L/p = 2 sqrt(D^2 - (R - r)^2) / p + N (pi + 2 a) / (2 pi) + n (pi - 2 a) / (2 pi), sin a = (R - r) / D.
    (Arcs of the pitch circle instead would give up to 0.13 pitch too much.) Raises ValueError when one
    sprocket would reach into the other.

    63 and 20 teeth, 36 pitches apart: 114.8 (a chain-drive design paper's reference; the paper's own exact
    figure is half a pitch less, and the band round two polygons is not).

    >>> round(exact_pitches(63, 20, 36 * 12.7), 3)
    114.805
    """
    big, small = pitch_radius(ring, pitch_mm), pitch_radius(cog, pitch_mm)
    if big + small >= stay_mm:
        raise ValueError(f"{ring} and {cog} teeth do not go side by side on a stay of {stay_mm:g} mm")
    lean = math.asin((big - small) / stay_mm)
    straight = 2.0 * stay_mm * math.cos(lean) / pitch_mm
    return straight + (ring * (math.pi + 2.0 * lean) + cog * (math.pi - 2.0 * lean)) / (2.0 * math.pi)


def textbook_pitches(ring: int, cog: int, stay_mm: float, pitch_mm: float = PITCH_MM) -> float:
    """The handbook's approximation: 2 D/p + (N + n)/2 + ((N - n)/(2 pi))^2 p/D, in pitches.

    >>> round(textbook_pitches(63, 20, 36 * 12.7), 1)
    114.8
    """
    bulge = ((ring - cog) / (2.0 * math.pi)) ** 2 * pitch_mm / stay_mm
    return 2.0 * stay_mm / pitch_mm + (ring + cog) / 2.0 + bulge


def even_up(pitches: float) -> int:
    """The next even number of pitches: an inner link can only be joined to an outer one.

    >>> even_up(109.4), even_up(110.0), even_up(110.2)
    (110, 110, 112)
    """
    return 2 * math.ceil(pitches / 2.0 - SAME)


@dataclass(frozen=True)
class ChainLength:
    """How long one setup's chain must be, against the one on the bike.

    What needs a fact that is not given is None; `missing` names the fact.
    """

    setup: Setup

    @cached_property
    def installed(self) -> int | None:
        """Pitches of the chain on the bike."""
        return self.setup.chain.links

    @cached_property
    def stay_mm(self) -> float | None:
        """The chainstay at its longest: as measured, and the growth of the suspension."""
        stay = self.setup.frame.chainstay_mm
        return None if stay is None or self.setup.belted else stay + self.setup.frame.suspension_growth_mm

    @cached_property
    def largest(self) -> tuple[int, int]:
        """The largest pair."""
        return self.setup.crank.rings[-1], self.setup.rear.cogs[-1]

    @property
    def largest_label(self) -> str:
        """The largest pair as it is called."""
        return "x".join(map(str, self.largest))

    @cached_property
    def tensioned(self) -> bool:
        """Whether a derailleur takes up slack: with several pairs one must."""
        pairs = len(self.setup.crank.rings) * len(self.setup.rear.cogs)
        return pairs > 1 or self.setup.rear_derailleur != RearDerailleur()

    @cached_property
    def clash(self) -> str | None:
        """Why the largest pair cannot stand on this stay at all; None when it can."""
        stay = self.setup.frame.chainstay_mm
        ring, cog = self.largest
        if stay is None or self.setup.belted or pitch_radius(ring) + pitch_radius(cog) < stay:
            return None
        return f"{ring} and {cog} teeth would touch on a chainstay of {stay:g} mm: check frame.chainstay_mm"

    @cached_property
    def missing(self) -> tuple[str, ...]:
        """Keys of the setup that the chain's figures lack; none for a belt, which has no chain to ask of."""
        if self.setup.belted:
            return ()
        facts = {"frame.chainstay_mm": self.setup.frame.chainstay_mm, "chain.links": self.installed}
        return absent(facts)

    @cached_property
    def needed_pitches(self) -> float | None:
        """The straight way round the largest pair, exactly; nothing added."""
        if self.stay_mm is None or self.clash:
            return None
        return exact_pitches(*self.largest, self.stay_mm)

    @cached_property
    def textbook(self) -> float | None:
        """The same by the handbook's approximation."""
        if self.stay_mm is None or self.clash:
            return None
        return textbook_pitches(*self.largest, self.stay_mm)

    @cached_property
    def least_pitches(self) -> float | None:
        """Fewest pitches that are safe: two over the largest pair; without a derailleur none over it."""
        if self.needed_pitches is None:
            return None
        return self.needed_pitches + (ALLOWANCE if self.tensioned else 0)

    @cached_property
    def fit_pitches(self) -> int | None:
        """The number of pitches to cut a chain to: even, unless the setup says that there is a half link."""
        if self.least_pitches is None:
            return None
        half = self.setup.chain.half_link
        return math.ceil(self.least_pitches - SAME) if half else even_up(self.least_pitches)

    @cached_property
    def doubt_pitches(self) -> float:
        """How far the way round may be off, because the stay is good to a tolerance; in pitches."""
        if self.stay_mm is None or self.needed_pitches is None:
            return 0.0
        longer = exact_pitches(*self.largest, self.stay_mm + self.setup.frame.chainstay_tolerance_mm)
        return longer - self.needed_pitches

    @cached_property
    def spare(self) -> float | None:
        """Pitches of the installed chain over the way round the largest pair; None when not known."""
        if self.needed_pitches is None or self.installed is None:
            return None
        return self.installed - self.needed_pitches

    @cached_property
    def room(self) -> Room | None:
        """What a derailleur has to take up on the largest pair; None without one, or when not known.

        Two pitches are two within what the stay is good to. What can tear is judged by the figure itself.
        """
        if self.spare is None or not self.tensioned:
            return None
        if self.spare < -SAME:
            return Room.NOT_ROUND
        if self.spare < TIGHT - SAME:
            return Room.UNDER_ONE
        return Room.UNDER_TWO if self.spare < ALLOWANCE - self.doubt_pitches - SAME else Room.AMPLE

    @cached_property
    def short_by(self) -> int:
        """Pitches that the installed chain lacks of the length to cut to; 0 when none or unknown.

        Without a derailleur the axle can come forward, so that is judged by `axle` instead.
        """
        if self.fit_pitches is None or self.installed is None or self.room in {None, Room.AMPLE}:
            return 0
        return self.fit_pitches - self.installed

    @cached_property
    def over_by(self) -> int:
        """Pitches that the installed chain has over the length to cut to; 0 when none or unknown."""
        if self.fit_pitches is None or self.installed is None:
            return 0
        return max(self.installed - self.fit_pitches, 0)
