"""The shifters of a setup, and what a shift from one gear to another asks of them."""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property
from typing import Final

from cogwright.core.common.units import percent
from cogwright.core.gears.gears import Gear
from cogwright.core.setup.model import Setup

#: Effort of a front change in clicks at the back: common practice, no source.
FRONT_EFFORT: Final = 3.0


@dataclass(frozen=True)
class Levers:
    """Where each ring, cog and hub gear stands at its shifter; harder gears stand higher."""

    rings: tuple[int, ...]
    cogs: tuple[int, ...]
    hubs: tuple[float, ...]

    @cached_property
    def places(self) -> tuple[Mapping[int, int], Mapping[int, int], Mapping[float, int]]:
        """Place of each ring, of each cog (the smallest is the highest) and of each hub gear."""
        return (
            {ring: i for i, ring in enumerate(sorted(self.rings))},
            {cog: i for i, cog in enumerate(sorted(self.cogs, reverse=True))},
            {hub: i for i, hub in enumerate(sorted(self.hubs))},
        )

    def move(self, start: Gear, end: Gear) -> "Move":
        """The shift from one gear to another: at the front, at the cogs and in the hub; + is harder."""
        rings, cogs, hubs = self.places
        return Move(
            end,
            rings[end.ring] - rings[start.ring],
            cogs[end.cog] - cogs[start.cog],
            hubs[end.hub] - hubs[start.hub],
            percent(end.development_m / start.development_m),
            behind=len(cogs) > 1,
        )

    def reach(self, start: Gear, front: int, rear: int, hub: int = 0) -> tuple[int, int, float] | None:
        """Ring, cog and hub ratio that a shift from a gear leads to; None past the end of a shifter."""
        rings, cogs, hubs = self.places
        wanted = (rings[start.ring] + front, cogs[start.cog] + rear, hubs[start.hub] + hub)
        sizes = (len(rings), len(cogs), len(hubs))
        if any(not 0 <= place < size for place, size in zip(wanted, sizes, strict=True)):
            return None
        return (
            sorted(rings)[wanted[0]],
            sorted(cogs, reverse=True)[wanted[1]],
            sorted(hubs)[wanted[2]],
        )


def levers_of(setup: Setup) -> Levers:
    """The shifters of a setup."""
    return Levers(setup.crank.rings, setup.rear.cogs, setup.rear.hub_ratios)


@dataclass(frozen=True, slots=True)
class Move:
    """A gear and the shift that leads to it: rings up, clicks at the cogs and in the hub, + is harder.

    `behind` says that the hub gear, if any, stands behind a cassette.
    """

    gear: Gear
    front: int = 0
    rear_clicks: int = 0
    hub_clicks: int = 0
    step_pct: float | None = None
    behind: bool = False

    @property
    def double(self) -> bool:
        """Whether it takes two shifters at once."""
        return sum(part != 0 for part in (self.front, self.rear_clicks, self.hub_clicks)) > 1

    @property
    def changes_range(self) -> bool:
        """Whether it changes the ring, or the hub gear behind a cassette: what the cogs must make up for."""
        return self.front != 0 or (self.behind and self.hub_clicks != 0)

    @property
    def effort(self) -> float:
        """Clicks at the back, and `FRONT_EFFORT` for each ring."""
        return abs(self.rear_clicks) + abs(self.hub_clicks) + FRONT_EFFORT * abs(self.front)
