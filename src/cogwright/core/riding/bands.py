"""The speeds of each gear between the low and the high cadence: where to shift, and where nothing serves."""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import pairwise

from cogwright.core.figures import Figures
from cogwright.core.gears.gears import Gear, speed_kmh
from cogwright.core.setup.model import Rider
from cogwright.core.shifting.shift_order import shift_order_of


@dataclass(frozen=True, slots=True)
class SpeedBand:
    """A gear's speeds in km/h at the low, the preferred and the high cadence.

    `up_kmh` is where to shift up to the next gear of the shift order: both gears are equally far from the
    preferred cadence there. None for the hardest gear, and for gears that the order leaves out.
    """

    gear: Gear
    low_kmh: float
    preferred_kmh: float
    high_kmh: float
    up_kmh: float | None = None


@dataclass(frozen=True, slots=True)
class SpeedGap:
    """Speeds in km/h between two gears at which neither turns at a liked cadence."""

    below: Gear
    above: Gear
    low_kmh: float
    high_kmh: float


@dataclass(frozen=True, slots=True)
class SpeedBands:
    """The bands of all gears, easiest first, and the gaps between them."""

    bands: tuple[SpeedBand, ...]
    gaps: tuple[SpeedGap, ...]


@lru_cache(maxsize=8)
def bands_of(figures: Figures) -> SpeedBands:
    """The bands of a bench for its rider; gears that are not to be ridden fill no gap."""
    rider, order = figures.bench.rider, shift_order_of(figures).gears
    up = {gear: shift_up_kmh(gear, harder, rider) for gear, harder in pairwise(order)}
    bands = tuple(_band(gear, rider, up.get(gear)) for gear in figures.gears)
    ridden = [band for band in bands if band.gear not in figures.left_out]
    return SpeedBands(bands, _gaps(ridden or bands))


def _band(gear: Gear, rider: Rider, up_kmh: float | None) -> SpeedBand:
    low, preferred, high = (speed_kmh(gear.development_m, rpm) for rpm in rider.cadence_rpm)
    return SpeedBand(gear, low, preferred, high, up_kmh)


def shift_up_kmh(gear: Gear, harder: Gear, rider: Rider) -> float:
    """Speed in km/h at which two gears are equally far from the preferred cadence.

    v / a - c = c - v / b with developments a and b a minute gives v = c * 2 a b / (a + b). With 4 m and 6 m
    at 100 rpm: 4.8 m a turn, 480 m a minute, 28.8 km/h.
    """
    a, b = gear.development_m, harder.development_m
    return speed_kmh(2.0 * a * b / (a + b), rider.cadence_rpm[1])


def _gaps(bands: Sequence[SpeedBand]) -> tuple[SpeedGap, ...]:
    return tuple(
        SpeedGap(a.gear, b.gear, a.high_kmh, b.low_kmh)
        for a, b in pairwise(bands)
        if b.low_kmh > a.high_kmh * (1.0 + 1e-9)
    )
