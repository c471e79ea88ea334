"""What new parts cost that a bike wears out: out of the bin, where the setup's file says nothing."""

from cogwright.core.chain.bolt_circle import circle_of
from cogwright.core.fit.chain import width_band
from cogwright.core.parts import search
from cogwright.core.parts.bin import Bin
from cogwright.core.setup.model import Setup
from cogwright.core.wear.costs import Prices, own_prices


def prices_for(setup: Setup, stock: Bin | None) -> Prices:
    """Price of a chain, a cassette and all rings like those on the bike; the setup's own prices win."""
    if stock is None:
        return own_prices(setup)
    wear = setup.wear
    chain = search.chain(stock, setup.chain.links or 1, width_band(setup), len(setup.rear.cogs))
    cassette = search.cassette(stock, setup.rear)
    return Prices(
        _first(wear.chain_price, chain.price if chain else None),
        _first(wear.cassette_price, cassette.price if cassette else None),
        _first(wear.rings_price, _rings(setup, stock)),
        stock.currency,
    )


def _first(own: float | None, found: float | None) -> float | None:
    return found if own is None else own


def _rings(setup: Setup, stock: Bin) -> float | None:
    """Price of all rings; None unless every one of them has one."""
    found = [search.ring(stock, n, setup.crank, circle_of(setup.crank, n)) for n in setup.crank.rings]
    prices = [part.price for part in found if part is not None and part.price is not None]
    return sum(prices) if len(prices) == len(found) else None
