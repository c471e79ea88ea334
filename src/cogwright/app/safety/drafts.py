"""Keeps unsaved work safe while the app runs, and offers what an earlier session left behind.

A draft is written with every drawing that follows an edit, so at most one tick of the loop after it.
"""

import os
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING, Final

from cogwright.app.state.beginning import begin, blank, on_file
from cogwright.app.state.candidates import Candidates
from cogwright.app.state.store import SessionStore
from cogwright.app.state.work import Baseline, Work
from cogwright.core.common.errors import CogwrightError, InputError
from cogwright.core.common.safe_text import shown_name
from cogwright.core.setup.history import History
from cogwright.core.setup.model import Setup
from cogwright.present.lines import Line, Role, Span
from cogwright.store.documents import Document, read_setup
from cogwright.store.files import Stamp

if TYPE_CHECKING:
    from cogwright.store.drafts import Draft, Drafts


#: How often keeping is tried again while it fails. It costs two system calls and sends nothing.
RETRY_S: Final = 3.0


class DraftKeeper:
    """The drafts of one run of the app. Where they cannot be kept it says so once, and goes on trying."""

    def __init__(self, store: SessionStore) -> None:
        self._store = store
        self._drafts: Drafts | None = None
        self._kept: tuple[Setup, Path | None, bool, Candidates] | None = None
        self._more = 0

    def open(self) -> None:
        """Begin to keep drafts."""
        from cogwright.store.drafts import Drafts

        self._drafts = Drafts()
        if self.failing:
            self._store.say(f"{self.failing}.")

    def close(self) -> None:
        """The drafts that are left are for the next start."""
        if self._drafts is not None:
            self._drafts.close()

    def keep(self) -> None:
        """Bring the draft up to the bench, if that has changed since the last time."""
        session = self._store.session
        now = (session.bench, session.path, session.edited, session.work.candidates)
        if self._drafts is None or now == self._kept:
            return
        before = self.failing
        try:
            self._put(self._drafts)
        except CogwrightError as error:
            if not before:
                self._store.say(f"{error}. Save it to its file soon.")
            return
        self._kept = now

    @property
    def failing(self) -> str:
        """Why unsaved work is not kept at present, for a mark that stays in the title; empty while it is."""
        return self._drafts.failing if self._drafts is not None else ""

    def retry(self) -> None:
        """Every few seconds: what could not be kept may be kept by now."""
        if self._drafts is not None and self.failing:
            self._drafts.retry()
            self.keep()
            if not self.failing:
                self._store.say("Unsaved work is kept again.")

    def _put(self, drafts: "Drafts") -> None:
        """One bench, one draft: of work that is not saved, on the file that it belongs to."""
        session = self._store.session
        if session.edited:
            kept = tuple(one.setup for one in session.work.candidates.unsaved)
            over = session.document.stamp if session.document else None
            drafts.put(session.path, session.bench, over, kept)
        else:
            drafts.discard(session.path)
        if self._kept is not None and self._kept[1] != session.path:
            drafts.discard(self._kept[1])

    @property
    def has_all(self) -> bool:
        """Whether what is on the bench is kept, or is saved."""
        return not self._store.session.edited or (self._drafts is not None and not self.failing)

    def offer(self) -> None:
        """Offer the newest work that an earlier session of this folder left unsaved."""
        from cogwright.store.drafts import pending

        if self._drafts is None:
            return
        left = pending(of=self._store.session.folder)
        if left.notes:
            self._store.say("; ".join(map(str, left.notes)) + ".")
        if left.drafts:
            self._ask(left.drafts[0], len(left.drafts) - 1)

    def offer_more(self) -> None:
        """What was taken back is saved now: offer the rest, if there was more than one."""
        more, self._more = self._more, 0
        if more:
            self.offer()

    def _ask(self, draft: "Draft", more: int) -> None:
        from cogwright.app.state.opened import Key, Question

        changes = draft.changes()
        lines: list[Line] = [(Span(f"  {change}", Role.GAINED),) for change in changes[:8]]
        lines += [(Span(f"  and {len(changes) - 8} more", Role.GAINED),)] if len(changes) > 8 else []
        answers = (
            Key("t", "take it onto the bench", lambda _: self._take(draft, more)),
            Key("d", "discard it for good", lambda _: self._turn_down(draft)),
        )
        text = f"{_about(draft, more)} Leave it, and it is offered again next time."
        self._store.open(Question("Unsaved work", text, answers, tuple(lines)))

    def _take(self, draft: "Draft", more: int) -> None:
        """Onto the bench; the rest waits until this is saved, for there is one bench."""
        from cogwright.store.drafts import drop

        taken = work_of(draft)
        said = "s writes its file again" if taken.alone else "s saves, u shows what was there"
        rest = f" {more} more will be offered when this is saved." if more else ""
        self._store.replace(self._store.session.begun(taken, f"Taken back, not saved yet: {said}.{rest}"))
        self._more = more
        self.keep()
        if self.has_all:
            drop(draft)

    def _turn_down(self, draft: "Draft") -> None:
        from cogwright.store.drafts import drop

        if not drop(draft):
            self._store.say(f"It cannot be discarded: remove {shown_name(str(draft.path))} yourself.")
            return
        self._store.say("Discarded.")
        self.offer()


def _about(draft: "Draft", more: int) -> str:
    """What the question says of a draft."""
    name = shown_name(draft.file.name) if draft.file else draft.setup.name
    when = draft.time.astimezone().strftime("%d %b %H:%M")
    text = f"Work on {name} of {when} was not saved when its session ended."
    if draft.file is not None and not os.path.lexists(draft.file):
        text += f" The file is gone from {shown_name(str(draft.file.parent))} since."
    elif draft.file_has_changed():
        text += " The file has changed since: saving will ask."
    return text + (f" There {'is' if more == 1 else 'are'} {more} more." if more else "")


def work_of(draft: "Draft") -> Work:
    """Work in which the draft is one edit on top of its file, so that undo shows what was there.

    Its file counts as read when the draft's session read it: if it has changed since, saving asks.
    """
    return replace(_bench_of(draft), candidates=_candidates_of(draft))


def _candidates_of(draft: "Draft") -> Candidates:
    kept = Candidates()
    for setup in draft.candidates:
        kept = kept.adding(setup)
    return kept


def _bench_of(draft: "Draft") -> Work:
    if draft.file is None:
        return _on_top(blank(), draft.setup)
    try:
        began = begin(read_setup(draft.file)).work
    except InputError:
        return _alone(draft, draft.file)
    assert began.document is not None
    stamp = replace(began.document.stamp, digest=draft.digest or "")
    return _on_top(replace(began, document=replace(began.document, stamp=stamp)), draft.setup)


def _on_top(began: Work, setup: Setup) -> Work:
    return began.with_history(History(began.bench).become(setup, "unsaved work taken back"))


def _alone(draft: "Draft", file: Path) -> Work:
    """Work on a draft whose file is gone or cannot be read."""
    document = Document(file, draft.setup, Stamp(0, 0, draft.digest or ""))
    base = Baseline(draft.setup, f"{draft.setup.name}, as taken back")
    return replace(on_file(document, base), alone=True)
