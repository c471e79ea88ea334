"""The angle of the chain in each gear, from where rings and cogs stand sideways."""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import Final

from cogwright.core.setup.model import Setup

#: Centre to centre of neighbouring cogs by the number of cogs, mm (common practice, no source).
COG_PITCH_MM: Final[dict[int, float]] = {
    5: 5.5,
    6: 5.3,
    7: 5.0,
    8: 4.8,
    9: 4.34,
    10: 3.95,
    11: 3.8,
    12: 3.6,
}
#: Centre to centre of neighbouring rings, mm (common practice, no source).
RING_SPACING_MM: Final = 7.5
#: A chain at more than this, in degrees, wears fast, rubs and shifts badly (common practice, no source).
ANGLE_LIMIT_DEG: Final = 2.8


@dataclass(frozen=True, slots=True)
class Angle:
    """One pair's chain: how far the cog stands outside the ring (inside when negative), and the angle."""

    ring: int
    cog: int
    offset_mm: float
    degrees: float

    @property
    def label(self) -> str:
        """The pair as it is called."""
        return f"{self.ring}x{self.cog}"


def places(chainline_mm: float, spacing_mm: float, sprockets: int) -> list[float]:
    """Distance of each sprocket from the bike's middle plane, mm, innermost first.

    >>> places(45.0, 8.0, 2)
    [41.0, 49.0]
    """
    inmost = chainline_mm - spacing_mm * (sprockets - 1) / 2.0
    return [inmost + spacing_mm * i for i in range(sprockets)]


@dataclass(frozen=True)
class Chainline:
    """Where the sprockets of one setup stand, as far as it says so."""

    setup: Setup

    @cached_property
    def cog_pitch_mm(self) -> float | None:
        """Centre to centre of the cogs: as the setup says, or as is common for their number."""
        return self.setup.rear.cog_pitch_mm or COG_PITCH_MM.get(len(self.setup.rear.cogs))

    @cached_property
    def ring_spacing_mm(self) -> float:
        """Centre to centre of the rings: as the setup says, or as is common."""
        return self.setup.crank.ring_spacing_mm or RING_SPACING_MM

    @cached_property
    def limit_deg(self) -> float:
        """The angle from which a gear is one to avoid."""
        return self.setup.limits.chain_angle_deg or ANGLE_LIMIT_DEG

    @cached_property
    def missing(self) -> tuple[str, ...]:
        """Keys of the setup without which there is no angle."""
        setup = self.setup
        facts = {
            "frame.chainstay_mm": setup.frame.chainstay_mm,
            "crank.chainline_mm": setup.crank.chainline_mm,
            "rear.cog_pitch_mm": self.cog_pitch_mm if len(setup.rear.cogs) > 1 else 0.0,
        }
        return tuple(key for key, value in facts.items() if value is None)

    @cached_property
    def assumed(self) -> tuple[str, ...]:
        """What common practice stands in for, in words."""
        setup = self.setup
        said = []
        if setup.rear.chainline_mm is None:
            said.append("middle of the cogs in line with the crank's chainline")
        if setup.rear.cog_pitch_mm is None and len(setup.rear.cogs) > 1:
            said.append(f"cogs {self.cog_pitch_mm:g} mm apart")
        if setup.crank.ring_spacing_mm is None and len(setup.crank.rings) > 1:
            said.append(f"rings {self.ring_spacing_mm:g} mm apart")
        if setup.limits.chain_angle_deg is None:
            said.append(f"limit {self.limit_deg:g} degrees")
        return tuple(said)

    @cached_property
    def angles(self) -> tuple[Angle, ...]:
        """The chain's angle in every pair, easiest first; none when a fact is missing."""
        if self.missing:
            return ()
        setup = self.setup
        front, stay = setup.crank.chainline_mm, setup.frame.chainstay_mm
        assert front is not None
        assert stay is not None
        rings, cogs = setup.crank.rings, setup.rear.cogs[::-1]
        rear = setup.rear.chainline_mm if setup.rear.chainline_mm is not None else front
        out = zip(rings, places(front, self.ring_spacing_mm, len(rings)), strict=True)
        back = list(zip(cogs, places(rear, self.cog_pitch_mm or 0.0, len(cogs)), strict=True))
        found = [_angle(ring, cog, there - here, stay) for ring, here in out for cog, there in back]
        return tuple(sorted(found, key=lambda a: (a.ring / a.cog, a.ring)))

    @cached_property
    def avoid(self) -> tuple[Angle, ...]:
        """Pairs over the limit, worst first: the gears to avoid."""
        over = (angle for angle in self.angles if angle.degrees > self.limit_deg)
        return tuple(sorted(over, key=lambda a: -a.degrees))


def _angle(ring: int, cog: int, offset_mm: float, stay_mm: float) -> Angle:
    return Angle(ring, cog, offset_mm, math.degrees(math.atan(abs(offset_mm) / stay_mm)))


def worst(angles: Sequence[Angle]) -> Angle:
    """The pair whose chain runs at the greatest angle."""
    return max(angles, key=lambda a: a.degrees)


def chainline_of(setup: Setup) -> Chainline:
    """Where the sprockets of a setup stand."""
    return Chainline(setup)
