"""Tables of the setup file: the rider, the bike's mass and the road."""

from typing import Annotated, Self

from pydantic import model_validator

from cogwright.core.setup.fields import Section, number, problem


class Rider(Section):
    """Rider, bike and road. The defaults are invented round figures for an all-round rider, no source;
    only the part of the power that a clean derailleur chain passes on is measured (Martin et al. 1998).
    """

    mass_kg: Annotated[float, number(20, 250)] = 72.0
    bike_kg: Annotated[float, number(3, 100)] = 14.0
    load_kg: Annotated[float, number(0, 200)] = 0.0
    power_w: Annotated[float, number(20, 2000)] = 190.0
    cadence_rpm: tuple[
        Annotated[float, number(20, 200)],
        Annotated[float, number(20, 200)],
        Annotated[float, number(20, 250)],
    ] = (60.0, 85.0, 105.0)
    cda_m2: Annotated[float, number(0.05, 2.0)] = 0.40
    crr: Annotated[float, number(0.0005, 0.1)] = 0.006
    height_m: Annotated[float, number(-430, 6000)] = 0.0
    chain_efficiency: Annotated[float, number(0.5, 1.0)] = 0.976

    @model_validator(mode="after")
    def _rising(self) -> Self:
        grinding, happy, spinning = self.cadence_rpm
        if not grinding < happy < spinning:
            raise problem(
                "the cadences do not rise",
                "give grinding, happy and spinning cadence in rpm, such as [60, 85, 105]",
            )
        return self
