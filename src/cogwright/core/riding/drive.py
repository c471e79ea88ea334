"""How much of the rider's power a drive passes on to the wheel."""

from typing import Final

from cogwright.core.setup.model import Setup

#: A clean chain over a derailleur or a single cog (measured by Martin et al. 1998).
CHAIN_EFFICIENCY: Final = 0.976
#: A hub gear with its chain: common practice, no source. Real ones differ from gear to gear.
HUB_GEAR_EFFICIENCY: Final = 0.95


def efficiency_of(setup: Setup) -> float:
    """The part of the pedal power that reaches the wheel: the file's figure, else its kind's."""
    given = setup.rider.chain_efficiency
    return usual_efficiency(setup) if given is None else given


def usual_efficiency(setup: Setup) -> float:
    """What a drive of this kind passes on."""
    return HUB_GEAR_EFFICIENCY if len(setup.rear.hub_ratios) > 1 else CHAIN_EFFICIENCY
