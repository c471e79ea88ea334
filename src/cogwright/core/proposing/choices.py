"""Parts that may come onto the bike, and the bike with them on."""

from dataclasses import dataclass
from typing import Self

from cogwright.core.setup.edits import ReplaceCassette, with_sprockets
from cogwright.core.setup.model import FrontDerailleur, RearDerailleur, Setup
from cogwright.core.setup.renewed import FitCassette, with_new_rings
from cogwright.core.setup.spacing import Figures as Spacing


@dataclass(frozen=True, slots=True)
class RingChoice:
    """A ring; `price` None when it is not known, 0 when the ring is on the bike.

    `inner` when it goes on the crank's inner bolt circle, where only the smallest of several rings sits.
    """

    teeth: int
    name: str = ""
    price: float | None = None
    inner: bool = False
    on_bike: bool = False

    def called(self) -> str:
        """What the ring is called."""
        return self.name or f"ring of {self.teeth} teeth"


@dataclass(frozen=True, slots=True)
class CassetteChoice:
    """A whole cassette; `price` None when it is not known, 0 when it is on the bike."""

    cogs: tuple[int, ...]
    carriers: tuple[tuple[int, ...], ...] = ()
    name: str = ""
    price: float | None = None
    family: str | None = None
    on_bike: bool = False
    cog_pitch_mm: Spacing | None = None

    @classmethod
    def of(cls, setup: Setup, name: str = "", on_bike: bool = False) -> Self:
        """The cassette of a setup; it costs nothing when it is on the bike."""
        rear = setup.rear
        price = 0.0 if on_bike else None
        return cls(rear.cogs, rear.carriers, name, price, rear.family, on_bike, rear.cog_pitch_mm)

    def called(self) -> str:
        """What the cassette is called.

        >>> CassetteChoice((11, 13, 15)).called()
        'cassette 11-15, 3 cogs'
        """
        return self.name or f"cassette {self.cogs[0]}-{self.cogs[-1]}, {len(self.cogs)} cogs"


@dataclass(frozen=True, slots=True)
class CogChoice:
    """A loose cog in stock; `family` None goes with any."""

    teeth: int
    name: str
    price: float
    family: str | None = None

    def goes_with(self, cassette: CassetteChoice) -> bool:
        """Whether nothing is known against the cog on that cassette."""
        return None in (self.family, cassette.family) or self.family == cassette.family


@dataclass(frozen=True, slots=True)
class ChainChoice:
    """A chain in stock: it can be cut to any even number of pitches up to `links`."""

    links: int
    name: str
    price: float
    outer_width_mm: float | None = None
    cogs: int | tuple[int, ...] | None = None


@dataclass(frozen=True, slots=True)
class DerailleurChoice:
    """A rear derailleur in stock, with the limits that its maker states."""

    limits: RearDerailleur
    name: str
    price: float


@dataclass(frozen=True, slots=True)
class Choices:
    """What a plan chooses from: what can be bought or taken from the bin."""

    rings: tuple[RingChoice, ...] = ()
    cassettes: tuple[CassetteChoice, ...] = ()
    cogs: tuple[CogChoice, ...] = ()
    chains: tuple[ChainChoice, ...] = ()
    derailleurs: tuple[DerailleurChoice, ...] = ()
    currency: str = ""


def with_rings_and_cassette(setup: Setup, rings: tuple[int, ...], cassette: CassetteChoice) -> Setup:
    """The setup with other rings and cogs; with a single ring the front derailleur falls away.

    Where no ring stays, what was known of the old ones' wear says nothing of the new ones.
    """
    changed = with_sprockets(setup, "ring", rings)
    if not set(rings) & set(setup.crank.rings):
        changed = with_new_rings(changed)
    if (cassette.cogs, cassette.carriers) != (setup.rear.cogs, setup.rear.carriers):
        changed = with_cassette(changed, cassette)
    return without_front_derailleur(changed) if len(rings) == 1 else changed


def with_cassette(setup: Setup, cassette: CassetteChoice) -> Setup:
    """The setup with a cassette on; how far its cogs stand apart is the old one's if they are as many."""
    put_on = ReplaceCassette if cassette.on_bike else FitCassette
    changed = put_on(cassette.cogs, cassette.carriers).apply(setup)
    update: dict[str, object] = {"family": cassette.family}
    if cassette.cog_pitch_mm is not None or len(cassette.cogs) != len(setup.rear.cogs):
        update["cog_pitch_mm"] = cassette.cog_pitch_mm
    return changed.model_copy(update={"rear": changed.rear.model_copy(update=update)})


def without_front_derailleur(setup: Setup) -> Setup:
    """The setup without the limits of a front derailleur."""
    return setup.model_copy(update={"front_derailleur": FrontDerailleur()})
