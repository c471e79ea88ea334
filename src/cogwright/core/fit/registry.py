"""Will it go together: the registry of checks. To add one, write a function and name it in `CHECKS`."""

from collections import Counter
from collections.abc import Callable
from typing import TYPE_CHECKING, Final

from cogwright.core.fit import chain, rear, teeth, wheel
from cogwright.core.fit.check import Check, Status, count

if TYPE_CHECKING:
    from cogwright.core.study import Study

#: Every check, in the order in which a mechanic would look. One that does not apply gives None.
CHECKS: Final[tuple[Callable[["Study"], Check | None], ...]] = (
    chain.chain_length,
    chain.axle_travel,
    chain.chain_slack,
    teeth.largest_cog,
    teeth.smallest_cog,
    teeth.capacity,
    teeth.front_difference,
    teeth.largest_ring,
    teeth.frame_clearance,
    teeth.bolt_circle,
    teeth.freehub,
    rear.carriers,
    rear.clicks,
    rear.spacing_family,
    chain.chain_width,
    chain.chain_angle,
    wheel.bead_seat,
    wheel.rollout_limit,
)


def fit_of(study: "Study") -> tuple[Check, ...]:
    """All checks that apply to the bench."""
    found = (check(study) for check in CHECKS)
    return tuple(check for check in found if check is not None)


def headline_problems(study: "Study") -> tuple[str, ...]:
    """Problems that can hurt someone; they stand at the top of every view."""
    return (chain.short_sentence(study.chain),) if study.chain.short_by else ()


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
