"""Changes that no other change beats in lost range, largest step and price at once; and near misses."""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final, NamedTuple

from cogwright.core.proposing.hardware import Hardware
from cogwright.core.proposing.result import Lost
from cogwright.core.proposing.space import CENT, RingSet, Variant

#: Lengths (m), logs and ratios within this of each other are the same.
SAME: Final = 1e-9


@dataclass(frozen=True, slots=True)
class Goal:
    """What the change must reach. Developments in m, cost in the bin's currency, the largest step in %."""

    low_at_most_m: float | None = None
    high_at_least_m: float | None = None
    cost_at_most: float | None = None
    jump_at_most_pct: float | None = None


class Entry(NamedTuple):
    """A change: its parts and its figures. `worst` is the largest step as a ratio."""

    rings: RingSet
    variant: Variant
    hardware: Hardware
    lost: Lost
    low_m: float
    high_m: float
    worst: float
    cost: float

    @property
    def aims(self) -> tuple[float, float, float]:
        """Lost range (log), largest step (log), price: less is better."""
        return self.lost.low + self.lost.high, math.log(self.worst), self.cost


class Miss(NamedTuple):
    """By how much a change misses each limit, as a share of it; 0 where it is kept."""

    low: float
    high: float
    cost: float
    jump: float

    @property
    def total(self) -> float:
        """All shares added up."""
        return sum(self)

    @property
    def missed(self) -> tuple[str, ...]:
        """The limits that are missed."""
        return tuple(name for name, by in zip(self._fields, self, strict=True) if by > SAME)


def miss_of(goal: Goal, low_m: float, high_m: float, worst: float, cost: float) -> Miss:
    """What a change misses of a goal."""
    return Miss(
        low=_over(low_m, goal.low_at_most_m),
        high=_over(1.0 / high_m, 1.0 / goal.high_at_least_m if goal.high_at_least_m else None),
        cost=_cost_over(cost, goal.cost_at_most),
        jump=_over(worst, None if goal.jump_at_most_pct is None else 1.0 + goal.jump_at_most_pct / 100.0),
    )


def _over(figure: float, limit: float | None) -> float:
    return 0.0 if limit is None or figure <= limit * (1.0 + SAME) else figure / limit - 1.0


def _cost_over(cost: float, limit: float | None) -> float:
    # Over a limit of nothing any price is endlessly much, so that limits under 1 count as 1.
    return 0.0 if limit is None or cost <= limit + CENT else (cost - limit) / max(limit, 1.0)


def covers(one: tuple[float, float, float], other: tuple[float, float, float]) -> bool:
    """Whether one change is as good as another in every aim.

    >>> covers((0.1, 0.2, 30.0), (0.1, 0.3, 30.0)), covers((0.1, 0.2, 31.0), (0.1, 0.3, 30.0))
    (True, False)
    """
    return one[0] <= other[0] + SAME and one[1] <= other[1] + SAME and one[2] <= other[2] + CENT


class Front:
    """The changes that no other one covers; of equal ones the one that came first."""

    def __init__(self) -> None:
        self.entries: list[Entry] = []
        self._aims: list[tuple[float, float, float]] = []

    def covered(self, aims: tuple[float, float, float]) -> bool:
        """Whether a change there is as good in every aim."""
        return any(covers(there, aims) for there in self._aims)

    def add(self, entry: Entry) -> None:
        """Take a change in, and those out that it covers."""
        aims = entry.aims
        if self.covered(aims):
            return
        kept = [at for at, there in enumerate(self._aims) if not covers(aims, there)]
        self.entries = [*(self.entries[at] for at in kept), entry]
        self._aims = [*(self._aims[at] for at in kept), aims]


def ranked(entries: Sequence[Entry]) -> list[Entry]:
    """The changes by balance: each aim scaled from 0 for the best to 1 for the worst, and added up."""
    scores = {id(entry): score for entry, score in zip(entries, _scores(entries), strict=True)}
    return sorted(entries, key=lambda entry: (round(scores[id(entry)], 9), entry.cost, entry.lost.low))


def _scores(entries: Sequence[Entry]) -> list[float]:
    aims = [entry.aims for entry in entries]
    least = [min(column) for column in zip(*aims, strict=True)]
    most = [max(column) for column in zip(*aims, strict=True)]
    spans = [high - low if high - low > SAME else math.inf for low, high in zip(least, most, strict=True)]
    return [sum((x - low) / span for x, low, span in zip(a, least, spans, strict=True)) for a in aims]


class NearMisses:
    """The change that misses least in all, and for each limit the one that misses least but that alone."""

    def __init__(self) -> None:
        self.nearest: tuple[tuple[int, float, float], Entry] | None = None
        self.alone: dict[str, tuple[tuple[float, float], Entry]] = {}

    @property
    def entries(self) -> tuple[Entry, ...]:
        """The nearest, then those that miss one limit alone, where the nearest misses another or more."""
        if self.nearest is None:
            return ()
        (problems, *nearest), entry = self.nearest
        others = sorted(self.alone.values(), key=lambda pair: pair[0])
        return (entry, *(other for key, other in others if problems or list(key) != nearest))

    def hopeless(self, miss: Miss) -> bool:
        """Whether a change that misses this much, and may cost more yet, is worse than what is there."""
        if self.nearest is None or self.nearest[0][0] or miss.total <= self.nearest[0][1]:
            return False
        missed = miss.missed
        return len(missed) > 1 or (missed[0] in self.alone and miss.total > self.alone[missed[0]][0][0])

    def add(self, entry: Entry, miss: Miss) -> None:
        """Look at a change that does not meet the goal."""
        problems, key, missed = len(entry.hardware.problems), (miss.total, entry.cost), miss.missed
        if self.nearest is None or (problems, *key) < self.nearest[0]:
            self.nearest = (problems, *key), entry
        if not problems and len(missed) == 1:
            before = self.alone.get(missed[0])
            if before is None or key < before[0]:
                self.alone[missed[0]] = key, entry
