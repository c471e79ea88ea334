"""Indexing of a setup, rear and front, as far as the file gives the facts. Nothing is guessed."""

from dataclasses import dataclass
from functools import cached_property

from cogwright.core.common.facts import absent
from cogwright.core.indexing.clicks import ERROR_PCT, Clicks, travel
from cogwright.core.setup.model import Setup
from cogwright.core.setup.spacing import Spacing, each, lacking


@dataclass(frozen=True)
class Indexing:
    """One shifter with its derailleur and sprockets: each fact with the key that gives it."""

    teeth: tuple[int, ...]
    pull: tuple[str, Spacing | None]
    ratio: tuple[str, float | None]
    gap: tuple[str, Spacing | None]
    limits_pct: tuple[float, float]

    @property
    def given(self) -> bool:
        """Whether there is anything to judge or to ask for."""
        return len(self.teeth) > 1 and not (self.pull[1] is None and self.ratio[1] is None)

    @property
    def gaps(self) -> int:
        """Gaps between sprockets: the clicks that matter."""
        return len(self.teeth) - 1

    @cached_property
    def missing(self) -> tuple[str, ...]:
        """Keys that the figures lack, or lists that are too short."""
        wanted = {
            lacking(self.pull[1], self.pull[0], self.gaps): travel(self.pull[1], 1.0, self.gaps),
            self.ratio[0]: self.ratio[1],
            lacking(self.gap[1], self.gap[0], self.gaps): each(self.gap[1], self.gaps),
        }
        return absent(wanted)

    @cached_property
    def clicks(self) -> Clicks | None:
        """The clicks against the gaps; None when a fact is missing or there is nothing to shift."""
        return self.with_ratio(self.ratio[1])

    def with_ratio(self, ratio: float | None) -> Clicks | None:
        """The same with another ratio."""
        moves, gaps = travel(self.pull[1], ratio, self.gaps), each(self.gap[1], self.gaps)
        if not self.given or moves is None or gaps is None:
            return None
        return Clicks(self.teeth, moves, gaps, self.limits_pct)

    @cached_property
    def turned_round(self) -> float | None:
        """The reciprocal of the ratio, where that indexes well and the ratio as given does not at all.

        Some sheets print mm of cable per mm of cage.
        """
        ratio = self.ratio[1]
        if ratio is None or self.clicks is None or not self.clicks.hopeless:
            return None
        other = self.with_ratio(1.0 / ratio)
        return 1.0 / ratio if other is not None and other.well else None


def rear_indexing(setup: Setup) -> Indexing:
    """The rear shifter: cable a click, the derailleur's ratio, the pitch of the cogs."""
    return Indexing(
        setup.rear.cogs,
        ("shifters.pull_mm", setup.shifters.pull_mm),
        ("rear_derailleur.shift_ratio", setup.rear_derailleur.shift_ratio),
        ("rear.cog_pitch_mm", setup.rear.cog_pitch_mm),
        setup.limits.index_error_pct or ERROR_PCT,
    )


def front_indexing(setup: Setup) -> Indexing:
    """The front shifter: the same with the rings and their spacing."""
    return Indexing(
        setup.crank.rings,
        ("shifters.front_pull_mm", setup.shifters.front_pull_mm),
        ("front_derailleur.shift_ratio", setup.front_derailleur.shift_ratio),
        ("crank.ring_spacing_mm", setup.crank.ring_spacing_mm),
        setup.limits.index_error_pct or ERROR_PCT,
    )
