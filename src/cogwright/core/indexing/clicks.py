"""Each click of a shifter against the gap that it must cross: travel, error added up, best place to set it.

A click pulls cable, the derailleur makes travel of it, and the travel must be the distance to the next
sprocket (shift equation of the open textbook *Bicycles*, chapter on gear-changing dimensions):

    travel = pull * ratio,   with the ratio in mm of cage travel per mm of cable.

What each click is off by adds up from the sprocket where the cable is set to each other one.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import accumulate
from typing import Final, NamedTuple

from cogwright.core.setup.spacing import Spacing, each

#: Up to what part of a pitch a sprocket is well indexed, and from what part it is not, % (common practice,
#: no source).
ERROR_PCT: Final = (20.0, 100.0 / 3.0)
_SAME: Final = 1e-9


class Landing(NamedTuple):
    """Where the cage stands at one sprocket: mm towards the larger ones, and as a share of a pitch in %."""

    teeth: int
    off_mm: float
    off_pct: float


@dataclass(frozen=True)
class Clicks:
    """One shifter's clicks and the row of sprockets that they move the chain along, smallest first.

    `travel_mm` and `gaps_mm` have a figure for each gap. `limits_pct` is up to where all is well and from
    where it is not.
    """

    teeth: tuple[int, ...]
    travel_mm: tuple[float, ...]
    gaps_mm: tuple[float, ...]
    limits_pct: tuple[float, float] = ERROR_PCT

    @cached_property
    def drift_mm(self) -> tuple[float, ...]:
        """How far the cage is off at each sprocket when it is right at the smallest, mm."""
        off = (travel - gap for travel, gap in zip(self.travel_mm, self.gaps_mm, strict=True))
        return tuple(accumulate(off, initial=0.0))

    def pitch_mm(self, at: int) -> float:
        """The narrower of the gaps beside a sprocket, mm: what its error is a share of."""
        return min(self.gaps_mm[max(at - 1, 0) : at + 1])

    def set_at(self, at: int) -> tuple[Landing, ...]:
        """Every sprocket's error with the cable set right at one of them.

        >>> Clicks((11, 13, 15), (3.0, 3.0), (4.0, 4.0)).set_at(1)[2]
        Landing(teeth=15, off_mm=-1.0, off_pct=-25.0)
        """
        off = [drift - self.drift_mm[at] for drift in self.drift_mm]
        return tuple(
            Landing(teeth, mm, 100.0 * mm / self.pitch_mm(i))
            for i, (teeth, mm) in enumerate(zip(self.teeth, off, strict=True))
        )

    @cached_property
    def best_at(self) -> int:
        """Where to set the cable for the least error anywhere; of equals the one nearest the middle."""
        places = range(len(self.teeth))
        middle = (len(self.teeth) - 1) / 2.0
        return min(places, key=lambda at: (round(_worst(self.set_at(at)), 9), abs(at - middle), at))

    @cached_property
    def landings(self) -> tuple[Landing, ...]:
        """Every sprocket's error with the cable set at the best one."""
        return self.set_at(self.best_at)

    @cached_property
    def worst(self) -> Landing:
        """The sprocket that is off most."""
        return max(self.landings, key=lambda landing: abs(landing.off_pct))

    @property
    def set_on(self) -> int:
        """Teeth of the sprocket to set the cable at."""
        return self.teeth[self.best_at]

    @property
    def well(self) -> bool:
        """Whether every sprocket is under the first limit."""
        return abs(self.worst.off_pct) < self.limits_pct[0] - _SAME

    @property
    def hopeless(self) -> bool:
        """Whether some sprocket is beyond the second limit."""
        return abs(self.worst.off_pct) > self.limits_pct[1] + _SAME


def _worst(landings: Sequence[Landing]) -> float:
    return max(abs(landing.off_pct) for landing in landings)


def travel(pull_mm: Spacing | None, ratio: float | None, gaps: int) -> tuple[float, ...] | None:
    """Travel of the cage for each click, mm; None when a figure is missing.

    A shifter may have more clicks than there are gaps: the first ones count.

    >>> travel((2.5, 2.5, 3.0), 1.5, 2), travel((2.5,), 1.5, 2)
    ((3.75, 3.75), None)
    """
    first = pull_mm[:gaps] if isinstance(pull_mm, tuple) else pull_mm
    pulls = each(first, gaps)
    return None if pulls is None or ratio is None else tuple(pull * ratio for pull in pulls)
