"""Tables of the setup file: wheel, crank, cogs, derailleurs, shifters, frame and chain.

Lengths in mm and teeth as whole numbers, as they stand in the file. A missing optional fact is None.
"""

from collections import Counter
from typing import Annotated, Self

from pydantic import Field, model_validator

from cogwright.core.setup.fields import (
    NOTHING_GIVEN,
    Carrier,
    Name,
    Section,
    Size,
    Sprockets,
    Teeth,
    number,
    problem,
)

HubRatio = Annotated[float, number(0.1, 10.0)]


class Wheel(Section):
    """The driven wheel. A measured rollout wins over the marking."""

    size: Size | None = None
    rollout_mm: Annotated[float, number(300, 4000)] | None = None

    @model_validator(mode="after")
    def _some_size(self) -> Self:
        if self.size is None and self.rollout_mm is None:
            mend = 'give size = "40-622" or rollout_mm = 2189'
            raise problem("the wheel has no size", mend, NOTHING_GIVEN)
        return self


class Crank(Section):
    """Rings, smallest first, and their bolt circle; the inner one, if any, is the smallest ring's own."""

    rings: Sprockets
    length_mm: Annotated[float, number(50, 300)] | None = None
    bolt_circle_mm: Annotated[float, number(30, 200)] | None = None
    inner_bolt_circle_mm: Annotated[float, number(30, 200)] | None = None
    bolts: Annotated[int, Field(strict=True, ge=3, le=6)] = 5
    chainline_mm: Annotated[float, number(20, 80)] | None = None
    ring_spacing_mm: Annotated[float, number(3, 20)] | None = None


class Rear(Section):
    """Cogs, smallest first, the hub gear if any, and what the shifter and freehub driver take."""

    cogs: Sprockets
    clicks: Annotated[int, Field(strict=True, ge=1, le=30)] | None = None
    smallest_cog: Teeth | None = None
    carriers: Annotated[tuple[Carrier, ...], Field(max_length=10)] = ()
    hub_ratios: Annotated[tuple[HubRatio, ...], Field(min_length=1, max_length=30)] = (1.0,)
    chainline_mm: Annotated[float, number(20, 80)] | None = None
    cog_pitch_mm: Annotated[float, number(2, 10)] | None = None
    family: Name | None = None

    @model_validator(mode="after")
    def _consistent(self) -> Self:
        if len(set(self.hub_ratios)) != len(self.hub_ratios):
            raise problem("a hub ratio stands there more than once", "name every hub ratio once")
        riveted = Counter(n for carrier in self.carriers for n in carrier)
        if any(count > 1 for count in riveted.values()):
            raise problem("a cog is riveted to two carriers", "name every cog in one carrier only")
        return self


class RearDerailleur(Section):
    """Limits that the maker of the rear derailleur states; teeth."""

    largest_cog: Teeth | None = None
    smallest_cog: Teeth | None = None
    capacity: Annotated[int, Field(strict=True, ge=0, le=100)] | None = None
    family: Name | None = None


class FrontDerailleur(Section):
    """Limits that the maker of the front derailleur states; teeth."""

    largest_ring: Teeth | None = None
    difference: Annotated[int, Field(strict=True, ge=0, le=60)] | None = None


class Shifters(Section):
    """The spacing family that the rear shifter is indexed for."""

    family: Name | None = None


class Frame(Section):
    """Chainstay: bottom bracket centre to rear axle centre, mm; suspension growth on top of it.

    Axle travel is how far back the axle can go from where the stay was measured. `largest_ring` is what
    clears the frame, teeth.
    """

    chainstay_mm: Annotated[float, number(200, 1500)] | None = None
    suspension_growth_mm: Annotated[float, number(0, 100)] = 0.0
    axle_travel_mm: Annotated[float, number(0, 100)] | None = None
    largest_ring: Teeth | None = None


class Chain(Section):
    """The chain on the bike: its number of 12.7 mm pitches, and its outer width."""

    links: Annotated[int, Field(strict=True, ge=20, le=400)] | None = None
    outer_width_mm: Annotated[float, number(4, 15)] | None = None
