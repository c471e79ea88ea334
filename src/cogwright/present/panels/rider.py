"""What the ride rests on: the rider's figures as lines, and as a table to edit."""

from typing import Final

from cogwright.core.common.safe_text import pad
from cogwright.core.riding.grades import ride_of
from cogwright.core.setup.model import Rider
from cogwright.core.setup.rider_fields import RIDER_FIELDS, RiderField
from cogwright.core.study import Study
from cogwright.present.lines import Line, Look, Role, Span, clip, line, spread, told

MODEL: Final = (
    "Steady riding in still air: on every grade the speed that the power gives, at once; no starts, bends, "
    "wind or tiring. Equation of Martin et al. (1998), who measured 2.7 W off on the road; uphill, measured "
    "power was within about 6 % of such a model without wind, 10 % with it (Millet et al. 2014)."
)
_DEFAULTS: Final = Rider()


def assumption_lines(study: Study, look: Look) -> list[Line]:
    """What the figures rest on, and how good they are."""
    return [row for text in (_stated(study), MODEL) for row in told(text, look.width, Role.DIM)]


def _stated(study: Study) -> str:
    rider, of = study.bench.rider, ride_of(study).resistance
    both = " The baseline is ridden with the same." if study.baseline is not None else ""
    grinding, happy, spinning = rider.cadence_rpm
    return (
        f"Assumed: rider {rider.mass_kg:g} + bike {rider.bike_kg:g} + load {rider.load_kg:g} = "
        f"{of.mass_kg:g} kg; {rider.power_w:g} W; {grinding:g} / {happy:g} / {spinning:g} rpm "
        f"grinding, happy, spinning; drag area {rider.cda_m2:g} m2; rolling {rider.crr:g}; "
        f"air {of.air:.3f} kg/m3 at {rider.height_m:g} m; "
        f"the chain passes on {100 * rider.chain_efficiency:g} %{_hub_words(study)}. What the file does not "
        f"give is a round figure, no source.{both}"
    )


def _hub_words(study: Study) -> str:
    """The default is that of a derailleur chain."""
    hub = len(study.bench.rear.hub_ratios) > 1
    default = study.bench.rider.chain_efficiency == _DEFAULTS.chain_efficiency
    return ", though a hub gear passes on less: give its own figure" if hub and default else ""


def rider_rows(study: Study, look: Look) -> list[Line]:
    """The table to edit: a line a field of RIDER_FIELDS, with its value, unit and what that is."""
    return [clip(_row(study, field, look), look.width) for field in RIDER_FIELDS]


def _row(study: Study, field: RiderField, look: Look) -> Line:
    value = field.value(study.bench)
    label = min(27, max(look.width - 13, 0))
    left = line(Span(f"{pad(field.label, label)}{_shown(field, value):>8} {field.unit:<4}"))
    return spread(left, (Span(_says(study, field), Role.DIM),), look.width) if look.width >= 60 else left


def _shown(field: RiderField, value: float) -> str:
    return f"{value:.{field.digits}f}"


def _says(study: Study, field: RiderField) -> str:
    choice = field.usual_now(study.bench)
    said = [choice.label] if choice else []
    if field.value(study.bench) == _default(field):
        said.append("default")
    return ", ".join(said) + " "


def _default(field: RiderField) -> float:
    value = getattr(_DEFAULTS, field.key.removeprefix("rider."))
    return float(value if field.index is None else value[field.index])


def usual_lines(study: Study, field: RiderField, look: Look) -> list[Line]:
    """What is usual for a field, with the source; where nothing is, how far one step goes."""
    if not field.usual:
        return told(f"one step is {field.step:g} {field.unit}", look.width, Role.DIM)
    now = field.usual_now(study.bench)
    rows: list[Line] = []
    for choice in field.usual:
        sign = look.glyphs.tick if choice == now else " "
        rows.append(
            (Span(f"   {sign} {_shown(field, choice.value)}  {choice.label} ({choice.source})", Role.DIM),)
        )
    return rows
