"""Race limits on rollout: a measured wheel decides; a nominal one near the limit cannot."""

from enum import StrEnum

from cogwright.core.sizes import NOMINAL_UNCERTAINTY, Circumference


class Verdict(StrEnum):
    """What can be said of a gear against a race limit."""

    PASS = "pass"
    FAIL = "fail"
    TOO_CLOSE = "too close to call: measure it"


def judge(development_m: float, limit_m: float, wheel: Circumference) -> Verdict:
    """Judge a gear's development against a limit, both in m.

    The limit itself is legal. A nominal wheel is good to 1 %, so within that nothing is decided.

    >>> judge(7.98, 7.93, Circumference(2.1, "nominal")).value
    'too close to call: measure it'
    >>> judge(7.98, 7.93, Circumference(2.1, "measured")).value
    'fail'
    """
    if wheel.source == "nominal" and abs(development_m / limit_m - 1.0) <= NOMINAL_UNCERTAINTY:
        return Verdict.TOO_CLOSE
    return Verdict.PASS if development_m <= limit_m + 1e-9 else Verdict.FAIL
