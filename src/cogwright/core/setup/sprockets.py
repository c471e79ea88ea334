"""Rings and cogs by where they are, and what an edit of a setup is; the edits stand in `edits.py`."""

from typing import Literal, Protocol

from cogwright.core.setup.model import MAX_TEETH, MIN_TEETH, Setup

Where = Literal["ring", "cog"]


class Edit(Protocol):
    """A change to a setup."""

    def apply(self, setup: Setup) -> Setup:
        """The changed setup. Raises EditRefused, with the reason, when there is none."""
        ...

    def say(self) -> str:
        """The change in a few words, for undo and messages."""
        ...


def sprockets(setup: Setup, where: Where) -> tuple[int, ...]:
    """Rings or cogs of a setup, smallest first."""
    return setup.crank.rings if where == "ring" else setup.rear.cogs


def riveted_with(setup: Setup, cog: int) -> tuple[int, ...]:
    """The other cogs on the carrier that a cog is riveted to; none for a loose cog."""
    for carrier in setup.rear.carriers:
        if cog in carrier:
            return tuple(n for n in carrier if n != cog)
    return ()


def next_teeth(setup: Setup, where: Where, teeth: int, up: bool) -> int | None:
    """The next tooth count up or down that no other sprocket there has; None past the ends."""
    taken = set(sprockets(setup, where))
    ahead = range(teeth + 1, MAX_TEETH + 1) if up else range(teeth - 1, MIN_TEETH - 1, -1)
    return next((n for n in ahead if n not in taken), None)
