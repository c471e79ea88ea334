"""Wheel sizes: tyre markings of ISO 5775-1 and the circumference that follows from them."""

import math
import re
from typing import Final, Literal, NamedTuple

from cogwright.core.common.units import M_PER_INCH

#: Nominal rim diameters in use, mm, from 12 to 32 inches. Old names as printed beside the ISO 5775-1 marking;
#: a row with an empty name is in use as well (from memory, no source; 686 as a shop prints it for 32 inches).
BEAD_SEATS: Final[dict[int, str]] = {
    203: "12 1/2 x 1.75",
    254: "",
    298: "",
    305: "",
    340: "",
    349: "",
    355: "",
    400: "",
    406: "20 x 1.75",
    451: "",
    457: "",
    507: "24 x 1.75",
    520: "24 x 1",
    540: "24 x 1 3/8",
    559: "26 x 1.75",
    571: "",
    584: "650B",
    587: "",
    590: "26 x 1 3/8",
    597: "26 x 1 1/4",
    599: "",
    622: "700C",
    630: "27 x 1 1/4",
    635: "28 x 1 1/2",
    642: "",
    686: "",
}
#: A nominal circumference is good to about this: load and wear move it. One rider's measurements of one tyre,
#: a 25-622, loaded, new and worn, and its table value lie in a band of 2.5 %, so 1 % either side.
NOMINAL_UNCERTAINTY: Final = 0.01

_MARKING = re.compile(r"\s*(\d{2,3}(?:\.\d)?)\s*-\s*(\d{3})\s*")


class Circumference(NamedTuple):
    """Way of the wheel in one turn, and where the figure comes from."""

    m: float
    source: Literal["measured", "nominal"]

    @property
    def diameter_in(self) -> float:
        """True diameter in inches."""
        return self.m / math.pi / M_PER_INCH


def parse_size(marking: str) -> tuple[float, int] | None:
    """Section width and bead seat diameter in mm of a tyre marking; None when it is none.

    >>> parse_size("32-597")
    (32.0, 597)
    """
    match = _MARKING.fullmatch(marking)
    if match is None or not match[0].isascii():
        return None
    width, seat = float(match[1]), int(match[2])
    return (width, seat) if 10 <= width <= 130 and 100 <= seat <= 700 else None


def nominal_m(width_mm: float, bead_seat_mm: float) -> float:
    """Circumference in m: pi (BSD + 2 w) / 1000. Good to about 1 %.

    Agrees within 0.3 % with printed wheel-setting tables; 25-622 is tabled as 2105 mm:

    >>> round(nominal_m(25, 622), 3)
    2.111
    """
    return math.pi * (bead_seat_mm + 2.0 * width_mm) / 1000.0


def circumference(size: str | None, rollout_mm: float | None) -> Circumference:
    """Circumference of a wheel: the measured rollout of the wheel if given, else from the marking.

    Raises ValueError when there is neither.
    """
    if rollout_mm is not None:
        return Circumference(rollout_mm / 1000.0, "measured")
    parsed = parse_size(size) if size is not None else None
    if parsed is None:
        raise ValueError("a wheel needs a size or a rollout")
    return Circumference(nominal_m(*parsed), "nominal")


def is_known_bead_seat(size: str) -> bool:
    """Whether the bead seat diameter of a marking is one in use.

    >>> is_known_bead_seat("40-622"), is_known_bead_seat("40-621")
    (True, False)
    """
    parsed = parse_size(size)
    return parsed is not None and parsed[1] in BEAD_SEATS
