"""The parts bin: what lies in the shop's drawers or can be ordered, as one TOML file holds it.

Prices are in the bin's one currency, masses in g, lead times in days. A part with a count of 0 can be
ordered; a price, mass or lead time that nobody wrote down is None and is never guessed.
"""

from collections.abc import Iterator
from typing import Annotated, Literal

from pydantic import AfterValidator, Field, StringConstraints

from cogwright.core.setup.bounds import number
from cogwright.core.setup.drivetrain import HubRatio
from cogwright.core.setup.fields import (
    Carrier,
    Flag,
    Name,
    Notes,
    Section,
    Size,
    Sprockets,
    Teeth,
    band,
    one_or_more,
)
from cogwright.core.setup.model import FrontDerailleur, RearDerailleur

Minutes = Annotated[float, number(0, 600)]
SmallKind = Literal[
    "rear shifter",
    "front shifter",
    "hub shifter",
    "gear cable",
    "chain joint",
    "ring bolts",
    "chain guide",
    "freehub driver",
    "crank",
    "wheel",
    "tyre",
    "other",
]


class Part(Section):
    """What every part has."""

    name: Name
    price: Annotated[float | None, number(0, 1_000_000)] = None
    mass_g: Annotated[float | None, number(0, 100_000)] = None
    count: Annotated[int, number(0, 100_000)] = 0
    lead_days: Annotated[int | None, number(0, 1000)] = None


class RingPart(Part):
    """A ring and the bolt circle that it goes on; retaining teeth keep the chain on a single one."""

    teeth: Teeth
    bolt_circle_mm: Annotated[float | None, number(30, 200)] = None
    bolts: Annotated[int, number(3, 6)] = 5
    retaining_teeth: Flag | None = None


class CogPart(Part):
    """A loose cog."""

    teeth: Teeth
    family: Name | None = None


class CarrierPart(Part):
    """Cogs riveted together."""

    cogs: Carrier
    family: Name | None = None


class CassettePart(Part):
    """A whole cassette, with those of its cogs that are riveted together, and the driver it is made for."""

    cogs: Sprockets
    carriers: Annotated[tuple[Carrier, ...], Field(max_length=10)] = ()
    family: Name | None = None
    cog_pitch_mm: Annotated[float | tuple[float, ...], one_or_more(2, 10)] | None = None
    driver: Name | None = None


class ChainPart(Part):
    """A new chain, with its joint, as long as it comes."""

    links: Annotated[int, number(20, 400)]
    outer_width_mm: Annotated[float | None, number(4, 15)] = None
    cogs: Annotated[int | tuple[int, ...], one_or_more(1, 30, whole=True)] | None = None


class RearDerailleurPart(Part):
    """A rear derailleur and its maker's limits."""

    largest_cog: Teeth | None = None
    smallest_cog: Teeth | None = None
    capacity: Annotated[int | None, number(0, 100)] = None
    family: Name | None = None
    shift_ratio: Annotated[float | None, number(0.2, 5)] = None
    cage_mm: Annotated[float | None, number(46, 250)] = None
    least_b_gap_mm: Annotated[float | None, number(0, 60)] = None
    clutch: Flag | None = None

    @property
    def limits(self) -> RearDerailleur:
        """What a setup says of this derailleur."""
        return RearDerailleur(**self.model_dump(include=set(RearDerailleur.model_fields)))


class HubPart(Part):
    """A gear inside a hub: its ratios, what its maker permits, and where that stands written."""

    ratios: Annotated[tuple[HubRatio, ...], Field(min_length=1, max_length=30)]
    least_ratio: Annotated[float | None, number(0.3, 6)] = None
    least_ratio_motor: Annotated[float | None, number(0.3, 6)] = None
    most_torque_nm: Annotated[float | None, number(10, 1000)] = None
    source: Name

    @property
    def said(self) -> str:
        """Where its figures come from, in words."""
        return f"ratios and limits: {self.source}"


class BeltPart(Part):
    """A toothed belt: its pitch and its teeth."""

    pitch_mm: Annotated[float, number(3, 30)]
    teeth: Annotated[int, number(20, 1000)]


