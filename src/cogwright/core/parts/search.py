"""Finding a part in a bin: what is called for, in stock before to be ordered, the cheapest first."""

import math
from collections.abc import Iterable, Iterator
from typing import Final, TypeVar

from cogwright.core.parts.bin import (
    BeltPart,
    Bin,
    CarrierPart,
    CassettePart,
    ChainPart,
    CogPart,
    FrontDerailleurPart,
    HubPart,
    Part,
    RearDerailleurPart,
    RingPart,
    SmallKind,
    SmallPart,
)
from cogwright.core.setup.model import Crank, FrontDerailleur, Rear, RearDerailleur, Setup
from cogwright.core.setup.sizes import parse_size

P = TypeVar("P", bound=Part)
EMPTY: Final = Bin(name="no bin")
#: What a derailleur is known by: the limits that its maker states.
_LIMITS: Final = frozenset(
    {"largest_cog", "smallest_cog", "capacity", "family", "largest_ring", "difference"}
)
_WHOLE: Final = ("rear_derailleurs", "front_derailleurs", "small_parts")
#: A cassette may be made up with this many loose cogs.
MOST_LOOSE: Final = 2


def best(parts: Iterable[P]) -> P | None:
    """The part to take: one that is in stock, then the cheapest, then the soonest."""
    return min(parts, key=_eagerness, default=None)


def _eagerness(part: Part) -> tuple[bool, float, float]:
    price = math.inf if part.price is None else part.price
    wait = math.inf if part.lead_days is None else float(part.lead_days)
    return (part.count == 0, price, wait)


def alike(one: object, other: object) -> bool:
    """Whether two facts agree, as far as both are known."""
    return one is None or other is None or one == other


def ring(stock: Bin, teeth: int, crank: Crank, circle_mm: float | None) -> RingPart | None:
    """A ring that goes on a bolt circle.

    A single one that is to retain the chain is sooner one known to; among others none is taken that does,
    for the chain is to leave it.
    """
    retains = crank.retaining_teeth if len(crank.rings) == 1 else False
    found = [
        part
        for part in stock.rings
        if part.teeth == teeth
        and alike(part.bolt_circle_mm, circle_mm)
        and (circle_mm is None or part.bolts == crank.bolts)
        and alike(part.retaining_teeth, retains)
    ]
    sure = [part for part in found if part.retaining_teeth and retains]
    return best(sure or found)


def cog(stock: Bin, teeth: int, family: str | None) -> CogPart | None:
    """A loose cog of a spacing family."""
    return best(part for part in stock.cogs if part.teeth == teeth and alike(part.family, family))


def carrier(stock: Bin, cogs: tuple[int, ...], family: str | None) -> CarrierPart | None:
    """A carrier of riveted cogs."""
    return best(part for part in stock.carriers if part.cogs == cogs and alike(part.family, family))


def cassette(stock: Bin, rear: Rear) -> CassettePart | None:
    """A whole cassette of these cogs, riveted alike where the setup says how, for the same driver."""
    return best(part for part in stock.cassettes if part.cogs == rear.cogs and _could_be(part, rear))


def cassettes_and_cogs(stock: Bin, rear: Rear) -> Iterator[tuple[CassettePart, tuple[CogPart, ...]]]:
    """Each cassette of the bin that at most two loose cogs of it make into these; carriers stay whole."""
    for part in stock.cassettes:
        cogs = _missing(stock, part, rear) if _could_be(part, rear) else None
        if cogs is not None:
            yield part, cogs


def _could_be(part: CassettePart, rear: Rear) -> bool:
    whole = all(set(carrier) <= set(rear.cogs) for carrier in part.carriers)
    riveted_alike = not rear.carriers or sorted(part.carriers) == sorted(rear.carriers)
    facts = alike(part.family, rear.family) and alike(part.driver, rear.cassette_driver)
    return whole and riveted_alike and facts


def _missing(stock: Bin, part: CassettePart, rear: Rear) -> tuple[CogPart, ...] | None:
    """The loose cogs that the cassette lacks; None when they are none, too many or not in the bin."""
    wanted = [n for n in rear.cogs if n not in part.cogs]
    if not 1 <= len(wanted) <= MOST_LOOSE:
        return None
    there = tuple(one for n in wanted if (one := cog(stock, n, rear.family)) is not None)
    return there if len(there) == len(wanted) else None


