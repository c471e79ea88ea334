"""Notices that the bench's file was changed by somebody else: reloads it where nothing is edited here."""

import os
from dataclasses import replace
from typing import TYPE_CHECKING, Final

from cogwright.app.session import Baseline, opened
from cogwright.core.errors import InputError
from cogwright.core.model import Setup
from cogwright.core.text import shown_name
from cogwright.store.documents import Document, read_setup

if TYPE_CHECKING:
    from cogwright.app.main import BenchApp

#: How often the file's size and time are looked at. It costs one system call and sends nothing.
EVERY_S: Final = 2.0


class Watch:
    """Looks at the one file that is on the bench."""

    def __init__(self, app: "BenchApp") -> None:
        self._app = app
        self._told: tuple[int, int] | None = None

    def look(self) -> None:
        """Compare the file's size and time with what was read."""
        document = self._app.session.document
        if document is None or self._app.drawer.is_open:
            return
        seen = _seen(document)
        if seen is None or seen in {(document.stamp.size, document.stamp.mtime_ns), self._told}:
            return
        self._told = seen
        if self._app.session.unsaved:
            name = shown_name(document.path.name)
            self._app.say(f"{name} was changed by another program. Saving will ask; nothing is lost.")
        else:
            self._reload(document)

    def _reload(self, document: Document[Setup]) -> None:
        """The new version onto the bench; a version that cannot be read leaves the bench as it is."""
        name = shown_name(document.path.name)
        try:
            fresh = read_setup(document.path)
        except InputError as error:
            self._app.say(f"{name} was changed and cannot be read now: {error.problems[0].what}.")
            return
        session = self._app.session
        if fresh.stamp.digest == document.stamp.digest:
            self._app.session = replace(session, document=fresh)
            return
        base = session.baseline
        if base is not None and base.setup == document.value:
            base = Baseline(document.value, f"{document.value.name}, as it was")
        again = replace(opened(fresh, base), view=session.view, tops=session.tops).at(session.cursor)
        self._app.start(again.say(f"{name} was changed by another program and read again."))


def _seen(document: Document[Setup]) -> tuple[int, int] | None:
    """Size and time of the file now; None where there is none, which saving will say."""
    try:
        status = os.stat(document.path)
    except OSError:
        return None
    return status.st_size, status.st_mtime_ns
