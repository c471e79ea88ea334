"""Tables of the setup file: what was measured of wear, and what was done to the bike when."""

import datetime
from typing import Annotated, Final, Literal

from pydantic import Field

from cogwright.core.common.units import PITCH_MM
from cogwright.core.setup.bounds import number
from cogwright.core.setup.fields import Name, Section, said

Percent = Annotated[float, number(0, 5)]
Kilometres = Annotated[float, number(0, 1_000_000)]
Price = Annotated[float, number(0, 1_000_000)]
#: What a look at the teeth says.
State = Literal["new", "good", "worn", "hooked"]
#: Length of 12 inner and 12 outer links when new, mm: 24 pitches of half an inch.
NEW_MM: Final = 24 * PITCH_MM
LENGTH: Final = "over 12 inner and 12 outer links; 304.8 when new"


def stretch_of_length(length_mm: float) -> float:
    """Stretch in % of a chain from the length of 12 inner and 12 outer links in mm.

    3.0 mm more than 304.8 are 1.0 % (chain wear, as printed with the sections of DIN 8187):

    >>> round(stretch_of_length(304.8 + 3.0), 1)
    1.0
    """
    return (length_mm / NEW_MM - 1.0) * 100.0


class Wear(Section):
    """What was measured or seen of wear.

    The chain's stretch in %, or its length over 12 inner and 12 outer links, mm: 304.8 when new.
    `changed_at_pct` is the stretch at which the chain before was changed on the cassette that is on the bike.
    The rest is for what a kilometre costs: how many chains a cassette lasts and how many cassettes the
    rings, the stretch at which all is run out together, and prices.
    """

    chain_pct: Percent | None = None
    chain_12_links_mm: Annotated[float | None, number(303, 320), said(LENGTH)] = None
    chain_km: Kilometres | None = None
    changed_at_pct: Percent | None = None
    cassette_km: Kilometres | None = None
    cassette_state: State | None = None
    rings_km: Kilometres | None = None
    rings_state: State | None = None
    chains_per_cassette: Annotated[float | None, number(1, 20)] = None
    cassettes_per_rings: Annotated[float | None, number(1, 20)] = None
    run_out_pct: Annotated[float | None, number(0.5, 5)] = None
    chain_price: Price | None = None
    cassette_price: Price | None = None
    rings_price: Price | None = None

    @property
    def stretch_pct(self) -> float | None:
        """Stretch of the chain on the bike in %; the larger of two measurements, None without one."""
        given = [] if self.chain_pct is None else [self.chain_pct]
        if self.chain_12_links_mm is not None:
            given.append(max(stretch_of_length(self.chain_12_links_mm), 0.0))
        return max(given, default=None)

    @property
    def worn_by_pct(self) -> float | None:
        """The most that any chain had stretched on the cassette that is on the bike, %; None if unknown."""
        known = [pct for pct in (self.changed_at_pct, self.stretch_pct) if pct is not None]
        return max(known, default=None)


class LogEntry(Section):
    """One piece of work: when, at how many km of the bike, and what was done."""

    date: Annotated[datetime.date, Field(strict=True)]
    km: Kilometres | None = None
    what: Annotated[Name, Field(max_length=200)]
