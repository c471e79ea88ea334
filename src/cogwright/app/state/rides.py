"""What is asked of recorded rides, and what long ones said."""

from typing import TYPE_CHECKING, Final, NamedTuple

from cogwright.core.setup.model import Setup

if TYPE_CHECKING:
    from cogwright.core.riding.evidence.evidence import Evidence
    from cogwright.core.riding.recording import Recording

#: So many moments of rides, some hours of them, are gone through before a key is felt to wait.
MANY_MOMENTS: Final = 25_000


class AskedOfRides(NamedTuple):
    """Rides, the bike that they were ridden on, and the bench if that is another."""

    rides: tuple["Recording", ...]
    ridden: Setup
    bench: Setup | None

    def evidence(self) -> "Evidence":
        """What they say; kept for what was last asked."""
        from cogwright.core.riding.evidence.evidence import evidence_kept

        return evidence_kept(self.rides, self.ridden, self.bench)

    @property
    def long(self) -> bool:
        """Whether that takes longer than a key may."""
        return sum(len(ride.seconds) for ride in self.rides) > MANY_MOMENTS


class SaidOfRides(NamedTuple):
    """What was asked of long rides, and the answer."""

    asked: AskedOfRides
    evidence: "Evidence"
