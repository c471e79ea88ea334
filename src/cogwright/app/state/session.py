"""The session: what is on the bench, what it is compared with, and where the user is. Immutable.

Every key makes a new session from the last one; the screen is drawn from it alone.
"""

from dataclasses import dataclass, field, replace
from functools import cached_property, lru_cache
from pathlib import Path
from typing import TYPE_CHECKING, Self

from cogwright.app.state.wishes import Wishes
from cogwright.core.setup.edits import Edit, Where, next_teeth, riveted_with, sprockets
from cogwright.core.setup.history import History
from cogwright.core.setup.model import Setup
from cogwright.core.study import Study, study
from cogwright.present.panels.head import Cursor
from cogwright.present.sorting import Sorting
from cogwright.present.views.gears import BaseMode
from cogwright.store.documents import Document

if TYPE_CHECKING:
    from cogwright.core.parts.bin import Bin
    from cogwright.core.riding.course import Course
    from cogwright.core.worksheet.sheet import OrderSheet


@dataclass(frozen=True, slots=True)
class Baseline:
    """What the bench is compared with, and what it is called on the screen."""

    setup: Setup
    name: str


@dataclass(frozen=True, slots=True)
class Deleted:
    """A file that was deleted here, and after how many edits: undo brings it back."""

    document: Document[Setup]
    edits: int


