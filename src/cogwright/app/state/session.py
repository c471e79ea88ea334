"""The session: the work, what surrounds it, where the user is, what stands open. Immutable.

Every key makes a new session from the last one; the screen is drawn from it alone.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from functools import cached_property, lru_cache
from pathlib import Path
from typing import TYPE_CHECKING, Any, Self

from cogwright.app.state.proposal_request import ProposalRequest
from cogwright.app.state.rides import AskedOfRides, SaidOfRides
from cogwright.app.state.work import Baseline, Deleted, Work
from cogwright.core.setup.history import History
from cogwright.core.setup.model import Setup
from cogwright.core.setup.sprockets import Edit, riveted_with
from cogwright.core.study import Study, study
from cogwright.present.chart_style import ChartStyle
from cogwright.present.cursor import Cursor
from cogwright.present.lines import Look
from cogwright.present.sorting import Sorting
from cogwright.store.documents import Document
from cogwright.store.shelf import ShelfEntry

if TYPE_CHECKING:
    from cogwright.app.state.opened import Opened
    from cogwright.core.parts.bin import Bin
    from cogwright.core.riding.course import Course
    from cogwright.core.riding.evidence.evidence import Evidence
    from cogwright.core.riding.needed import Climb
    from cogwright.core.riding.recording import Recording
    from cogwright.core.worksheet.sheet import OrderSheet


@dataclass(frozen=True)
class Session:
    """One moment of the work.

    `preview` is a setup that is looked at without being on the bench, `looking` what that is, in words.
    `tops` has the first row in sight of each view. `over` is what stands open over the bench, the topmost
    last. `room` is the terminal: its size and the characters that it can show. With `unprotected` the work
    that is not saved cannot be kept either. With `keys_beside` a panel lists all keys beside the bench.
    `plots` says that what draws plots has been imported. With `picked` the chosen sprocket is highlighted:
    digits are its teeth, not views, until something is done. `unknown` is the marked one of the checks that
    cannot be made. `reading` is the file that is being read in a thread, `said_of_rides` what long rides last
    said.
    """

    work: Work
    folder: Path = field(default_factory=Path)
    shelf: tuple[ShelfEntry, ...] = ()
    stock: "Bin | None" = None
    stock_path: Path | None = None
    course: "Course | None" = None
    rides: tuple["Recording", ...] = ()
    said_of_rides: SaidOfRides | None = None
    reading: str = ""
    climb: "Climb | None" = None
    request: ProposalRequest = field(default_factory=ProposalRequest)
    view: int = 1
    tops: Mapping[int, int] = field(default_factory=dict)
    chart: ChartStyle = field(default_factory=ChartStyle)
    sorting: Sorting = field(default_factory=Sorting)
    preview: Setup | None = None
    looking: str = ""
    message: str = ""
    over: tuple["Opened", ...] = ()
    room: Look = field(default_factory=Look)
    colours: str = "dark"
    keymap: Mapping[str, tuple[str, ...]] = field(default_factory=dict)
    hinting: bool = False
    unprotected: bool = False
    keys_beside: bool = False
    plots: bool = False
    unknown: int = 0
    picked: bool = False

    # The work

    @property
    def history(self) -> History:
        """The edits, made and undone."""
        return self.work.history

    @property
    def document(self) -> Document[Setup] | None:
        """The bench's file as last read or saved."""
        return self.work.document

    @property
    def baseline(self) -> Baseline | None:
        """What the bench is compared with."""
        return self.work.baseline

    @property
    def cursor(self) -> Cursor:
        """The sprocket that the next key changes."""
        return self.work.cursor

    @property
    def deleted(self) -> Deleted | None:
        """The file that was deleted here."""
        return self.work.deleted

    @property
    def bench(self) -> Setup:
        """What is on the bench now."""
        return self.work.bench

    @property
    def path(self) -> Path | None:
        """The bench's file."""
        return self.work.path

    @property
    def unsaved(self) -> bool:
        """Whether the bench differs from its file."""
        return self.work.unsaved

    @property
    def edited(self) -> bool:
        """Whether there is work that leaving would lose."""
        return self.work.edited

    # What is worked out of it

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
    def ridden(self) -> Setup:
        """The bike that recorded rides were ridden on: the baseline, else the bench as its file has it."""
        if self.baseline is not None:
            return self.baseline.setup
        return self.document.value if self.document is not None else self.bench

    @property
    def asked_of_rides(self) -> AskedOfRides | None:
        """What there is to know of the recorded rides; None without any."""
        ridden, shown = self.ridden, self.shown
        return AskedOfRides(self.rides, ridden, None if shown == ridden else shown) if self.rides else None

    @property
    def evidence(self) -> "Evidence | None":
        """What the rides say of the bike and of what is shown; of long ones what they last said, if any."""
        asked, said = self.asked_of_rides, self.said_of_rides
        if asked is None:
            return None
        if not asked.long:
            return asked.evidence()
        return said.evidence if said is not None and said.asked.rides == asked.rides else None

    @property
    def rides_are_behind(self) -> bool:
        """Whether long rides still have to be gone through for what is shown."""
        asked, said = self.asked_of_rides, self.said_of_rides
        return asked is not None and asked.long and (said is None or said.asked != asked)

    @property
    def open(self) -> "Opened | None":
        """What gets the keys; None when that is the bench."""
        return self.over[-1] if self.over else None

    @property
    def top(self) -> int:
        """The first row in sight of the view."""
        return self.tops.get(self.view, 0)

    # Other sessions

    def say(self, message: str) -> Self:
        """The same with a message at the foot."""
        return replace(self, message=message)

    def working(self, **changes: Any) -> Self:
        """The same with these fields of its work changed."""
        return self._at_work(replace(self.work, **changes))

    def _at_work(self, work: Work, **changes: Any) -> Self:
        """The same with other work. Once that is another bench, views out of sight open at their tops."""
        same = work.bench == self.bench and work.baseline == self.baseline
        return replace(self, work=work, tops=self.tops if same else {self.view: self.top}, **changes)

    def begun(self, work: Work, message: str = "") -> Self:
        """Another setup on the bench: its history begins here, the views are at their tops."""
        return replace(self, work=work, view=1, tops={}, message=message).unlooked()

    def edit(self, edit: Edit, follow: Cursor | None = None) -> Self:
        """Make an edit. Raises EditRefused, and then nothing has changed."""
        return self.unlooked()._at_work(self.work.edit(edit, follow), message=f"{edit.say()}.")

    def undo(self) -> Self:
        """One edit back."""
        if not self.history.past:
            return self.say("Nothing to undo: this is how the session began.")
        return self._at_work(self.work.undo(), message=f"Undone: {self.history.past[-1].edit}.")

    def redo(self) -> Self:
        """One edit forward."""
        if not self.history.future:
            return self.say("Nothing to redo.")
        return self._at_work(self.work.redo(), message=f"Done again: {self.history.future[0].edit}.")

    def reread(self, document: Document[Setup], message: str) -> Self:
        """The file as it is now on the bench, as one edit."""
        return self.unlooked()._at_work(self.work.reread(document), message=message)

    def chosen(self, cursor: Cursor) -> Self:
        """That sprocket picked, and what the mechanic should know of it."""
        others = riveted_with(self.bench, cursor.teeth) if cursor.where == "cog" else ()
        return replace(self.working(cursor=cursor), picked=True, message=riveted(cursor.teeth, others))

    def looked(self, view: int) -> Self:
        """Another view of the same bench."""
        return replace(self, view=view, message="")

    def scrolled(self, top: int) -> Self:
        """The view scrolled so that its row `top` comes first."""
        return self if top == self.top else replace(self, tops={**self.tops, self.view: top})

    def unlooked(self) -> Self:
        """The bench itself shown."""
        return self if self.preview is None and not self.looking else replace(self, preview=None, looking="")

    def pushed(self, opened: "Opened") -> Self:
        """Something opened over the bench and over what stands there."""
        return replace(self, over=(*self.over, opened))

    def popped(self) -> Self:
        """The topmost closed."""
        return replace(self, over=self.over[:-1])

    def swapped(self, opened: "Opened") -> Self:
        """Something in the place of the topmost."""
        return replace(self, over=(*self.over[:-1], opened))


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
