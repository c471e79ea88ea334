"""Every click of the rear shifter, before and now: what a plot of them shows."""

from collections.abc import Sequence
from typing import NamedTuple

from cogwright.core.gears.steps import RearStep
from cogwright.core.study import Study


class ClickSteps(NamedTuple):
    """Steps of the rear clicks, %, easiest first, before and now; `names` are what the new ones lead to."""

    before: tuple[float, ...]
    now: tuple[float, ...]
    names: tuple[str, ...]
    limit_pct: float


def clicks_of(study: Study) -> ClickSteps:
    """The clicks on the smallest ring: those on the others are the same.

    >>> from cogwright.core.setup.model import Crank, Rear, Setup, Wheel
    >>> from cogwright.core.study import study
    >>> crank, rear = Crank(rings=(34, 50)), Rear(cogs=(12, 15, 18))
    >>> of = clicks_of(study(Setup(name="a", wheel=Wheel(size="28-622"), crank=crank, rear=rear)))
    >>> [round(step, 1) for step in of.now], of.names, of.before
    ([20.0, 25.0], ('15', '12'), ())
    """
    now = _on_one_ring(study.rear_steps)
    before = _on_one_ring(study.base_steps)
    return ClickSteps(
        tuple(step.step_pct for step in before),
        tuple(step.step_pct for step in now),
        tuple(str(step.harder.position if step.in_hub else step.harder.cog) for step in now),
        study.bench.limits.jump_pct,
    )


def _on_one_ring(steps: Sequence[RearStep]) -> list[RearStep]:
    """Those of the first ladder: of the smallest ring, in the lowest gear of a hub behind several cogs."""
    first = steps[0].easier if steps else None
    return [
        step
        for step in steps
        if first and step.easier.ring == first.ring and (step.in_hub or step.easier.hub == first.hub)
    ]