class FrontDerailleurPart(Part):
    """A front derailleur and its maker's limits."""

    largest_ring: Teeth | None = None
    difference: Annotated[int | None, number(0, 60)] = None
    smallest_difference: Annotated[int | None, number(0, 60)] = None
    shift_ratio: Annotated[float | None, number(0.2, 10)] = None
    reach_mm: Annotated[float | None, number(2, 60)] = None
    curve_teeth: Annotated[tuple[Teeth, Teeth], AfterValidator(band)] | None = None

    @property
    def limits(self) -> FrontDerailleur:
        """What a setup says of this derailleur."""
        return FrontDerailleur(**self.model_dump(include=set(FrontDerailleur.model_fields)))


class SmallPart(Part):
    """A shifter, cable, joint or other small part.

    A shifter says its clicks, family and pull of cable; a tyre or wheel its size; a wheel or freehub driver
    the driver's standard and the smallest cog that goes on; ring bolts how many there are.
    """

    kind: SmallKind = "other"
    clicks: Annotated[int | None, number(1, 30)] = None
    family: Name | None = None
    pull_mm: Annotated[float | tuple[float, ...], one_or_more(0.2, 30)] | None = None
    size: Size | None = None
    driver: Name | None = None
    smallest_cog: Teeth | None = None
    bolts: Annotated[int | None, number(3, 6)] = None


class Labour(Section):
    """Minutes of each job. Invented round figures, common practice, no source; the shop's own win."""

    rate_per_hour: Annotated[float | None, number(0, 10_000)] = None
    look: Minutes = 5.0
    wheel: Minutes = 5.0
    cassette: Minutes = 8.0
    loose_cogs: Minutes = 15.0
    ring: Minutes = 8.0
    crank: Minutes = 25.0
    new_chain: Minutes = 8.0
    shorten_chain: Minutes = 5.0
    rear_derailleur: Minutes = 15.0
    front_derailleur: Minutes = 20.0
    take_off_front: Minutes = 12.0
    take_off_rear: Minutes = 12.0
    shifter: Minutes = 20.0
    hub: Minutes = 40.0
    tyre: Minutes = 12.0
    adjust: Minutes = 12.0
    brakes: Minutes = 2.0
    stand_test: Minutes = 5.0
    road_test: Minutes = 10.0


class Tax(Section):
    """What the state takes of parts and labour, %, and whether the bin's prices and rate have it in them."""

    rate_pct: Annotated[float, number(0, 100)]
    included: Flag = False
    name: Name = "tax"

    def part_of(self, amount: float) -> float:
        """The tax on an amount, or in it.

        >>> Tax(rate_pct=20).part_of(100.0), Tax(rate_pct=25, included=True).part_of(125.0)
        (20.0, 25.0)
        """
        return amount * self.rate_pct / (100.0 + self.rate_pct * self.included)


class Bin(Section):
    """One parts bin."""

    format: Literal[1] = 1
    name: Name
    notes: Notes = ""
    currency: Annotated[str, StringConstraints(strict=True, pattern=r"^[A-Z]{3}$")] = "EUR"
    rings: tuple[RingPart, ...] = ()
    cogs: tuple[CogPart, ...] = ()
    carriers: tuple[CarrierPart, ...] = ()
    cassettes: tuple[CassettePart, ...] = ()
    chains: tuple[ChainPart, ...] = ()
    rear_derailleurs: tuple[RearDerailleurPart, ...] = ()
    front_derailleurs: tuple[FrontDerailleurPart, ...] = ()
    hubs: tuple[HubPart, ...] = ()
    belts: tuple[BeltPart, ...] = ()
    small_parts: tuple[SmallPart, ...] = ()
    labour: Labour = Labour.model_construct()
    tax: Tax | None = None

    @property
    def parts(self) -> Iterator[Part]:
        """Every part, kind by kind."""
        for kind in (self.rings, self.cogs, self.carriers, self.cassettes, self.chains):
            yield from kind
        for other in (self.rear_derailleurs, self.front_derailleurs, self.hubs, self.belts, self.small_parts):
            yield from other
