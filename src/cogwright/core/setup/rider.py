"""Tables of the setup file: the rider, the bike's mass and tyres, and the road."""

from typing import Annotated, Self

from pydantic import model_validator

from cogwright.core.setup.bounds import number
from cogwright.core.setup.fields import Flag, Section, problem

Rpm = Annotated[float, number(20, 200)]


class Rider(Section):
    """Rider, bike and road. The defaults are invented round figures for an all-round rider, no source.

    `bike_kg`, `load_kg`, `crr` and `chain_efficiency` are the bike's own: a bike compared with another keeps
    them. All else is the person's and the road's. What is None here follows from other facts
    (`riding.efforts`, `riding.drive`, `riding.air`); `crank_torque_nm`, the most that is pushed onto the
    cranks, from the mass (`drive.loads`). On a tandem mass and power are those of both riders.
    """

    mass_kg: Annotated[float, number(20, 250)] = 72.0
    bike_kg: Annotated[float, number(3, 100)] = 14.0
    load_kg: Annotated[float, number(0, 200)] = 0.0
    power_w: Annotated[float, number(20, 2000)] = 190.0
    short_power_w: Annotated[float | None, number(20, 3000)] = None
    short_s: Annotated[float, number(10, 1200)] = 180.0
    short_cadence_rpm: Rpm | None = None
    cadence_rpm: tuple[Rpm, Rpm, Annotated[float, number(20, 250)]] = (60.0, 85.0, 105.0)
    least_cadence_rpm: Annotated[float | None, number(5, 200)] = None
    walk_kmh: Annotated[float, number(1, 10)] = 5.0
    descent_kmh: Annotated[float, number(5, 150)] = 50.0
    hold_descents: Flag = False
    cda_m2: Annotated[float, number(0.05, 2.0)] = 0.40
    crr: Annotated[float, number(0.0005, 0.1)] = 0.006
    headwind_kmh: Annotated[float, number(-100, 100)] = 0.0
    height_m: Annotated[float, number(-430, 6000)] = 0.0
    temperature_c: Annotated[float | None, number(-40, 60)] = None
    chain_efficiency: Annotated[float | None, number(0.5, 1.0)] = None
    crank_torque_nm: Annotated[float | None, number(10, 1000)] = None

    @model_validator(mode="after")
    def _rising(self) -> Self:
        grinding, happy, spinning = self.cadence_rpm
        if not grinding < happy < spinning:
            raise problem(
                "the cadences do not rise",
                "give low, preferred and high cadence in rpm, such as [60, 85, 105]",
            )
        if self.least_cadence_rpm is not None and self.least_cadence_rpm > grinding:
            raise problem(
                "the least cadence is above the low one of cadence_rpm",
                f"give least_cadence_rpm of {grinding:g} or less",
            )
        if self.short_power_w is not None and self.short_power_w < self.power_w:
            raise problem(
                "the short effort has less power than the sustained one",
                f"give short_power_w of {self.power_w:g} W or more",
            )
        return self
