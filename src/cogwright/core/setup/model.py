"""The setup: one bike's drivetrain, immutable and validated. One TOML file holds one.

Lengths in mm and teeth as whole numbers, as they stand in the file. A missing optional fact is None:
the check that needs it says so, and nothing is guessed.
"""

from collections import Counter
from typing import Annotated, Final, Literal, LiteralString, Self

from pydantic import AfterValidator, BaseModel, ConfigDict, Field, model_validator
from pydantic_core import PydanticCustomError

from cogwright.core.common.safe_text import clean
from cogwright.core.setup.sizes import parse_size

MIN_TEETH: Final = 6
MAX_TEETH: Final = 130
MAX_SPROCKETS: Final = 30
#: The kind of an error that says that none of several facts was given.
NOTHING_GIVEN: Final = "nothing_given"


def problem(what: str, mend: str, kind: LiteralString = "cogwright") -> PydanticCustomError:
    """A validation error that says what is wrong and how to mend it."""
    return PydanticCustomError(kind, "{what}", {"what": what, "mend": mend})


def _once(teeth: tuple[int, ...]) -> tuple[int, ...]:
    twice = sorted(n for n, count in Counter(teeth).items() if count > 1)
    if twice:
        named = ", ".join(map(str, twice))
        raise problem(f"{named} teeth stand there more than once", "name every sprocket once")
    return tuple(sorted(teeth))


def _carrier(teeth: tuple[int, ...]) -> tuple[int, ...]:
    if len(teeth) < 2:
        raise problem("a carrier of fewer than two cogs", "leave a loose cog out of carriers")
    return _once(teeth)


def _size(text: str) -> str:
    if parse_size(text) is None:
        raise problem(
            f"{clean(text)[:20]!r} is not a tyre marking",
            "write section width and bead seat diameter in mm, such as 40-622 (10-130 and 100-700)",
        )
    return text.replace(" ", "")


def _name(text: str) -> str:
    name = clean(text).strip()
    if not name:
        raise problem("nothing that can be seen is left of the text", "write some letters")
    if len(name) > 200:
        raise problem("the text is too long", "use 200 characters at most")
    return name


def _notes(text: str) -> str:
    return clean(text, keep_newlines=True)


def _band(pair: tuple[float, float]) -> tuple[float, float]:
    if pair[0] > pair[1]:
        raise problem("the greatest stands before the least", f"write [{pair[1]:g}, {pair[0]:g}]")
    return pair


def _file_name(text: str) -> str:
    if clean(text) != text or "/" in text or "\\" in text or not text.endswith(".toml") or text[0] == ".":
        raise problem(
            f"{clean(text)[:40]!r} is not the name of a setup file",
            'name a file of the same folder, such as "yard-1-two-rings.toml"',
        )
    return text


Teeth = Annotated[int, Field(strict=True, ge=MIN_TEETH, le=MAX_TEETH)]
Sprockets = Annotated[tuple[Teeth, ...], Field(min_length=1, max_length=MAX_SPROCKETS), AfterValidator(_once)]
Carrier = Annotated[tuple[Teeth, ...], AfterValidator(_carrier)]
Name = Annotated[str, Field(strict=True, min_length=1, max_length=200), AfterValidator(_name)]
Notes = Annotated[str, Field(strict=True, max_length=20_000), AfterValidator(_notes)]
FileName = Annotated[str, Field(strict=True, min_length=6, max_length=200), AfterValidator(_file_name)]
Size = Annotated[str, Field(strict=True, max_length=40), AfterValidator(_size)]


def _number(low: float, high: float) -> object:
    return Field(strict=True, ge=low, le=high, allow_inf_nan=False)


HubRatio = Annotated[float, _number(0.1, 10.0)]


class Section(BaseModel):
    """A table of a file: immutable, and an unknown key in it is an error."""

    model_config = ConfigDict(frozen=True, extra="forbid")


class Wheel(Section):
    """The driven wheel. A measured rollout wins over the marking."""

    size: Size | None = None
    rollout_mm: Annotated[float, _number(300, 4000)] | None = None

    @model_validator(mode="after")
    def _some_size(self) -> Self:
        if self.size is None and self.rollout_mm is None:
            mend = 'give size = "40-622" or rollout_mm = 2189'
            raise problem("the wheel has no size", mend, NOTHING_GIVEN)
        return self


