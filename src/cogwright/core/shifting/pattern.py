"""How two rings share the gears between them, and so how they are shifted: the patterns that riders know.

Half-step: the rings are half a rear step apart, so that the gears of one lie between those of the other; the
front is shifted for half a step, the rear for a whole one. Alternating: they are one step and a half apart,
which puts the gears between each other too, and both shifters move at every shift. Crossover: they are
farther apart, one ring is for slow going and one for fast, and the rider crosses over once.
"""

import math
from dataclasses import dataclass
from itertools import pairwise
from typing import Final, Literal

from cogwright.core.setup.model import Setup

#: A gear lies between two others when it stands in the middle part of the step from one to the other, as a
#: log. Our own rule, as is the share of gears that must lie so.
_BETWEEN: Final = (0.3, 0.7)
_MOST_OF_THEM: Final = 0.75
#: With more cogs than this riders stay on a ring: the steps are small enough (common practice, no source).
_ALTERNATED: Final = 7


@dataclass(frozen=True, slots=True)
class Interleaved:
    """Two neighbouring rings whose gears lie between each other's."""

    name: Literal["half-step", "alternating"]
    rings: tuple[int, int]


def interleaved(setup: Setup) -> Interleaved | None:
    """The rings of a setup that interleave; None where none do, or a hub gear stands behind the cogs.

    50-46-30 with 14 17 20 24 28 is a "half-step plus granny", as a rider who has it says in a public forum.

    >>> from cogwright.core.setup.model import Crank, Rear, Wheel
    >>> touring = Setup(name="a", wheel=Wheel(size="32-630"), crank=Crank(rings=(30, 46, 50)),
    ...                 rear=Rear(cogs=(14, 17, 20, 24, 28)))
    >>> interleaved(touring)
    Interleaved(name='half-step', rings=(46, 50))
    """
    if len(setup.rear.hub_ratios) > 1:
        return None
    for pair in pairwise(setup.crank.rings):
        places = _places(pair, setup.rear.cogs)
        if _lie_between(places, 0):
            return Interleaved("half-step", pair)
        if len(setup.rear.cogs) <= _ALTERNATED and _lie_between(places, 1):
            return Interleaved("alternating", pair)
    return None


def pattern_name(setup: Setup) -> str:
    """What the pattern of a setup's gears is called."""
    found = interleaved(setup)
    if found is not None:
        return found.name
    hub_behind_cogs = len(setup.rear.hub_ratios) > 1 < len(setup.rear.cogs)
    return "crossover" if len(setup.crank.rings) > 1 or hub_behind_cogs else "one range"


def _places(rings: tuple[int, int], cogs: tuple[int, ...]) -> list[float]:
    """Where the larger ring's gears stand among the smaller one's: whole rear steps, and the share of one.

    None of those that are harder than all of the smaller ring's gears.
    """
    found = []
    wide = math.log(rings[1] / rings[0])
    easiest_first = cogs[::-1]
    for at in range(len(cogs)):
        left = wide
        for whole, (cog, harder) in enumerate(pairwise(easiest_first[at:])):
            step = math.log(cog / harder)
            if left < step:
                found.append(whole + left / step)
                break
            left -= step
    return found


def _lie_between(places: list[float], whole: int) -> bool:
    """Whether most of the gears lie between two others, so many whole steps up."""
    low, high = (whole + share for share in _BETWEEN)
    between = sum(low <= place <= high for place in places)
    return len(places) > 1 and between >= _MOST_OF_THEM * len(places)
