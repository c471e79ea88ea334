"""The shifting drill: the program calls for the next gear, the rider answers with the shifters.

A drill is a value: each key gives a new one. A question stands until it is answered; the answer is where
the shifters lead, and right when that is the gear called for or one too close to tell from it.
"""

import random
from dataclasses import dataclass, replace
from typing import Final, Literal, Self

from cogwright.core.common.units import percent
from cogwright.core.gears.gears import Gear
from cogwright.core.gears.steps import TOLERANCE_PCT
from cogwright.core.shifting.levers import Levers, Move, levers_of
from cogwright.core.shifting.shift_order import ShiftOrder

Call = Literal["easier", "harder"]
#: How many questions back and forth before a drill turns at random rather than going on.
_TURN: Final = 0.35


@dataclass(frozen=True, slots=True)
class Answered:
    """An answered question: from which gear, the right shift, what was given, and where that led."""

    start: Gear
    right: Move
    front: int
    rear: int
    hub: int
    reached: Gear | None
    good: bool


@dataclass(frozen=True, slots=True)
class Drill:
    """The gears in order, where the rider is in them, what is called for, the keys pressed, the score."""

    order: tuple[Gear, ...]
    gears: tuple[Gear, ...]
    levers: Levers
    overlap_pct: float
    seed: int
    at: int
    call: Call
    front: int = 0
    rear: int = 0
    hub: int = 0
    asked: int = 0
    good: int = 0
    streak: int = 0
    best: int = 0
    last: Answered | None = None

    @property
    def gear(self) -> Gear:
        """The gear that the rider is in."""
        return self.order[self.at]

    @property
    def right(self) -> Move:
        """The shift that is called for."""
        return self.levers.move(self.gear, self.order[self.at + (1 if self.call == "harder" else -1)])

    @property
    def pressed(self) -> bool:
        """Whether a shifter has been moved for this question."""
        return bool(self.front or self.rear or self.hub)

    def shift(self, front: int = 0, rear: int = 0, hub: int = 0) -> Self:
        """The shifters moved: rings up, clicks to harder cogs, clicks to harder hub gears."""
        return replace(self, front=self.front + front, rear=self.rear + rear, hub=self.hub + hub)

    def clear(self) -> Self:
        """The shifters back where the question found them."""
        return replace(self, front=0, rear=0, hub=0)

    def answer(self) -> Self:
        """The question answered with the shifters as they stand; the next one goes on from the right gear."""
        right = self.right
        reached = self._reached()
        good = reached is not None and self._alike(reached, right.gear)
        streak = self.streak + 1 if good else 0
        last = Answered(self.gear, right, self.front, self.rear, self.hub, reached, good)
        told = replace(
            self.clear(),
            at=self.order.index(right.gear),
            asked=self.asked + 1,
            good=self.good + good,
            streak=streak,
            best=max(self.best, streak),
            last=last,
        )
        return replace(told, call=told._next_call())

    def _reached(self) -> Gear | None:
        place = self.levers.reach(self.gear, self.front, self.rear, self.hub)
        return next((g for g in self.gears if (g.ring, g.cog, g.hub) == place), None)

    def _alike(self, one: Gear, other: Gear) -> bool:
        low, high = sorted((one.development_m, other.development_m))
        return percent(high / low) <= self.overlap_pct + TOLERANCE_PCT

    def _next_call(self) -> Call:
        if self.at == 0:
            return "harder"
        if self.at == len(self.order) - 1:
            return "easier"
        turn = random.Random(self.seed * 1_000_003 + self.asked).random() < _TURN
        return ("easier" if self.call == "harder" else "harder") if turn else self.call


def drill_of(order: ShiftOrder, gears: tuple[Gear, ...], seed: int = 0) -> Drill | None:
    """A drill on a shift order; None when there is nothing to shift. The seed settles its questions."""
    if len(order.gears) < 2:
        return None
    usable = tuple(gear for gear in gears if gear not in order.left_out)
    limit = order.setup.limits.overlap_pct
    return Drill(order.gears, usable, levers_of(order.setup), limit, seed, 0, "harder")
