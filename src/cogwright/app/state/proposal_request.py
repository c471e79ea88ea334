"""What was last asked of the proposals: the goal, the cogs that stay, the limits. Part of the session."""

import math
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Final, Literal, NamedTuple

from cogwright.core.gears.gears import gears_of

if TYPE_CHECKING:
    from cogwright.core.proposing.goal import Goal
    from cogwright.core.setup.model import Setup

GoalKind = Literal["even", "single", "plan"]
#: Share of the highest gear that a plan keeps unless it is told otherwise. Our own choice.
KEPT_HIGH: Final = 0.9


@dataclass(frozen=True, slots=True)
class ProposalRequest:
    """`all_counts`: out of every tooth count although there is a bin. `limits` None: never thought of yet."""

    kind: GoalKind = "even"
    pins: tuple[int, ...] = ()
    all_counts: bool = False
    limits: "Goal | None" = None

    def pinned(self, cogs: tuple[int, ...]) -> tuple[int, ...]:
        """The pinned ones among the cogs on the bench."""
        return tuple(cog for cog in cogs if cog in self.pins)

    def toggled(self, cog: int) -> "ProposalRequest":
        """With a cog pinned, or free again."""
        others = tuple(pin for pin in self.pins if pin != cog)
        return replace(self, pins=others if cog in self.pins else tuple(sorted((*others, cog))))


class PlanLimit(NamedTuple):
    """One limit of a plan: its field of the goal, its name, its unit (None: the bin's currency)."""

    field: str
    name: str
    unit: str | None
    asks: str
    least: float = 0.0


LIMITS: Final = (
    PlanLimit(
        "low_at_most_m",
        "lowest gear, at most",
        "m",
        "metres a turn, such as 1.60, or a grade, such as 10 %",
        0.1,
    ),
    PlanLimit(
        "high_at_least_m",
        "highest gear, at least",
        "m",
        "metres a turn, such as 8.50, or a top speed, such as 40 km/h",
        0.1,
    ),
    PlanLimit("jump_at_most_pct", "largest step of a click, at most", "%", "a percentage, such as 15"),
    PlanLimit("cost_at_most", "cost of the parts, at most", None, "a price, such as 120"),
)


def first_limits(setup: "Setup", baseline: "Setup | None") -> "Goal":
    """Limits to begin with: the lowest gear kept, the highest nearly, no click over the setup's limit.

    Rounded away from the baseline, so that its own gears keep to them.
    """
    from cogwright.core.proposing.goal import Goal

    gears = gears_of(baseline or setup)
    return Goal(
        low_at_most_m=math.ceil(gears[0].development_m * 100 - 1e-6) / 100,
        high_at_least_m=math.floor(gears[-1].development_m * KEPT_HIGH * 100 + 1e-6) / 100,
        jump_at_most_pct=setup.limits.jump_pct,
    )