@dataclass(frozen=True)
class Session:
    """One moment of the work. `document` is the file as last read or saved; None for a bench with no file.

    `preview` is a setup that is looked at without being on the bench, `looking` what that is, in words.
    With `alone` the bench is all there is: its file is gone, or cannot be read any more.
    """

    history: History
    document: Document[Setup] | None = None
    baseline: Baseline | None = None
    cursor: Cursor = field(default_factory=Cursor)
    view: int = 1
    mode: BaseMode = BaseMode.LOST
    order: Sorting = field(default_factory=Sorting)
    tops: tuple[int, ...] = (0,) * 7
    preview: Setup | None = None
    looking: str = ""
    message: str = ""
    stock: "Bin | None" = None
    course: "Course | None" = None
    wishes: Wishes = field(default_factory=Wishes)
    alone: bool = False
    deleted: Deleted | None = None

    @property
    def bench(self) -> Setup:
        """What is on the bench now."""
        return self.history.now

    @property
    def shown(self) -> Setup:
        """What the screen shows: the bench, or a proposal that is looked at."""
        return self.preview or self.bench

    @cached_property
    def study(self) -> Study:
        """The study of what is shown against the baseline."""
        return cached_study(self.shown, self.baseline.setup if self.baseline else None)

    @property
    def order_sheet(self) -> "OrderSheet | None":
        """What the change from the baseline takes; None without one."""
        from cogwright.core.worksheet.build import order_sheet

        return order_sheet(self.study, self.stock)

    @property
    def unsaved(self) -> bool:
        """Whether the bench differs from its file."""
        return self.document is None or self.alone or self.bench != self.document.value

    @property
    def edited(self) -> bool:
        """Whether there is work that leaving would lose: a new bench that nobody touched is none.

        Nor is a file that was deleted here, as long as the bench is what the backup has.
        """
        if self.deleted is not None and self.bench == self.deleted.document.value:
            return False
        return self.unsaved and (self.document is not None or bool(self.history.past))

    @property
    def path(self) -> Path | None:
        """The bench's file."""
        return self.document.path if self.document else None

    @property
    def top(self) -> int:
        """The first row in sight of the view."""
        return self.tops[self.view]

    def say(self, message: str) -> Self:
        """The same with a message at the foot."""
        return replace(self, message=message)

    def edit(self, edit: Edit, follow: Cursor | None = None) -> Self:
        """Make an edit. Raises EditRefused, and then nothing has changed."""
        history = self.history.do(edit)
        moved = replace(self, history=history, preview=None, looking="", message=f"{edit.say()}.")
        return moved.at(follow or self.cursor)

    def undo(self) -> Self:
        """One edit back."""
        if not self.history.past:
            return self.say("Nothing to undo: this is how the session began.")
        said = self.history.past[-1].edit
        return replace(self, history=self.history.undo(), message=f"Undone: {said}.").at(self.cursor)

    def redo(self) -> Self:
        """One edit forward."""
        if not self.history.future:
            return self.say("Nothing to redo.")
        said = self.history.future[0].edit
        return replace(self, history=self.history.redo(), message=f"Done again: {said}.").at(self.cursor)

    def reread(self, document: Document[Setup], message: str) -> Self:
        """The file as it is now on the bench, as one edit: undo shows what stood here before."""
        was, base = self.document, self.baseline
        if base is not None and was is not None and base.setup == was.value != document.value:
            base = Baseline(base.setup, f"{base.setup.name}, as it was")
        history = self.history.become(document.value, "the file read again")
        fresh = replace(self, document=document, history=history, baseline=base, alone=False, deleted=None)
        return replace(fresh, preview=None, looking="", message=message).at(self.cursor)

    def at(self, cursor: Cursor) -> Self:
        """The cursor on that sprocket, or on the nearest one there is."""
        there = sprockets(self.bench, cursor.where)
        nearest = min(there, key=lambda n: (abs(n - cursor.teeth), n))
        return replace(self, cursor=Cursor(cursor.where, nearest))

    def picked(self, by: int) -> Self:
        """The cursor moved along rings and cogs, from the last ring to the first cog and round."""
        line = [Cursor("ring", n) for n in self.bench.crank.rings]
        line += [Cursor("cog", n) for n in self.bench.rear.cogs]
        here = line.index(self.cursor) if self.cursor in line else 0
        return self.chosen(line[(here + by) % len(line)])

    def crossed(self) -> Self:
        """The cursor from rings to cogs or back, at the same end."""
        other: Where = "cog" if self.cursor.where == "ring" else "ring"
        here = sprockets(self.bench, self.cursor.where)
        there = sprockets(self.bench, other)
        share = here.index(self.cursor.teeth) / max(len(here) - 1, 1) if self.cursor.teeth in here else 1.0
        return self.chosen(Cursor(other, there[round(share * (len(there) - 1))]))

    def chosen(self, cursor: Cursor) -> Self:
        """The cursor there, and what the mechanic should know of that sprocket."""
        others = riveted_with(self.bench, cursor.teeth) if cursor.where == "cog" else ()
        return replace(self, cursor=cursor, message=riveted(cursor.teeth, others))

    def neighbour(self, up: bool) -> int | None:
        """The next tooth count that no other sprocket has."""
        return next_teeth(self.bench, self.cursor.where, self.cursor.teeth, up)

    def looked(self, view: int) -> Self:
        """Another view of the same bench."""
        return replace(self, view=view, message="")

    def scrolled(self, top: int) -> Self:
        """The view scrolled so that its row `top` comes first."""
        tops = (*self.tops[: self.view], top, *self.tops[self.view + 1 :])
        return self if tops == self.tops else replace(self, tops=tops)


def riveted(cog: int, others: tuple[int, ...]) -> str:
    """What a mechanic must know of a cog on a carrier; nothing of a loose one.

    >>> riveted(23, (25, 28))
    'Cog 23 is riveted to 25 and 28.'
    """
    if not others:
        return ""
    named = " and ".join(map(str, others)) if len(others) < 3 else ", ".join(map(str, others))
    return f"Cog {cog} is riveted to {named}."


@lru_cache(maxsize=8)
def cached_study(bench: Setup, baseline: Setup | None) -> Study:
    """The study of a bench: worked out once however often it is drawn."""
    return study(bench, baseline)


def opened(document: Document[Setup], baseline: Baseline | None = None) -> Session:
    """A session on a file just read, the cursor on its largest cog, compared with itself unless told."""
    setup = document.value
    against = baseline or Baseline(setup, f"{setup.name}, as saved")
    return Session(
        history=History(setup),
        document=document,
        baseline=against,
        cursor=Cursor("cog", setup.rear.cogs[-1]),
    )
