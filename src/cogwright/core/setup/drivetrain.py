"""Tables of the setup file: wheel, crank, cogs, derailleurs, shifters, frame and chain.

Lengths in mm and teeth as whole numbers, as they stand in the file. A missing optional fact is None.
"""

from collections import Counter
from typing import Annotated, Self

from pydantic import AfterValidator, Field, model_validator

from cogwright.core.setup.bounds import number
from cogwright.core.setup.fields import (
    NOTHING_GIVEN,
    Carrier,
    Flag,
    Name,
    Section,
    Size,
    Sprockets,
    Teeth,
    band,
    one_or_more,
    problem,
    said,
)

#: What is to be known where these are typed.
RATIO = "mm of cage per mm of cable; some sheets print the reciprocal"
PULL = "of cable a click, or a list from the smallest sprocket"
GAPS = "centre to centre, or a list from the smallest"
HubRatio = Annotated[float, number(0.1, 10.0)]
#: Cable of a click, mm: one for all, or a list from the smallest sprocket.
Pull = Annotated[float | tuple[float, ...], one_or_more(0.2, 30)]
ForCogs = Annotated[int | tuple[int, ...], one_or_more(1, 30, whole=True)]
Shift = Annotated[float, number(-30, 30)]
Millimetres = Annotated[float, number(0, 300)]


class Wheel(Section):
    """The driven wheel. A measured rollout wins over the marking."""

    size: Size | None = None
    rollout_mm: Annotated[float | None, number(300, 4000)] = None

    @model_validator(mode="after")
    def _some_size(self) -> Self:
        if self.size is None and self.rollout_mm is None:
            mend = 'give size = "40-622" or rollout_mm = 2189'
            raise problem("the wheel has no size", mend, NOTHING_GIVEN)
        return self


class Crank(Section):
    """Rings, smallest first, and their bolt circle; the inner one, if any, is the smallest ring's own.

    Three things move all rings outwards (inwards when negative) from where the chainline was measured: a
    spacer behind the bottom bracket's cup, another bottom bracket, and a ring made with an offset.
    """

    rings: Sprockets
    length_mm: Annotated[float | None, number(50, 300)] = None
    bolt_circle_mm: Annotated[float | None, number(30, 200)] = None
    inner_bolt_circle_mm: Annotated[float | None, number(30, 200)] = None
    bolts: Annotated[int, number(3, 6)] = 5
    chainline_mm: Annotated[float | None, number(20, 80)] = None
    ring_spacing_mm: Annotated[float | tuple[float, ...], one_or_more(3, 20), said(GAPS)] | None = None
    spacer_mm: Shift = 0.0
    bottom_bracket_mm: Shift = 0.0
    ring_offset_mm: Shift = 0.0
    retaining_teeth: Flag | None = None


class Rear(Section):
    """Cogs, smallest first, the hub gear if any, and what the shifter, freehub driver and hub take.

    `least_ratio` is the least ring over cog that the hub's maker permits, `least_ratio_motor` the same with a
    motor, `most_torque_nm` the most torque at the cog. A spacer moves all cogs outwards from where the
    chainline was measured. `fixed` says whether a single cog drives without a freewheel. `driver` is the
    standard of the freehub driver on the wheel, `cassette_driver` the one that the cassette is for, both by
    names of the shop's own.
    """

    cogs: Sprockets
    clicks: Annotated[int | None, number(1, 30)] = None
    smallest_cog: Teeth | None = None
    carriers: Annotated[tuple[Carrier, ...], Field(max_length=10)] = ()
    hub_ratios: Annotated[tuple[HubRatio, ...], Field(min_length=1, max_length=30)] = (1.0,)
    chainline_mm: Annotated[float | None, number(20, 80)] = None
    cog_pitch_mm: Annotated[float | tuple[float, ...], one_or_more(2, 10), said(GAPS)] | None = None
    family: Name | None = None
    spacer_mm: Shift = 0.0
    least_ratio: Annotated[float | None, number(0.3, 6)] = None
    least_ratio_motor: Annotated[float | None, number(0.3, 6)] = None
    most_torque_nm: Annotated[float | None, number(10, 1000)] = None
    fixed: Flag | None = None
    driver: Name | None = None
    cassette_driver: Name | None = None

    @model_validator(mode="after")
    def _consistent(self) -> Self:
        if len(set(self.hub_ratios)) != len(self.hub_ratios):
            raise problem("a hub ratio stands there more than once", "name every hub ratio once")
        riveted = Counter(n for carrier in self.carriers for n in carrier)
        if any(count > 1 for count in riveted.values()):
            raise problem("a cog is riveted to two carriers", "name every cog in one carrier only")
        return self


