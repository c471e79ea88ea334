"""Gears to leave out: what the chain is too short for, and what would run it crossed."""

from collections.abc import Mapping, Sequence
from typing import Final

from cogwright.core.chain.line import chainline_of
from cogwright.core.chain.slack import chain_of
from cogwright.core.gears.gears import Gear
from cogwright.core.setup.model import Setup

RingAndCog = tuple[int, int]
#: Cogs left out at the far side of an outer ring, by how many cogs there are at least: common practice, no
#: source. It stands in only where the chain's real angle is not known.
FAR_COGS: Final = ((9, 2), (4, 1), (1, 0))
UNREACHABLE: Final = "the chain is too short for it"


def left_out(setup: Setup, gears: Sequence[Gear]) -> Mapping[Gear, str]:
    """Each gear to leave out, with the reason; `gears` are all of the setup's, easiest first.

    Of gears that the chain reaches the easiest and the hardest stay in. Where a chain would reach no gear at
    all (a mistake in the file, which the fit view names), only crossed ones are left out.
    """
    short = unreachable(setup)
    reached = [gear for gear in gears if (gear.ring, gear.cog) not in short] or list(gears)
    crossed = crossed_pairs(setup)
    out = {
        gear: UNREACHABLE for gear in gears if len(reached) < len(gears) and (gear.ring, gear.cog) in short
    }
    for gear in reached[1:-1]:
        if (gear.ring, gear.cog) in crossed:
            out[gear] = crossed[gear.ring, gear.cog]
    return out


def unreachable(setup: Setup) -> frozenset[RingAndCog]:
    """Pairs that the installed chain cannot be shifted to without tearing something off."""
    return frozenset((gear.ring, gear.cog) for gear in chain_of(setup).too_short_for)


def crossed_pairs(setup: Setup) -> Mapping[RingAndCog, str]:
    """Pairs that run the chain crossed: by its angle where that is known, else by rule of thumb.

    With one ring there is no other way to those cogs, so none is left out.
    """
    if len(setup.crank.rings) < 2:
        return {}
    line = chainline_of(setup)
    if not line.angles:
        return dict.fromkeys(crossed_by_practice(setup), "chain crossed (common practice)")
    return {(a.ring, a.cog): f"chain crossed, {a.degrees:.1f} degrees" for a in line.avoid}


def crossed_by_practice(setup: Setup) -> frozenset[RingAndCog]:
    """Pairs that riders leave out by rule of thumb: an outer ring with the cogs farthest across from it.

    >>> from cogwright.core.setup.model import Crank, Rear, Wheel
    >>> bike = Setup(name="a", wheel=Wheel(size="28-622"), crank=Crank(rings=(34, 50)),
    ...              rear=Rear(cogs=(12, 14, 16, 19, 22, 26)))
    >>> sorted(crossed_by_practice(bike))
    [(34, 12), (50, 26)]
    """
    rings, cogs = setup.crank.rings, setup.rear.cogs
    far = next(count for least, count in FAR_COGS if len(cogs) >= least)
    inner = {(rings[0], cog) for cog in cogs[:far]}
    outer = {(rings[-1], cog) for cog in cogs[len(cogs) - far :]}
    return frozenset(inner | outer)
