"""Toothed belts: how long round two pulleys, and where the axle must stand. Lengths in mm, belts in teeth.

A belt lies on its pulleys as a band on circles, not as a chain's polygon: a pulley of z teeth has a pitch
circle of p z / (2 pi).
"""

import math
from dataclasses import dataclass
from functools import cached_property
from itertools import count
from typing import Final

from cogwright.core.common.facts import absent
from cogwright.core.setup.model import Setup

#: The axle may stand this far before or behind where it was measured, mm: what a ruler is good to.
SAME_MM: Final = 0.05


def pulley_radius(teeth: int, pitch_mm: float) -> float:
    """Radius in mm of a pulley's pitch circle: p z / (2 pi)."""
    return pitch_mm * teeth / (2.0 * math.pi)


def belt_teeth(front: int, rear: int, centres_mm: float, pitch_mm: float) -> float:
    """Teeth of a belt that lies taut round two pulleys, exactly; a belt has a whole number of them.

    L/p = (2 D cos a + R (pi + 2 a) + r (pi - 2 a)) / p with sin a = (R - r) / D. Two alike at 10 pitches'
    distance take 20 and the teeth of one. Raises ValueError when the pulleys would touch.

    >>> round(belt_teeth(40, 40, 100.0, 10.0), 6)
    Traceback (most recent call last):
    ...
    ValueError: 40 and 40 teeth of 10 mm do not go side by side, 100 mm apart
    >>> round(belt_teeth(20, 20, 100.0, 10.0), 6)
    40.0
    """
    big, small = pulley_radius(front, pitch_mm), pulley_radius(rear, pitch_mm)
    if big + small >= centres_mm:
        raise ValueError(
            f"{front} and {rear} teeth of {pitch_mm:g} mm do not go side by side, {centres_mm:g} mm apart"
        )
    lean = math.asin((big - small) / centres_mm)
    straight = 2.0 * centres_mm * math.cos(lean)
    return (straight + big * (math.pi + 2.0 * lean) + small * (math.pi - 2.0 * lean)) / pitch_mm


def centres_for(front: int, rear: int, teeth: float, pitch_mm: float) -> float:
    """Distance of the centres in mm at which a belt of so many teeth lies taut.

    The length grows with the distance at 2 cos a, never less than what Newton's step divides by, so the steps
    come to the one answer from above or below. Raises ValueError for a belt too short to go round both.
    """
    least = (pulley_radius(front, pitch_mm) + pulley_radius(rear, pitch_mm)) * (1.0 + 1e-9)
    if teeth < belt_teeth(front, rear, least, pitch_mm):
        raise ValueError(f"{teeth:g} teeth do not go round {front} and {rear}")
    centres = max((teeth - (front + rear) / 2.0) * pitch_mm / 2.0, least)
    for _ in range(60):
        off = teeth - belt_teeth(front, rear, centres, pitch_mm)
        centres = max(centres + off * pitch_mm / 2.0, least)
        if abs(off) < 1e-12:
            break
    return centres


@dataclass(frozen=True)
class BeltFigures:
    """The belt of one setup: what its pulleys take, and where the axle stands with the belt that is on."""

    setup: Setup

    @cached_property
    def pulleys(self) -> tuple[int, int]:
        """Teeth of the front and the rear pulley."""
        return self.setup.crank.rings[-1], self.setup.rear.cogs[-1]

    @property
    def alone(self) -> bool:
        """Whether there is one pulley at each end: a belt does not shift."""
        return len(self.setup.crank.rings) == len(self.setup.rear.cogs) == 1

    @cached_property
    def missing(self) -> tuple[str, ...]:
        """Keys of the setup that the belt's figures lack."""
        setup = self.setup
        facts = {
            "frame.chainstay_mm": setup.frame.chainstay_mm,
            "belt.pitch_mm": setup.belt.pitch_mm,
            "belt.teeth": setup.belt.teeth,
        }
        return absent(facts)

    @cached_property
    def taken(self) -> float | None:
        """Teeth that the pulleys take with the axle where it is; None if unknown or if they would touch."""
        stay, pitch = self.setup.frame.chainstay_mm, self.setup.belt.pitch_mm
        if stay is None or pitch is None:
            return None
        try:
            return belt_teeth(*self.pulleys, stay, pitch)
        except ValueError:
            return None

    def move_mm(self, teeth: int) -> float | None:
        """How far back (forward: negative) the axle moves for a belt of so many teeth; None if never."""
        stay, pitch = self.setup.frame.chainstay_mm, self.setup.belt.pitch_mm
        if stay is None or pitch is None:
            return None
        try:
            return centres_for(*self.pulleys, teeth, pitch) - stay
        except ValueError:
            return None

    @cached_property
    def right(self) -> tuple[int, ...]:
        """Teeth of every belt with which the axle stays within its way; none while a fact is missing."""
        travel = self.setup.frame.axle_travel_mm
        if self.taken is None or travel is None:
            return ()
        found: list[int] = []
        for teeth in count(math.floor(self.taken)):
            move = self.move_mm(teeth)
            if move is not None and move > travel:
                return tuple(found)
            if move is not None and move >= -SAME_MM:
                found.append(teeth)
        return ()


def belt_of(setup: Setup) -> BeltFigures | None:
    """The belt of a setup; None for a bike with a chain."""
    return BeltFigures(setup) if setup.belted else None
