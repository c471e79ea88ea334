"""Undo and redo: a line of immutable setups with a place in it, itself immutable."""

from typing import NamedTuple, Self

from cogwright.core.setup.model import Setup
from cogwright.core.setup.sprockets import Edit


class History(NamedTuple):
    """The setup now, those before it and those undone; each with the words for the edit that made it."""

    now: Setup
    past: tuple["Past", ...] = ()
    future: tuple["Past", ...] = ()

    @property
    def first(self) -> Setup:
        """The setup that the session began with."""
        return self.past[0].setup if self.past else self.now

    def do(self, edit: Edit) -> Self:
        """Apply an edit; what was undone is gone. An edit without effect leaves no trace."""
        return self.become(edit.apply(self.now), edit.say())

    def become(self, setup: Setup, why: str) -> Self:
        """Go on to another setup as one edit."""
        return self if setup == self.now else type(self)(setup, (*self.past, Past(self.now, why)), ())

    def undo(self) -> Self:
        """One edit back; the same history at the start."""
        if not self.past:
            return self
        last = self.past[-1]
        return type(self)(last.setup, self.past[:-1], (Past(self.now, last.edit), *self.future))

    def redo(self) -> Self:
        """One edit forward; the same history at the end."""
        if not self.future:
            return self
        first = self.future[0]
        return type(self)(first.setup, (*self.past, Past(self.now, first.edit)), self.future[1:])


class Past(NamedTuple):
    """A setup to go back (or forward) to, and the edit that lies between it and its neighbour."""

    setup: Setup
    edit: str
