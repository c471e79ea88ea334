"""One setup being worked on: edits, file, what it is compared with, the chosen sprocket. Immutable."""

from dataclasses import dataclass, field, replace
from itertools import pairwise
from pathlib import Path
from typing import TYPE_CHECKING, NamedTuple, Self

from cogwright.app.state.candidates import Candidates
from cogwright.core.setup.history import History
from cogwright.core.setup.model import Setup
from cogwright.core.setup.sprockets import Edit, Where, next_teeth, sprockets
from cogwright.present.cursor import Cursor
from cogwright.store.documents import Document
from cogwright.store.paths import relative_to

if TYPE_CHECKING:
    from cogwright.core.parts.bin import Part


class Baseline(NamedTuple):
    """What the bench is compared with, and what it is called on the screen.

    `path` is the file that it is in, if it is in one. A `chosen` one is named in the bench's file.
    """

    setup: Setup
    name: str
    path: Path | None = None
    chosen: bool = False


class Deleted(NamedTuple):
    """A file that was deleted here, and after how many edits: undo brings it back."""

    document: Document[Setup]
    edits: int


class Booked(NamedTuple):
    """Work that was booked: the bench before and after, and the parts that came out of a bin's file.

    Undo from the one to the other puts the parts back, redo takes them again.
    """

    before: Setup
    after: Setup
    parts: "tuple[Part, ...]"
    file: Path


@dataclass(frozen=True, slots=True)
class Work:
    """`document` is the file as last read or saved; None for a bench with no file.

    With `alone` the bench is all there is: its file is gone, or cannot be read any more. With `given_up`
    the user has said that what is not saved may go, with `over_itself` that saves may write over the file
    that the bench is compared with.
    """

    history: History
    document: Document[Setup] | None = None
    baseline: Baseline | None = None
    cursor: Cursor = field(default_factory=Cursor)
    alone: bool = False
    deleted: Deleted | None = None
    given_up: bool = False
    candidates: Candidates = field(default_factory=Candidates)
    over_itself: bool = False
    booked: tuple[Booked, ...] = ()

    @property
    def bench(self) -> Setup:
        """What is on the bench now."""
        return self.history.now

    @property
    def path(self) -> Path | None:
        """The bench's file."""
        return self.document.path if self.document else None

    @property
    def unsaved(self) -> bool:
        """Whether the bench differs from its file."""
        if self.document is None or self.alone:
            return True
        return self.linked(self.bench, self.document.path) != self.document.value

    @property
    def against_itself(self) -> bool:
        """Whether the bench is compared with the very file that it would be saved in."""
        return self.baseline is not None and self.path is not None and self.baseline.path == self.path

    def linked(self, setup: Setup, file: Path, always: bool = False) -> Setup:
        """The setup as it is saved in a file: with the way to its baseline, if one was chosen.

        With `always` it names the baseline whether it was chosen or not: a new file made of an old one.
        """
        base = self.baseline
        if base is None or base.path is None or base.path == file or not (base.chosen or always):
            return setup
        named = {"baseline": relative_to(file.parent, base.path), "baseline_name": base.setup.name}
        return setup.model_copy(update=named)

    @property
    def edited(self) -> bool:
        """Whether there is work that leaving would lose: a new bench that nobody touched is none.

        Nor is a file that was deleted here, as long as the bench is what the backup has.
        """
        if self.candidates.unsaved and not self.given_up:
            return True
        return self.bench_edited

    @property
    def bench_edited(self) -> bool:
        """The same of the bench alone."""
        if self.given_up or (self.deleted is not None and self.bench == self.deleted.document.value):
            return False
        return self.unsaved and (self.document is not None or bool(self.history.past))

    @property
    def undone_booking(self) -> Booked | None:
        """The booking that undo would take back."""
        past = self.history.past
        return self._booking(past[-1].setup, self.bench) if past else None

    @property
    def redone_booking(self) -> Booked | None:
        """The booking that redo would do again."""
        future = self.history.future
        return self._booking(self.bench, future[0].setup) if future else None

    def _booking(self, before: Setup, after: Setup) -> Booked | None:
        return next((b for b in self.booked if (b.before, b.after) == (before, after)), None)

    @property
    def in_force(self) -> tuple[Booked, ...]:
        """The bookings that the bench has been through and that were not undone."""
        line = [*(past.setup for past in self.history.past), self.bench]
        steps = list(pairwise(line))
        return tuple(b for b in self.booked if (b.before, b.after) in steps)

    def edit(self, edit: Edit, follow: Cursor | None = None) -> Self:
        """Make an edit. Raises EditRefused, and then nothing has changed."""
        return self.with_history(self.history.do(edit), follow)

    def undo(self) -> Self:
        """One edit back; the same at the start."""
        return self.with_history(self.history.undo())

    def redo(self) -> Self:
        """One edit forward; the same at the end."""
        return self.with_history(self.history.redo())

    def with_history(self, history: History, follow: Cursor | None = None) -> Self:
        """On another history, the cursor where it was or where it is to follow."""
        return replace(self, history=history, given_up=False).at(follow or self.cursor)

    def reread(self, document: Document[Setup]) -> Self:
        """The file as it is now on the bench, as one edit: undo shows what stood here before."""
        was, base = self.document, self.baseline
        if base is not None and was is not None and base.setup == was.value != document.value:
            base = Baseline(base.setup, f"{base.setup.name}, as it was", base.path)
        history = self.history.become(document.value, "the file read again")
        fresh = replace(self, document=document, baseline=base, alone=False, deleted=None)
        return fresh.with_history(history)

    def at(self, cursor: Cursor) -> Self:
        """The cursor on that sprocket, or on the nearest one there is."""
        there = sprockets(self.bench, cursor.where)
        nearest = min(there, key=lambda n: (abs(n - cursor.teeth), n))
        return replace(self, cursor=Cursor(cursor.where, nearest))

    def beside(self, by: int) -> Cursor:
        """The sprocket so many places on, from the last ring to the first cog and round."""
        line = [Cursor("ring", n) for n in self.bench.crank.rings]
        line += [Cursor("cog", n) for n in self.bench.rear.cogs]
        here = line.index(self.cursor) if self.cursor in line else 0
        return line[(here + by) % len(line)]

    def across(self) -> Cursor:
        """The sprocket at the same end of the cogs when a ring is chosen, and the reverse."""
        other: Where = "cog" if self.cursor.where == "ring" else "ring"
        here = sprockets(self.bench, self.cursor.where)
        there = sprockets(self.bench, other)
        share = here.index(self.cursor.teeth) / max(len(here) - 1, 1) if self.cursor.teeth in here else 1.0
        return Cursor(other, there[round(share * (len(there) - 1))])

    def neighbour(self, up: bool) -> int | None:
        """The next tooth count that no other sprocket has."""
        return next_teeth(self.bench, self.cursor.where, self.cursor.teeth, up)
