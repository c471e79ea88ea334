"""What the chain on the bike leaves over in each gear, in pitches: short, tight, right or hanging slack."""

from dataclasses import dataclass
from enum import StrEnum
from functools import cached_property
from typing import Final, NamedTuple

from cogwright.core.chain.length import ALLOWANCE, SAME, TIGHT, ChainLength, exact_pitches
from cogwright.core.setup.model import Setup

#: Cutting to an even number can leave up to this much more, so a derailleur in spec must take it up too.
ROUNDING: Final = 2
#: How far the estimate of what a derailleur takes up may be off, pitches: within that nothing is flagged.
DOUBT: Final = 1.0


class ChainState(StrEnum):
    """What the installed chain does in one gear."""

    FITS = "fits"
    TIGHT = "tight: under two pitches to spare"
    SHORT = "cannot be reached: chain too short"
    SLACK = "hangs slack"
    UNKNOWN = "unknown"


class GearChain(NamedTuple):
    """One pair: pitches that it needs with the stay at its longest, and what the chain leaves over.

    `at_rest` is what it leaves over with the stay at its shortest, where the chain hangs lowest.
    """

    ring: int
    cog: int
    pitches: float
    slack: float | None
    at_rest: float | None
    state: ChainState

    @property
    def label(self) -> str:
        """The pair as it is called."""
        return f"{self.ring}x{self.cog}"


@dataclass(frozen=True)
class ChainFigures(ChainLength):
    """The chain of one setup: its length, what it leaves over in each gear, and whether it must be cut."""

    @cached_property
    def take_up(self) -> float | None:
        """Most slack, in pitches, that the derailleur takes up. An estimate, good to about a pitch.

        Half a pitch for each tooth of the maker's capacity, on top of what the cutting rule leaves on the
        largest pair (two pitches, and up to two more to come to an even number).
        """
        capacity = self.setup.rear_derailleur.capacity
        return None if capacity is None else ALLOWANCE + ROUNDING + capacity / 2.0

    @cached_property
    def per_gear(self) -> tuple[GearChain, ...]:
        """Every pair, easiest first."""
        if self.stay_mm is None or self.clash:
            return ()
        pairs = ((ring, cog) for ring in self.setup.crank.rings for cog in self.setup.rear.cogs)
        return tuple(self._gear(ring, cog) for ring, cog in sorted(pairs, key=lambda p: (p[0] / p[1], p[0])))

    @cached_property
    def hanging(self) -> tuple[GearChain, ...]:
        """Pairs in which the chain hangs slack."""
        return tuple(gear for gear in self.per_gear if gear.state is ChainState.SLACK)

    @cached_property
    def too_short_for(self) -> tuple[GearChain, ...]:
        """Pairs on which shifting can tear something off: under a pitch over the way round, or not round.

        As `room` says it of the largest pair.
        """
        if not self.tensioned:
            return ()
        known = ((gear, gear.slack) for gear in self.per_gear)
        return tuple(gear for gear, slack in known if slack is not None and slack < TIGHT - SAME)

    @cached_property
    def cut_to(self) -> int | None:
        """To how many pitches a chain that is too long must be cut; None when it need not be.

        It must when it hangs slack in some gear, and as well when nobody can say that it does not.
        """
        doubtful = self.tensioned and (self.take_up is None or bool(self.hanging))
        return self.fit_pitches if self.over_by >= 2 and doubtful else None

    def _gear(self, ring: int, cog: int) -> GearChain:
        stay = self.setup.frame.chainstay_mm
        assert stay is not None
        assert self.stay_mm is not None
        pitches = exact_pitches(ring, cog, self.stay_mm)
        if self.installed is None:
            return GearChain(ring, cog, pitches, None, None, ChainState.UNKNOWN)
        slack, at_rest = self.installed - pitches, self.installed - exact_pitches(ring, cog, stay)
        return GearChain(ring, cog, pitches, slack, at_rest, self._state(slack, at_rest))

    def _state(self, slack: float, at_rest: float) -> ChainState:
        if slack < -SAME:
            return ChainState.SHORT
        if not self.tensioned:
            return ChainState.FITS
        if slack < ALLOWANCE - self.doubt_pitches - SAME:
            return ChainState.TIGHT
        hangs = self.take_up is not None and at_rest > self.take_up + DOUBT
        return ChainState.SLACK if hangs else ChainState.FITS


def chain_of(setup: Setup) -> ChainFigures:
    """The chain of a setup."""
    return ChainFigures(setup)
