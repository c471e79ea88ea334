"""Bolt circles: how to measure one, and how small a ring goes on it."""

import math
from typing import Final

from cogwright.core.chain.length import pitch_radius
from cogwright.core.setup.model import Crank

#: Thickness of a chain's roller, mm (DIN 8187, sections 081 and 082): the gaps reach in by half of it.
ROLLER_MM: Final = 7.75
#: From a bolt's centre to the roots of the teeth, mm: a hole of 10 mm and 2.7 mm of ring round it. With it
#: the geometry gives the trade's smallest rings on all seven common circles (common practice, no source).
MARGIN_MM: Final = 7.7
#: As little as rings made for it, threaded or bolted from behind, leave (common practice, no source).
SPECIAL_MARGIN_MM: Final = 4.5


def from_neighbours(distance_mm: float, bolts: int) -> float:
    """Diameter of the bolt circle in mm from the distance between neighbouring holes: d / sin(pi / bolts).

    Five holes 64.7 mm apart lie on a circle of 110 mm (tables print x 1.701 for five bolts):

    >>> round(from_neighbours(64.66, 5))
    110
    """
    return distance_mm / math.sin(math.pi / bolts)


def root_radius(teeth: int) -> float:
    """Radius in mm of the bottom of the gaps between a ring's teeth: pitch radius less half a roller."""
    return pitch_radius(teeth) - ROLLER_MM / 2.0


def smallest_ring(bolt_circle_mm: float, margin_mm: float = MARGIN_MM) -> int:
    """Fewest teeth whose roots clear the bolts of a circle by a margin.

    >>> smallest_ring(110.0), smallest_ring(130.0)
    (33, 38)
    """
    teeth = 6
    while root_radius(teeth) < bolt_circle_mm / 2.0 + margin_mm:
        teeth += 1
    return teeth


def circle_of(crank: Crank, teeth: int) -> float | None:
    """The bolt circle that a ring of a crank is on: the smallest of several has the inner one, if any."""
    if len(crank.rings) > 1 and teeth == crank.rings[0] and crank.inner_bolt_circle_mm is not None:
        return crank.inner_bolt_circle_mm
    return crank.bolt_circle_mm
