"""Does a kit go together: the problems of every check, each worked out once for all that it looks at.

`LOOKS_AT` says for each check what of a kit it looks at; one that is not named there is taken to look at
everything, which is always right and only slower. A test holds that a kit has the problems here that the
fit checks find on the whole bike.
"""

from collections.abc import Callable, Hashable, Iterable
from typing import Final, NamedTuple

from cogwright.core.figures import Figures
from cogwright.core.fit import chain, derailleur, front, hub, indexing, joints, rear, teeth, wear, wheel
from cogwright.core.fit.applies import CheckFunction
from cogwright.core.fit.check import Check, Status
from cogwright.core.fit.registry import CHECKS, fit_of
from cogwright.core.proposing.proposal import Judged
from cogwright.core.setup.model import Setup
from cogwright.core.setup.spacing import Spacing


class CogEnds(NamedTuple):
    """What all variants of a cassette with the same ends share: no check looks at the cogs between.

    `renewed`: no cog of the old cassette stays. `torn`: a carrier is not whole, or has a cog in between.
    """

    low: int
    high: int
    many: int
    family: str | None
    driver: str | None
    pitch: Spacing | None
    renewed: bool
    torn: bool


class KitFacts(NamedTuple):
    """What tells a kit from others: its rings, the ends of its cassette, and which support it chooses.

    `rings`, `derailleur`, `shifter` and `driver` are places in the lists that a plan chooses from.
    """

    rings: int
    teeth: tuple[int, ...]
    ends: CogEnds
    derailleur: int
    shifter: int
    driver: int
    tensioned: bool
    new_chain: bool = False


def _reach(kit: KitFacts) -> Hashable:
    """What the chain and the derailleur's cage have to reach."""
    rings, ends = kit.teeth, kit.ends
    sprockets = (rings[0], rings[-1], len(rings), ends.low, ends.high, ends.many, ends.renewed)
    return (*sprockets, kit.derailleur, kit.new_chain)


def _indexed(kit: KitFacts) -> Hashable:
    return (kit.ends.many, kit.ends.family, kit.ends.pitch, kit.derailleur, kit.shifter)


def _capacity(kit: KitFacts) -> Hashable:
    span = kit.teeth[-1] - kit.teeth[0] + kit.ends.high - kit.ends.low
    return (span, kit.derailleur, kit.tensioned)


_RINGS: Final = (
    teeth.front_difference,
    teeth.largest_ring,
    teeth.frame_clearance,
    teeth.bolt_circle,
    front.cage_reach,
    front.ring_difference,
    front.cage_curve,
    indexing.indexing_front,
    wear.ring_wear,
)
_REACH: Final = (
    chain.chain_length,
    chain.axle_travel,
    chain.chain_slack,
    chain.chain_width,
    joints.chain_cogs,
    joints.joint,
    joints.joint_again,
    wear.chain_wear,
    wear.cassette_wear,
    derailleur.cage_wrap,
    derailleur.pulley_gap,
    derailleur.cage_clearance,
)
#: Each check with what of a kit it looks at.
LOOKS_AT: Final[dict[CheckFunction, Callable[[KitFacts], Hashable]]] = {
    **dict.fromkeys(_RINGS, lambda kit: kit.rings),
    **dict.fromkeys(_REACH, _reach),
    teeth.largest_cog: lambda kit: (kit.ends.high, kit.derailleur, kit.tensioned),
    teeth.smallest_cog: lambda kit: (kit.ends.low, kit.derailleur, kit.tensioned),
    teeth.capacity: _capacity,
    teeth.freehub: lambda kit: (kit.ends.low, kit.ends.many, kit.ends.driver, kit.driver),
    hub.hub_torque: lambda kit: (kit.teeth[0], kit.ends.high),
    rear.carriers: lambda kit: kit.ends.torn,
    rear.clicks: lambda kit: (kit.ends.many, kit.ends.family, kit.shifter),
    rear.spacing_family: _indexed,
    indexing.indexing: _indexed,
    wheel.bead_seat: lambda _: None,
    wheel.rollout_limit: lambda kit: (kit.teeth[-1], kit.ends.low),
    derailleur.retention: lambda kit: (kit.rings, kit.derailleur, kit.tensioned),
    chain.chain_angle: lambda _: None,
}
#: Checks of which the parts that a kit chooses for its sprockets decide, beside what those decide alone.
OF_SUPPORT: Final[tuple[CheckFunction, ...]] = (
    teeth.largest_cog,
    teeth.smallest_cog,
    teeth.capacity,
    teeth.freehub,
    rear.clicks,
    rear.spacing_family,
    indexing.indexing,
)
OF_SPROCKETS: Final[tuple[CheckFunction, ...]] = (
    *_RINGS,
    hub.hub_torque,
    rear.carriers,
    wheel.bead_seat,
    wheel.rollout_limit,
)
#: The rest wants the whole kit with its chain.
OF_ALL: Final = tuple(check for check in CHECKS if check not in {*OF_SUPPORT, *OF_SPROCKETS})


class KitFit:
    """Counts the problems of kits, against the bike as it is. `on` makes the setup of a kit when asked."""

    def __init__(self, base: Setup) -> None:
        self._base = base
        self._known: dict[CheckFunction, dict[Hashable, Status | None]] = {check: {} for check in CHECKS}

    def problems(self, kit: KitFacts, checks: Iterable[CheckFunction], on: Callable[[], Setup]) -> int:
        """How many of some checks are problems."""
        return sum(self.status(kit, check, on) is Status.PROBLEM for check in checks)

    def status(self, kit: KitFacts, check: CheckFunction, on: Callable[[], Setup]) -> Status | None:
        """How one check comes out; None where it does not apply."""
        looks_at = LOOKS_AT.get(check)
        known, key = self._known[check], kit if looks_at is None else looks_at(kit)
        if key not in known:
            found = check(Figures(on(), self._base))
            known[key] = None if found is None else found.status
        return known[key]


def judged(setup: Setup, baseline: Setup | None = None) -> Judged:
    """What all fit checks say of a setup."""
    checks = fit_of(Figures(setup, baseline))
    return Judged(
        tuple(_said(c) for c in checks if c.status is Status.PROBLEM),
        tuple(c.check for c in checks if c.status is Status.UNKNOWN),
        tuple(_said(c) for c in checks if c.status is Status.CAUTION),
    )


def _said(check: Check) -> str:
    return f"{check.check}: {check.say}"
