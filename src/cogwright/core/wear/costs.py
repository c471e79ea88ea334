"""What a thousand kilometres cost in worn parts: chains changed early, or all run out together.

The stretch is taken to grow evenly with the distance, at the rate measured on the bike.
"""

from dataclasses import dataclass
from typing import Final

from cogwright.core.setup.model import Setup
from cogwright.core.wear.stretch import change_at

#: Chains that a cassette lasts when each is changed in time, cassettes that the rings last, and the stretch
#: at which chain, cassette and rings are run out together, % (common practice, no source).
CHAINS: Final = 3.0
CASSETTES: Final = 2.0
RUN_OUT_PCT: Final = 2.0
_KM: Final = 1000.0


@dataclass(frozen=True, slots=True)
class Prices:
    """What new parts cost, in one currency; None where nobody knows."""

    chain: float | None = None
    cassette: float | None = None
    rings: float | None = None
    currency: str = ""


@dataclass(frozen=True, slots=True)
class WearWay:
    """One way to go about it: chains, cassettes and sets of rings in 1000 km, and what they cost together."""

    name: str
    chains: float
    cassettes: float
    rings: float
    cost: float | None


@dataclass(frozen=True, slots=True)
class Costs:
    """Both ways, the rate of wear in % in 1000 km, and what they rest on, in words."""

    rate_pct: float
    early: WearWay
    run_out: WearWay
    assumptions: tuple[str, ...]
    prices: Prices


def costs_of(setup: Setup, prices: Prices) -> Costs | None:
    """Both ways for a setup; None until the stretch and how far that chain has gone are known.

    Early: a chain every c = limit / rate km, a cassette every m chains, rings every k cassettes. Run out:
    one of each every r = run-out stretch / rate km.
    """
    wear, pct = setup.wear, setup.wear.stretch_pct
    if not pct or not wear.chain_km:
        return None
    rate = pct / wear.chain_km * _KM
    limit, out = change_at(setup), wear.run_out_pct or RUN_OUT_PCT
    chains = rate / limit
    cassettes = chains / (wear.chains_per_cassette or CHAINS)
    rings = cassettes / (wear.cassettes_per_rings or CASSETTES)
    all_out = rate / out
    return Costs(
        rate,
        _way(f"chain changed at {limit:g} %", chains, cassettes, rings, prices),
        _way(f"all run out at {out:g} %", all_out, all_out, all_out, prices),
        _assumptions(setup, rate),
        prices,
    )


def _way(name: str, chains: float, cassettes: float, rings: float, prices: Prices) -> WearWay:
    cost = None
    if prices.chain is not None and prices.cassette is not None and prices.rings is not None:
        cost = chains * prices.chain + cassettes * prices.cassette + rings * prices.rings
    return WearWay(name, chains, cassettes, rings, cost)


def _assumptions(setup: Setup, rate: float) -> tuple[str, ...]:
    wear = setup.wear
    facts = (
        (wear.chains_per_cassette, CHAINS, "a cassette lasts {:g} chains that are changed in time"),
        (wear.cassettes_per_rings, CASSETTES, "rings last {:g} cassettes"),
        (wear.run_out_pct, RUN_OUT_PCT, "all is run out at {:g} %"),
    )
    said = [words.format(own or usual) + ("" if own else " (common practice)") for own, usual, words in facts]
    return (f"wear grows evenly, {rate:.2f} % in 1000 km as measured", *said)


def own_prices(setup: Setup) -> Prices:
    """The prices that the setup itself gives."""
    return Prices(setup.wear.chain_price, setup.wear.cassette_price, setup.wear.rings_price)
