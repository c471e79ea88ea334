"""What the gears mean to the rider: the steepest grades held, the preferred speed, spinning out.

Also what a change gives up at both ends, in a rider's words.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache

from cogwright.core.common.units import kmh
from cogwright.core.figures import Figures
from cogwright.core.gears.gears import Gear
from cogwright.core.riding.air import standard_celsius
from cogwright.core.riding.efforts import Effort, least_cadence, short, sustained
from cogwright.core.riding.resistance import (
    Resistance,
    resistance_of,
    speed_at_cadence,
    speed_at_power,
    steepest_grade,
)
from cogwright.core.setup.model import Rider, Setup


@dataclass(frozen=True, slots=True)
class GearRide:
    """A gear for the rider: steepest grade in % held all day and for some minutes, km/h when happy."""

    gear: Gear
    steepest_pct: float
    happy_kmh: float
    steepest_short_pct: float


@dataclass(frozen=True)
class Ride:
    """All gears for one rider, easiest first; the baseline's with the same rider on the baseline's bike.

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
    base_resistance: Resistance | None = None

    @property
    def steepest_pct(self) -> float:
        """Steepest grade in % that the easiest gear holds all day."""
        return self.per_gear[0].steepest_pct

    @property
    def steepest_short_pct(self) -> float:
        """Steepest grade in % that the easiest gear holds for the short effort."""
        return self.per_gear[0].steepest_short_pct

    @property
    def base_steepest_pct(self) -> float | None:
        """What the baseline holds all day; None without one."""
        return self.base_per_gear[0].steepest_pct if self.base_per_gear else None

    @property
    def base_steepest_short_pct(self) -> float | None:
        """What the baseline holds for the short effort; None without one."""
        return self.base_per_gear[0].steepest_short_pct if self.base_per_gear else None


@lru_cache(maxsize=8)
def ride_of(figures: Figures) -> Ride:
    """The gears of a bench and its baseline for the bench's rider; kept for the benches last seen."""
    rider, gears, base_gears = figures.bench.rider, figures.gears, figures.base_gears
    of, base_of = resistance_of(figures.bench), _base_resistance(figures.baseline, rider)
    return Ride(
        rider,
        of,
        tuple(gear_ride(gear, rider, of) for gear in gears),
        tuple(gear_ride(gear, rider, base_of or of) for gear in base_gears),
        spin_out_kmh(gears[-1], rider),
        spin_out_kmh(base_gears[-1], rider) if base_gears else None,
        kmh(speed_at_power(rider.power_w, 0.0, of)),
        figures.beyond_chain,
        base_of,
    )


def _base_resistance(baseline: Setup | None, rider: Rider) -> Resistance | None:
    return None if baseline is None else resistance_of(baseline, rider)


def gear_ride(gear: Gear, rider: Rider, of: Resistance) -> GearRide:
    """One gear for a rider."""
    happy = kmh(speed_at_cadence(gear.development_m, rider.cadence_rpm[1]))
    held, briefly = (steepest_pct(gear, effort, of) for effort in (sustained(rider), short(rider)))
    return GearRide(gear, held, happy, briefly)


def steepest_pct(gear: Gear, effort: Effort, of: Resistance) -> float:
    """Steepest grade in % on which an effort turns a gear at its cadence."""
    return 100.0 * steepest_grade(speed_at_cadence(gear.development_m, effort.rpm), effort.power_w, of)


def spin_out_kmh(top: Gear, rider: Rider) -> float:
    """Speed in km/h at which a gear is at the high cadence."""
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
        "chain_efficiency": of.efficiency,
        "short_power_w": short(rider).power_w,
        "short_rpm": short(rider).rpm,
        "short_s": rider.short_s,
        "least_rpm": least_cadence(rider),
        "walk_kmh": rider.walk_kmh,
        "descent_kmh": rider.descent_kmh,
        "hold_descents": float(rider.hold_descents),
        "headwind_kmh": rider.headwind_kmh,
        "temperature_c": _temperature(rider),
    }


def _temperature(rider: Rider) -> float:
    given = rider.temperature_c
    return standard_celsius(rider.height_m) if given is None else given


def in_words(ride: Ride) -> tuple[str, ...]:
    """What the change does at both ends, as a rider feels it; without a baseline what the ends are."""
    return (*_ends_in_words(ride), *_promise(ride))


def _ends_in_words(ride: Ride) -> tuple[str, str]:
    return (_steepest_words(ride), _top_words(ride.spin_out_kmh, ride.base_spin_out_kmh))


def _promise(ride: Ride) -> tuple[str, ...]:
    ends = [
        gear.label for gear in (ride.per_gear[0].gear, ride.per_gear[-1].gear) if gear in ride.beyond_chain
    ]
    if not ends:
        return ()
    return (f"Only with a longer chain: this one is too short for {' and '.join(dict.fromkeys(ends))}.",)


def _steepest_words(ride: Ride) -> str:
    """Both efforts in one sentence."""
    before, briefly = ride.base_steepest_pct, ride.base_steepest_short_pct
    minutes = short_words(ride.rider)
    if before is None or briefly is None:
        return f"Steepest all day {ride.steepest_pct:.1f} %, {minutes} {ride.steepest_short_pct:.1f} %."
    held = _change(before, ride.steepest_pct)
    return f"Steepest all day {held}, {minutes} {_change(briefly, ride.steepest_short_pct)}."


def _change(before: float, now: float) -> str:
    if f"{now:.1f}" == f"{before:.1f}":
        return f"{now:.1f} % as before"
    return f"{now:.1f} % (was {before:.1f})"


def short_words(rider: Rider) -> str:
    """How long the short effort lasts, in words.

    >>> short_words(Rider()), short_words(Rider(short_s=45.0)), short_words(Rider(short_s=60.0))
    ('for 3 minutes', 'for 45 seconds', 'for 1 minute')
    """
    if rider.short_s < 60.0:
        return f"for {rider.short_s:.0f} seconds"
    minutes = f"{rider.short_s / 60.0:.1f}".removesuffix(".0")
    return f"for {minutes} minute{'' if minutes == '1' else 's'}"


def _top_words(now: float, before: float | None) -> str:
    if before is None:
        return f"You spin out at {now:.0f} km/h."
    if f"{now:.1f}" == f"{before:.1f}":
        return f"You spin out at {now:.0f} km/h, as before."
    digits = 0 if f"{now:.0f}" != f"{before:.0f}" else 1
    return f"You spin out at {now:.{digits}f} instead of {before:.{digits}f} km/h."
