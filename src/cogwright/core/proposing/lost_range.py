"""Range lost against a baseline."""

import math
from dataclasses import dataclass

from cogwright.core.common.units import percent
from cogwright.core.gears.gears import gears_of
from cogwright.core.setup.model import Setup


@dataclass(frozen=True, slots=True)
class LostRange:
    """Range lost at both ends against a baseline, as logs of ratios; 0 where nothing is lost."""

    low: float
    high: float

    @property
    def low_pct(self) -> float:
        """How much higher the lowest gear lies than the baseline's, in %."""
        return percent(math.exp(self.low))

    @property
    def high_pct(self) -> float:
        """How much lower the highest gear lies than the baseline's, in %."""
        return 100.0 - 100.0 * math.exp(-self.high)

    @property
    def range_pct(self) -> float:
        """Share of the baseline's range that is lost: one minus range kept over range had, in %."""
        return 100.0 - 100.0 * math.exp(-self.low - self.high)


def lost_range(low_m: float, high_m: float, base_low_m: float, base_high_m: float) -> LostRange:
    """Range lost against a baseline; developments in m.

    A baseline of 2 to 8 m kept from 2.5 m to 8 m: a fifth of the range of 400 % is lost.

    >>> round(lost_range(2.5, 9.0, 2.0, 8.0).range_pct, 6)
    20.0
    """
    return LostRange(max(math.log(low_m / base_low_m), 0.0), max(math.log(base_high_m / high_m), 0.0))


def lost_between(setup: Setup, baseline: Setup) -> LostRange:
    """Range that a setup loses against a baseline."""
    bench, base = gears_of(setup), gears_of(baseline)
    ends = (bench[0], bench[-1], base[0], base[-1])
    return lost_range(*(gear.development_m for gear in ends))
