"""Keeps unsaved work safe while the app runs, and offers what an earlier session left behind.

A draft is written with every drawing that follows an edit, so at most one tick of the loop after it.
"""

from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

from cogwright.app.content import Choice, Content
from cogwright.app.opening import begin, blank
from cogwright.core.errors import CogwrightError, InputError
from cogwright.core.history import History
from cogwright.core.model import Setup
from cogwright.core.text import shown_name
from cogwright.present.lines import Line, Role, Span, wrap
from cogwright.store.documents import read_setup

if TYPE_CHECKING:
    from cogwright.app.main import BenchApp
    from cogwright.app.session import Session
    from cogwright.store.drafts import Draft, Drafts


class Keeper:
    """The drafts of one run of the app. Without a usable state folder it says so once and keeps none."""

    def __init__(self, app: "BenchApp") -> None:
        self._app = app
        self._drafts: Drafts | None = None
        self._kept: tuple[Setup, Path | None] | None = None

    def open(self) -> None:
        """Begin to keep drafts."""
        from cogwright.store.drafts import Drafts

        try:
            self._drafts = Drafts()
        except CogwrightError as error:
            self._app.session = self._app.session.say(f"Unsaved work is not kept: {error}")

    def close(self) -> None:
        """The drafts that are left are for the next start."""
        if self._drafts is not None:
            self._drafts.close()

    def keep(self) -> None:
        """Bring the draft up to the bench, if that has changed since the last time."""
        session = self._app.session
        now = (session.bench, session.path)
        if self._drafts is None or now == self._kept:
            return
        self._kept = now
        stamp = session.document.stamp if session.document else None
        try:
            if session.edited:
                self._drafts.put(session.path, session.bench, stamp)
            else:
                self._drafts.discard(session.path)
        except CogwrightError as error:
            self._drafts = None
            self._app.session = session.say(f"Unsaved work is not kept any more: {error}")

    def forget(self) -> None:
        """The work is saved, or given up."""
        if self._drafts is not None:
            self._drafts.discard(self._app.session.path)

    def offer(self) -> None:
        """Offer the newest work that an earlier session of this folder left unsaved."""
        from cogwright.store.drafts import pending

        if self._drafts is None:
            return
        left = pending(of=self._app.folder)
        if left.notes:
            self._app.say(str(left.notes[0]))
        if left.drafts:
            self._ask(left.drafts[0], len(left.drafts) - 1)

    def _ask(self, draft: "Draft", more: int) -> None:
        name = shown_name(draft.file.name) if draft.file else draft.setup.name
        when = draft.time.astimezone().strftime("%d %b %H:%M")
        text = f"Work on {name} of {when} was not saved when its session ended."
        text += " The file has changed since." if draft.file_has_changed() else ""
        text += f" There {'is' if more == 1 else 'are'} {more} more after this." if more else ""
        width = self._app.look.width - 6
        lines: list[Line] = [*wrap(text, width)]
        lines += [(Span(f"  {change}", Role.GAINED),) for change in draft.changes()[:8]]
        self._app.drawer_open(
            Content(
                "Unsaved work",
                [Choice(each) for each in lines],
                answers={"t": lambda: self._take(draft), "d": lambda: self._turn_down(draft)},
                keys="t take it onto the bench   d discard it for good   q or Esc ask again next time",
            )
        )

    def _take(self, draft: "Draft") -> None:
        self._app.start(self._session_of(draft).say("Taken back, not saved yet: s saves, u shows the file."))
        self.keep()
        self._drop(draft)
        self.offer()

    def _turn_down(self, draft: "Draft") -> None:
        self._drop(draft)
        self._app.say("Discarded.")
        self.offer()

    @staticmethod
    def _drop(draft: "Draft") -> None:
        from cogwright.store.drafts import drop

        drop(draft)

    def _session_of(self, draft: "Draft") -> "Session":
        """A session in which the draft is one edit on top of its file, so that undo shows what was there."""
        try:
            began = begin(read_setup(draft.file)) if draft.file else blank()
        except InputError:
            began = blank()
        past = History(began.bench).become(draft.setup, "unsaved work taken back")
        return replace(began, history=past).at(began.cursor)
