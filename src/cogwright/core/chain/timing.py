"""The timing chain between a tandem's cranks: its own length, its own slack."""

from dataclasses import dataclass
from functools import cached_property

from cogwright.core.chain.length import even_up, exact_pitches
from cogwright.core.common.facts import absent
from cogwright.core.setup.model import Setup, TimingChain


@dataclass(frozen=True)
class TimingFigures:
    """What the timing chain of one setup needs, in links; None without the facts, which `missing` names."""

    of: TimingChain

    @cached_property
    def missing(self) -> tuple[str, ...]:
        """Keys that the figures lack."""
        facts = {
            "timing_chain.rings": self.of.rings,
            "timing_chain.centres_mm": self.of.centres_mm,
            "timing_chain.links": self.of.links,
        }
        return absent(facts)

    @cached_property
    def needed(self) -> float | None:
        """The straight way round both rings, with the eccentric where the distance was measured."""
        return self._at(0.0)

    @cached_property
    def furthest(self) -> float | None:
        """The same with the eccentric turned away as far as it goes; None when nobody says how far."""
        return None if self.of.eccentric_mm is None else self._at(self.of.eccentric_mm)

    @property
    def fit(self) -> int | None:
        """The even number of links to cut a chain to."""
        return None if self.needed is None else even_up(self.needed)

    def _at(self, further_mm: float) -> float | None:
        if self.of.rings is None or self.of.centres_mm is None:
            return None
        try:
            return exact_pitches(*self.of.rings, self.of.centres_mm + further_mm)
        except ValueError:
            return None


def timing_of(setup: Setup) -> TimingFigures | None:
    """The timing chain of a setup; None for a bike without one."""
    return TimingFigures(setup.timing_chain) if setup.timing_chain.given else None
