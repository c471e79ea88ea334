"""What a bin offers for one bike."""

from collections.abc import Iterable

from cogwright.core.parts.bin import Bin, CassettePart, Part, RingPart
from cogwright.core.proposing.choices import (
    CassetteChoice,
    ChainChoice,
    Choices,
    CogChoice,
    DerailleurChoice,
    RingChoice,
)
from cogwright.core.proposing.ladder import CassettePiece
from cogwright.core.proposing.pool import Offer, Pool, pieces_on
from cogwright.core.setup.model import RearDerailleur, Setup


def choices_for(setup: Setup, stock: Bin) -> Choices:
    """What a plan may take out of a bin: all parts with a price that go on this bike's bolt circle and hub.

    A part that has to be ordered is among them, and its name says so. What has no price is left out, for a
    cost that leaves something out would be a guess.
    """
    return Choices(
        rings=tuple(
            _ring(setup, ring) for ring in stock.rings if ring.price is not None and goes_on(setup, ring)
        ),
        cassettes=tuple(cassette_choice(c) for c in whole_for(setup, stock) if c.price is not None),
        cogs=tuple(
            CogChoice(c.teeth, called(c), c.price, c.family) for c in stock.cogs if c.price is not None
        ),
        chains=tuple(
            ChainChoice(c.links, called(c), c.price, c.outer_width_mm, c.cogs)
            for c in stock.chains
            if c.price is not None
        ),
        derailleurs=tuple(
            DerailleurChoice(d.limits, called(d), d.price)
            for d in stock.rear_derailleurs
            if d.price is not None
        ),
        currency=stock.currency,
    )


def unpriced(stock: Bin) -> tuple[str, ...]:
    """Names of the parts that a plan leaves out because they have no price."""
    kinds: tuple[Iterable[Part], ...] = (
        stock.rings,
        stock.cassettes,
        stock.cogs,
        stock.chains,
        stock.rear_derailleurs,
    )
    return tuple(part.name for kind in kinds for part in kind if part.price is None)


def rings_for(setup: Setup, stock: Bin) -> tuple[RingChoice, ...]:
    """The bin's rings that go on this bike as its only ring, with a price or without."""
    found = (_ring(setup, ring) for ring in stock.rings if goes_on(setup, ring))
    return tuple(ring for ring in found if not ring.inner)


def cassette_choice(part: CassettePart) -> CassetteChoice:
    """A cassette of a bin."""
    return CassetteChoice(
        part.cogs, part.carriers, called(part), part.price, part.family, cog_pitch_mm=part.cog_pitch_mm
    )


def whole_for(setup: Setup, stock: Bin) -> tuple[CassettePart, ...]:
    """The bin's cassettes that can come onto a bike.

    A bike with one cog and nothing known of a rear derailleur shifts in its hub or not at all: what it would
    take to shift a cassette (derailleur, hanger, shifter, driver) is no part of a proposal, so none comes.
    """
    alone = len(setup.rear.cogs) == 1 and setup.rear_derailleur == RearDerailleur()
    return tuple(part for part in stock.cassettes if len(part.cogs) == 1 or not alone)


def ring_source(setup: Setup, stock: Bin | None) -> str:
    """What single rings are chosen from, in words; every tooth count where the bin has none for the crank."""
    if stock is None:
        return "all tooth counts"
    return (
        stock.name if rings_for(setup, stock) else f"all tooth counts ({stock.name}: no ring for this crank)"
    )


def cassettes_for(setup: Setup, stock: Bin | None) -> list[CassetteChoice]:
    """The cassette on the bike, and the bin's; not one again that is on the bike already."""
    own = CassetteChoice.of(setup, "the cassette on the bike", on_bike=True)
    others = map(cassette_choice, whole_for(setup, stock) if stock else ())
    return [own, *(one for one in others if (one.cogs, one.carriers) != (own.cogs, own.carriers))]


def called(part: Part) -> str:
    """A part's name, and that it must be ordered where none is there."""
    if part.count:
        return part.name
    wait = "" if part.lead_days is None else f", {part.lead_days} days"
    return f"{part.name} (to order{wait})"


def goes_on(setup: Setup, ring: RingPart) -> bool:
    """Whether nothing is known against a ring on the setup's crank: bolt circle and number of bolts."""
    return _on_outer(setup, ring) or _on_inner(setup, ring)


def _on_outer(setup: Setup, ring: RingPart) -> bool:
    circle = setup.crank.bolt_circle_mm
    if circle is None or ring.bolt_circle_mm is None:
        return True
    return circle == ring.bolt_circle_mm and setup.crank.bolts == ring.bolts


def _on_inner(setup: Setup, ring: RingPart) -> bool:
    circle = setup.crank.inner_bolt_circle_mm
    return circle is not None and circle == ring.bolt_circle_mm and setup.crank.bolts == ring.bolts


def _ring(setup: Setup, ring: RingPart) -> RingChoice:
    inner = _on_inner(setup, ring) and not _on_outer(setup, ring)
    return RingChoice(ring.teeth, called(ring), ring.price, inner)


def pool_for(setup: Setup, stock: Bin) -> Pool:
    """The parts of the cassette on the bike, and the bin's loose cogs and carriers of its spacing family."""
    have = pieces_on(setup)
    family = setup.rear.family
    offers: dict[tuple[int, ...], Offer] = {}
    loose = [((cog.teeth,), cog.family, cog) for cog in stock.cogs]
    for teeth, made_for, part in (*loose, *((c.cogs, c.family, c) for c in stock.carriers)):
        offer = Offer(part.price, called(part))
        if family in (None, made_for) or made_for is None:
            offers[teeth] = min(offers.get(teeth, offer), offer, key=_price)
    new = [CassettePiece(teeth) for teeth in offers if CassettePiece(teeth, new=False) not in have]
    return Pool((*have, *new), offers, stock.currency)


def _price(offer: Offer) -> float:
    return float("inf") if offer.price is None else offer.price
