"""What a plan has found, as proposals: the setups themselves, and the reasons in words."""

from collections.abc import Iterator, Sequence
from dataclasses import replace

from cogwright.core.common.units import percent
from cogwright.core.proposing.change import Stock, with_rings_and_cassette
from cogwright.core.proposing.front import SAME, Entry, Goal, Miss, miss_of, ranked
from cogwright.core.proposing.hardware import judged
from cogwright.core.proposing.result import Proposal, Swap
from cogwright.core.proposing.space import CENT, RingSet, Variant
from cogwright.core.setup.model import Setup

BALANCE, RANGE, STEP, PRICE = "best balance", "least range lost", "smallest largest step", "cheapest"


def setup_of(setup: Setup, rings: RingSet, variant: Variant) -> Setup:
    """The setup with other rings and cogs; chain and derailleur stay as they are."""
    changed = with_rings_and_cassette(setup, rings.teeth, replace(variant.cassette, cogs=variant.cogs))
    if setup.crank.inner_bolt_circle_mm is None or rings.rings[0].inner:
        return changed
    crank = changed.crank.model_copy(update={"inner_bolt_circle_mm": None})
    return changed.model_copy(update={"crank": crank})


def propose(
    setup: Setup, stock: Stock, goal: Goal, entries: Sequence[Entry], *, meets: bool
) -> Iterator[Proposal]:
    """The changes as proposals, best first, each built when it is asked for."""
    if not entries:
        return
    order = ranked(entries) if meets else list(entries)
    marks = _marks(order) if meets else _near_marks(goal, order)
    cheapest = min(order, key=lambda entry: entry.cost)
    for at, (entry, marked) in enumerate(zip(order, marks, strict=True)):
        if meets:
            why = _reasons(entry, cheapest, stock.currency)
        else:
            why = (_near_words(goal, entry, stock.currency, at == 0), _range_words(entry))
        yield replace(_proposal(setup, stock, entry), marks=marked, reasons=why, meets=meets)


def _proposal(setup: Setup, stock: Stock, entry: Entry) -> Proposal:
    changed = entry.hardware.on(setup_of(setup, entry.rings, entry.variant))
    return Proposal(
        kind="plan",
        setup=changed,
        title=_title(setup, entry),
        swaps=_swaps(entry.variant),
        lost=entry.lost,
        cost=entry.cost,
        currency=stock.currency,
        fits=fits(entry),
        notes=(*_chain_words(setup, changed), *_first_place(entry.variant)),
        **judged(changed)._asdict(),
    )


def _swaps(variant: Variant) -> tuple[Swap, ...]:
    into = sorted(cog.teeth for cog in variant.into)
    return tuple(Swap(out, cog) for out, cog in zip(variant.out, into, strict=True))


def fits(entry: Entry) -> tuple[str, ...]:
    """Names of the parts that come onto the bike."""
    hardware, cassette = entry.hardware, entry.variant.cassette
    rings = [ring.called() for ring in entry.rings.rings if not ring.on_bike]
    whole = [] if cassette.on_bike else [cassette.called()]
    cogs = [cog.name for cog in entry.variant.into]
    return (*rings, *whole, *cogs, *(part.name for part in (hardware.derailleur, hardware.chain) if part))


def _title(setup: Setup, entry: Entry) -> str:
    said = []
    if entry.rings.teeth != setup.crank.rings:
        said.append(f"rings {' '.join(map(str, entry.rings.teeth))}")
    if not entry.variant.cassette.on_bike:
        said.append(entry.variant.cassette.called())
    said += [f"cog {swap.say()}" for swap in _swaps(entry.variant)]
    said += ["another rear derailleur"] if entry.hardware.derailleur else []
    said += ["a new chain"] if entry.hardware.chain else []
    return ", ".join(said) or "as it stands"


