"""Will it go together: the registry of checks. To add one, write a function and name it in `CHECKS`."""

from collections.abc import Callable
from typing import Final

from cogwright.core.common.words import count
from cogwright.core.figures import Figures
from cogwright.core.fit import (
    belt,
    chain,
    derailleur,
    fixed,
    front,
    hub,
    indexing,
    joints,
    motor,
    rear,
    teeth,
    timing,
    wear,
    wheel,
)
from cogwright.core.fit.check import Check

#: Every check, in the order in which a mechanic would look. One that does not apply gives None.
CHECKS: Final[tuple[Callable[[Figures], Check | None], ...]] = (
    chain.chain_length,
    chain.axle_travel,
    chain.chain_slack,
    belt.belt_length,
    belt.belt_line,
    fixed.tensioner,
    fixed.fixed_drive,
    fixed.patches,
    fixed.even_wear,
    timing.timing_chain,
    timing.timing_wear,
    teeth.largest_cog,
    teeth.smallest_cog,
    teeth.capacity,
    derailleur.cage_wrap,
    derailleur.pulley_gap,
    derailleur.cage_clearance,
    derailleur.retention,
    teeth.front_difference,
    teeth.largest_ring,
    teeth.frame_clearance,
    teeth.bolt_circle,
    teeth.freehub,
    hub.hub_torque,
    motor.hub_load,
    motor.chain_load,
    motor.assist_reach,
    motor.assist_limit,
    rear.carriers,
    rear.clicks,
    rear.spacing_family,
    indexing.indexing,
    indexing.indexing_front,
    front.cage_reach,
    front.ring_difference,
    front.cage_curve,
    chain.chain_width,
    joints.chain_cogs,
    joints.joint,
    joints.joint_again,
    wear.chain_wear,
    wear.cassette_wear,
    wear.ring_wear,
    chain.chain_angle,
    wheel.bead_seat,
    wheel.rollout_limit,
)


def fit_of(figures: Figures) -> tuple[Check, ...]:
    """All checks that apply to the bench."""
    found = (check(figures) for check in CHECKS)
    return tuple(check for check in found if check is not None)


def headline_problems(figures: Figures) -> tuple[str, ...]:
    """Problems that can hurt someone; they stand at the top of every view."""
    room = figures.chain.room
    return (chain.short_sentence(figures.chain),) if room is not None and room.tears else ()


def headline_brief(figures: Figures) -> tuple[str, ...]:
    """The same for a head that has no room for a sentence."""
    room, short = figures.chain.room, figures.chain.short_by
    return (f"chain {count(short, 'link')} short: do not ride",) if room is not None and room.tears else ()
