"""What a bin offers for one bike."""

from cogwright.core.parts.bin import Bin, CassettePart, Part, RingPart
from cogwright.core.parts.search import alike
from cogwright.core.proposing.choices import CassetteChoice, RingChoice
from cogwright.core.proposing.ladder import CassettePiece
from cogwright.core.proposing.pool import Pool, pieces_on
from cogwright.core.setup.model import RearDerailleur, Setup


def rings_for(setup: Setup, stock: Bin) -> tuple[RingChoice, ...]:
    """The bin's rings that go on this bike as its only ring, with a price or without."""
    found = (ring_choice(setup, ring) for ring in stock.rings if goes_on(setup, ring))
    return tuple(ring for ring in found if not ring.inner)


def cassette_choice(part: CassettePart) -> CassetteChoice:
    """A cassette of a bin."""
    return CassetteChoice(
        part.cogs,
        part.carriers,
        called(part),
        part.family,
        cog_pitch_mm=part.cog_pitch_mm,
        driver=part.driver,
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


def ring_choice(setup: Setup, ring: RingPart) -> RingChoice:
    """A ring of a bin, for a setup's crank."""
    inner = _on_inner(setup, ring) and not _on_outer(setup, ring)
    return RingChoice(ring.teeth, called(ring), inner, retaining=ring.retaining_teeth)


def pool_for(setup: Setup, stock: Bin) -> Pool:
    """The parts of the cassette on the bike, and the bin's loose cogs and carriers of its spacing family."""
    have = pieces_on(setup)
    loose = (((cog.teeth,), cog.family) for cog in stock.cogs)
    parts = (*loose, *((part.cogs, part.family) for part in stock.carriers))
    offered = dict.fromkeys(cogs for cogs, family in parts if alike(family, setup.rear.family))
    new = (CassettePiece(cogs) for cogs in offered if CassettePiece(cogs, new=False) not in have)
    return Pool((*have, *new))