def _marks(order: Sequence[Entry]) -> list[tuple[str, ...]]:
    best = {BALANCE: order[0]}
    for at, word in enumerate((RANGE, STEP, PRICE)):
        best[word] = min(order, key=lambda entry: round(entry.aims[at], 9))
    return [tuple(word for word, there in best.items() if there is entry) for entry in order]


def _near_marks(goal: Goal, order: Sequence[Entry]) -> list[tuple[str, ...]]:
    words = {"low": "misses only the lowest gear", "high": "misses only the highest gear"}
    words |= {"cost": "misses only the cost", "jump": "misses only the largest step"}
    missed = [_miss(goal, entry).missed for entry in order]
    alone = [
        () if len(m) != 1 or e.hardware.problems else (words[m[0]],)
        for m, e in zip(missed, order, strict=True)
    ]
    return [("nearest miss", *alone[0]), *alone[1:]]


def _miss(goal: Goal, entry: Entry) -> Miss:
    return miss_of(goal, entry.low_m, entry.high_m, entry.worst, entry.cost)


def _reasons(entry: Entry, cheapest: Entry, currency: str) -> tuple[str, ...]:
    said = [_range_words(entry), _step_words(entry)]
    if entry.cost > cheapest.cost + CENT:
        said.append(_against(entry, cheapest, currency))
    return tuple(said)


def _range_words(entry: Entry) -> str:
    lost = entry.lost
    if lost.low + lost.high <= SAME:
        return "loses none of the baseline's range"
    ends = [f"the lowest gear is {lost.low_pct:.1f} % harder"] if lost.low > SAME else []
    ends += [f"the highest {lost.high_pct:.1f} % easier"] if lost.high > SAME else []
    return f"loses {lost.range_pct:.1f} % of the baseline's range: {', '.join(ends)}"


def _step_words(entry: Entry) -> str:
    if entry.worst <= 1.0 + SAME:
        return "there is no click to make"
    return f"the largest step of a click is {percent(entry.worst):.1f} %"


def _against(entry: Entry, cheapest: Entry, currency: str) -> str:
    less = cheapest.lost.range_pct - entry.lost.range_pct
    smaller = percent(cheapest.worst) - percent(entry.worst)
    gains = [f"keeps {less:.1f} % more of the range"] if less > 0.05 else []
    gains += [f"has a largest step {smaller:.1f} points smaller"] if smaller > 0.05 else []
    price = f"{entry.cost - cheapest.cost:.2f} {currency}".strip()
    return f"for {price} more than the cheapest it {' and '.join(gains) or 'gains little'}"


def _near_words(goal: Goal, entry: Entry, currency: str, nearest: bool) -> str:
    worst = percent(entry.worst)
    words = {
        "low": f"lowest gear {entry.low_m:.2f} m instead of at most {goal.low_at_most_m or 0:.2f} m",
        "high": f"highest gear {entry.high_m:.2f} m instead of at least {goal.high_at_least_m or 0:.2f} m",
        "cost": f"costs {entry.cost:.2f} instead of at most {goal.cost_at_most or 0:.2f} {currency}".rstrip(),
        "jump": f"largest step {worst:.1f} instead of at most {goal.jump_at_most_pct or 0:g} %",
    }
    fit = ["it does not go together"] if entry.hardware.problems else []
    said = "; ".join([*(words[name] for name in _miss(goal, entry).missed), *fit])
    return (
        f"nothing meets all limits; the nearest miss is this: {said}"
        if nearest
        else f"all is met but one: {said}"
    )


def _first_place(variant: Variant) -> tuple[str, ...]:
    """Common practice, no source: the outermost cog of a cassette is made for the lockring to bear on it."""
    if variant.cogs[0] == variant.cassette.cogs[0]:
        return ()
    return (f"the lockring bears on the smallest cog: take a {variant.cogs[0]} made for that place",)


def _chain_words(setup: Setup, changed: Setup) -> tuple[str, ...]:
    before, after = setup.chain.links, changed.chain.links
    if after is None or after == before:
        return ()
    return (f"cut the chain to {after} pitches; measure it on the bike before it is cut",)
