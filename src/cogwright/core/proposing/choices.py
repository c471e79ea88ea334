"""Rings and cassettes that may come onto the bike, and the bike with them on."""

from dataclasses import dataclass
from typing import Self

from cogwright.core.setup.edits import ReplaceCassette
from cogwright.core.setup.model import FrontDerailleur, Setup
from cogwright.core.setup.renewed import FitCassette
from cogwright.core.setup.spacing import Spacing


@dataclass(frozen=True, slots=True)
class RingChoice:
    """A ring; `inner` when it goes on the crank's inner bolt circle, where only the smallest of several sits.

    `retaining` says whether its teeth keep the chain on when it is the only one; None when nobody knows.
    """

    teeth: int
    name: str = ""
    inner: bool = False
    on_bike: bool = False
    retaining: bool | None = None

    def called(self) -> str:
        """What the ring is called."""
        return self.name or f"ring of {self.teeth} teeth"


@dataclass(frozen=True, slots=True)
class CassetteChoice:
    """A whole cassette, with what a setup says of its spacing and of the driver that it is for."""

    cogs: tuple[int, ...]
    carriers: tuple[tuple[int, ...], ...] = ()
    name: str = ""
    family: str | None = None
    on_bike: bool = False
    cog_pitch_mm: Spacing | None = None
    driver: str | None = None

    @classmethod
    def of(cls, setup: Setup, name: str = "", on_bike: bool = False) -> Self:
        """The cassette of a setup."""
        rear = setup.rear
        return cls(
            rear.cogs, rear.carriers, name, rear.family, on_bike, rear.cog_pitch_mm, rear.cassette_driver
        )

    def called(self) -> str:
        """What the cassette is called.

        >>> CassetteChoice((11, 13, 15)).called()
        'cassette 11-15, 3 cogs'
        """
        return self.name or f"cassette {self.cogs[0]}-{self.cogs[-1]}, {len(self.cogs)} cogs"

    def is_on(self, setup: Setup) -> bool:
        """Whether it is the cassette of a setup by all that both say."""
        rear, same = setup.rear, self.cog_pitch_mm in {None, setup.rear.cog_pitch_mm}
        facts = (self.cogs, self.carriers, self.family, self.driver)
        return same and facts == (rear.cogs, rear.carriers, rear.family, rear.cassette_driver)


def with_cassette(setup: Setup, cassette: CassetteChoice) -> Setup:
    """The setup with a cassette on; how far its cogs stand apart is the old one's if they are as many."""
    put_on = ReplaceCassette if cassette.on_bike else FitCassette
    changed = put_on(cassette.cogs, cassette.carriers).apply(setup)
    update: dict[str, object] = {"family": cassette.family, "cassette_driver": cassette.driver}
    if cassette.cog_pitch_mm is not None or len(cassette.cogs) != len(setup.rear.cogs):
        update["cog_pitch_mm"] = cassette.cog_pitch_mm
    return changed.model_copy(update={"rear": changed.rear.model_copy(update=update)})


def without_front_derailleur(setup: Setup) -> Setup:
    """The setup without the limits of a front derailleur."""
    return setup.model_copy(update={"front_derailleur": FrontDerailleur()})
