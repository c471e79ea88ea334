"""What the gears mean to the rider: the steepest grade held, the happy speed, spinning out.

Also what a change gives up at both ends, in a rider's words.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache

from cogwright.core.chain.left_out import unreachable
from cogwright.core.common.units import kmh
from cogwright.core.figures import Figures
from cogwright.core.gears.gears import Gear
from cogwright.core.riding.resistance import (
    Resistance,
    resistance_of,
    speed_at_cadence,
    speed_at_power,
    steepest_grade,
)
from cogwright.core.setup.model import Rider


@dataclass(frozen=True, slots=True)
class GearRide:
    """A gear for the rider: steepest grade in % held at the grinding cadence, and km/h when happy."""

    gear: Gear
    steepest_pct: float
    happy_kmh: float


@dataclass(frozen=True)
class Ride:
    """All gears for one rider, easiest first; the same for the baseline's gears, with the same rider.

    `beyond_chain` are gears of the bench that its chain is too short for: its figures are then promises.
    """

    rider: Rider
    resistance: Resistance
    per_gear: tuple[GearRide, ...]
    base_per_gear: tuple[GearRide, ...]
    spin_out_kmh: float
    base_spin_out_kmh: float | None
    flat_kmh: float
    beyond_chain: tuple[Gear, ...] = ()

    @property
    def steepest_pct(self) -> float:
        """Steepest grade in % that the easiest gear holds."""
        return self.per_gear[0].steepest_pct

    @property
    def base_steepest_pct(self) -> float | None:
        """The same of the baseline; None without one."""
        return self.base_per_gear[0].steepest_pct if self.base_per_gear else None


@lru_cache(maxsize=8)
def ride_of(figures: Figures) -> Ride:
    """The ride of a bench's gears and its baseline's, for its rider; kept for the benches last seen."""
    rider, gears, base_gears = figures.bench.rider, figures.gears, figures.base_gears
    of, short = resistance_of(rider), unreachable(figures.bench)
    return Ride(
        rider,
        of,
        tuple(gear_ride(gear, rider, of) for gear in gears),
        tuple(gear_ride(gear, rider, of) for gear in base_gears),
        spin_out_kmh(gears[-1], rider),
        spin_out_kmh(base_gears[-1], rider) if base_gears else None,
        kmh(speed_at_power(rider.power_w, 0.0, of)),
        tuple(gear for gear in gears if (gear.ring, gear.cog) in short),
    )


def gear_ride(gear: Gear, rider: Rider, of: Resistance) -> GearRide:
    """One gear for a rider."""
    grinding, happy, _ = rider.cadence_rpm
    slow = speed_at_cadence(gear.development_m, grinding)
    steepest = steepest_grade(slow, rider.power_w, of)
    return GearRide(gear, 100.0 * steepest, kmh(speed_at_cadence(gear.development_m, happy)))


def spin_out_kmh(top: Gear, rider: Rider) -> float:
    """Speed in km/h at which a gear is at the spinning cadence."""
    return kmh(speed_at_cadence(top.development_m, rider.cadence_rpm[2]))


def assumptions(rider: Rider, of: Resistance) -> Mapping[str, float]:
    """What the figures rest on, by name with its unit."""
    grinding, happy, spinning = rider.cadence_rpm
    return {
        "rider_kg": rider.mass_kg,
        "bike_kg": rider.bike_kg,
        "load_kg": rider.load_kg,
        "total_kg": of.mass_kg,
        "power_w": rider.power_w,
        "grinding_rpm": grinding,
        "happy_rpm": happy,
        "spinning_rpm": spinning,
        "cda_m2": rider.cda_m2,
        "crr": rider.crr,
        "height_m": rider.height_m,
        "air_kg_m3": of.air,
        "chain_efficiency": rider.chain_efficiency,
    }


def in_words(ride: Ride) -> tuple[str, ...]:
    """What the change does at both ends, as a rider feels it; without a baseline what the ends are."""
    return (*_ends_in_words(ride), *_promise(ride))


def _ends_in_words(ride: Ride) -> tuple[str, str]:
    base_low, base_top = ride.base_steepest_pct, ride.base_spin_out_kmh
    if base_low is None or base_top is None:
        return (
            f"The steepest you can hold is {ride.steepest_pct:.1f} %.",
            f"You spin out at {ride.spin_out_kmh:.0f} km/h.",
        )
    return (_steepest_words(ride.steepest_pct, base_low), _top_words(ride.spin_out_kmh, base_top))


def _promise(ride: Ride) -> tuple[str, ...]:
    ends = [
        gear.label for gear in (ride.per_gear[0].gear, ride.per_gear[-1].gear) if gear in ride.beyond_chain
    ]
    if not ends:
        return ()
    return (f"Not with this chain: it is too short for {' and '.join(dict.fromkeys(ends))}.",)


def _steepest_words(now: float, before: float) -> str:
    if f"{now:.1f}" == f"{before:.1f}":
        return f"The steepest you can hold stays at {now:.1f} %."
    verb = "falls" if now < before else "rises"
    return f"The steepest you can hold {verb} from {before:.1f} % to {now:.1f} %."


def _top_words(now: float, before: float) -> str:
    digits = 0 if f"{now:.0f}" != f"{before:.0f}" else 1
    if f"{now:.1f}" == f"{before:.1f}":
        return f"You spin out at {now:.0f} km/h, as before."
    return f"You spin out at {now:.{digits}f} instead of {before:.{digits}f} km/h."
