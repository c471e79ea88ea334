"""Notices that the bench's file was changed by somebody else: reloads it where nothing is edited here."""

import os
from typing import Final

from cogwright.app.state.store import SessionStore
from cogwright.core.common.errors import InputError
from cogwright.core.common.safe_text import shown_name
from cogwright.core.setup.model import Setup
from cogwright.store.documents import Document, read_setup
from cogwright.store.shelf import has_changed

#: How often the file's size and time are looked at. It costs one system call and sends nothing.
EVERY_S: Final = 2.0


class Watch:
    """Looks at the one file that is on the bench."""

    def __init__(self, store: SessionStore) -> None:
        self._store = store
        self._told: tuple[int, int] | None = None

    def look(self) -> None:
        """Compare the file's size and time with what was read."""
        document = self._store.session.document
        if document is None or self._store.session.over:
            return
        seen, stamp = _seen(document), document.stamp
        if seen is None:
            self._vanished(document)
        elif seen != self._told and (self._store.session.work.alone or seen != (stamp.size, stamp.mtime_ns)):
            self._told = seen
            self._changed(document)

    def _vanished(self, document: Document[Setup]) -> None:
        """The bench is all there is now, so leaving it will ask."""
        session = self._store.session
        if not session.work.alone and not os.path.lexists(document.path):
            said = (
                f"{shown_name(document.path.name)} is gone from its folder: s writes it again, after asking."
            )
            self._told = None
            self._store.replace(session.working(alone=True).say(said))

    def _changed(self, document: Document[Setup]) -> None:
        session, name = self._store.session, shown_name(document.path.name)
        if session.work.alone and not has_changed(document.path, document.stamp):
            self._store.replace(session.working(alone=False).say(f"{name} is there again."))
        elif session.unsaved:
            self._store.say(f"{name} was changed elsewhere: R reads it, saving asks.")
        else:
            self._reload(document)

    def _reload(self, document: Document[Setup]) -> None:
        """The new version onto the bench; a version that cannot be read leaves the bench as it is."""
        name = shown_name(document.path.name)
        try:
            fresh = read_setup(document.path)
        except InputError as error:
            said = (
                f"{name} was changed by another program and cannot be read now: {error.problems[0].inside()}."
            )
            self._store.replace(self._store.session.working(alone=True).say(said))
            return
        if fresh.stamp.digest == document.stamp.digest:
            self._store.replace(self._store.session.working(document=fresh))
            return
        said = f"{name} was changed elsewhere and read again; u goes back."
        self._store.replace(self._store.session.reread(fresh, said))


def _seen(document: Document[Setup]) -> tuple[int, int] | None:
    """Size and time of the file now; None where there is none to be seen."""
    try:
        status = os.stat(document.path)
    except OSError:
        return None
    return status.st_size, status.st_mtime_ns
