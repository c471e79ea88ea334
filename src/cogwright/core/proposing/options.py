"""What a plan may put on: what is on the bike and on the bench, and what a bin offers for it.

Of the bin everything with a price that can go on, in stock or to order. What has no price is left out, for a
cost that leaves something out would be a guess.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from typing import TypeVar

from cogwright.core.chain.slack import chain_of
from cogwright.core.parts.bin import Bin, CogPart, Part
from cogwright.core.parts.search import of_size
from cogwright.core.proposing.bin_choices import cassette_choice, goes_on, ring_choice
from cogwright.core.proposing.choices import CassetteChoice, RingChoice
from cogwright.core.proposing.kit import Driver, Shifter, driver_of, shifter_of
from cogwright.core.setup.differences import known_to_differ
from cogwright.core.setup.model import Crank, RearDerailleur, Setup
from cogwright.core.setup.renewed import cassette_renewed, with_new_cassette
from cogwright.core.worksheet.changes import DERAILLEUR_FACTS

T = TypeVar("T")
P = TypeVar("P", bound=Part)


@dataclass(frozen=True)
class PlanOptions:
    """What a plan chooses from; what is on the bike comes first everywhere, then what is on the bench."""

    own: tuple[RingChoice, ...]
    rings: tuple[RingChoice, ...]
    cassettes: tuple[CassetteChoice, ...]
    cogs: tuple[CogPart, ...]
    derailleurs: tuple[RearDerailleur, ...]
    shifters: tuple[Shifter, ...]
    drivers: tuple[Driver, ...]

    @property
    def supports(self) -> int:
        """How many derailleurs, shifters and drivers there are for one set of rings with one cassette."""
        return len(self.derailleurs) * len(self.shifters) * len(self.drivers)


def options_for(base: Setup, bench: Setup, stock: Bin) -> PlanOptions:
    """What may make a new drivetrain of a bike that is as the baseline says, seen from a bench."""
    return PlanOptions(
        own=_unique([*rings_on(base.crank, on_bike=True), *rings_on(bench.crank, on_bike=base is bench)]),
        rings=tuple(ring_choice(bench, ring) for ring in _priced(stock.rings) if goes_on(bench, ring)),
        cassettes=_cassettes(base, bench, stock),
        cogs=_priced(stock.cogs),
        derailleurs=_derailleurs(base, bench, stock),
        shifters=_shifters(base, bench, stock),
        drivers=_drivers(base, bench, stock),
    )


def unpriced(stock: Bin) -> tuple[str, ...]:
    """Names of the parts that a plan leaves out because they have no price."""
    kinds: tuple[Iterable[Part], ...] = (stock.rings, stock.cassettes, stock.cogs, stock.rear_derailleurs)
    small = (part for part in stock.small_parts if part.kind in {"rear shifter", "freehub driver", "wheel"})
    return tuple(part.name for kind in (*kinds, small) for part in kind if part.price is None)


def rings_on(crank: Crank, on_bike: bool) -> tuple[RingChoice, ...]:
    """The rings of a crank; the smallest of several is on the inner bolt circle where there is one."""
    inner = crank.rings[0] if crank.inner_bolt_circle_mm is not None and len(crank.rings) > 1 else None
    retaining = crank.retaining_teeth if len(crank.rings) == 1 else None
    return tuple(RingChoice(n, inner=n == inner, on_bike=on_bike, retaining=retaining) for n in crank.rings)


def _priced(parts: tuple[P, ...]) -> tuple[P, ...]:
    return tuple(part for part in parts if part.price is not None)


def _unique(options: Iterable[T]) -> tuple[T, ...]:
    return tuple(dict.fromkeys(options))


def _cassettes(base: Setup, bench: Setup, stock: Bin) -> tuple[CassetteChoice, ...]:
    own = CassetteChoice.of(base, "the cassette on the bike", on_bike=True)
    bought = cassette_renewed(base, bench)
    there = CassetteChoice.of(bench, "the cassette on the bench", on_bike=not bought)
    others = [there] if bought or not own.is_on(bench) else []
    # A hub gear's wheel has no room for a cassette, unless it has one already.
    hub = len(base.rear.hub_ratios) > 1 and len(base.rear.cogs) == 1 and not chain_of(base).tensioned
    offered = [cassette_choice(part) for part in _priced(stock.cassettes) if not (hub and len(part.cogs) > 1)]
    # A new one with the same cogs is another one where the old one's wear is known.
    told = cassette_renewed(base, with_new_cassette(base))
    have = {(one.cogs, one.carriers, one.family, one.driver) for one in ([] if told else [own, *others])}
    new = [one for one in offered if (one.cogs, one.carriers, one.family, one.driver) not in have]
    return _unique([own, *others, *new])


def _derailleurs(base: Setup, bench: Setup, stock: Bin) -> tuple[RearDerailleur, ...]:
    """Derailleurs that an order sheet can tell from the one on the bike."""
    none = not chain_of(base).tensioned
    offered = (part.limits for part in _priced(stock.rear_derailleurs))
    new = (one for one in offered if none or known_to_differ(base.rear_derailleur, one, *DERAILLEUR_FACTS))
    return _unique([base.rear_derailleur, bench.rear_derailleur, *new])


def _shifters(base: Setup, bench: Setup, stock: Bin) -> tuple[Shifter, ...]:
    own, none = shifter_of(base), not chain_of(base).tensioned or len(base.rear.cogs) == 1
    parts = (part for part in _priced(stock.small_parts) if part.kind == "rear shifter")
    offered = (Shifter(part.clicks, part.family, part.pull_mm) for part in parts)
    return _unique([own, shifter_of(bench), *(one for one in offered if none or _differ(own, one))])


def _drivers(base: Setup, bench: Setup, stock: Bin) -> tuple[Driver, ...]:
    """Driver bodies and wheels; a bike that has no freehub takes any wheel of its size."""
    own = driver_of(base)
    none = own == Driver() and not chain_of(base).tensioned
    parts = [part for part in _priced(stock.small_parts) if part.kind == "freehub driver" and not none]
    wheels = [part for part in _priced(stock.small_parts) if part.kind == "wheel" and of_size(part, bench)]
    offered = (Driver(part.driver, part.smallest_cog) for part in (*parts, *wheels))
    return _unique([own, driver_of(bench), *(one for one in offered if none or _differ(own, one))])


def _differ(own: tuple[object, ...], other: tuple[object, ...]) -> bool:
    """Whether a fact is known of both and not the same: then an order sheet can tell them apart."""
    return any(None not in pair and pair[0] != pair[1] for pair in zip(own, other, strict=True))
