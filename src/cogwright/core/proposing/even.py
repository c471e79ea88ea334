"""Even out the cassette on the bench: best single swap, best two swaps, best cassette of the same ends."""

from collections.abc import Callable, Iterable
from dataclasses import replace
from itertools import pairwise
from typing import Final

from cogwright.core.edits import ReplaceCassette
from cogwright.core.model import Setup
from cogwright.core.proposing.ladder import Ladder, most_even, unevenness, worst_ratio
from cogwright.core.proposing.pool import Pool, all_tooth_counts, pinned
from cogwright.core.proposing.result import Proposal, lost_between, swaps_between
from cogwright.core.units import percent

#: Says what is wrong with a setup, in sentences: the problems of the fit checks.
Problems = Callable[[Setup], tuple[str, ...]]

#: What is looked for: its kind, its mark, and how many new parts it may have.
_GOALS: Final = (
    ("cassette", "best of these ends", None),
    ("two-swaps", "best two swaps", 2),
    ("one-swap", "best single swap", 1),
)


def no_problems(setup: Setup) -> tuple[str, ...]:  # noqa: ARG001 - stands in for the fit checks
    """No fit checks."""
    return ()


def even_out(
    setup: Setup,
    baseline: Setup | None = None,
    pool: Pool | None = None,
    pins: Iterable[int] = (),
    *,
    problems: Problems = no_problems,
) -> tuple[Proposal, ...]:
    """More even cassettes with the ends and the number of cogs of the one on the bench, best first.

    Out of every tooth count, or out of a pool. Each has fewer new parts than the one before it; what is
    no better than something with fewer new parts is left out, so that there are none when the cassette
    cannot be bettered. Raises CogwrightError for a pin that is not on the bike.
    """
    cogs = setup.rear.cogs
    source, stay = pinned(pool or all_tooth_counts(setup), setup, pins)
    found: list[Proposal] = []
    best = _worth(cogs)
    for kind, mark, new in reversed(_GOALS):
        ladder = most_even(source.parts, (cogs[0], cogs[-1]), len(cogs), stay, new)
        if ladder is not None and _worth(ladder.cogs) < best:
            best = _worth(ladder.cogs)
            proposal = _proposal(setup, ladder, source)
            found.insert(
                0,
                replace(
                    proposal,
                    kind=kind,
                    marks=(mark,),
                    lost=lost_between(proposal.setup, baseline or setup),
                    problems=problems(proposal.setup),
                    reasons=_reasons(kind, setup, ladder.cogs, bool(source.offers)),
                ),
            )
    return tuple(found)


def _worth(cogs: tuple[int, ...]) -> tuple[float, int]:
    return worst_ratio(cogs), unevenness(cogs)


def _proposal(setup: Setup, ladder: Ladder, pool: Pool) -> Proposal:
    swaps = swaps_between(setup.rear.cogs, ladder.cogs)
    return Proposal(
        kind="",
        setup=ReplaceCassette(ladder.cogs, ladder.carriers).apply(setup),
        title=f"even out: {', '.join(swap.say() for swap in swaps)}",
        swaps=swaps,
        cost=pool.cost(ladder.parts),
        currency=pool.currency,
        fits=pool.names(ladder.parts),
    )


def _reasons(kind: str, setup: Setup, cogs: tuple[int, ...], stock: bool) -> tuple[str, ...]:
    have = setup.rear.cogs
    source = "the bin and this bike" if stock else "all tooth counts"
    ends = f"{have[0]}-{have[-1]} in {len(have)} cogs"
    claim = {
        "cassette": f"no other {ends} out of {source} is as even",
        "two-swaps": f"no two new parts out of {source} even these cogs out further",
        "one-swap": f"no single new part out of {source} evens these cogs out further",
    }[kind]
    return (_worst_words(have, cogs), _jump_words(have, cogs, setup.limits.jump_pct), claim)


def _worst_words(have: tuple[int, ...], cogs: tuple[int, ...]) -> str:
    before, after = percent(worst_ratio(have)), percent(worst_ratio(cogs))
    if before == after:
        return f"the largest step stays {after:.1f} % ({_where(cogs)}); the others come closer to each other"
    return f"the largest step falls from {before:.1f} % ({_where(have)}) to {after:.1f} % ({_where(cogs)})"


def _where(cogs: tuple[int, ...]) -> str:
    worst = worst_ratio(cogs)
    return ", ".join(f"{a} to {b}" for a, b in pairwise(cogs) if b / a == worst)


def _jump_words(have: tuple[int, ...], cogs: tuple[int, ...], limit_pct: float) -> str:
    before, after = (sum(percent(b / a) > limit_pct + 1e-9 for a, b in pairwise(c)) for c in (have, cogs))
    return f"steps over {limit_pct:g} %: {after} instead of {before}"
