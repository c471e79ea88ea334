"""What a change costs: range lost and gained against a baseline, and holes within it."""

import math
from collections.abc import Container, Sequence
from typing import NamedTuple

from cogwright.core.common.units import percent
from cogwright.core.gears.gears import Gear
from cogwright.core.gears.steps import TOLERANCE_PCT, overlap_groups
from cogwright.core.gears.stood_before import apart, nearest


class Hole(NamedTuple):
    """A baseline gear inside the bench's range, its nearest bench gear, and how far that is off in %."""

    gear: Gear
    nearest: Gear
    away_pct: float


class Comparison(NamedTuple):
    """The bench against the baseline; changes are bench over baseline minus one, in %, signed."""

    low_change_pct: float
    high_change_pct: float
    lost_low: tuple[Gear, ...]
    lost_high: tuple[Gear, ...]
    gained_low: tuple[Gear, ...]
    gained_high: tuple[Gear, ...]
    holes: tuple[Hole, ...]
    worst_hole_pct: float


class AsFelt(NamedTuple):
    """The gears of a comparison that a rider misses or wins: usable ones, and of twins one.

    The lists of the comparison itself are whole; these are part of them.
    """

    lost_low: tuple[Gear, ...]
    lost_high: tuple[Gear, ...]
    gained_low: tuple[Gear, ...]
    gained_high: tuple[Gear, ...]

    @property
    def lost(self) -> int:
        """How many gears are lost at both ends."""
        return len(self.lost_low) + len(self.lost_high)

    @property
    def gained(self) -> int:
        """How many are gained."""
        return len(self.gained_low) + len(self.gained_high)


def as_felt(
    of: Comparison, bench_out: Container[Gear], base_out: Container[Gear], overlap_pct: float
) -> AsFelt:
    """What of a comparison is felt; `bench_out` and `base_out` are the gears that each leaves out."""
    return AsFelt(
        lost_low=_felt(of.lost_low, base_out, overlap_pct),
        lost_high=_felt(of.lost_high, base_out, overlap_pct),
        gained_low=_felt(of.gained_low, bench_out, overlap_pct),
        gained_high=_felt(of.gained_high, bench_out, overlap_pct),
    )


def _felt(gears: Sequence[Gear], out: Container[Gear], overlap_pct: float) -> tuple[Gear, ...]:
    usable = [gear for gear in gears if gear not in out]
    return tuple(group[0] for group in overlap_groups(usable, overlap_pct))


def hole_limit_pct(jump_pct: float) -> float:
    """How far a baseline gear may be from the nearest bench gear before it counts as missed, in %.

    In a ladder whose every step is just at the jump limit no wanted gear is farther than half a step
    (in the logarithm) from one of its rungs; what is farther than that is a hole. Our own rule.

    >>> round(hole_limit_pct(15.0), 2)
    7.24
    """
    return percent(math.sqrt(1.0 + jump_pct / 100.0))


def compare(bench: Sequence[Gear], base: Sequence[Gear], overlap_pct: float, jump_pct: float) -> Comparison:
    """Compare two sets of gears, each ascending by development; one off by just the limit is not lost."""
    low, high = bench[0].development_m, bench[-1].development_m
    base_low, base_high = base[0].development_m, base[-1].development_m
    near = 1.0 + (overlap_pct + TOLERANCE_PCT) / 100.0
    distances = tuple(_nearest(g, bench) for g in base if low <= g.development_m <= high)
    limit = hole_limit_pct(jump_pct)
    return Comparison(
        low_change_pct=percent(low / base_low),
        high_change_pct=percent(high / base_high),
        lost_low=tuple(g for g in base if g.development_m * near < low),
        lost_high=tuple(g for g in base if g.development_m > high * near),
        gained_low=tuple(g for g in bench if g.development_m * near < base_low),
        gained_high=tuple(g for g in bench if g.development_m > base_high * near),
        holes=tuple(hole for hole in distances if hole.away_pct > limit),
        worst_hole_pct=max((hole.away_pct for hole in distances), default=0.0),
    )


def _nearest(gear: Gear, bench: Sequence[Gear]) -> Hole:
    """A baseline gear against the nearest of the bench."""
    near = nearest(gear, bench)
    return Hole(gear, near, percent(math.exp(apart(gear, near))))
