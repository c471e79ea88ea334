"""Proposals held to limits."""

from collections.abc import Iterable
from dataclasses import replace

from cogwright.core.proposing.front import Goal, miss_of
from cogwright.core.proposing.result import Proposal


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
