"""How to shift a setup: an order of gears from easiest to hardest that a rider can learn.

Gears are the points of a graph, and a shift from one to a harder one is its edge. The order is the path
from the easiest to the hardest gear that is best by, in this order: changes of range (of the ring, or of a
hub gear behind a cassette) that feel no larger than the jump limit; least effort, one for a click at the
back and `FRONT_EFFORT` for a front change; most even steps. Gears too close to tell apart never follow each
other; gears that are left out are not in the graph. Rings whose gears interleave are ridden otherwise:
through every distinct gear that they have, and a third ring only where it goes beyond them.
"""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property, lru_cache
from itertools import pairwise
from typing import Final

from cogwright.core.figures import Figures
from cogwright.core.gears.gears import Gear
from cogwright.core.gears.steps import TOLERANCE_PCT, overlap_groups
from cogwright.core.setup.model import Setup
from cogwright.core.shifting.levers import Levers, Move, levers_of
from cogwright.core.shifting.pattern import Interleaved, interleaved

#: A file may ask for more gears than any bike has; of those only some are searched, this far apart in %.
MANY: Final = 200
MANY_APART_PCT: Final = 2.5

#: What a shift costs: (log of a range change's step over the limit, effort, square of the step's log).
Cost = tuple[float, float, float]
_NOTHING: Final[Cost] = (0.0, 0.0, 0.0)


@dataclass(frozen=True)
class ShiftOrder:
    """A shift order: its moves from the easiest gear, and the gears left out with the reasons.

    `every` is the order through every distinct gear, whatever shifts it takes.
    """

    setup: Setup
    moves: tuple[Move, ...]
    every: tuple[Move, ...]
    left_out: Mapping[Gear, str]

    @cached_property
    def gears(self) -> tuple[Gear, ...]:
        """The gears in order."""
        return tuple(move.gear for move in self.moves)

    @property
    def interleaved(self) -> Interleaved | None:
        """The rings whose gears lie between each other's, if any do."""
        return interleaved(self.setup)

    @cached_property
    def range_changes(self) -> tuple[tuple[Gear, Move], ...]:
        """Where the front, or the hub behind a cassette, is changed: the gear before, and the move."""
        pairs = zip(self.gears, self.moves[1:], strict=False)
        return tuple((gear, move) for gear, move in pairs if move.changes_range)

    @cached_property
    def crossings(self) -> tuple[tuple[Gear, Move], ...]:
        """The changes of range but those between rings that interleave, which are no such thing."""
        pair = self.interleaved.rings if self.interleaved else ()
        return tuple(
            (gear, move) for gear, move in self.range_changes if not {gear.ring, move.gear.ring} <= {*pair}
        )

    @property
    def double_shifts(self) -> int:
        """How many shifts take two shifters at once."""
        return sum(move.double for move in self.moves)

    @property
    def double_shifts_every(self) -> int:
        """How many the order through every distinct gear takes."""
        return sum(move.double for move in self.every)

    @property
    def effort(self) -> float:
        """Effort of the whole order."""
        return sum(move.effort for move in self.moves)


@lru_cache(maxsize=8)
def shift_order_of(figures: Figures) -> ShiftOrder:
    """The order to shift a bench in; kept for the benches last seen."""
    setup, gears = figures.bench, figures.gears
    out = figures.left_out
    usable = _few([gear for gear in gears if gear not in out], setup.limits.overlap_pct)
    levers, limits = levers_of(setup), setup.limits
    groups = overlap_groups(usable, limits.overlap_pct)
    pair = interleaved(setup)
    if pair is None:
        path = best_path(usable, levers, limits.overlap_pct, limits.jump_pct)
    else:
        path = every_path(overlap_groups(_taken_by_turns(usable, pair), limits.overlap_pct), levers)
    return ShiftOrder(setup, moves_along(path, levers), moves_along(every_path(groups, levers), levers), out)


def _taken_by_turns(gears: Sequence[Gear], pair: Interleaved) -> list[Gear]:
    """The gears of rings that interleave, and those of other rings that go beyond them at either end."""
    own = [gear for gear in gears if gear.ring in pair.rings]
    if not own:
        return list(gears)
    low, high = own[0].development_m, own[-1].development_m
    return [
        gear
        for gear in gears
        if gear.ring in pair.rings
        or (gear.ring < pair.rings[0] and gear.development_m < low)
        or (gear.ring > pair.rings[1] and gear.development_m > high)
    ]


def _few(gears: list[Gear], overlap_pct: float) -> list[Gear]:
    """Gears few enough to search: of more than any bike has, one of each group too close to tell apart."""
    if len(gears) <= MANY:
        return gears
    return [group[0] for group in overlap_groups(gears, max(overlap_pct, MANY_APART_PCT))]


def moves_along(path: Sequence[Gear], levers: Levers) -> tuple[Move, ...]:
    """The moves of a path; the first leads nowhere."""
    rest = (levers.move(a, b) for a, b in pairwise(path))
    return (Move(path[0]), *rest)


def best_path(
    gears: Sequence[Gear], levers: Levers, overlap_pct: float, jump_pct: float = math.inf
) -> tuple[Gear, ...]:
    """The best order of shifts from the first to the last of gears ascending by development.

    Every shift leads to a harder gear by more than the overlap limit and moves the front by one at most.
    Where the last gear cannot be reached so, the order ends at the hardest one that can.
    """
    best: list[tuple[Cost, int] | None] = [None] * len(gears)
    best[0] = (_NOTHING, -1)
    for j in range(1, len(gears)):
        for i in range(j):
            known, move = best[i], levers.move(gears[i], gears[j])
            if known is None or not _allowed(move, overlap_pct):
                continue
            cost = _add(known[0], cost_of(move, jump_pct))
            now = best[j]
            if now is None or cost < now[0]:
                best[j] = (cost, i)
    return tuple(gears[i] for i in _trace(best))


def _allowed(move: Move, overlap_pct: float) -> bool:
    assert move.step_pct is not None
    return abs(move.front) <= 1 and move.step_pct > overlap_pct + TOLERANCE_PCT


def cost_of(move: Move, jump_pct: float) -> Cost:
    """What a shift to a harder gear costs."""
    step = math.log1p((move.step_pct or 0.0) / 100.0)
    over = max(0.0, step - math.log1p(jump_pct / 100.0)) if move.changes_range else 0.0
    return (round(over, 9), move.effort, round(step * step, 9))


def _add(one: Cost, other: Cost) -> Cost:
    return (round(one[0] + other[0], 9), one[1] + other[1], round(one[2] + other[2], 9))


def _trace(best: Sequence[tuple[Cost, int] | None]) -> list[int]:
    at = max(i for i, found in enumerate(best) if found is not None)
    path = []
    while at >= 0:
        path.append(at)
        step = best[at]
        assert step is not None
        at = step[1]
    return path[::-1]


def every_path(groups: Sequence[Sequence[Gear]], levers: Levers) -> tuple[Gear, ...]:
    """One gear of every group of gears too close to tell apart, in order, for the least effort in all."""
    known: list[_Path] = [(0.0, (gear,)) for gear in groups[0]]
    for group in groups[1:]:
        known = [min((_longer(path, gear, levers) for path in known), key=_effort) for gear in group]
    return min(known, key=_effort)[1]


_Path = tuple[float, tuple[Gear, ...]]


def _longer(path: _Path, gear: Gear, levers: Levers) -> _Path:
    return path[0] + levers.move(path[1][-1], gear).effort, (*path[1], gear)


def _effort(path: _Path) -> float:
    return path[0]
