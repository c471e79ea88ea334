"""Recorded rides against a bike and a bench: all that is said of them in one value."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from functools import lru_cache

from cogwright.core.gears.gears import Gear, gears_of
from cogwright.core.riding.evidence.gear_found import Ridden, alike, ridden_of
from cogwright.core.riding.evidence.on_bench import OnBench, on_bench
from cogwright.core.riding.evidence.use import Use, together, use_of
from cogwright.core.riding.recording import Recording
from cogwright.core.setup.model import Rider, Setup


@dataclass(frozen=True, eq=False)
class Evidence:
    """What rides on a bike say, and what they would be on a bench; `alike` are hard to tell apart."""

    setup: Setup
    use: Use
    bench: OnBench | None
    alike: tuple[tuple[Gear, Gear], ...]


def ridden_on(
    recordings: Sequence[Recording], setup: Setup, told: Callable[[], None] | None = None
) -> list[Ridden]:
    """The gear of each moment of recordings on a bike; see `ridden_of` for `told`."""
    return [_ridden(recording, gears_of(setup), _Told(told)) for recording in recordings]


def evidence_of(recordings: Sequence[Recording], setup: Setup, bench: Setup | None = None) -> Evidence:
    """What recordings, one or more, say of the bike that was ridden, and of a bench for the same rider.

    The rider whose cadences judge both is the bench's, if there is one, else the bike's.
    """
    rider = (bench or setup).rider
    use = together([_used(recording, gears_of(setup), rider) for recording in recordings])
    on = None if bench is None else on_bench(use.ridden, bench, rider)
    return Evidence(setup, use, on, alike(gears_of(setup)))


@lru_cache(maxsize=4)
def evidence_kept(recordings: tuple[Recording, ...], setup: Setup, bench: Setup | None) -> Evidence:
    """The same, kept for what was last asked."""
    return evidence_of(recordings, setup, bench)


@dataclass(frozen=True)
class _Told:
    """Who is told meanwhile. What is found is the same for whoever that is, and kept for all."""

    told: Callable[[], None] | None = field(default=None, compare=False)


@lru_cache(maxsize=64)
def _ridden(recording: Recording, gears: tuple[Gear, ...], of: _Told) -> Ridden:
    """Kept, as a change to the bench leaves the ride as it was."""
    return ridden_of(recording, gears) if of.told is None else ridden_of(recording, gears, of.told)


@lru_cache(maxsize=64)
def _used(recording: Recording, gears: tuple[Gear, ...], rider: Rider) -> Use:
    """Kept too."""
    return use_of(_ridden(recording, gears, _Told()), rider)
