"""Even out the cassette on the bench: best single swap, best two swaps, best cassette of the same ends."""

from collections.abc import Iterable
from dataclasses import dataclass, replace
from itertools import pairwise
from typing import Final

from cogwright.core.common.units import percent
from cogwright.core.common.words import count
from cogwright.core.proposing.choices import CassetteChoice, with_cassette
from cogwright.core.proposing.ladder import most_even, unevenness, worst_ratio
from cogwright.core.proposing.lost_range import lost_between
from cogwright.core.proposing.pool import Pool, all_tooth_counts, pinned
from cogwright.core.proposing.proposal import (
    Judge,
    Proposal,
    Swap,
    not_judged,
    swaps_between,
)
from cogwright.core.setup.model import Setup

#: Swaps that a title names one by one.
_NAMED: Final = 3
#: What is looked for: its kind, its mark, and how many new parts it may have.
_GOALS: Final = (
    ("cassette", "best of these ends", None),
    ("two-swaps", "best two swaps", 2),
    ("one-swap", "best single swap", 1),
)


@dataclass(frozen=True, slots=True)
class _NewCassette:
    """Another cassette, put together or whole."""

    cassette: CassetteChoice
    fits: tuple[str, ...]

    @property
    def worth(self) -> tuple[float, int]:
        """How even it is: less is better."""
        return _worth(self.cassette.cogs)


def even_out(
    setup: Setup,
    baseline: Setup | None = None,
    pool: Pool | None = None,
    pins: Iterable[int] = (),
    *,
    cassettes: Iterable[CassetteChoice] = (),
    judge: Judge = not_judged,
) -> tuple[Proposal, ...]:
    """More even cassettes with the ends and the number of cogs of the one on the bench, best first.

    Put together out of every tooth count, or out of a pool; `cassettes` may be bought whole as well. Each
    has fewer new parts than the one before it; what is no better than something with fewer new parts is
    left out, so that there are none when the cassette cannot be bettered. Raises CogwrightError for a pin
    that is not on the bike.
    """
    source, stay = pinned(pool or all_tooth_counts(setup), setup, pins)
    whole = () if stay else tuple(c for c in cassettes if _alike(setup, c))
    found: list[Proposal] = []
    best = _worth(setup.rear.cogs)
    for kind, mark, new in reversed(_GOALS):
        change = _best_change(setup, source, stay, new, whole if new is None else ())
        if change is not None and change.worth < best:
            best = change.worth
            proposal = _proposal(setup, baseline or setup, change, source.currency)
            why = (*_steps_words(setup, proposal.cogs), _claim(kind, setup, pool is not None))
            found.insert(
                0,
                replace(proposal, kind=kind, marks=(mark,), reasons=why, **judge(proposal.setup)._asdict()),
            )
        elif found:
            # More freedom betters nothing, so what there is is the best of this kind too.
            found[0] = _also(found[0], mark, _claim(kind, setup, pool is not None))
    return tuple(found)


def _also(one: Proposal, mark: str, claim: str) -> Proposal:
    """A proposal that is the best of a further kind; the stronger claim takes the place of the weaker."""
    return replace(one, marks=(*one.marks, mark), reasons=(*one.reasons[:-1], claim))


def _worth(cogs: tuple[int, ...]) -> tuple[float, int]:
    return worst_ratio(cogs), unevenness(cogs)


def _alike(setup: Setup, cassette: CassetteChoice) -> bool:
    """Whether a cassette has the ends, the number of cogs and the spacing of the one on the bike."""
    have, want = setup.rear.cogs, cassette.cogs
    matched = None in (setup.rear.family, cassette.family) or setup.rear.family == cassette.family
    return matched and (have[0], have[-1], len(have)) == (want[0], want[-1], len(want))


def _best_change(
    setup: Setup, pool: Pool, stay: tuple[int, ...], new: int | None, whole: tuple[CassetteChoice, ...]
) -> _NewCassette | None:
    cogs = setup.rear.cogs
    ladder = most_even(pool.pieces, (cogs[0], cogs[-1]), len(cogs), stay, new)
    found = [_NewCassette(cassette, (cassette.called(),)) for cassette in whole]
    if ladder is not None:
        price = pool.cost(ladder.pieces)
        made = CassetteChoice(ladder.cogs, ladder.carriers, price=price, family=setup.rear.family)
        found.insert(0, _NewCassette(made, pool.names(ladder.pieces)))
    return min(found, key=lambda change: change.worth, default=None)


def _proposal(setup: Setup, baseline: Setup, change: _NewCassette, currency: str) -> Proposal:
    changed = with_cassette(setup, change.cassette)
    swaps = swaps_between(setup.rear.cogs, changed.rear.cogs)
    return Proposal(
        kind="",
        setup=changed,
        title=_title(changed.rear.cogs, swaps),
        swaps=swaps,
        lost=lost_between(changed, baseline),
        cost=change.cassette.price,
        currency=currency,
        fits=change.fits,
    )


def _title(cogs: tuple[int, ...], swaps: tuple[Swap, ...]) -> str:
    if len(swaps) > _NAMED:
        return f"even out {cogs[0]}-{cogs[-1]}, {len(swaps)} cogs changed"
    return f"even out: {', '.join(swap.say() for swap in swaps)}"


def _steps_words(setup: Setup, cogs: tuple[int, ...]) -> tuple[str, ...]:
    have, limit = setup.rear.cogs, setup.limits.jump_pct
    before, after = _wide(have, limit), _wide(cogs, limit)
    said: tuple[str, ...] = (_worst_words(have, cogs), _wide_words(before, after, limit))
    if after > before:  # the worse first
        more = f"{count(after - before, 'step')} more over {limit:g} % ({after}, was {before})"
        said = (f"{more}, but {_worst_words(have, cogs)}",)
    named = len(swaps_between(have, cogs)) <= _NAMED
    return said if named else (*said, f"cogs {' '.join(map(str, cogs))}")


def _claim(kind: str, setup: Setup, from_bin: bool) -> str:
    have = setup.rear.cogs
    source = "the bin and this bike" if from_bin else "all tooth counts"
    return {
        "cassette": f"no more even {have[0]}-{have[-1]} with {len(have)} cogs can be made from {source}",
        "two-swaps": f"no two new parts out of {source} even these cogs out further",
        "one-swap": f"no single new part out of {source} evens these cogs out further",
    }[kind]


def _worst_words(have: tuple[int, ...], cogs: tuple[int, ...]) -> str:
    before, after = percent(worst_ratio(have)), percent(worst_ratio(cogs))
    if before == after:
        return f"the largest step stays {after:.1f} % ({_where(cogs)}); the others come closer to each other"
    return f"the largest step falls from {before:.1f} % ({_where(have)}) to {after:.1f} % ({_where(cogs)})"


def _where(cogs: tuple[int, ...]) -> str:
    worst = worst_ratio(cogs)
    return ", ".join(f"{a} to {b}" for a, b in pairwise(cogs) if b / a == worst)


def _wide(cogs: tuple[int, ...], limit_pct: float) -> int:
    """How many steps are over the limit."""
    return sum(percent(b / a) > limit_pct + 1e-9 for a, b in pairwise(cogs))


def _wide_words(before: int, after: int, limit_pct: float) -> str:
    against = "as before" if after == before else f"was {before}"
    return f"steps over {limit_pct:g} %: {after}, {against}"
