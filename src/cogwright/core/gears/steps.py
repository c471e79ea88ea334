"""How the gears ride: steps between neighbours, rear steps on each ring, overlap, distinct gears."""

from collections.abc import Sequence
from itertools import groupby, pairwise
from statistics import median
from typing import Final, NamedTuple

from cogwright.core.common.units import percent
from cogwright.core.gears.gears import Gear, sort_gears

#: A step over this many times the limit stands out whatever lies around it. Our own rule.
BIG_JUMP: Final = 1.5
#: A step over the limit stands out when it is over this many times the median of the steps around it
#: (common practice, no source; `limits.stands_out_times` of the setup wins).
STANDS_OUT_TIMES: Final = 1.3
#: How many steps on either side are around a step. Our own rule.
_AROUND: Final = 2
#: Steps and limits within this of each other are the same, %: rounding must not flag a step at the limit.
TOLERANCE_PCT: Final = 1e-9


class RearStep(NamedTuple):
    """One click of the rear shifter (or hub gear), from an easier gear to the next harder one on a ring.

    A step over the limit is wide (`jump`, as reports have always called it). One that is out of keeping
    with the steps around it as well is the jump that a rider feels and a mechanic mends (`stands_out`):
    `around_pct` is the median of the steps around it on the ring, None where there are none. The steps inside
    a hub are built into it, so none of them is flagged.
    """

    easier: Gear
    harder: Gear
    step_pct: float
    limit_pct: float
    around_pct: float | None = None
    times: float = STANDS_OUT_TIMES

    @property
    def in_hub(self) -> bool:
        """Whether it is one of the hub's own steps, which no sprocket changes."""
        return self.easier.hub != self.harder.hub

    @property
    def jump(self) -> bool:
        """Whether the step is wide: over the limit."""
        return not self.in_hub and _over(self.step_pct, self.limit_pct)

    @property
    def big_jump(self) -> bool:
        """Whether the step is over one and a half times the limit."""
        return not self.in_hub and _over(self.step_pct, BIG_JUMP * self.limit_pct)

    @property
    def stands_out(self) -> bool:
        """Whether the step is wide and out of keeping with the steps around it: a jump to mend."""
        return self.jump and _stands_out(self.step_pct, self.limit_pct, self.around_pct, self.times)


def _over(step_pct: float, limit_pct: float) -> bool:
    return step_pct > limit_pct + TOLERANCE_PCT


def _stands_out(step_pct: float, limit_pct: float, around_pct: float | None, times: float) -> bool:
    """Whether a step over the limit is out of keeping with those around it, or large whatever they are."""
    uneven = around_pct is not None and _over(step_pct, times * around_pct)
    return uneven or _over(step_pct, BIG_JUMP * limit_pct)


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


def around(steps: Sequence[float], at: int) -> float | None:
    """The median of the steps around one of a ladder: two on either side, as far as there are any.

    >>> around([13.0, 13.0, 19.0, 13.0, 14.0], 2), around([13.0], 0)
    (13.0, None)
    """
    others = [*steps[max(at - _AROUND, 0) : at], *steps[at + 1 : at + 1 + _AROUND]]
    return median(others) if others else None


def ladder_marks(sizes: Sequence[float], limit_pct: float, times: float) -> tuple[int, int]:
    """How many of a ladder's steps (%, in order) are jumps to mend, and how many are wide.

    >>> ladder_marks([15.4, 26.7, 15.8, 13.6, 12.0], 15.0, 1.3)
    (1, 3)
    """
    wide = [at for at, size in enumerate(sizes) if _over(size, limit_pct)]
    jumps = sum(_stands_out(sizes[at], limit_pct, around(sizes, at), times) for at in wide)
    return jumps, len(wide)


def rear_steps(
    gears: Sequence[Gear], limit_pct: float, times: float = STANDS_OUT_TIMES
) -> tuple[RearStep, ...]:
    """Steps of one click, ring by ring from the smallest, each ring's in ascending development.

    The clicks are those of the cassette, in each gear of the hub behind it where there is one; with
    one cog they are those of the hub gear.
    """
    many_cogs = len({g.cog for g in gears}) > 1

    def ladder(gear: Gear) -> tuple[int, float]:
        return (gear.ring, gear.hub if many_cogs else 1.0)

    found: list[RearStep] = []
    for _, rung in groupby(sorted(gears, key=ladder), key=ladder):
        on_it = sort_gears(rung)
        sizes = steps_pct([gear.development_m for gear in on_it])
        found += (
            RearStep(*pair, step, limit_pct, around(sizes, at), times)
            for at, (pair, step) in enumerate(zip(pairwise(on_it), sizes, strict=True))
        )
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
