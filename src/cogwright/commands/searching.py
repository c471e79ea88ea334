"""A search on the command line: it says on stderr how far it is, and can be ended with the best so far.

Ctrl+C ends it at once, a time limit with the piece in which the time runs out (some hundredths of a second).
A second Ctrl+C ends the program.
"""

import sys
from collections.abc import Iterator
from dataclasses import dataclass
from time import monotonic
from typing import Final, Literal

from cogwright.commands.arguments import INTERRUPTED
from cogwright.core.proposing.progress import Progress

#: The first line comes after so many seconds, the next ones no closer than that.
FIRST_S: Final = 0.5
EVERY_S: Final = 0.2


@dataclass(frozen=True, slots=True)
class Ended:
    """The last progress of a search, None if it made none, and how it ended."""

    last: Progress | None
    how: Literal["finished", "interrupted", "time"]

    @property
    def status(self) -> int:
        """The exit status."""
        return INTERRUPTED if self.how == "interrupted" else 0

    @property
    def words(self) -> str:
        """What to say of an end before the end; empty for a search that has finished."""
        if self.how == "finished":
            return ""
        far = f" after {thousands(self.last.done)} of {thousands(self.last.total)}" if self.last else ""
        why = "by Ctrl+C" if self.how == "interrupted" else "by the time limit"
        return f"stopped {why}{far}: this is the best so far, and there may be better"


def ended(progress: Iterator[Progress], limit_s: float | None = None) -> Ended:
    """Search until it is done, the time is over, or Ctrl+C is pressed."""
    now, line, began = None, _Line(), monotonic()
    try:
        for now in progress:
            if now.finished:
                break
            if limit_s is not None and monotonic() - began >= limit_s:
                return Ended(now, "time")
            line.show(now)
    except KeyboardInterrupt:
        return Ended(now, "interrupted")
    finally:
        line.clear()
    return Ended(now, "finished")


def thousands(count: int) -> str:
    """A count in groups of three.

    >>> thousands(1109850)
    '1 109 850'
    """
    return f"{count:,}".replace(",", " ")


class _Line:
    """One line on stderr that is written over; none where stderr is no terminal."""

    def __init__(self) -> None:
        self._out = sys.stderr if sys.stderr is not None and sys.stderr.isatty() else None
        self._due = monotonic() + FIRST_S
        self._width = 0

    def show(self, now: Progress) -> None:
        if self._out is not None and monotonic() >= self._due:
            self._due = monotonic() + EVERY_S
            share = 100 * now.done // max(now.total, 1)
            self._write(f"{share} % of {thousands(now.total)} looked at; Ctrl+C takes the best so far")

    def clear(self) -> None:
        if self._width:
            self._write("")

    def _write(self, text: str) -> None:
        assert self._out is not None
        wiped = f"\r{' ' * self._width}\r" if len(text) < self._width else "\r"
        self._width = len(text)
        self._out.write(wiped + text)
        self._out.flush()
