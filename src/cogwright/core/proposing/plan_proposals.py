"""What a plan has found, as proposals: the bikes themselves, and the reasons in words."""

from collections.abc import Iterator, Sequence
from dataclasses import replace

from cogwright.core.chain.slack import chain_of
from cogwright.core.common.units import percent
from cogwright.core.common.words import few
from cogwright.core.parts.bin import Bin
from cogwright.core.proposing.front import PlannedKit, ranked
from cogwright.core.proposing.goal import CENT, SAME, Goal, Miss, miss_of
from cogwright.core.proposing.priced import Priced, priced
from cogwright.core.proposing.proposal import Proposal
from cogwright.core.setup.model import Setup

BALANCE, RANGE, STEP, PRICE = "best balance", "least range lost", "smallest largest step", "cheapest"
_ONLY = {
    "low": "misses only the lowest gear",
    "high": "misses only the highest gear",
    "cost": "misses only the cost",
    "jump": "misses only the largest step",
    "unpriced": "lacks only a price",
}


def propose(
    setup: Setup, base: Setup, stock: Bin, goal: Goal, kits: Sequence[PlannedKit], *, meets: bool
) -> Iterator[Proposal]:
    """The kits as proposals, best first, each built when it is asked for."""
    if not kits:
        return
    order = ranked(kits) if meets else list(kits)
    marks = _marks(order) if meets else _near_marks(goal, order)
    cheapest = _cheapest(order)
    for at, (planned, marked) in enumerate(zip(order, marks, strict=True)):
        one = _proposal(setup, base, stock, planned)
        if meets:
            why = _reasons(planned, cheapest, stock.currency)
        else:
            why = (_near_words(goal, planned, one, stock.currency, at == 0), _range_words(planned))
        yield replace(one, marks=marked, reasons=(*why, *_unpriced_words(one)), meets=meets)


def _proposal(setup: Setup, base: Setup, stock: Bin, planned: PlannedKit) -> Proposal:
    found = priced(base, planned.kit.on(setup), stock)
    return Proposal(
        kind="plan",
        setup=found.setup,
        title=", ".join(found.words) or "as it stands",
        swaps=found.swaps,
        lost=planned.lost,
        notes=(*_chain_words(base, found.setup), *_first_place(found), *_hanger(base, found.setup)),
        **found.facts,
    )


def _marks(order: Sequence[PlannedKit]) -> list[tuple[str, ...]]:
    best = {BALANCE: order[0]}
    for at, word in enumerate((RANGE, STEP)):
        best[word] = min(order, key=lambda planned: round(planned.aims[at], 9))
    best[PRICE] = _cheapest(order)
    return [tuple(word for word, there in best.items() if there is planned) for planned in order]


def _cheapest(order: Sequence[PlannedKit]) -> PlannedKit:
    """The kit of the least price; one with a part that has none may cost anything, and comes last."""
    return min(order, key=lambda planned: (planned.unpriced, round(planned.cost, 6)))


def _near_marks(goal: Goal, order: Sequence[PlannedKit]) -> list[tuple[str, ...]]:
    missed = [_miss(goal, planned).missed for planned in order]
    alone = [
        () if len(m) != 1 or planned.problems else (_ONLY[m[0]],)
        for m, planned in zip(missed, order, strict=True)
    ]
    return [("nearest miss", *alone[0]), *alone[1:]]


def _miss(goal: Goal, planned: PlannedKit) -> Miss:
    return miss_of(goal, planned.low_m, planned.high_m, planned.worst, planned.cost, planned.unpriced)


def _reasons(planned: PlannedKit, cheapest: PlannedKit, currency: str) -> tuple[str, ...]:
    said = [_range_words(planned), _step_words(planned)]
    if planned.cost > cheapest.cost + CENT:
        said.append(_against(planned, cheapest, currency))
    return tuple(said)


def _unpriced_words(one: Proposal) -> tuple[str, ...]:
    """Which prices are not known."""
    names = [item.what for item in one.parts if item.price is None]
    return (f"the price of {few(names, 3)} is not known",) if names else ()


def _range_words(planned: PlannedKit) -> str:
    lost = planned.lost
    if lost.low + lost.high <= SAME:
        return "loses none of the baseline's range"
    ends = [f"the lowest gear is {lost.low_pct:.1f} % harder"] if lost.low > SAME else []
    ends += [f"the highest {lost.high_pct:.1f} % lower"] if lost.high > SAME else []
    return f"loses {lost.range_pct:.1f} % of the baseline's range: {', '.join(ends)}"


def _step_words(planned: PlannedKit) -> str:
    if planned.worst <= 1.0 + SAME:
        return "there is no click to make"
    return f"the largest step of a click is {percent(planned.worst):.1f} %"


def _against(planned: PlannedKit, cheapest: PlannedKit, currency: str) -> str:
    less = cheapest.lost.range_pct - planned.lost.range_pct
    smaller = percent(cheapest.worst) - percent(planned.worst)
    gains = [f"keeps {less:.1f} % more of the range"] if less > 0.05 else []
    gains += [f"has a largest step {smaller:.1f} points smaller"] if smaller > 0.05 else []
    gains += ["has what keeps the chain on"] if cheapest.loose and not planned.loose else []
    price = money(planned.cost - cheapest.cost, currency)
    return f"for {price} more than the cheapest it {' and '.join(gains) or 'gains little'}"


def money(amount: float, currency: str) -> str:
    """An amount in a currency, which may have no name.

    >>> money(12.5, "EUR"), money(12.5, "")
    ('12.50 EUR', '12.50')
    """
    return f"{amount:.2f} {currency}".strip()


def _near_words(goal: Goal, planned: PlannedKit, one: Proposal, currency: str, nearest: bool) -> str:
    worst = percent(planned.worst)
    words = {
        "low": f"lowest gear {planned.low_m:.2f} m instead of at most {goal.low_at_most_m or 0:.2f} m",
        "high": f"highest gear {planned.high_m:.2f} m instead of at least {goal.high_at_least_m or 0:.2f} m",
        "cost": f"costs {planned.cost:.2f} instead of at most {money(goal.cost_at_most or 0, currency)}",
        "jump": f"largest step {worst:.1f} instead of at most {goal.jump_at_most_pct or 0:g} %",
        "unpriced": "what it costs is not known",
    }
    fit = ["it does not go together"] if one.problems else []
    said = "; ".join([*(words[name] for name in _miss(goal, planned).missed), *fit])
    return (
        f"nothing meets all limits; the nearest miss is this: {said}"
        if nearest
        else f"all is met but one: {said}"
    )


def _first_place(found: Priced) -> tuple[str, ...]:
    """Common practice, no source: the outermost cog of a cassette is made for the lockring to bear on it."""
    first = found.setup.rear.cogs[0]
    if first == found.cassette[0] or not found.swaps:
        return ()
    return (f"the lockring bears on the smallest cog: take a {first} made for that place",)


def _hanger(base: Setup, changed: Setup) -> tuple[str, ...]:
    """A first derailleur needs something to hang on."""
    first = chain_of(changed).tensioned and not chain_of(base).tensioned
    return ("see that the frame has a hanger for the rear derailleur",) if first else ()


def _chain_words(base: Setup, changed: Setup) -> tuple[str, ...]:
    before, after = base.chain.links, changed.chain.links
    if after is None or after == before:
        return ()
    return (f"cut the chain to {after} links; measure it on the bike before it is cut",)