class RearDerailleur(Section):
    """Limits that the maker of the rear derailleur states, in teeth, and what can be measured on it, in mm.

    `shift_ratio` is travel of the cage over pull of cable. `b_gap_mm` was measured between the tips of the
    upper pulley and those of a cog of `b_gap_cog` teeth; `least_b_gap_mm` is the maker's. `cage_mm` lies
    between the middles of both pulleys, `cage_drop_mm` between the axle and the cage's lowest point.
    """

    largest_cog: Teeth | None = None
    smallest_cog: Teeth | None = None
    capacity: Annotated[int | None, number(0, 100)] = None
    family: Name | None = None
    shift_ratio: Annotated[float | None, number(0.2, 5), said(RATIO)] = None
    cage_mm: Annotated[float | None, number(46, 250)] = None
    cage_drop_mm: Millimetres | None = None
    b_gap_mm: Annotated[float | None, number(0, 60)] = None
    b_gap_cog: Teeth | None = None
    least_b_gap_mm: Annotated[float | None, number(0, 60)] = None
    clutch: Flag | None = None


class FrontDerailleur(Section):
    """Limits that the maker of the front derailleur states, in teeth, and what can be measured on it.

    `shift_ratio` is travel of the cage over pull of cable, `reach_mm` how far the cage goes sideways;
    `curve_teeth` are the smallest and the largest big ring that the curve of the cage is made for.
    """

    largest_ring: Teeth | None = None
    difference: Annotated[int | None, number(0, 60)] = None
    smallest_difference: Annotated[int | None, number(0, 60)] = None
    shift_ratio: Annotated[float | None, number(0.2, 10), said(RATIO)] = None
    reach_mm: Annotated[float | None, number(2, 60)] = None
    curve_teeth: Annotated[tuple[Teeth, Teeth], AfterValidator(band)] | None = None


class Shifters(Section):
    """The spacing family that the rear shifter is indexed for, and the cable that each click pulls, mm.

    A list of pulls runs from the smallest sprocket to the largest.
    """

    family: Name | None = None
    pull_mm: Annotated[Pull, said(PULL)] | None = None
    front_pull_mm: Annotated[Pull, said(PULL)] | None = None


class Frame(Section):
    """Chainstay: bottom bracket centre to rear axle centre, mm; suspension growth on top of it.

    The stay is good to `chainstay_tolerance_mm` either way (a tape on the bike: common practice, no source).
    Axle travel is how far back the axle can go from where the stay was measured. `largest_ring` is what
    clears the frame, teeth. `hanger_extension_mm` is how much lower an extension hangs the derailleur,
    `hanger_extension_cog` the largest cog that its maker allows with it, `tensioner_links` what a chain
    tensioner takes up.
    """

    chainstay_mm: Annotated[float | None, number(200, 1500)] = None
    chainstay_tolerance_mm: Annotated[float, number(0, 10)] = 1.0
    suspension_growth_mm: Annotated[float, number(0, 100)] = 0.0
    axle_travel_mm: Annotated[float | None, number(0, 100)] = None
    largest_ring: Teeth | None = None
    hanger_extension_mm: Annotated[float | None, number(1, 80)] = None
    hanger_extension_cog: Teeth | None = None
    tensioner_links: Annotated[float | None, number(0, 20)] = None
    chain_guide: Flag | None = None


class Chain(Section):
    """The chain on the bike: its number of 12.7 mm pitches, its outer width, and the joint that closes it.

    `cogs` is the number of cogs that the chain is made for, `joint_cogs` the same of its joint, `joint_uses`
    how often that has been closed, `joint_most_uses` how often its maker lets it be.
    """

    links: Annotated[int | None, number(20, 400)] = None
    outer_width_mm: Annotated[float | None, number(4, 15)] = None
    cogs: ForCogs | None = None
    half_link: Flag | None = None
    most_load_n: Annotated[float | None, number(500, 50_000)] = None
    joint_cogs: ForCogs | None = None
    joint_width_mm: Annotated[float | None, number(4, 15)] = None
    joint_uses: Annotated[int | None, number(0, 100)] = None
    joint_most_uses: Annotated[int | None, number(1, 100)] = None
