"""Chain and derailleur for rings and cogs: the cheapest in stock with which it goes together."""

from collections.abc import Callable, Iterable
from dataclasses import dataclass, field
from typing import Final, TypeVar

from cogwright.core.chain.slack import chain_of
from cogwright.core.figures import Figures
from cogwright.core.fit import chain, derailleur, indexing, joints, rear, teeth, wear
from cogwright.core.fit.check import Check, Status
from cogwright.core.fit.registry import CHECKS, fit_of
from cogwright.core.proposing.choices import ChainChoice, DerailleurChoice
from cogwright.core.proposing.proposal import Judged
from cogwright.core.setup.model import Chain, Setup
from cogwright.core.setup.renewed import with_new_chain

T = TypeVar("T")
_CheckFunction = Callable[[Figures], Check | None]

#: What another chain can mend, and what another rear derailleur can. All other checks look at neither.
CHAIN_CHECKS: Final[tuple[_CheckFunction, ...]] = (
    chain.chain_length,
    chain.axle_travel,
    chain.chain_slack,
    chain.chain_width,
    joints.chain_cogs,
    joints.joint,
    joints.joint_again,
    wear.chain_wear,
    wear.cassette_wear,
)
DERAILLEUR_CHECKS: Final[tuple[_CheckFunction, ...]] = (
    teeth.largest_cog,
    teeth.smallest_cog,
    teeth.capacity,
    derailleur.cage_wrap,
    derailleur.pulley_gap,
    derailleur.cage_clearance,
    rear.spacing_family,
    indexing.indexing,
)
FIXED_CHECKS: Final = tuple(c for c in CHECKS if c not in {*CHAIN_CHECKS, *DERAILLEUR_CHECKS})


def judged(setup: Setup) -> Judged:
    """What all fit checks say of a setup."""
    checks = fit_of(Figures(setup))
    return Judged(
        tuple(_said(c) for c in checks if c.status is Status.PROBLEM),
        tuple(c.check for c in checks if c.status is Status.UNKNOWN),
    )


def _said(check: Check) -> str:
    return f"{check.check}: {check.say}"


def _problems(setup: Setup, checks: Iterable[_CheckFunction]) -> tuple[str, ...]:
    figures = Figures(setup)
    found = (check(figures) for check in checks)
    return tuple(_said(c) for c in found if c is not None and c.status is Status.PROBLEM)


@dataclass(frozen=True, slots=True)
class Hardware:
    """The chain and derailleur chosen (None: those on the bike stay), their price, and what does not fit."""

    chain: ChainChoice | None
    derailleur: DerailleurChoice | None
    cost: float
    problems: tuple[str, ...]

    def on(self, setup: Setup) -> Setup:
        """The setup with both on and the chain at the right length."""
        return with_chain(with_derailleur(setup, self.derailleur), self.chain)


def with_derailleur(setup: Setup, derailleur: DerailleurChoice | None) -> Setup:
    """The setup with another rear derailleur; as it is for None."""
    return setup if derailleur is None else setup.model_copy(update={"rear_derailleur": derailleur.limits})


def with_chain(setup: Setup, chain: ChainChoice | None) -> Setup:
    """The setup with a chain cut to the right length; for None the one on the bike, cut if it must be."""
    of = chain_of(setup)
    if chain is None:
        links = of.cut_to if of.cut_to is not None else setup.chain.links
        return setup.model_copy(update={"chain": setup.chain.model_copy(update={"links": links})})
    links = min(chain.links, of.fit_pitches or chain.links)
    return with_new_chain(setup, Chain(links=links, outer_width_mm=chain.outer_width_mm, cogs=chain.cogs))


@dataclass
class Fitter:
    """Finds the hardware for setups, and remembers it: chain and derailleur are judged apart from each other.

    What it remembers goes by the smallest and largest of the rings and cogs and their number: no check
    that gives a problem looks at the cogs between, but for carriers, which the search keeps whole.
    """

    chains: tuple[ChainChoice, ...] = ()
    derailleurs: tuple[DerailleurChoice, ...] = ()
    _fixed: dict[object, tuple[str, ...]] = field(default_factory=dict)
    _chains: dict[object, tuple[ChainChoice | None, tuple[str, ...]]] = field(default_factory=dict)
    _derailleurs: dict[object, tuple[DerailleurChoice | None, tuple[str, ...]]] = field(default_factory=dict)

    def find(self, setup: Setup) -> Hardware:
        """The cheapest hardware with the fewest problems for a setup, which stands for all of its ends."""
        rings, cogs, family = setup.crank.rings, setup.rear.cogs, setup.rear.family
        back = (cogs[0], cogs[-1], len(cogs), family, setup.rear.cog_pitch_mm, setup.wear)
        derailleur, loose = self._derailleur(setup, (rings[0], rings[-1], len(rings), *back))
        chain, slack = self._chain(setup, (rings[0], rings[-1], len(rings), *back))
        fixed = self._rest(setup, (rings, *back))
        cost = (chain.price if chain else 0.0) + (derailleur.price if derailleur else 0.0)
        return Hardware(chain, derailleur, cost, (*slack, *loose, *fixed))

    def _rest(self, setup: Setup, key: object) -> tuple[str, ...]:
        if key not in self._fixed:
            self._fixed[key] = _problems(setup, FIXED_CHECKS)
        return self._fixed[key]

    def _derailleur(self, setup: Setup, key: object) -> tuple[DerailleurChoice | None, tuple[str, ...]]:
        if key not in self._derailleurs:
            choices = (None, *sorted(self.derailleurs, key=lambda d: d.price))
            tried = ((d, _problems(with_derailleur(setup, d), DERAILLEUR_CHECKS)) for d in choices)
            self._derailleurs[key] = _first_best(tried)
        return self._derailleurs[key]

    def _chain(self, setup: Setup, key: object) -> tuple[ChainChoice | None, tuple[str, ...]]:
        if key not in self._chains:
            choices = (None, *sorted(self.chains, key=lambda c: c.price))
            tried = ((c, _problems(with_chain(setup, c), CHAIN_CHECKS)) for c in choices)
            self._chains[key] = _first_best(tried)
        return self._chains[key]


def _first_best(tried: Iterable[tuple[T, tuple[str, ...]]]) -> tuple[T, tuple[str, ...]]:
    """The first without a problem, else the first of those with the fewest."""
    best: tuple[T, tuple[str, ...]] | None = None
    for choice, problems in tried:
        if best is None or len(problems) < len(best[1]):
            best = choice, problems
        if not problems:
            break
    assert best is not None
    return best
