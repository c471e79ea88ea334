"""Kits that no other kit beats in lost range, largest step, price, doubt and use; and near misses."""

import math
from collections.abc import Sequence
from typing import NamedTuple

from cogwright.core.proposing.goal import CENT, SAME, Miss
from cogwright.core.proposing.kit import Kit
from cogwright.core.proposing.lost_range import LostRange
from cogwright.core.proposing.served import SAME_S

Aims = tuple[float, ...]


class PlannedKit(NamedTuple):
    """A kit and its figures: `worst` is the largest step as a ratio, `cost` that of the parts with a price.

    `unpriced` parts have none; `loose` says that nothing is known to keep the chain on a ring that is to be
    the only one; `problems` counts the checks that it does not pass. `outside_s` is the time in s for which
    no gear serves where the kit is to serve; None where nobody said where.
    """

    kit: Kit
    lost: LostRange
    low_m: float
    high_m: float
    worst: float
    cost: float
    unpriced: int = 0
    loose: bool = False
    problems: int = 0
    outside_s: float | None = None

    @property
    def aims(self) -> Aims:
        """Lost range (log), largest step (log), price, doubts, and any time outside: less is better."""
        outside = () if self.outside_s is None else (self.outside_s,)
        doubts = self.unpriced + self.loose
        return (self.lost.low + self.lost.high, math.log(self.worst), self.cost, doubts, *outside)


def covers(one: Aims, other: Aims) -> bool:
    """Whether one kit is as good as another in every aim.

    >>> covers((0.1, 0.2, 30.0, 0), (0.1, 0.3, 30.0, 0)), covers((0.1, 0.2, 31.0, 0), (0.1, 0.3, 30.0, 0))
    (True, False)
    """
    return (
        one[0] <= other[0] + SAME
        and one[1] <= other[1] + SAME
        and one[2] <= other[2] + CENT
        and one[3] <= other[3]
        and all(a <= b + SAME_S for a, b in zip(one[4:], other[4:], strict=True))
    )


class Front:
    """The kits that no other one covers; of equal ones the one that came first."""

    def __init__(self) -> None:
        self.kits: list[PlannedKit] = []
        self._aims: list[Aims] = []

    def covered(self, aims: Aims) -> bool:
        """Whether a kit there is as good in every aim."""
        return any(covers(there, aims) for there in self._aims)

    def add(self, planned: PlannedKit) -> None:
        """Take a kit in, and those out that it covers."""
        aims = planned.aims
        if self.covered(aims):
            return
        kept = [at for at, there in enumerate(self._aims) if not covers(aims, there)]
        self.kits = [*(self.kits[at] for at in kept), planned]
        self._aims = [*(self._aims[at] for at in kept), aims]


def ranked(kits: Sequence[PlannedKit]) -> list[PlannedKit]:
    """The kits by balance: each aim scaled from 0 for the best to 1 for the worst, and added up."""
    scores = dict(zip(map(id, kits), _scores(kits), strict=True))
    return sorted(kits, key=lambda kit: (round(scores[id(kit)], 9), kit.cost, kit.lost.low))


def _scores(kits: Sequence[PlannedKit]) -> list[float]:
    aims = [kit.aims for kit in kits]
    least = [min(column) for column in zip(*aims, strict=True)]
    most = [max(column) for column in zip(*aims, strict=True)]
    spans = [high - low if high - low > SAME else math.inf for low, high in zip(least, most, strict=True)]
    return [sum((x - low) / span for x, low, span in zip(a, least, spans, strict=True)) for a in aims]


class NearMisses:
    """The kit that misses least in all, and for each limit the one that misses least but that alone."""

    def __init__(self) -> None:
        self.nearest: tuple[tuple[int, float, float], PlannedKit] | None = None
        self.alone: dict[str, tuple[tuple[float, float], PlannedKit]] = {}

    @property
    def kits(self) -> tuple[PlannedKit, ...]:
        """The nearest, then those that miss one limit alone, where the nearest misses another or more."""
        if self.nearest is None:
            return ()
        (problems, *nearest), kit = self.nearest
        others = sorted(self.alone.values(), key=lambda pair: pair[0])
        return (kit, *(other for key, other in others if problems or list(key) != nearest))

    def hopeless(self, miss: Miss) -> bool:
        """Whether a kit that misses this much, and may cost more yet, is worse than what is there."""
        if self.nearest is None or self.nearest[0][0] or miss.total <= self.nearest[0][1]:
            return False
        missed = miss.missed
        return len(missed) > 1 or (missed[0] in self.alone and miss.total > self.alone[missed[0]][0][0])

    def add(self, planned: PlannedKit, miss: Miss) -> None:
        """Look at a kit that does not meet the goal."""
        key, missed = (miss.total, planned.cost), miss.missed
        if self.nearest is None or (planned.problems, *key) < self.nearest[0]:
            self.nearest = (planned.problems, *key), planned
        if not planned.problems and len(missed) == 1:
            before = self.alone.get(missed[0])
            if before is None or key < before[0]:
                self.alone[missed[0]] = key, planned
