"""What can be edited of rider, bike and road: each field with its unit, its step and the usual choices."""

from dataclasses import dataclass
from typing import Final

from cogwright.core.setup.edits import Edit, SetField, Together
from cogwright.core.setup.model import Setup


@dataclass(frozen=True, slots=True)
class UsualValue:
    """A usual value of a field, what it is called, and where it comes from."""

    label: str
    value: float
    source: str


@dataclass(frozen=True, slots=True)
class RiderField:
    """One editable number of `[rider]`. `key` is its path in the file; `index` its place in a list there."""

    key: str
    label: str
    unit: str
    step: float
    digits: int
    index: int | None = None
    usual: tuple[UsualValue, ...] = ()

    def value(self, setup: Setup) -> float:
        """The number as it stands in a setup."""
        value = getattr(setup.rider, self.key.removeprefix("rider."))
        return float(value if self.index is None else value[self.index])

    def edit(self, setup: Setup, value: float) -> Edit:
        """The edit that gives the field a number; applying it may raise EditRefused."""
        said = f"{self.label} {round(value, 6):g} {self.unit}".strip()
        if self.index is None:
            return Together((SetField(self.key, float(value)),), said)
        numbers = list(getattr(setup.rider, self.key.removeprefix("rider.")))
        numbers[self.index] = float(value)
        return Together((SetField(self.key, tuple(numbers)),), said)

    def nudge(self, setup: Setup, up: bool) -> Edit:
        """The edit that moves the field one step up or down."""
        moved = self.value(setup) + (self.step if up else -self.step)
        return self.edit(setup, round(moved, self.digits))

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
RIDER_FIELDS: Final = (
    RiderField("rider.mass_kg", "rider", "kg", 1.0, 1),
    RiderField("rider.bike_kg", "bike", "kg", 0.5, 1),
    RiderField("rider.load_kg", "load", "kg", 1.0, 1),
    RiderField("rider.power_w", "power to keep up", "W", 5.0, 0),
    RiderField("rider.cadence_rpm", "grinding below", "rpm", 1.0, 0, index=0),
    RiderField("rider.cadence_rpm", "happy at", "rpm", 1.0, 0, index=1),
    RiderField("rider.cadence_rpm", "spinning above", "rpm", 1.0, 0, index=2),
    RiderField("rider.cda_m2", "position: drag area", "m2", 0.01, 3, usual=POSITIONS),
    RiderField("rider.crr", "surface: rolling", "", 0.0005, 4, usual=SURFACES),
    RiderField("rider.height_m", "height of the road", "m", 100.0, 0),
    RiderField("rider.chain_efficiency", "power the chain passes on", "", 0.005, 3),
)
