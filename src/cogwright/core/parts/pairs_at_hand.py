"""Pairs that need no tensioner on a bike's stay, out of the teeth that a bin and the bike have."""

from collections.abc import Iterable

from cogwright.core.drive.pairs import StayPair, pairs_for
from cogwright.core.gears.gears import wheel_of
from cogwright.core.parts.bin import Bin
from cogwright.core.setup.model import Setup


def one_to_one_m(setup: Setup) -> float:
    """Development in m that one tooth for one tooth gives, with a hub gear that of its lowest gear.

    >>> from cogwright.core.setup.model import Crank, Rear, Wheel
    >>> hub = Rear(cogs=(19,), hub_ratios=(0.75, 1.0))
    >>> one_to_one_m(Setup(name="a", wheel=Wheel(rollout_mm=2000), crank=Crank(rings=(40,)), rear=hub))
    1.5
    """
    return wheel_of(setup).m * min(setup.rear.hub_ratios)


def pairs_at_hand(
    wanted_m: float,
    setup: Setup,
    stay_mm: float,
    of: Bin | None,
    rings: Iterable[int] | None = None,
    cogs: Iterable[int] | None = None,
) -> tuple[StayPair, ...]:
    """Pairs nearest to a development in m first, with the axle's way back used: see `pairs_for`.

    They are made of the teeth given, else of those of the bin and the bike, else of the usual ones.
    """
    if of is not None:
        rings = rings or (*setup.crank.rings, *(part.teeth for part in of.rings))
        cogs = cogs or (*setup.rear.cogs, *(part.teeth for part in of.cogs))
    ratio, travel = wanted_m / one_to_one_m(setup), setup.frame.axle_travel_mm or 0.0
    return pairs_for(ratio, stay_mm, rings, cogs, bool(setup.chain.half_link), travel)
