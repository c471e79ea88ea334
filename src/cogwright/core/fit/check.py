"""What a fit check says: the same for every check."""

from dataclasses import dataclass
from enum import StrEnum
from typing import Final

from cogwright.core.common.words import listed

#: Stands in the sentence of every check that rests on a default of ours.
COMMON: Final = "common practice"


class Status(StrEnum):
    """How a check came out."""

    PROBLEM = "problem"
    CAUTION = "caution"
    UNKNOWN = "unknown"
    OK = "ok"


@dataclass(frozen=True, slots=True)
class Check:
    """One check: its figure against its limit, and one sentence on what to do.

    The limit is the most that is allowed, or with `least` the least. `bar` is what the Fit view draws as used
    against allowed, where a bar says something. `default` says that the judgement rests on common practice or
    an estimate of ours, not on what the setup or a maker says.
    """

    check: str
    status: Status
    figure: float | None
    limit: float | None
    unit: str
    say: str
    bar: tuple[float, float] | None = None
    least: bool = False
    default: bool = False


def needs(check: str, unit: str, figure: float | None, *keys: str) -> Check:
    """A check that cannot be made, with the facts that the setup must give."""
    return Check(check, Status.UNKNOWN, figure, None, unit, f"needs {listed(keys)} in the setup")
