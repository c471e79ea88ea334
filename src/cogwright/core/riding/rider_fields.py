"""What can be edited of rider, bike and road: each field with its unit, its step and the usual choices."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Final

from cogwright.core.riding.air import standard_celsius
from cogwright.core.riding.drive import (
    BELT_EFFICIENCY,
    BELT_HUB_EFFICIENCY,
    CHAIN_EFFICIENCY,
    HUB_GEAR_EFFICIENCY,
    usual_efficiency,
)
from cogwright.core.riding.efforts import least_cadence, short
from cogwright.core.setup.edits import SetField, Together
from cogwright.core.setup.model import Rider, Setup
from cogwright.core.setup.sprockets import Edit


@dataclass(frozen=True, slots=True)
class UsualValue:
    """A usual value of a field, what it is called, and where it comes from."""

    label: str
    value: float
    source: str


@dataclass(frozen=True, slots=True)
class RiderField:
    """One editable number of `[rider]`. `key` is its path in the file; `index` its place in a list there.

    `else_` is the value that counts where the file gives none. A `switch` is a yes or no, as 1 or 0.
    """

    key: str
    label: str
    unit: str
    step: float
    digits: int
    index: int | None = None
    usual: tuple[UsualValue, ...] = ()
    else_: Callable[[Setup], float] | None = None
    switch: bool = False

    def given(self, setup: Setup) -> float | None:
        """The number as it stands in a setup; None where it does not."""
        value = getattr(setup.rider, self.key.removeprefix("rider."))
        value = value if self.index is None else value[self.index]
        return None if value is None else float(value)

    @property
    def default(self) -> float | None:
        """The number that counts in a file without it; None where that follows from other facts."""
        value = Rider.model_fields[self.key.removeprefix("rider.")].default
        value = value if self.index is None else value[self.index]
        return None if value is None else float(value)

    def value(self, setup: Setup) -> float:
        """The number that counts in a setup."""
        given = self.given(setup)
        if given is None:
            assert self.else_ is not None
            return self.else_(setup)
        return given

    def edit(self, setup: Setup, value: float) -> Edit:
        """The edit that gives the field a number; applying it may raise EditRefused."""
        name = next((one.label for one in self.usual if self.switch and one.value == value), None)
        said = f"{self.label} {name or f'{round(value, 6):g}'} {self.unit}".strip()
        if self.index is None:
            number = bool(value) if self.switch else float(value)
            return Together((SetField(self.key, number),), said)
        numbers = list(getattr(setup.rider, self.key.removeprefix("rider.")))
        numbers[self.index] = float(value)
        return Together((SetField(self.key, tuple(numbers)),), said)

    def nudge(self, setup: Setup, up: bool) -> Edit:
        """The edit that moves the field one step up or down."""
        moved = self.value(setup) + (self.step if up else -self.step)
        return self.edit(setup, max(0.0, min(1.0, moved)) if self.switch else round(moved, self.digits))

    def usual_now(self, setup: Setup) -> UsualValue | None:
        """The usual value that the field has just now, if it is one."""
        value = self.value(setup)
        return next((c for c in self.usual if abs(c.value - value) <= 1e-9), None)


#: Drag areas as tabled in *Bicycling Science* (Wilson), the postures in our words.
POSITIONS: Final = (
    UsualValue("upright, in street clothes", 0.632, "Bicycling Science, table"),
    UsualValue("touring, hands on the tops", 0.400, "Bicycling Science, table"),
    UsualValue("racing crouch", 0.317, "Bicycling Science, table"),
)
_PRACTICE = "common practice, no source"
SURFACES: Final = (
    UsualValue("smooth asphalt, good tyres", 0.004, _PRACTICE),
    UsualValue("ordinary road", 0.006, _PRACTICE),
    UsualValue("rough or patched road", 0.008, _PRACTICE),
    UsualValue("firm gravel", 0.012, _PRACTICE),
    UsualValue("loose gravel, wet track", 0.020, _PRACTICE),
)
DRIVES: Final = (
    UsualValue("clean chain, no hub gear", CHAIN_EFFICIENCY, "Martin et al. 1998"),
    UsualValue("hub gear with a chain", HUB_GEAR_EFFICIENCY, _PRACTICE),
    UsualValue("belt, no hub gear", BELT_EFFICIENCY, _PRACTICE),
    UsualValue("hub gear with a belt", BELT_HUB_EFFICIENCY, _PRACTICE),
)
DESCENTS: Final = (
    UsualValue("roll", 0.0, "common practice, no source"),
    UsualValue("hold the high cadence", 1.0, "as with a fixed wheel"),
)
RIDER_FIELDS: Final = (
    RiderField("rider.mass_kg", "rider", "kg", 1.0, 1),
    RiderField("rider.bike_kg", "bike", "kg", 0.5, 1),
    RiderField("rider.load_kg", "load", "kg", 1.0, 1),
    RiderField("rider.power_w", "sustained power", "W", 5.0, 0),
    RiderField("rider.short_power_w", "short effort", "W", 5.0, 0, else_=lambda of: short(of.rider).power_w),
    RiderField("rider.short_s", "short effort lasts", "s", 10.0, 0),
    RiderField("rider.cadence_rpm", "low cadence", "rpm", 1.0, 0, index=0),
    RiderField("rider.cadence_rpm", "preferred cadence", "rpm", 1.0, 0, index=1),
    RiderField("rider.cadence_rpm", "high cadence", "rpm", 1.0, 0, index=2),
    RiderField(
        "rider.short_cadence_rpm",
        "low cadence, standing",
        "rpm",
        1.0,
        0,
        else_=lambda of: short(of.rider).rpm,
    ),
    RiderField(
        "rider.least_cadence_rpm", "gets off under", "rpm", 1.0, 0, else_=lambda of: least_cadence(of.rider)
    ),
    RiderField("rider.walk_kmh", "walking pace", "km/h", 0.5, 1),
    RiderField("rider.descent_kmh", "downhill at most", "km/h", 5.0, 0),
    RiderField("rider.hold_descents", "descents", "", 1.0, 0, usual=DESCENTS, switch=True),
    RiderField("rider.cda_m2", "position: drag area", "m2", 0.01, 3, usual=POSITIONS),
    RiderField("rider.crr", "tyres and surface: rolling", "", 0.0005, 4, usual=SURFACES),
    RiderField("rider.headwind_kmh", "headwind (- from behind)", "km/h", 5.0, 0),
    RiderField("rider.height_m", "height of the road", "m", 100.0, 0),
    RiderField(
        "rider.temperature_c",
        "temperature",
        "C",
        1.0,
        0,
        else_=lambda of: standard_celsius(of.rider.height_m),
    ),
    RiderField(
        "rider.chain_efficiency",
        "drive efficiency",
        "",
        0.005,
        3,
        usual=DRIVES,
        else_=usual_efficiency,
    ),
)
