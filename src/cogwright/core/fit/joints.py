"""Checks of the chain's make and of the joint that closes it."""

from typing import Final

from cogwright.core.common.words import count, listed
from cogwright.core.figures import Figures
from cogwright.core.fit.applies import for_chains
from cogwright.core.fit.check import COMMON, Check, Status, needs

#: A joint's width may differ by this from the chain's, mm (common practice, no source).
JOINT_WIDTH_MM: Final = 0.2
_SAME: Final = 1e-6


def made_for(given: int | tuple[int, ...]) -> tuple[int, ...]:
    """Numbers of cogs as a list, whether the file gives one or several."""
    return given if isinstance(given, tuple) else (given,)


@for_chains
def chain_cogs(figures: Figures) -> Check | None:
    """The number of cogs that the chain is made for, against those on the bike."""
    given, cogs = figures.bench.chain.cogs, len(figures.bench.rear.cogs)
    if given is None or cogs == 1:
        return None
    numbers = made_for(given)
    meant = f"made for {listed(numbers, 'or')} cogs"
    if cogs in numbers:
        return Check("chain make", Status.OK, cogs, numbers[-1], "cogs", meant)
    if cogs == min(numbers) - 1:
        say = f"{meant}, a little narrow for {cogs} ({COMMON}: often runs, may shift badly)"
        return Check("chain make", Status.CAUTION, cogs, min(numbers), "cogs", say, least=True, default=True)
    least = cogs < min(numbers)
    say = f"{meant}, not for {cogs}: fit a chain made for {cogs}"
    return Check(
        "chain make", Status.PROBLEM, cogs, min(numbers) if least else max(numbers), "cogs", say, least=least
    )


@for_chains
def joint(figures: Figures) -> Check | None:
    """The quick link or pin against its chain: made for as many cogs, and as wide."""
    chain = figures.bench.chain
    if chain.joint_cogs is None and chain.joint_width_mm is None:
        return None
    wrong_make = _wrong_make(figures)
    if wrong_make is not None:
        return wrong_make
    if chain.joint_width_mm is None:
        return _as_made(figures)
    if chain.outer_width_mm is None:
        return needs("chain joint", "mm", None, "chain.outer_width_mm")
    own = figures.bench.limits.joint_width_mm
    limit = JOINT_WIDTH_MM if own is None else own
    figure = abs(chain.joint_width_mm - chain.outer_width_mm)
    widths = f"joint {chain.joint_width_mm:g} mm, chain {chain.outer_width_mm:g} mm wide"
    if figure <= limit + _SAME:
        return Check("chain joint", Status.OK, figure, limit, "mm", widths, default=own is None)
    say = f"{widths}: it can open or bind; fit the joint made for this chain"
    return Check("chain joint", Status.PROBLEM, figure, limit, "mm", say, default=own is None)


def _wrong_make(figures: Figures) -> Check | None:
    """A joint made for other numbers of cogs than its chain, or than the bike has where nobody says."""
    chain, cogs = figures.bench.chain, len(figures.bench.rear.cogs)
    if chain.joint_cogs is None:
        return None
    numbers = made_for(chain.joint_cogs)
    wanted = (cogs,) if chain.cogs is None else made_for(chain.cogs)
    if set(numbers) & set(wanted) or (cogs == 1 and chain.cogs is None):
        return None
    say = (
        f"the joint is made for {listed(numbers, 'or')} cogs, the chain for {listed(wanted, 'or')}:"
        " it can open or bind; fit one made for this chain"
    )
    return Check("chain joint", Status.PROBLEM, numbers[0], wanted[0], "cogs", say)


def _as_made(figures: Figures) -> Check:
    numbers = made_for(figures.bench.chain.joint_cogs or ())
    say = f"made for {listed(numbers, 'or')} cogs"
    return Check("chain joint", Status.OK, numbers[0], numbers[-1], "cogs", say)


@for_chains
def joint_again(figures: Figures) -> Check | None:
    """A joint that has been closed before, against how often its maker lets it be."""
    chain = figures.bench.chain
    uses, most = chain.joint_uses, chain.joint_most_uses
    if uses is None:
        return None
    if most is None:
        return needs("joint again", "times", uses, "chain.joint_most_uses")
    bar = (float(uses), float(most))
    if uses > most:
        say = f"closed {count(uses, 'time')}, {most} as its maker states: take a new one, or it can open"
        return Check("joint again", Status.PROBLEM, uses, most, "times", say, bar)
    if uses == most:
        say = f"closed {count(uses, 'time')}, all that its maker states: once opened, take a new one"
        return Check("joint again", Status.CAUTION, uses, most, "times", say, bar)
    return Check("joint again", Status.OK, uses, most, "times", "as its maker states", bar)
