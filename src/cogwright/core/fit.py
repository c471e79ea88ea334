"""Will it go together: the registry of checks. To add one, write a function and name it in `CHECKS`."""

from collections import Counter
from collections.abc import Callable
from typing import TYPE_CHECKING, Final

from cogwright.core import checks_chain, checks_rear, checks_teeth, checks_wheel
from cogwright.core.check import Check, Status, count

if TYPE_CHECKING:
    from cogwright.core.study import Study

#: Every check, in the order in which a mechanic would look. One that does not apply gives None.
CHECKS: Final[tuple[Callable[["Study"], Check | None], ...]] = (
    checks_chain.chain_length,
    checks_chain.axle_travel,
    checks_chain.chain_slack,
    checks_teeth.largest_cog,
    checks_teeth.smallest_cog,
    checks_teeth.capacity,
    checks_teeth.front_difference,
    checks_teeth.largest_ring,
    checks_teeth.frame_clearance,
    checks_teeth.bolt_circle,
    checks_teeth.freehub,
    checks_rear.carriers,
    checks_rear.clicks,
    checks_rear.spacing_family,
    checks_chain.chain_width,
    checks_chain.chain_angle,
    checks_wheel.bead_seat,
    checks_wheel.rollout_limit,
)


def fit_of(study: "Study") -> tuple[Check, ...]:
    """All checks that apply to the bench."""
    found = (check(study) for check in CHECKS)
    return tuple(check for check in found if check is not None)


def headline_problems(study: "Study") -> tuple[str, ...]:
    """Problems that can hurt someone; they stand at the top of every view."""
    return (checks_chain.short_sentence(study.chain),) if study.chain.short_by else ()


def headline_brief(study: "Study") -> tuple[str, ...]:
    """The same for a head that has no room for a sentence."""
    short = study.chain.short_by
    return (f"chain {count(short, 'pitch')} short: do not ride",) if short else ()


def fit_summary(study: "Study") -> str:
    """The fit in a few words, for a line that has room for no more.

    Such as `fit: 1 problem, 2 cautions, 3 unknown, chain 2 pitches short`, or `fit: ok`.
    """
    tally = Counter(check.status for check in study.fit)
    said = [
        count(tally[status], status.value) for status in (Status.PROBLEM, Status.CAUTION) if tally[status]
    ]
    said += [f"{tally[Status.UNKNOWN]} unknown"] if tally[Status.UNKNOWN] else []
    short = [f"chain {count(study.chain.short_by, 'pitch')} short"] if study.chain.short_by else []
    return f"fit: {', '.join([*said, *short]) or 'ok'}"
