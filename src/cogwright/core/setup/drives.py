"""Tables of the setup file: what else turns a wheel, or joins two cranks: belt, motor, timing chain."""

from typing import Annotated

from cogwright.core.setup.bounds import number
from cogwright.core.setup.fields import Section, Teeth


class Belt(Section):
    """A toothed belt in place of a chain: its pitch, its teeth, and the maker's greatest sideways offset.

    The pulleys are the crank's ring and the rear cog.
    """

    pitch_mm: Annotated[float | None, number(3, 30)] = None
    teeth: Annotated[int | None, number(20, 1000)] = None
    most_offset_mm: Annotated[float | None, number(0, 20)] = None


class Motor(Section):
    """What a motor adds: its torque at the crank or at the wheel, and where its help ends.

    `cutoff_kmh` is the speed at which it stops helping, `cadence_rpm` the cadence up to which it helps,
    `power_w` the most that it adds where its maker or the law says so.
    """

    crank_torque_nm: Annotated[float | None, number(0, 500)] = None
    wheel_torque_nm: Annotated[float | None, number(0, 1000)] = None
    power_w: Annotated[float | None, number(10, 20_000)] = None
    cutoff_kmh: Annotated[float | None, number(3, 200)] = None
    cadence_rpm: Annotated[float | None, number(20, 250)] = None


class TimingChain(Section):
    """The chain between two cranks of a tandem.

    Teeth of both its rings (the captain's first), the distance of the bottom brackets, how far an eccentric
    moves one of them away from there, its links, and its stretch.
    """

    rings: tuple[Teeth, Teeth] | None = None
    centres_mm: Annotated[float | None, number(200, 1500)] = None
    eccentric_mm: Annotated[float | None, number(0, 50)] = None
    links: Annotated[int | None, number(20, 600)] = None
    stretch_pct: Annotated[float | None, number(0, 5)] = None
