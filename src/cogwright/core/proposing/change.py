"""Parts that may come onto the bike, and the bike with them on."""

from dataclasses import dataclass
from typing import Self

from cogwright.core.edits import ReplaceCassette, with_sprockets
from cogwright.core.model import FrontDerailleur, Setup


@dataclass(frozen=True, slots=True)
class RingChoice:
    """A ring; `price` None when it is not known, 0 when the ring is on the bike."""

    teeth: int
    name: str = ""
    price: float | None = None

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
    on_bike: bool = False

    @classmethod
    def of(cls, setup: Setup, name: str = "", on_bike: bool = False) -> Self:
        """The cassette of a setup; it costs nothing when it is on the bike."""
        return cls(setup.rear.cogs, setup.rear.carriers, name, 0.0 if on_bike else None, on_bike)

    def called(self) -> str:
        """What the cassette is called.

        >>> CassetteChoice((11, 13, 15)).called()
        'cassette 11-15, 3 cogs'
        """
        return self.name or f"cassette {self.cogs[0]}-{self.cogs[-1]}, {len(self.cogs)} cogs"


def with_rings_and_cassette(setup: Setup, rings: tuple[int, ...], cassette: CassetteChoice) -> Setup:
    """The setup with other rings and cogs; with a single ring the front derailleur falls away."""
    changed = ReplaceCassette(cassette.cogs, cassette.carriers).apply(with_sprockets(setup, "ring", rings))
    return without_front_derailleur(changed) if len(rings) == 1 else changed


def without_front_derailleur(setup: Setup) -> Setup:
    """The setup without the limits of a front derailleur."""
    return setup.model_copy(update={"front_derailleur": FrontDerailleur()})
