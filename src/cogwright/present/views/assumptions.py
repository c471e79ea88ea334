"""What the ride's figures rest on, and how good they are: sentences of the Ride view."""

from typing import Final

from cogwright.core.riding.efforts import SHORT_SHARE, least_cadence, short
from cogwright.core.riding.grades import Ride, ride_of, short_words
from cogwright.core.riding.resistance import Resistance
from cogwright.core.setup.model import Rider, Setup
from cogwright.core.study import Study
from cogwright.present.glyphs import with_signs
from cogwright.present.lines import Line, Look, Role, told

MODEL: Final = (
    "An estimate: the same power all the way, by the equation of motion; no bends, traffic or tiring. "
    "Equation of Martin et al. (1998), with a standard error of 2.7 W on the road; uphill, measured power "
    "was within about 6 % of such a model without wind, 10 % with it (Millet et al. 2014)."
)
EFFORTS: Final = (
    "Both efforts and the cadences are common practice, to be replaced by the rider's own: where the file "
    f"gives none, the short one is {SHORT_SHARE:g} times the sustained power (Monod and Scherrer's relation "
    "of 1965 with a reserve of 14 kJ at 190 W; adults have 10 to 25 kJ)."
)


def assumption_lines(study: Study, look: Look) -> list[Line]:
    """What the figures rest on, and how good they are."""
    said = (_stated(study), *_of_the_baseline(study), EFFORTS, MODEL)
    return [row for text in said for row in told(with_signs(text, look.glyphs), look.width, Role.DIM)]


def _stated(study: Study) -> str:
    rider, ride = study.bench.rider, ride_of(study)
    low, happy, high = rider.cadence_rpm
    effort, down = short(rider), "held" if rider.hold_descents else "rolled"
    return (
        f"Assumed: {_bike_words(study.bench, ride.resistance)}; {rider.power_w:g} W all day at {low:g} / "
        f"{happy:g} / {high:g} rpm (low, preferred, high cadence), {effort.power_w:g} W {short_words(rider)} "
        f"standing at {effort.rpm:g} rpm; on foot under {rider.walk_kmh:g} km/h or {least_cadence(rider):g} "
        f"rpm; descents {down}, {rider.descent_kmh:g} km/h at most; drag area {rider.cda_m2:g} m2; "
        f"{_air_words(rider, ride)}. What the file does not give is a round figure, no source."
    )


def _bike_words(setup: Setup, of: Resistance) -> str:
    rider = setup.rider
    return (
        f"rider {of.mass_kg - rider.bike_kg - rider.load_kg:g} + bike {rider.bike_kg:g} + load "
        f"{rider.load_kg:g} = {of.mass_kg:g} kg; rolling {rider.crr:g}; drive efficiency "
        f"{100 * of.efficiency:g} %"
    )


def _air_words(rider: Rider, ride: Ride) -> str:
    air = f"air {ride.resistance.air:.3f} kg/m3 at {rider.height_m:g} m"
    if rider.temperature_c is not None:
        air += f" and {rider.temperature_c:g} degrees C"
    wind = rider.headwind_kmh
    return (
        f"{air}, {abs(wind):g} km/h of {'headwind' if wind > 0 else 'tailwind'}"
        if wind
        else f"{air}, no wind"
    )


def _of_the_baseline(study: Study) -> list[str]:
    """The baseline's own facts, where they are not the bench's."""
    of, base = ride_of(study), study.baseline
    if base is None or of.base_resistance is None:
        return []
    own = _bike_words(base, of.base_resistance)
    if own == _bike_words(study.bench, of.resistance):
        return ["The baseline is ridden by the same rider, and weighs the same."]
    return [f"The baseline is ridden by the same rider, with its own {own.partition(' + ')[2]}."]
