"""A kit: everything that changes together, and the bike with it on."""

from dataclasses import replace
from typing import NamedTuple

from cogwright.core.parts.bin import CogPart
from cogwright.core.proposing.choices import (
    CassetteChoice,
    RingChoice,
    with_cassette,
    without_front_derailleur,
)
from cogwright.core.setup.model import RearDerailleur, Setup
from cogwright.core.setup.renewed import with_new_chain, with_new_rings
from cogwright.core.setup.ring_places import with_rings
from cogwright.core.setup.spacing import Spacing


class RingSet(NamedTuple):
    """Rings that go on together, ascending; `place` is how far from the bike's own they are in the search."""

    rings: tuple[RingChoice, ...]
    teeth: tuple[int, ...]
    place: int = 0

    @property
    def retaining(self) -> bool | None:
        """Whether a single ring keeps the chain on by its teeth."""
        return self.rings[0].retaining if len(self.rings) == 1 else None


class Variant(NamedTuple):
    """A cassette with some loose cogs swapped. `worst` is the largest step as a ratio."""

    worst: float
    cogs: tuple[int, ...]
    cassette: CassetteChoice
    out: tuple[int, ...]
    into: tuple[CogPart, ...]


class Shifter(NamedTuple):
    """A rear shifter by its facts."""

    clicks: int | None = None
    family: str | None = None
    pull_mm: Spacing | None = None


class Driver(NamedTuple):
    """A freehub driver by its facts, on a body of its own or on a wheel."""

    standard: str | None = None
    smallest_cog: int | None = None


class Kit(NamedTuple):
    """Rings, cassette and what goes with them. The chain and the small parts follow from these.

    `new_chain` puts another one in the place of a worn one; what calls for one anyway brings it too.
    """

    rings: RingSet
    variant: Variant
    derailleur: RearDerailleur
    shifter: Shifter
    driver: Driver
    new_chain: bool = False

    def on(self, setup: Setup) -> Setup:
        """The setup with the kit on; its chain is as long as the old one."""
        there = with_sprockets_of(setup, self.rings, self.variant)
        there = with_support(there, self.derailleur, self.shifter, self.driver)
        return with_new_chain(there, there.chain) if self.new_chain else there


def shifter_of(setup: Setup) -> Shifter:
    """The rear shifter of a setup."""
    return Shifter(setup.rear.clicks, setup.shifters.family, setup.shifters.pull_mm)


def driver_of(setup: Setup) -> Driver:
    """The freehub driver of a setup."""
    return Driver(setup.rear.driver, setup.rear.smallest_cog)


def with_sprockets_of(setup: Setup, rings: RingSet, variant: Variant) -> Setup:
    """The setup with other rings and cogs; with a single ring the front derailleur falls away."""
    changed = with_ring_set(setup, rings)
    cassette = replace(variant.cassette, cogs=variant.cogs)
    return changed if cassette.on_bike and cassette.is_on(setup) else with_cassette(changed, cassette)


def with_ring_set(setup: Setup, rings: RingSet) -> Setup:
    """The setup with other rings, and without a front derailleur where there is only one."""
    if (rings.teeth, rings.retaining) == (setup.crank.rings, setup.crank.retaining_teeth):
        return setup
    crank = with_rings(setup.crank, rings.teeth)
    update: dict[str, object] = {}
    if setup.crank.inner_bolt_circle_mm is not None and not rings.rings[0].inner:
        update["inner_bolt_circle_mm"] = None
    if crank.retaining_teeth != rings.retaining:
        update["retaining_teeth"] = rings.retaining
    changed = setup.model_copy(update={"crank": crank.model_copy(update=update)})
    if not any(ring.on_bike for ring in rings.rings):
        changed = with_new_rings(changed)
    return without_front_derailleur(changed) if len(rings.rings) == 1 else changed


def with_support(setup: Setup, derailleur: RearDerailleur, shifter: Shifter, driver: Driver) -> Setup:
    """The setup with another rear derailleur, shifter and freehub driver."""
    rear = {"clicks": shifter.clicks, "driver": driver.standard, "smallest_cog": driver.smallest_cog}
    shifters = {"family": shifter.family, "pull_mm": shifter.pull_mm}
    return setup.model_copy(
        update={
            "rear": setup.rear.model_copy(update=rear),
            "shifters": setup.shifters.model_copy(update=shifters),
            "rear_derailleur": derailleur,
        }
    )
