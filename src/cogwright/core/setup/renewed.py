"""A setup with a part renewed: what was measured of the old one says nothing of the new one."""

from dataclasses import dataclass
from typing import Final

from cogwright.core.setup.edits import ReplaceCassette
from cogwright.core.setup.model import Chain, Setup, Wear

_OF_CHAIN: Final = ("chain_pct", "chain_12_links_mm", "chain_km")
_OF_CASSETTE: Final = ("cassette_km", "cassette_state", "changed_at_pct")
_OF_RINGS: Final = ("rings_km", "rings_state")


def with_new_chain(setup: Setup, chain: Chain) -> Setup:
    """The setup with a new chain on; how far the old one had stretched is kept, for the cogs that it wore.

    Where anything was known of the old one's wear, the new one has gone 0 km.
    """
    renewed = setup.model_copy(update={"chain": chain})
    new = {"chain_km": 0.0} if _known(setup.wear, _OF_CHAIN) else {}
    return _without(renewed, _OF_CHAIN, changed_at_pct=setup.wear.worn_by_pct, **new)


def with_new_cassette(setup: Setup) -> Setup:
    """The setup with a new cassette in place of the old one, where anything was known of that one's wear."""
    known = setup.wear.worn_by_pct is not None or _known(setup.wear, _OF_CASSETTE)
    return _without(setup, _OF_CASSETTE, cassette_state="new") if known else setup


def with_new_rings(setup: Setup) -> Setup:
    """The setup with new rings in place of the old ones, where anything was known of their wear."""
    return _without(setup, _OF_RINGS, rings_state="new") if _known(setup.wear, _OF_RINGS) else setup


def chain_renewed(before: Setup, now: Setup) -> bool:
    """Whether there is another chain on than before: none shrinks, and none has gone less far than it had."""
    was, is_now = before.wear.stretch_pct, now.wear.stretch_pct
    ran, runs = before.wear.chain_km, now.wear.chain_km
    if was is not None and is_now is not None and is_now < was:
        return True
    return runs is not None and (runs < ran if ran is not None else was is not None and runs == 0.0)


def cassette_renewed(before: Setup, now: Setup) -> bool:
    """Whether there is a new cassette on that was not new before, or one that has run less."""
    return _renewed("cassette", before.wear, now.wear)


def rings_renewed(before: Setup, now: Setup) -> bool:
    """Whether there are new rings on that were not new before, or some that have run less."""
    return _renewed("rings", before.wear, now.wear)


def _renewed(part: str, before: Wear, now: Wear) -> bool:
    state, km = f"{part}_state", f"{part}_km"
    ran, runs = getattr(before, km), getattr(now, km)
    less = ran is not None and runs is not None and runs < ran
    return less or (getattr(now, state) == "new" != getattr(before, state) and before.given)


def _known(wear: Wear, keys: tuple[str, ...]) -> bool:
    return any(getattr(wear, key) is not None for key in keys)


def _without(setup: Setup, keys: tuple[str, ...], **more: object) -> Setup:
    """The setup without some facts of its wear, and with others in their place."""
    wear = setup.wear.model_copy(update=dict.fromkeys(keys) | more)
    return setup if wear == setup.wear else setup.model_copy(update={"wear": wear})


@dataclass(frozen=True, slots=True)
class FitChain:
    """Put a new chain on, as an edit."""

    chain: Chain

    def apply(self, setup: Setup) -> Setup:
        """See Edit."""
        return with_new_chain(setup, self.chain)

    def say(self) -> str:
        """See Edit."""
        return "a new chain"


@dataclass(frozen=True, slots=True)
class FitRings:
    """Put the same rings on new, as an edit."""

    def apply(self, setup: Setup) -> Setup:
        """See Edit."""
        return with_new_rings(setup)

    def say(self) -> str:
        """See Edit."""
        return "new rings"


@dataclass(frozen=True, slots=True)
class FitCassette:
    """Put a whole new cassette on, as an edit."""

    cogs: tuple[int, ...]
    carriers: tuple[tuple[int, ...], ...] = ()

    def apply(self, setup: Setup) -> Setup:
        """See Edit."""
        return with_new_cassette(ReplaceCassette(self.cogs, self.carriers).apply(setup))

    def say(self) -> str:
        """See Edit."""
        return ReplaceCassette(self.cogs, self.carriers).say()
