"""Race limits on rollout: a measured wheel decides; a nominal one near the limit cannot."""

from collections.abc import Sequence
from enum import StrEnum
from typing import NamedTuple

from cogwright.core.gears.gears import Gear
from cogwright.core.setup.sizes import NOMINAL_UNCERTAINTY, Circumference


class RolloutVerdict(StrEnum):
    """What can be said of a gear against a race limit."""

    PASS = "pass"
    FAIL = "fail"
    TOO_CLOSE = "too close to call: measure it"


def judge(development_m: float, limit_m: float, wheel: Circumference) -> RolloutVerdict:
    """Judge a gear's development against a limit, both in m.

    The limit itself is legal. A nominal wheel is good to 1 %, so within that nothing is decided.

    >>> judge(7.98, 7.93, Circumference(2.1, "nominal")).value
    'too close to call: measure it'
    >>> judge(7.98, 7.93, Circumference(2.1, "measured")).value
    'fail'
    """
    if wheel.source == "nominal" and abs(development_m / limit_m - 1.0) <= NOMINAL_UNCERTAINTY:
        return RolloutVerdict.TOO_CLOSE
    return RolloutVerdict.PASS if development_m <= limit_m + 1e-9 else RolloutVerdict.FAIL


class Scrutiny(NamedTuple):
    """All gears against a race limit: those over it, those too close to call, and the largest legal one."""

    limit_m: float
    over: tuple[Gear, ...]
    close: tuple[Gear, ...]
    largest_legal: Gear | None

    @property
    def verdict(self) -> RolloutVerdict:
        """The bike's verdict with every gear in use."""
        if self.over:
            return RolloutVerdict.FAIL
        return RolloutVerdict.TOO_CLOSE if self.close else RolloutVerdict.PASS

    @property
    def block(self) -> tuple[Gear, ...]:
        """Gears to block before the start: those over, and those nobody has measured."""
        return tuple(sorted((*self.over, *self.close), key=lambda g: g.development_m))


def scrutinise(gears: Sequence[Gear], limit_m: float, wheel: Circumference) -> Scrutiny:
    """Judge all gears, ascending by development, against a limit in m."""
    by: dict[RolloutVerdict, list[Gear]] = {verdict: [] for verdict in RolloutVerdict}
    for gear in gears:
        by[judge(gear.development_m, limit_m, wheel)].append(gear)
    legal = by[RolloutVerdict.PASS]
    return Scrutiny(
        limit_m,
        tuple(by[RolloutVerdict.FAIL]),
        tuple(by[RolloutVerdict.TOO_CLOSE]),
        legal[-1] if legal else None,
    )
