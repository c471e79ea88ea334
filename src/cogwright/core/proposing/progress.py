"""The searches piece by piece: each can show how far it is, and is left by asking for no more."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import islice
from typing import Protocol

from cogwright.core.parts.bin import Bin
from cogwright.core.proposing.choices import CassetteChoice, RingChoice
from cogwright.core.proposing.course_score import ScoreOnCourse
from cogwright.core.proposing.even import even_out
from cogwright.core.proposing.pool import Pool
from cogwright.core.proposing.proposal import Proposal
from cogwright.core.proposing.single import rank, single_ring
from cogwright.core.setup.model import Setup


class Progress(Protocol):
    """How far a search is, and what it has found up to there."""

    @property
    def done(self) -> int:
        """How many have been looked at."""

    @property
    def total(self) -> int:
        """How many there are to look at."""

    @property
    def meets(self) -> bool:
        """Whether what was found keeps to the limits."""

    @property
    def finished(self) -> bool:
        """Whether this is the result."""

    def proposals(self, most: int | None = None) -> tuple[Proposal, ...]:
        """The best first: all, or the first `most`."""


@dataclass(frozen=True, slots=True)
class FoundSoFar:
    """How far a search is that has its proposals at hand."""

    found: tuple[Proposal, ...]
    done: int
    total: int
    meets: bool = True

    @property
    def finished(self) -> bool:
        """See Progress."""
        return self.done >= self.total

    def proposals(self, most: int | None = None) -> tuple[Proposal, ...]:
        """See Progress."""
        return tuple(islice(self.found, most))


def even_progress(
    setup: Setup,
    baseline: Setup | None = None,
    pool: Pool | None = None,
    pins: Sequence[int] = (),
    cassettes: Sequence[CassetteChoice] = (),
    stock: Bin | None = None,
) -> Iterator[FoundSoFar]:
    """`even_out`: some hundredths of a second, all in one piece."""
    yield FoundSoFar((), 0, 1)
    found = even_out(setup, baseline, pool, pins, cassettes=cassettes, stock=stock)
    yield FoundSoFar(found, 1, 1)


def single_progress(
    setup: Setup,
    baseline: Setup | None = None,
    cassettes: Sequence[CassetteChoice] = (),
    rings: Sequence[RingChoice] = (),
    course_score: ScoreOnCourse | None = None,
    stock: Bin | None = None,
) -> Iterator[FoundSoFar]:
    """`single_ring`, a piece for each cassette; the last is what it gives at once."""
    chosen = tuple(cassettes) or (CassetteChoice.of(setup, on_bike=True),)
    found: tuple[Proposal, ...] = ()
    yield FoundSoFar(found, 0, len(chosen))
    for done, one in enumerate(chosen, 1):
        more = single_ring(setup, baseline, [one], rings, course_score=course_score, stock=stock)
        found = tuple(sorted((*found, *more), key=rank))
        yield FoundSoFar(found, done, len(chosen))
