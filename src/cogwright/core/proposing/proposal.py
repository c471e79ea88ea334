"""What every search hands back: a proposal, with its figures, its swaps, its price and its reasons."""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import zip_longest
from typing import NamedTuple

from cogwright.core.gears.gears import gears_of
from cogwright.core.gears.steps import rear_steps
from cogwright.core.proposing.lost_range import LostRange
from cogwright.core.setup.edits import Become
from cogwright.core.setup.model import Setup
from cogwright.core.worksheet.sheet import Item


@dataclass(frozen=True, slots=True)
class Swap:
    """One cog leaves and one comes; None where there is no counterpart."""

    out: int | None
    into: int | None

    def say(self) -> str:
        """The swap in a few words.

        >>> Swap(15, 16).say(), Swap(None, 36).say(), Swap(11, None).say()
        ('15 to 16', '36 in', '11 out')
        """
        if self.out is None:
            return f"{self.into} in"
        return f"{self.out} out" if self.into is None else f"{self.out} to {self.into}"


def swaps_between(have: Sequence[int], want: Sequence[int]) -> tuple[Swap, ...]:
    """What leaves and what comes between two sets of sprockets, paired from the smallest.

    >>> [s.say() for s in swaps_between((11, 13, 15, 18), (11, 12, 15, 17))]
    ['13 to 12', '18 to 17']
    """
    gone = sorted(set(have) - set(want))
    come = sorted(set(want) - set(have))
    return tuple(Swap(out, into) for out, into in zip_longest(gone, come))


class Judged(NamedTuple):
    """What the fit checks say: problems and cautions in sentences, and the names of those that want facts."""

    problems: tuple[str, ...] = ()
    unchecked: tuple[str, ...] = ()
    cautions: tuple[str, ...] = ()


@dataclass(frozen=True)
class Proposal:
    """A setup worth considering.

    `parts` are those that make it of the bike as it is, the very list of its order sheet; `cost` is their sum
    in the bin's currency, None while one of them has no price. `fits` names them by the bin's names.
    `problems` and `cautions` are sentences of the fit checks, `unchecked` the names of those that want facts;
    `marks` are the short words it is picked out with in a list, `reasons` sentences that say why it stands
    there, `notes` what to mind.
    `change` is that of the lowest and of the highest development against the baseline's, in %, where the
    search weighs one against the other.
    """

    kind: str
    setup: Setup
    title: str
    swaps: tuple[Swap, ...] = ()
    lost: LostRange | None = None
    parts: tuple[Item, ...] = ()
    cost: float | None = None
    currency: str = ""
    fits: tuple[str, ...] = ()
    problems: tuple[str, ...] = ()
    unchecked: tuple[str, ...] = ()
    cautions: tuple[str, ...] = ()
    marks: tuple[str, ...] = ()
    reasons: tuple[str, ...] = ()
    notes: tuple[str, ...] = ()
    meets: bool = True
    change: tuple[float, float] | None = None

    @property
    def rings(self) -> tuple[int, ...]:
        """Rings, ascending."""
        return self.setup.crank.rings

    @property
    def cogs(self) -> tuple[int, ...]:
        """Cogs, ascending."""
        return self.setup.rear.cogs

    @cached_property
    def _ends(self) -> tuple[float, float]:
        gears = gears_of(self.setup)
        return gears[0].development_m, gears[-1].development_m

    @property
    def low_m(self) -> float:
        """Lowest development, m."""
        return self._ends[0]

    @property
    def high_m(self) -> float:
        """Highest development, m."""
        return self._ends[1]

    @cached_property
    def worst_step_pct(self) -> float:
        """The largest step of one rear click, in %; 0 where there is nothing to click."""
        found = rear_steps(gears_of(self.setup), self.setup.limits.jump_pct)
        return max((step.step_pct for step in found), default=0.0)

    def edit(self) -> Become:
        """The proposal as one edit, to be taken onto the bench and undone in one step."""
        return Become(self.setup, self.title)
