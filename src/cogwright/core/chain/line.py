"""The angle of the chain in each gear, from where rings and cogs stand sideways."""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import Final, NamedTuple

from cogwright.core.common.facts import absent
from cogwright.core.setup.model import Setup
from cogwright.core.setup.ring_places import RING_SPACING_MM, places
from cogwright.core.setup.spacing import each, lacking

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
#: A chain at more than this, in degrees, wears fast, rubs and shifts badly (common practice, no source).
ANGLE_LIMIT_DEG: Final = 2.8


class Angle(NamedTuple):
    """One pair's chain: how far the cog stands outside the ring (inside when negative), and the angle."""

    ring: int
    cog: int
    offset_mm: float
    degrees: float

    @property
    def label(self) -> str:
        """The pair as it is called."""
        return f"{self.ring}x{self.cog}"


@dataclass(frozen=True)
class Chainline:
    """Where the sprockets of one setup stand, as far as it says so."""

    setup: Setup

    @cached_property
    def cog_gaps_mm(self) -> tuple[float, ...] | None:
        """Centre to centre of neighbouring cogs from the smallest: as the setup says, or as is common."""
        given, cogs = self.setup.rear.cog_pitch_mm, len(self.setup.rear.cogs)
        return each(COG_PITCH_MM.get(cogs) if given is None else given, cogs - 1)

    @cached_property
    def ring_gaps_mm(self) -> tuple[float, ...] | None:
        """Centre to centre of neighbouring rings from the smallest: as the setup says, or as is common."""
        given = self.setup.crank.ring_spacing_mm
        return each(RING_SPACING_MM if given is None else given, len(self.setup.crank.rings) - 1)

    @cached_property
    def front_mm(self) -> float | None:
        """Middle of the rings from the bike's middle plane: as measured, and what has moved it since."""
        crank = self.setup.crank
        if crank.chainline_mm is None:
            return None
        return crank.chainline_mm + crank.spacer_mm + crank.bottom_bracket_mm + crank.ring_offset_mm

    @cached_property
    def rear_mm(self) -> float | None:
        """Middle of the cogs from the bike's middle plane; in line with the crank's where nobody measured."""
        rear = self.setup.rear
        measured = self.setup.crank.chainline_mm if rear.chainline_mm is None else rear.chainline_mm
        return None if measured is None else measured + rear.spacer_mm

    @property
    def moved(self) -> tuple[tuple[str, float], ...]:
        """What has moved rings or cogs outwards since the chainlines were measured, in words and mm."""
        crank, rear = self.setup.crank, self.setup.rear
        facts = {
            "spacer behind the cup": crank.spacer_mm,
            "bottom bracket": crank.bottom_bracket_mm,
            "offset of the ring": crank.ring_offset_mm,
            "spacer behind the cogs": rear.spacer_mm,
        }
        return tuple((name, mm) for name, mm in facts.items() if mm)

    @cached_property
    def as_measured(self) -> "Chainline":
        """The same without what has moved rings or cogs."""
        crank = {"spacer_mm": 0.0, "bottom_bracket_mm": 0.0, "ring_offset_mm": 0.0}
        update = {
            "crank": self.setup.crank.model_copy(update=crank),
            "rear": self.setup.rear.model_copy(update={"spacer_mm": 0.0}),
        }
        return Chainline(self.setup.model_copy(update=update))

    @cached_property
    def limit_deg(self) -> float:
        """The angle from which a gear is one to avoid."""
        return self.setup.limits.chain_angle_deg or ANGLE_LIMIT_DEG

    @cached_property
    def missing(self) -> tuple[str, ...]:
        """Keys of the setup without which there is no angle."""
        setup = self.setup
        cogs, rings = len(setup.rear.cogs) - 1, len(setup.crank.rings) - 1
        facts = {
            "frame.chainstay_mm": setup.frame.chainstay_mm,
            "crank.chainline_mm": setup.crank.chainline_mm,
            lacking(setup.rear.cog_pitch_mm, "rear.cog_pitch_mm", cogs): self.cog_gaps_mm,
            lacking(setup.crank.ring_spacing_mm, "crank.ring_spacing_mm", rings): self.ring_gaps_mm,
        }
        return absent(facts)

    @cached_property
    def assumed(self) -> tuple[str, ...]:
        """What common practice stands in for, in words."""
        setup = self.setup
        said = []
        if setup.rear.chainline_mm is None:
            said.append("middle of the cogs in line with the crank's chainline")
        if setup.rear.cog_pitch_mm is None and len(setup.rear.cogs) > 1:
            said.append(f"cogs {COG_PITCH_MM[len(setup.rear.cogs)]:g} mm apart")
        if setup.crank.ring_spacing_mm is None and len(setup.crank.rings) > 1:
            said.append(f"rings {RING_SPACING_MM:g} mm apart")
        if setup.limits.chain_angle_deg is None:
            said.append(f"limit {self.limit_deg:g} degrees")
        return tuple(said)

    @cached_property
    def angles(self) -> tuple[Angle, ...]:
        """The chain's angle in every pair, easiest first; none when a fact is missing."""
        if self.missing:
            return ()
        setup = self.setup
        front, rear, stay = self.front_mm, self.rear_mm, setup.frame.chainstay_mm
        assert front is not None
        assert rear is not None
        assert stay is not None
        out = zip(setup.crank.rings, places(front, self.ring_gaps_mm or ()), strict=True)
        back = list(zip(setup.rear.cogs[::-1], places(rear, (self.cog_gaps_mm or ())[::-1]), strict=True))
        found = [_angle(ring, cog, there - here, stay) for ring, here in out for cog, there in back]
        return tuple(sorted(found, key=lambda a: (a.ring / a.cog, a.ring)))

    @cached_property
    def over(self) -> tuple[Angle, ...]:
        """Pairs over the limit, worst first."""
        over = (angle for angle in self.angles if angle.degrees > self.limit_deg)
        return tuple(sorted(over, key=lambda a: -a.degrees))

    @property
    def avoid(self) -> tuple[Angle, ...]:
        """The gears to avoid: those over the limit where another ring has one like them."""
        return self.over if len(self.setup.crank.rings) > 1 else ()

    @property
    def wearing(self) -> tuple[Angle, ...]:
        """Gears of a single ring over the limit: there is no other way to them, and they wear sooner."""
        return () if len(self.setup.crank.rings) > 1 else self.over


def _angle(ring: int, cog: int, offset_mm: float, stay_mm: float) -> Angle:
    return Angle(ring, cog, offset_mm, math.degrees(math.atan(abs(offset_mm) / stay_mm)))


def worst(angles: Sequence[Angle]) -> Angle:
    """The pair whose chain runs at the greatest angle."""
    return max(angles, key=lambda a: a.degrees)


def chainline_of(setup: Setup) -> Chainline:
    """Where the sprockets of a setup stand."""
    return Chainline(setup)


def line_before(now: Chainline, baseline: Setup | None) -> Chainline | None:
    """The chainline to hold one against: the baseline's, or that as measured without one.

    None where no spacer, bottom bracket or offset ring has moved anything on either.
    """
    base = now.as_measured if baseline is None else chainline_of(baseline)
    stand = (base.front_mm, base.rear_mm) == (now.front_mm, now.rear_mm)
    return None if stand or not (now.moved or base.moved) else base
