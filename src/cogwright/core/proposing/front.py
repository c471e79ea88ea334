"""Changes that no other change beats in lost range, largest step and price at once; and near misses."""

import math
from collections.abc import Sequence
from typing import NamedTuple

from cogwright.core.proposing.goal import CENT, SAME, Miss
from cogwright.core.proposing.hardware import Hardware
from cogwright.core.proposing.lost_range import LostRange
from cogwright.core.proposing.space import RingSet, Variant


class PlannedChange(NamedTuple):
    """A change: its parts and its figures. `worst` is the largest step as a ratio."""

    rings: RingSet
    variant: Variant
    hardware: Hardware
    lost: LostRange
    low_m: float
    high_m: float
    worst: float
    cost: float

    @property
    def aims(self) -> tuple[float, float, float]:
        """Lost range (log), largest step (log), price: less is better."""
        return self.lost.low + self.lost.high, math.log(self.worst), self.cost


def covers(one: tuple[float, float, float], other: tuple[float, float, float]) -> bool:
    """Whether one change is as good as another in every aim.

    >>> covers((0.1, 0.2, 30.0), (0.1, 0.3, 30.0)), covers((0.1, 0.2, 31.0), (0.1, 0.3, 30.0))
    (True, False)
    """
    return one[0] <= other[0] + SAME and one[1] <= other[1] + SAME and one[2] <= other[2] + CENT


class Front:
    """The changes that no other one covers; of equal ones the one that came first."""

    def __init__(self) -> None:
        self.changes: list[PlannedChange] = []
        self._aims: list[tuple[float, float, float]] = []

    def covered(self, aims: tuple[float, float, float]) -> bool:
        """Whether a change there is as good in every aim."""
        return any(covers(there, aims) for there in self._aims)

    def add(self, change: PlannedChange) -> None:
        """Take a change in, and those out that it covers."""
        aims = change.aims
        if self.covered(aims):
            return
        kept = [at for at, there in enumerate(self._aims) if not covers(aims, there)]
        self.changes = [*(self.changes[at] for at in kept), change]
        self._aims = [*(self._aims[at] for at in kept), aims]


def ranked(changes: Sequence[PlannedChange]) -> list[PlannedChange]:
    """The changes by balance: each aim scaled from 0 for the best to 1 for the worst, and added up."""
    scores = {id(change): score for change, score in zip(changes, _scores(changes), strict=True)}
    return sorted(changes, key=lambda change: (round(scores[id(change)], 9), change.cost, change.lost.low))


def _scores(changes: Sequence[PlannedChange]) -> list[float]:
    aims = [change.aims for change in changes]
    least = [min(column) for column in zip(*aims, strict=True)]
    most = [max(column) for column in zip(*aims, strict=True)]
    spans = [high - low if high - low > SAME else math.inf for low, high in zip(least, most, strict=True)]
    return [sum((x - low) / span for x, low, span in zip(a, least, spans, strict=True)) for a in aims]


class NearMisses:
    """The change that misses least in all, and for each limit the one that misses least but that alone."""

    def __init__(self) -> None:
        self.nearest: tuple[tuple[int, float, float], PlannedChange] | None = None
        self.alone: dict[str, tuple[tuple[float, float], PlannedChange]] = {}

    @property
    def changes(self) -> tuple[PlannedChange, ...]:
        """The nearest, then those that miss one limit alone, where the nearest misses another or more."""
        if self.nearest is None:
            return ()
        (problems, *nearest), change = self.nearest
        others = sorted(self.alone.values(), key=lambda pair: pair[0])
        return (change, *(other for key, other in others if problems or list(key) != nearest))

    def hopeless(self, miss: Miss) -> bool:
        """Whether a change that misses this much, and may cost more yet, is worse than what is there."""
        if self.nearest is None or self.nearest[0][0] or miss.total <= self.nearest[0][1]:
            return False
        missed = miss.missed
        return len(missed) > 1 or (missed[0] in self.alone and miss.total > self.alone[missed[0]][0][0])

    def add(self, change: PlannedChange, miss: Miss) -> None:
        """Look at a change that does not meet the goal."""
        problems, key, missed = len(change.hardware.problems), (miss.total, change.cost), miss.missed
        if self.nearest is None or (problems, *key) < self.nearest[0]:
            self.nearest = (problems, *key), change
        if not problems and len(missed) == 1:
            before = self.alone.get(missed[0])
            if before is None or key < before[0]:
                self.alone[missed[0]] = key, change
