"""What a fit check says: the same for every check."""

import re
from enum import StrEnum
from typing import Final, NamedTuple

from cogwright.core.common.words import listed

#: Stands in the sentence of every check that rests on a default of ours.
COMMON: Final = "common practice"
_KEY: Final = re.compile(r"\b[a-z_]+\.[a-z_][a-z0-9_]+\b")


class Status(StrEnum):
    """How a check came out."""

    PROBLEM = "problem"
    CAUTION = "caution"
    UNKNOWN = "unknown"
    OK = "ok"


class Check(NamedTuple):
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

    @property
    def lacks(self) -> tuple[str, ...]:
        """The facts that a check which cannot be made asks the setup for; its sentence names them.

        >>> needs("clicks", "cogs", 11, "rear.clicks").lacks
        ('rear.clicks',)
        """
        return tuple(_KEY.findall(self.say)) if self.status is Status.UNKNOWN else ()


class Limit(NamedTuple):
    """What someone limits: the check's name, the key that gives the limit, and what is said.

    `fine` and `wrong` are sentences with `{figure}` and `{limit}` in them. The limit is the most that is
    allowed, or with `least` the least; a figure past it comes out as `breach`.
    """

    check: str
    key: str
    fine: str
    wrong: str
    least: bool = False
    breach: Status = Status.PROBLEM
    unit: str = "teeth"

    def judge(self, figure: int, limit: int | None) -> Check:
        """The figure against the limit; unknown without one."""
        if limit is None:
            return needs(self.check, self.unit, figure, self.key)
        kept = figure >= limit if self.least else figure <= limit
        status, say = (Status.OK, self.fine) if kept else (self.breach, self.wrong)
        bar = None if self.least else (float(figure), float(limit))
        said = say.format(figure=figure, limit=limit)
        return Check(self.check, status, figure, limit, self.unit, said, bar, least=self.least)


def needs(check: str, unit: str, figure: float | None, *keys: str) -> Check:
    """A check that cannot be made, with the facts that the setup must give."""
    return Check(check, Status.UNKNOWN, figure, None, unit, f"needs {listed(keys)} in the setup")
