"""What evening out a cassette does, in words: the worse first."""

from itertools import pairwise
from typing import Final

from cogwright.core.common.units import percent
from cogwright.core.common.words import count
from cogwright.core.gears.steps import ladder_marks
from cogwright.core.proposing.ladder import worst_ratio
from cogwright.core.proposing.proposal import Swap
from cogwright.core.setup.model import Limits

#: Swaps that a title names one by one.
_NAMED: Final = 3
_WORSE: Final = "the worse first:"
Cogs = tuple[int, ...]


def title(cogs: Cogs, swaps: tuple[Swap, ...]) -> str:
    """What is changed in a few words."""
    if len(swaps) > _NAMED:
        return f"even out {cogs[0]}-{cogs[-1]}, {len(swaps)} cogs changed"
    return f"even out: {', '.join(swap.say() for swap in swaps)}"


def steps_words(have: Cogs, cogs: Cogs, limits: Limits, swaps: tuple[Swap, ...]) -> tuple[str, ...]:
    """What becomes of the steps: what is worse than before is said first of all.

    All cogs are named where too many change to be named one by one.
    """
    largest, counted = _largest(have, cogs), _counted(have, cogs, limits)
    said = [f"{counted}, but {largest}"] if counted.startswith(_WORSE) else [largest, counted]
    return tuple(said) if len(swaps) <= _NAMED else (*said, f"cogs {' '.join(map(str, cogs))}")


def _counted(have: Cogs, cogs: Cogs, limits: Limits) -> str:
    """How many jumps and wide steps there are."""
    before, after = (
        ladder_marks([percent(b / a) for a, b in pairwise(of)], limits.jump_pct, limits.stands_out_times)
        for of in (have, cogs)
    )
    worse = [
        f"{count(now - then, thing)} more ({now}, was {then})"
        for thing, now, then in zip(("jump", "wide step"), after, before, strict=True)
        if now > then
    ]
    if worse:
        return f"{_WORSE} {' and '.join(worse)}"
    (jumps, wide), (had_jumps, had_wide) = after, before
    return f"jumps {_was(jumps, had_jumps)}, steps over {limits.jump_pct:g} % {_was(wide, had_wide)}"


def _was(now: int, then: int) -> str:
    return f"{now} as before" if now == then else f"{now} (was {then})"


def _largest(have: Cogs, cogs: Cogs) -> str:
    before, after = percent(worst_ratio(have)), percent(worst_ratio(cogs))
    if before == after:
        return f"the largest step stays {after:.1f} % ({_where(cogs)}); the others come closer to each other"
    verb = "falls" if after < before else "grows"
    return f"the largest step {verb} from {before:.1f} % ({_where(have)}) to {after:.1f} % ({_where(cogs)})"


def _where(cogs: Cogs) -> str:
    worst = worst_ratio(cogs)
    return ", ".join(f"{a} to {b}" for a, b in pairwise(cogs) if b / a == worst)


def fast_words(have: Cogs, cogs: Cogs) -> str:
    """What becomes of the steps of the faster half.

    >>> fast_words((11, 13, 15, 17, 19), (11, 12, 13, 15, 19))
    'the 2 fastest steps average 8.7 % (16.8 % now); no step is larger than now'
    """
    half = (len(cogs) - 1) // 2
    before, after = (percent((of[half] / of[0]) ** (1.0 / half)) for of in (have, cogs))
    return f"the {half} fastest steps average {after:.1f} % ({before:.1f} % now); no step is larger than now"


def claim(kind: str, have: Cogs, source: str) -> str:
    """Why it is worth naming: that nothing of its kind is more even."""
    ends = f"{have[0]}-{have[-1]}"
    return {
        "cassette": f"no more even {ends} with {count(len(have), 'cog')} can be made from {source}",
        "two-swaps": f"no two new parts from {source} even these cogs out further",
        "one-swap": f"no single new part from {source} evens these cogs out further",
    }[kind]