class Crank(Section):
    """Rings, smallest first, and their bolt circle; the inner one, if any, is the smallest ring's own."""

    rings: Sprockets
    length_mm: Annotated[float, _number(50, 300)] | None = None
    bolt_circle_mm: Annotated[float, _number(30, 200)] | None = None
    inner_bolt_circle_mm: Annotated[float, _number(30, 200)] | None = None
    bolts: Annotated[int, Field(strict=True, ge=3, le=6)] = 5
    chainline_mm: Annotated[float, _number(20, 80)] | None = None
    ring_spacing_mm: Annotated[float, _number(3, 20)] | None = None


class Rear(Section):
    """Cogs, smallest first, the hub gear if any, and what the shifter and freehub driver take."""

    cogs: Sprockets
    clicks: Annotated[int, Field(strict=True, ge=1, le=30)] | None = None
    smallest_cog: Teeth | None = None
    carriers: Annotated[tuple[Carrier, ...], Field(max_length=10)] = ()
    hub_ratios: Annotated[tuple[HubRatio, ...], Field(min_length=1, max_length=30)] = (1.0,)
    chainline_mm: Annotated[float, _number(20, 80)] | None = None
    cog_pitch_mm: Annotated[float, _number(2, 10)] | None = None
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

    chainstay_mm: Annotated[float, _number(200, 1500)] | None = None
    suspension_growth_mm: Annotated[float, _number(0, 100)] = 0.0
    axle_travel_mm: Annotated[float, _number(0, 100)] | None = None
    largest_ring: Teeth | None = None


class Chain(Section):
    """The chain on the bike: its number of 12.7 mm pitches, and its outer width."""

    links: Annotated[int, Field(strict=True, ge=20, le=400)] | None = None
    outer_width_mm: Annotated[float, _number(4, 15)] | None = None


class Rider(Section):
    """Rider, bike and road. The defaults are invented round figures for an all-round rider, no source;
    only the part of the power that a clean derailleur chain passes on is measured (Martin et al. 1998).
    """

    mass_kg: Annotated[float, _number(20, 250)] = 72.0
    bike_kg: Annotated[float, _number(3, 100)] = 14.0
    load_kg: Annotated[float, _number(0, 200)] = 0.0
    power_w: Annotated[float, _number(20, 2000)] = 190.0
    cadence_rpm: tuple[
        Annotated[float, _number(20, 200)],
        Annotated[float, _number(20, 200)],
        Annotated[float, _number(20, 250)],
    ] = (60.0, 85.0, 105.0)
    cda_m2: Annotated[float, _number(0.05, 2.0)] = 0.40
    crr: Annotated[float, _number(0.0005, 0.1)] = 0.006
    height_m: Annotated[float, _number(-430, 6000)] = 0.0
    chain_efficiency: Annotated[float, _number(0.5, 1.0)] = 0.976

    @model_validator(mode="after")
    def _rising(self) -> Self:
        grinding, happy, spinning = self.cadence_rpm
        if not grinding < happy < spinning:
            raise problem(
                "the cadences do not rise",
                "give grinding, happy and spinning cadence in rpm, such as [60, 85, 105]",
            )
        return self


class Limits(Section):
    """Where a mark is set. Defaults are common practice, no source, unless the setup says otherwise."""

    jump_pct: Annotated[float, _number(1, 100)] = 15.0
    overlap_pct: Annotated[float, _number(0, 20)] = 2.5
    rollout_m: Annotated[float, _number(1, 30)] | None = None
    chain_angle_deg: Annotated[float, _number(0.5, 10)] | None = None
    chain_width_mm: (
        Annotated[
            tuple[Annotated[float, _number(4, 15)], Annotated[float, _number(4, 15)]], AfterValidator(_band)
        ]
        | None
    ) = None
    smallest_ring: Teeth | None = None


class Setup(Section):
    """One bike's drivetrain. `baseline` names the file, in the same folder, that the app compares it with."""

    format: Literal[1] = 1
    name: Name
    notes: Notes = ""
    baseline: FileName | None = None
    wheel: Wheel
    crank: Crank
    rear: Rear
    rear_derailleur: RearDerailleur = RearDerailleur()
    front_derailleur: FrontDerailleur = FrontDerailleur()
    shifters: Shifters = Shifters()
    frame: Frame = Frame()
    chain: Chain = Chain()
    rider: Rider = Rider()
    limits: Limits = Limits()
