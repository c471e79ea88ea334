"""A setup with a part renewed: what was measured of the old one says nothing of the new one."""

from dataclasses import dataclass
from typing import Final

from cogwright.core.setup.edits import ReplaceCassette
from cogwright.core.setup.model import Chain, Setup

_OF_CHAIN: Final = ("chain_pct", "chain_12_links_mm", "chain_km")
_OF_CASSETTE: Final = ("cassette_km", "cassette_state", "changed_at_pct")
_OF_RINGS: Final = ("rings_km", "rings_state")


def with_new_chain(setup: Setup, chain: Chain) -> Setup:
    """The setup with a new chain on; how far the old one had stretched is kept, for the cogs that it wore."""
    renewed = setup.model_copy(update={"chain": chain})
    return _without(renewed, _OF_CHAIN, changed_at_pct=setup.wear.worn_by_pct)


def with_new_cassette(setup: Setup) -> Setup:
    """The setup with all that was known of the old cassette's wear taken out."""
    return _without(setup, _OF_CASSETTE)


def with_new_rings(setup: Setup) -> Setup:
    """The setup with all that was known of the old rings' wear taken out."""
    return _without(setup, _OF_RINGS)


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
