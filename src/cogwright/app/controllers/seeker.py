"""A search that runs while the app goes on: its list grows in the drawer, its proposals show on the bench.

The search has a thread; what it finds is handed to the app whole. The thread ends within one step, some
hundredths of a second, once nobody wants its result any more.
"""

import sys
from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from time import monotonic
from typing import TYPE_CHECKING, Final

from textual.worker import get_current_worker

from cogwright.app.controllers.bench import edit
from cogwright.app.controllers.searches import Search
from cogwright.app.pickers.content import Choice, Content
from cogwright.core.proposing.progress import Progress
from cogwright.core.proposing.proposal import Proposal
from cogwright.present.lines import line, wrap
from cogwright.present.panels.proposal_reasons import brief_lines, reason_lines
from cogwright.present.panels.proposals import list_head, list_rows
from cogwright.present.panels.search_words import SearchState, search_title

if TYPE_CHECKING:
    from cogwright.app.main import BenchApp

#: Partial results come no closer than this, and take no more than a fifth of the thread's time.
EVERY_S: Final = 0.25
_SHARE: Final = 4
#: How long the search may keep the interpreter from the app that waits for it; Python's own 5 ms, which a
#: key meets several times on its way to the screen, is felt.
_SWITCH_S: Final = 0.0005
#: From this height of the screen there is room for more about a proposal.
_HIGH: Final = 30
_ROWS: Final = 11
BEATEN: Final = "beaten since"


@dataclass(frozen=True)
class Other:
    """A further key of the list: its word, and what it does once the search is left."""

    word: str
    then: Callable[[], None]


@dataclass(frozen=True)
class Found:
    """What a search has found up to now; `at` is the one that the user looks at."""

    sought: SearchState
    proposals: tuple[Proposal, ...] = ()
    at: int = 0

    @property
    def chosen(self) -> Proposal | None:
        """The proposal that the user looks at."""
        return self.proposals[self.at] if self.proposals else None

    def after(self, before: "Found") -> "Found":
        """The same with the proposal chosen before; if it is none any more it stays, and says so."""
        kept = before.chosen
        if kept is None:
            return self
        for at, one in enumerate(self.proposals):
            if one.setup == kept.setup:
                return replace(self, at=at)
        at = min(before.at, len(self.proposals))
        beaten = replace(kept, marks=(BEATEN,), reasons=("something better has been found since",))
        return replace(self, proposals=(*self.proposals[:at], beaten, *self.proposals[at:]), at=at)


class Seeker:
    """One search with its list in the drawer."""

    def __init__(self, app: "BenchApp", search: Search, others: Mapping[str, Other]) -> None:
        self._app = app
        self._before = app.session
        self._search = search
        self._others = others
        self._found = Found(SearchState(search.kind, search.source))
        self._content = Content("")
        self._left = False
        self._touched = False

    def start(self) -> None:
        """Open the list and begin to search; what was said last has nothing to do with it."""
        self._app.session = self._before.say("")
        self._open()
        sys.setswitchinterval(_SWITCH_S)
        self._app.run_worker(self._run, name="proposals", thread=True)

    # In the thread

    def _run(self) -> None:
        worker, due = get_current_worker(), monotonic() + EVERY_S
        for step in self._search.steps():
            if self._left or worker.is_cancelled:
                return
            if step.finished or monotonic() >= due:
                began = monotonic()
                found = self._found_at(step)
                due = monotonic() + max(EVERY_S, _SHARE * (monotonic() - began))
                self._app.call_later(self._take, found)

    def _found_at(self, step: Progress) -> Found:
        proposals = step.proposals()
        sought = SearchState(
            self._search.kind, self._search.source, step.done, step.total, len(proposals), step.meets
        )
        return Found(sought, proposals)

    # With the app

    def _take(self, found: Found) -> None:
        """Show what was found. Once the user has moved in the list, what he looks at stays chosen."""
        if self._left or not self._app.is_running:
            return
        shows = self._app.drawer.content is self._content
        self._found = found.after(self._found) if self._touched else found
        if shows:
            self._app.drawer.update(self._list())
        self._show()

    def _open(self) -> None:
        self._app.drawer_open(self._list())

    def _list(self) -> Content:
        self._content = self._listed()
        return self._content

    def _listed(self) -> Content:
        app, found = self._app, self._found
        look = app.look.narrower(1)
        head = [line("   ", list_head(found.proposals, look))]
        if not found.proposals:
            text = self._search.nothing if found.sought.finished else "Looking."
            head = [line(" ", each) for each in wrap(text, look.width - 2)]
        rows = zip(list_rows(found.proposals, look), found.proposals, strict=True)
        return Content(
            search_title(found.sought),
            [Choice(row, one) for row, one in rows],
            head=head,
            pick=self._pick,
            move=self._move,
            leave=self._leave,
            answers={"w": self._why} | {key: self._other(one) for key, one in self._others.items()},
            about=brief_lines,
            about_room=3 if look.height < _HIGH else 5,
            start=found.at,
            least=3 if found.sought.finished else _ROWS,
            height=max(_ROWS, look.height * 2 // 5),
            keys=self._keys(),
            fitted=self._list,
            sideways=lambda by: app.scroll(by * max(app.laid.body_height - 1, 1)),
        )

    def _keys(self) -> str:
        others = "".join(f"{key} {one.word}   " for key, one in self._others.items())
        first = "Up Down look   Left Right chart   Enter take   w why   " if self._found.proposals else ""
        return f"{first}{others}q leave"

    def _other(self, one: Other) -> Callable[[], None]:
        def then() -> None:
            self._leave()
            one.then()

        return then

    def _move(self, _: Proposal) -> None:
        self._touched = True
        self._found = replace(self._found, at=self._app.drawer.index)
        self._show()

    def _show(self) -> None:
        chosen = self._found.chosen
        if chosen is None:
            self._app.unpreview()
        elif chosen.setup != self._app.session.preview:
            self._app.preview(chosen.setup, chosen.title)

    def _leave(self) -> None:
        """The list is gone: the search ends, the bench shows again as far scrolled as before."""
        self._left = True
        before = self._before
        shown = replace(self._app.session, preview=None, looking="")
        self._app.become(replace(shown, tops=before.tops, message=before.message))

    def _pick(self, one: Proposal) -> None:
        """Take a proposal onto the bench, and say what to mind."""
        self._leave()
        if one.setup == self._app.session.bench:
            self._app.say("The bench stays as it is: that is what this proposal says.")
            return
        edit(self._app, one.edit())
        if one.problems:
            self._app.say(f"On the bench: {one.title}. It does not fit: {'; '.join(one.problems)}.")
        elif one.notes:
            self._app.say(f"On the bench: {one.title}. Mind: {'; '.join(one.notes)}.")

    def _why(self) -> None:
        """All that is to be said of the chosen proposal; the search goes on meanwhile."""
        one = self._found.chosen
        if one is None:
            self._open()
            return
        self._touched = True
        look = self._app.look.narrower(4)
        self._app.drawer_open(
            Content(
                one.title,
                [Choice(each) for each in reason_lines(one, look)[1:]],
                leave=self._open,
                height=max(_ROWS, look.height // 2),
                keys="Up Down scroll   q or Esc back to the list",
            )
        )
