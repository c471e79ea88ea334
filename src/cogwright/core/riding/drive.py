"""How much of the rider's power a drive passes on to the wheel."""

from typing import Final

from cogwright.core.setup.model import Setup

#: A clean chain over a derailleur or a single cog (measured by Martin et al. 1998).
CHAIN_EFFICIENCY: Final = 0.976
#: A hub gear with its chain: common practice, no source. Real ones differ from gear to gear.
HUB_GEAR_EFFICIENCY: Final = 0.95
#: A belt, and a hub gear behind one: common practice, no source. Tension and bending of a belt cost a little
#: more than a clean chain does, whatever the power; a chain in the wet soon costs more than either.
BELT_EFFICIENCY: Final = 0.965
BELT_HUB_EFFICIENCY: Final = 0.94


def efficiency_of(setup: Setup) -> float:
    """The part of the pedal power that reaches the wheel: the file's figure, else its kind's."""
    given = setup.rider.chain_efficiency
    return usual_efficiency(setup) if given is None else given


def usual_efficiency(setup: Setup) -> float:
    """What a drive of this kind passes on.

    >>> from cogwright.core.setup.model import Crank, Rear, Wheel
    >>> bike = {"wheel": Wheel(size="50-559"), "crank": Crank(rings=(42,)), "rear": Rear(cogs=(21,))}
    >>> usual_efficiency(Setup(name="a", **bike))
    0.976
    """
    hub = len(setup.rear.hub_ratios) > 1
    if setup.belted:
        return BELT_HUB_EFFICIENCY if hub else BELT_EFFICIENCY
    return HUB_GEAR_EFFICIENCY if hub else CHAIN_EFFICIENCY
