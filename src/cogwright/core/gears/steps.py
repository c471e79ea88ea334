"""How the gears ride: steps between neighbours, rear steps on each ring, overlap, distinct gears."""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import groupby, pairwise
from typing import Final

from cogwright.core.common.units import percent
from cogwright.core.gears.gears import Gear, sort_gears

#: A jump over this many times the limit is marked twice, so that the worst stands out. Our own rule.
BIG_JUMP: Final = 1.5
#: Steps and limits within this of each other are the same, %: rounding must not flag a step at the limit.
TOLERANCE_PCT: Final = 1e-9


@dataclass(frozen=True, slots=True)
class RearStep:
    """One click of the rear shifter (or hub gear), from an easier gear to the next harder one on a ring."""

    easier: Gear
    harder: Gear
    step_pct: float
    limit_pct: float

    @property
    def jump(self) -> bool:
        """Whether the step is over the limit."""
        return self.step_pct > self.limit_pct + TOLERANCE_PCT

    @property
    def big_jump(self) -> bool:
        """Whether the step is over one and a half times the limit."""
        return self.step_pct > BIG_JUMP * self.limit_pct + TOLERANCE_PCT


def steps_pct(developments: Sequence[float]) -> tuple[float, ...]:
    """Growth in % from each development (m, ascending) to the next: one fewer than there are gears.

    >>> [round(s, 1) for s in steps_pct([1 / 34, 1 / 28, 1 / 24])]
    [21.4, 16.7]
    """
    return tuple(percent(harder / easier) for easier, harder in pairwise(developments))


def range_pct(developments: Sequence[float]) -> float:
    """Highest development over lowest, in %: 11-44 on one ring is 400 %.

    >>> range_pct([40 / 44, 40 / 11])
    400.0
    """
    return 100.0 * max(developments) / min(developments)


def rear_steps(gears: Sequence[Gear], limit_pct: float) -> tuple[RearStep, ...]:
    """Steps of one click, ring by ring from the smallest, each ring's in ascending development.

    The clicks are those of the cassette, in each gear of the hub behind it where there is one; with
    one cog they are those of the hub gear.
    """
    many_cogs = len({g.cog for g in gears}) > 1

    def ladder(gear: Gear) -> tuple[int, float]:
        return (gear.ring, gear.hub if many_cogs else 1.0)

    found: list[RearStep] = []
    for _, rung in groupby(sorted(gears, key=ladder), key=ladder):
        for easier, harder in pairwise(sort_gears(rung)):
            step = percent(harder.development_m / easier.development_m)
            found.append(RearStep(easier, harder, step, limit_pct))
    return tuple(found)


def overlap_groups(gears: Sequence[Gear], limit_pct: float) -> tuple[tuple[Gear, ...], ...]:
    """Gears a rider cannot tell apart: walking up, one within the limit of its group's first joins it.

    `gears` ascend by development. The number of groups is the number of distinct gears. A step of just
    the limit is one that a rider feels; equal gears are one gear even at a limit of nothing.
    """
    groups: list[list[Gear]] = []
    for gear in gears:
        if groups and _alike(groups[-1][0], gear, limit_pct):
            groups[-1].append(gear)
        else:
            groups.append([gear])
    return tuple(map(tuple, groups))


def _alike(first: Gear, gear: Gear, limit_pct: float) -> bool:
    step = percent(gear.development_m / first.development_m)
    return step < limit_pct - TOLERANCE_PCT or step <= TOLERANCE_PCT
