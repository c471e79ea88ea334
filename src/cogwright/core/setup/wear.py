"""Tables of the setup file: what was measured of wear, and what was done to the bike when."""

import datetime
from typing import Annotated, Literal

from pydantic import Field

from cogwright.core.setup.fields import Name, Section, number

Percent = Annotated[float, number(0, 5)]
Kilometres = Annotated[float, number(0, 1_000_000)]
Price = Annotated[float, number(0, 1_000_000)]
#: What a look at the teeth says.
State = Literal["new", "good", "worn", "hooked"]


class Wear(Section):
    """What was measured or seen of wear.

    The chain's stretch in %, or its length over 12 inner and 12 outer links, mm: 304.8 when new.
    `changed_at_pct` is the stretch at which the chain before was changed on the cassette that is on the bike.
    The rest is for what a kilometre costs: how many chains a cassette lasts and how many cassettes the
    rings, the stretch at which all is run out together, and prices.
    """

    chain_pct: Percent | None = None
    chain_12_links_mm: Annotated[float, number(303, 320)] | None = None
    chain_km: Kilometres | None = None
    changed_at_pct: Percent | None = None
    cassette_km: Kilometres | None = None
    cassette_state: State | None = None
    rings_km: Kilometres | None = None
    rings_state: State | None = None
    chains_per_cassette: Annotated[float, number(1, 20)] | None = None
    cassettes_per_rings: Annotated[float, number(1, 20)] | None = None
    run_out_pct: Annotated[float, number(0.5, 5)] | None = None
    chain_price: Price | None = None
    cassette_price: Price | None = None
    rings_price: Price | None = None


class LogEntry(Section):
    """One piece of work: when, at how many km of the bike, and what was done."""

    date: Annotated[datetime.date, Field(strict=True)]
    km: Kilometres | None = None
    what: Annotated[Name, Field(max_length=200)]
