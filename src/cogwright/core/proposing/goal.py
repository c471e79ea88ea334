"""What a change must reach, by how much one misses it, and proposals held to it."""

from collections.abc import Iterable
from dataclasses import dataclass, replace
from typing import Final, NamedTuple

from cogwright.core.proposing.proposal import Proposal

#: Lengths (m), logs and ratios within this of each other are the same.
SAME: Final = 1e-9
#: Prices within this of each other are the same.
CENT: Final = 1e-6


@dataclass(frozen=True, slots=True)
class Goal:
    """What the change must reach. Developments in m, cost in the bin's currency, the largest step in %.

    `rings_at_most` leaves a plan no choice: a kit of more rings is none.
    """

    low_at_most_m: float | None = None
    high_at_least_m: float | None = None
    cost_at_most: float | None = None
    jump_at_most_pct: float | None = None
    rings_at_most: float | None = None


class Miss(NamedTuple):
    """By how much a change misses each limit, as a share of it; 0 where it is kept.

    A part without a price counts as a whole cost limit missed, where there is one: it may cost anything.
    """

    low: float
    high: float
    cost: float
    jump: float
    unpriced: float = 0.0

    @property
    def total(self) -> float:
        """All shares added up."""
        return sum(self)

    @property
    def missed(self) -> tuple[str, ...]:
        """The limits that are missed."""
        return tuple(name for name, by in zip(self._fields, self, strict=True) if by > SAME)


def miss_of(goal: Goal, low_m: float, high_m: float, worst: float, cost: float, unpriced: int = 0) -> Miss:
    """What a change misses of a goal; `cost` is that of the parts with a price."""
    return Miss(
        low=_over(low_m, goal.low_at_most_m),
        high=_over(1.0 / high_m, 1.0 / goal.high_at_least_m if goal.high_at_least_m else None),
        cost=_cost_over(cost, goal.cost_at_most),
        jump=_over(worst, None if goal.jump_at_most_pct is None else 1.0 + goal.jump_at_most_pct / 100.0),
        unpriced=0.0 if goal.cost_at_most is None else float(unpriced),
    )


def _over(figure: float, limit: float | None) -> float:
    return 0.0 if limit is None or figure <= limit * (1.0 + SAME) else figure / limit - 1.0


def _cost_over(cost: float, limit: float | None) -> float:
    # Over a limit of nothing any price is endlessly much, so that limits under 1 count as 1.
    return 0.0 if limit is None or cost <= limit + CENT else (cost - limit) / max(limit, 1.0)


def held_to(goal: Goal, proposals: Iterable[Proposal]) -> tuple[Proposal, ...]:
    """The proposals in their order, those first that keep to the limits; the others say what they miss."""
    judged = [_judged(goal, proposal) for proposal in proposals]
    return tuple(sorted(judged, key=lambda proposal: not proposal.meets))


def _judged(goal: Goal, one: Proposal) -> Proposal:
    missed = list(
        miss_of(goal, one.low_m, one.high_m, 1.0 + one.worst_step_pct / 100.0, one.cost or 0.0).missed
    )
    if goal.cost_at_most is not None and one.cost is None:
        missed.append("unpriced")
    if not missed:
        return one
    words = {
        "low": f"its lowest gear, {one.low_m:.2f} m, is over {goal.low_at_most_m or 0:.2f} m",
        "high": f"its highest gear, {one.high_m:.2f} m, is under {goal.high_at_least_m or 0:.2f} m",
        "cost": f"it costs {one.cost or 0:.2f}, over {goal.cost_at_most or 0:.2f}",
        "jump": f"its largest step, {one.worst_step_pct:.1f} %, is over {goal.jump_at_most_pct or 0:g} %",
        "unpriced": "whether it keeps to the cost is not known: a part has no price",
    }
    said = "misses a limit: " + "; ".join(words[name] for name in missed)
    return replace(one, meets=False, reasons=(said, *one.reasons))
