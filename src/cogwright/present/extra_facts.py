"""What indexing, wear, hub, belt, motor and fixed drive add to a comparison and to a hand-out.

Nothing for a bike whose file says nothing of them. Comparisons take `extra_facts`, a hand-out `to_mind`.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

from cogwright.core.fit.check import Check, Status
from cogwright.core.fit.motor import LAW
from cogwright.core.motor.grades import assisted
from cogwright.core.study import Study

#: Checks that a comparison shows beside gears and steps, with a figure that tells bikes apart.
COMPARED: Final = (
    "indexing",
    "front indexing",
    "B-gap",
    "cage clearance",
    "cage wrap",
    "chain retention",
    "chain wear",
    "new on worn",
    "hub torque",
    "hub load",
    "chain load",
    "assist reach",
    "belt",
    "belt line",
    "skid patches",
    "even wear",
    "tensioner",
    "timing chain",
    "timing wear",
)
#: Checks of which the rider is told while they are not ok: what can slip, open, break or lock.
TOLD: Final = (
    *COMPARED,
    "joint again",
    "chain joint",
    "chain make",
    "ring wear",
    "fixed drive",
    "assist limit",
    "largest cog",
)


@dataclass(frozen=True, slots=True)
class ExtraFact:
    """One row of a comparison: what it is called, its figure and unit, how it came out, and in words."""

    name: str
    figure: float | None
    unit: str
    status: Status
    say: str


def extra_facts(study: Study) -> tuple[ExtraFact, ...]:
    """Rows for a comparison, in the order of the checks; with a motor the steepest grade that it helps up."""
    checks = (check for check in study.fit if check.check in COMPARED)
    return (*(_fact(check) for check in checks), *_helped(study))


def _fact(check: Check) -> ExtraFact:
    return ExtraFact(check.check, check.figure, check.unit, check.status, check.say)


def _helped(study: Study) -> Iterator[ExtraFact]:
    found = assisted(study)
    if found:
        best = max(found, key=lambda one: one.helped_pct)
        say = f"steepest with help, in {best.reach.gear.label}; {best.alone_pct:.1f} % without, estimates"
        yield ExtraFact("grade with help", best.helped_pct, "%", Status.OK, say)


def to_mind(study: Study) -> tuple[str, ...]:
    """What a rider is to mind of wear, joints, hub, belt, motor and fixed drive, a sentence each."""
    wrong = (check for check in study.fit if check.check in TOLD and check.status in _BAD)
    said = [f"{check.check}: {check.say}" for check in wrong]
    if study.bench.belted:
        said.append("belt: its tension as its maker states, checked after the first rides")
    if study.bench.rear.fixed:
        said.append(
            "fixed wheel: the pedals never stop; two brakes, and look at the axle nuts before each ride"
        )
    if study.bench.motor.given:
        said.append(LAW[0].lower() + LAW[1:].rstrip("."))
    return tuple(said)


_BAD: Final = frozenset({Status.PROBLEM, Status.CAUTION})