def chain(stock: Bin, links: int, width: tuple[float, float] | None, cogs: int) -> ChainPart | None:
    """A chain of at least so many pitches, of a width between two, mm, and made for so many cogs."""

    def goes(part: ChainPart) -> bool:
        made = (part.cogs,) if isinstance(part.cogs, int) else part.cogs
        wide = part.outer_width_mm
        narrow_enough = width is None or wide is None or width[0] - 1e-6 <= wide <= width[1] + 1e-6
        return narrow_enough and (made is None or cogs == 1 or cogs in made)

    return best(part for part in stock.chains if part.links >= links and goes(part))


def rear_derailleur(stock: Bin, wanted: RearDerailleur) -> RearDerailleurPart | None:
    """The rear derailleur that a setup describes: every fact that the setup gives must be the part's."""
    return best(part for part in stock.rear_derailleurs if _described(part, wanted))


def front_derailleur(stock: Bin, wanted: FrontDerailleur) -> FrontDerailleurPart | None:
    """The front derailleur that a setup describes."""
    return best(part for part in stock.front_derailleurs if _described(part, wanted))


def _described(part: Part, wanted: RearDerailleur | FrontDerailleur) -> bool:
    """Limits must agree; what can be measured must not differ, and may be missing on either side."""
    facts = {k: v for k, v in wanted.model_dump(exclude_none=True).items() if k in type(part).model_fields}
    return bool(_LIMITS & facts.keys()) and all(
        getattr(part, key) == value or (key not in _LIMITS and getattr(part, key) is None)
        for key, value in facts.items()
    )


def small(stock: Bin, kind: SmallKind, **facts: object) -> SmallPart | None:
    """A small part of a kind with these facts of `SmallPart`, as far as both are known."""
    return best(
        part
        for part in stock.small_parts
        if part.kind == kind and all(alike(getattr(part, key), value) for key, value in facts.items())
    )


def wheel(stock: Bin, setup: Setup) -> SmallPart | None:
    """A wheel of the setup's bead seat diameter, with the driver that it asks for."""
    rear = setup.rear
    return best(
        part
        for part in stock.small_parts
        if part.kind == "wheel"
        and alike(part.driver, rear.driver)
        and alike(part.smallest_cog, rear.smallest_cog)
        and of_size(part, setup)
    )


def of_size(part: SmallPart, setup: Setup) -> bool:
    """Whether nothing is known against a wheel's bead seat diameter on a bike."""
    has, wants = (parse_size(size or "") for size in (part.size, setup.wheel.size))
    return has is None or wants is None or has[1] == wants[1]


def without(stock: Bin, part: Part) -> Bin:
    """The bin when one piece of a part has been taken out; as it is when none is left there."""
    for kind in ("rings", "cogs", "carriers", "cassettes", "chains", *_WHOLE):
        parts: tuple[Part, ...] = getattr(stock, kind)
        for at, one in enumerate(parts):
            if one is part and part.count:
                fewer = one.model_copy(update={"count": one.count - 1})
                return stock.model_copy(update={kind: (*parts[:at], fewer, *parts[at + 1 :])})
    return stock


def belt(stock: Bin, teeth: int, pitch_mm: float | None) -> BeltPart | None:
    """A belt of so many teeth."""
    return best(part for part in stock.belts if part.teeth == teeth and alike(part.pitch_mm, pitch_mm))


def belts(stock: Bin, pitch_mm: float | None) -> dict[int, BeltPart]:
    """The belts of a pitch by their teeth: of each length the one to take."""
    lengths = sorted({part.teeth for part in stock.belts})
    found = ((teeth, belt(stock, teeth, pitch_mm)) for teeth in lengths)
    return {teeth: part for teeth, part in found if part is not None}


def hub(stock: Bin, ratios: tuple[float, ...]) -> HubPart | None:
    """A hub of these ratios."""
    return best(part for part in stock.hubs if sorted(part.ratios) == sorted(ratios))
