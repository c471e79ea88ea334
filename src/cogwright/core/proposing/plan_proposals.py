"""What a plan has found, as proposals: the setups themselves, and the reasons in words."""

from collections.abc import Iterator, Sequence
from dataclasses import replace

from cogwright.core.common.units import percent
from cogwright.core.proposing.choices import Choices, with_rings_and_cassette
from cogwright.core.proposing.front import PlannedChange, ranked
from cogwright.core.proposing.goal import CENT, SAME, Goal, Miss, miss_of
from cogwright.core.proposing.hardware import judged
from cogwright.core.proposing.proposal import Proposal, Swap
from cogwright.core.proposing.space import RingSet, Variant
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
    setup: Setup, choices: Choices, goal: Goal, changes: Sequence[PlannedChange], *, meets: bool
) -> Iterator[Proposal]:
    """The changes as proposals, best first, each built when it is asked for."""
    if not changes:
        return
    order = ranked(changes) if meets else list(changes)
    marks = _marks(order) if meets else _near_marks(goal, order)
    cheapest = min(order, key=lambda change: change.cost)
    for at, (change, marked) in enumerate(zip(order, marks, strict=True)):
        if meets:
            why = _reasons(change, cheapest, choices.currency)
        else:
            why = (_near_words(goal, change, choices.currency, at == 0), _range_words(change))
        yield replace(_proposal(setup, choices, change), marks=marked, reasons=why, meets=meets)


def _proposal(setup: Setup, choices: Choices, change: PlannedChange) -> Proposal:
    changed = change.hardware.on(setup_of(setup, change.rings, change.variant))
    return Proposal(
        kind="plan",
        setup=changed,
        title=_title(setup, change),
        swaps=_swaps(change.variant),
        lost=change.lost,
        cost=change.cost,
        currency=choices.currency,
        fits=fits(change),
        notes=(*_chain_words(setup, changed), *_first_place(change.variant)),
        **judged(changed)._asdict(),
    )


def _swaps(variant: Variant) -> tuple[Swap, ...]:
    into = sorted(cog.teeth for cog in variant.into)
    return tuple(Swap(out, cog) for out, cog in zip(variant.out, into, strict=True))


def fits(change: PlannedChange) -> tuple[str, ...]:
    """Names of the parts that come onto the bike."""
    hardware, cassette = change.hardware, change.variant.cassette
    rings = [ring.called() for ring in change.rings.rings if not ring.on_bike]
    whole = [] if cassette.on_bike else [cassette.called()]
    cogs = [cog.name for cog in change.variant.into]
    return (*rings, *whole, *cogs, *(part.name for part in (hardware.derailleur, hardware.chain) if part))


def _title(setup: Setup, change: PlannedChange) -> str:
    said = []
    if change.rings.teeth != setup.crank.rings:
        said.append(f"rings {' '.join(map(str, change.rings.teeth))}")
    if not change.variant.cassette.on_bike:
        said.append(change.variant.cassette.called())
    said += [f"cog {swap.say()}" for swap in _swaps(change.variant)]
    said += ["another rear derailleur"] if change.hardware.derailleur else []
    said += ["a new chain"] if change.hardware.chain else []
    return ", ".join(said) or "as it stands"


def _marks(order: Sequence[PlannedChange]) -> list[tuple[str, ...]]:
    best = {BALANCE: order[0]}
    for at, word in enumerate((RANGE, STEP, PRICE)):
        best[word] = min(order, key=lambda change: round(change.aims[at], 9))
    return [tuple(word for word, there in best.items() if there is change) for change in order]


def _near_marks(goal: Goal, order: Sequence[PlannedChange]) -> list[tuple[str, ...]]:
    words = {"low": "misses only the lowest gear", "high": "misses only the highest gear"}
    words |= {"cost": "misses only the cost", "jump": "misses only the largest step"}
    missed = [_miss(goal, change).missed for change in order]
    alone = [
        () if len(m) != 1 or e.hardware.problems else (words[m[0]],)
        for m, e in zip(missed, order, strict=True)
    ]
    return [("nearest miss", *alone[0]), *alone[1:]]


def _miss(goal: Goal, change: PlannedChange) -> Miss:
    return miss_of(goal, change.low_m, change.high_m, change.worst, change.cost)


def _reasons(change: PlannedChange, cheapest: PlannedChange, currency: str) -> tuple[str, ...]:
    said = [_range_words(change), _step_words(change)]
    if change.cost > cheapest.cost + CENT:
        said.append(_against(change, cheapest, currency))
    return tuple(said)


def _range_words(change: PlannedChange) -> str:
    lost = change.lost
    if lost.low + lost.high <= SAME:
        return "loses none of the baseline's range"
    ends = [f"the lowest gear is {lost.low_pct:.1f} % harder"] if lost.low > SAME else []
    ends += [f"the highest {lost.high_pct:.1f} % easier"] if lost.high > SAME else []
    return f"loses {lost.range_pct:.1f} % of the baseline's range: {', '.join(ends)}"


def _step_words(change: PlannedChange) -> str:
    if change.worst <= 1.0 + SAME:
        return "there is no click to make"
    return f"the largest step of a click is {percent(change.worst):.1f} %"


def _against(change: PlannedChange, cheapest: PlannedChange, currency: str) -> str:
    less = cheapest.lost.range_pct - change.lost.range_pct
    smaller = percent(cheapest.worst) - percent(change.worst)
    gains = [f"keeps {less:.1f} % more of the range"] if less > 0.05 else []
    gains += [f"has a largest step {smaller:.1f} points smaller"] if smaller > 0.05 else []
    price = money(change.cost - cheapest.cost, currency)
    return f"for {price} more than the cheapest it {' and '.join(gains) or 'gains little'}"


def money(amount: float, currency: str) -> str:
    """An amount in a currency, which may have no name.

    >>> money(12.5, "EUR"), money(12.5, "")
    ('12.50 EUR', '12.50')
    """
    return f"{amount:.2f} {currency}".strip()


def _near_words(goal: Goal, change: PlannedChange, currency: str, nearest: bool) -> str:
    worst = percent(change.worst)
    words = {
        "low": f"lowest gear {change.low_m:.2f} m instead of at most {goal.low_at_most_m or 0:.2f} m",
        "high": f"highest gear {change.high_m:.2f} m instead of at least {goal.high_at_least_m or 0:.2f} m",
        "cost": f"costs {change.cost:.2f} instead of at most {money(goal.cost_at_most or 0, currency)}",
        "jump": f"largest step {worst:.1f} instead of at most {goal.jump_at_most_pct or 0:g} %",
    }
    fit = ["it does not go together"] if change.hardware.problems else []
    said = "; ".join([*(words[name] for name in _miss(goal, change).missed), *fit])
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
    return (f"cut the chain to {after} links; measure it on the bike before it is cut",)
