"""Read a file off the screen's loop: a thread reads it, tells how far it is, and hands over what it holds.

A small one is read at once, where that takes no longer than a key may.
"""

from collections.abc import Callable
from pathlib import Path
from time import monotonic
from typing import Any, Final, TypeVar

from cogwright.app.controllers.asking import shown
from cogwright.app.state.opened import do
from cogwright.app.state.store import SessionStore
from cogwright.core.common.errors import InputError
from cogwright.store.tracks.stream import ReadProgress, no_progress

T = TypeVar("T")
#: Bytes up to which a file is read at once, and how often progress is told, s.
SMALL: Final = 100_000
_EVERY_S: Final = 0.25
Took = Callable[[SessionStore, Any], None]


class _Ended(Exception):
    """The app has ended while a file was read."""


def read_file(
    store: SessionStore, path: Path, read: Callable[[Path, ReadProgress], T], took: Took, at_once: int = SMALL
) -> None:
    """Read a file, up to a size at once, and hand what it holds to `took`; what is wrong is said."""
    if store.session.reading:
        store.say(f"{store.session.reading} is still being read.")
    elif _size(path) <= at_once:
        _read_now(store, path, read, took)
    else:
        store.change(reading=shown(path), message=f"{shown(path)}: reading.")
        store.host.in_thread(lambda ended: _read(store, path, read, took, ended))


def _size(path: Path) -> int:
    """Bytes of a file; 0 where it cannot be read, which reading it says."""
    try:
        return path.stat().st_size
    except OSError:
        return 0


def _read_now(store: SessionStore, path: Path, read: Callable[[Path, ReadProgress], T], took: Took) -> None:
    try:
        found = read(path, no_progress)
    except InputError as error:
        _refuse(store, error)
    else:
        took(store, found)


def _read(
    store: SessionStore,
    path: Path,
    read: Callable[[Path, ReadProgress], T],
    took: Took,
    ended: Callable[[], bool],
) -> None:
    """In the thread."""
    due, last = monotonic() + _EVERY_S, 0.0

    def progress(share: float) -> None:
        nonlocal due, last
        if ended():
            raise _Ended
        if monotonic() >= due or share >= 1.0 > last:
            due, last = monotonic() + _EVERY_S, share
            store.host.hand_over(do(_say, store, f"{shown(path)}: {_far(share)}."))

    try:
        found = read(path, progress)
    except InputError as error:
        store.host.hand_over(do(_end, store, _refuse, error))
    except _Ended:
        return
    else:
        store.host.hand_over(do(_end, store, took, found))


def _far(share: float) -> str:
    """How far a file is; once it is read, what it holds is still to be worked out."""
    return f"{100 * share:.0f} % read" if share < 1.0 else "read, and being looked through"


def _say(store: SessionStore, message: str) -> None:
    if store.session.reading:
        store.say(message)


def _end(store: SessionStore, then: Took, what: Any) -> None:
    store.change(reading="")
    then(store, what)


def _refuse(store: SessionStore, error: InputError) -> None:
    store.say(f"It cannot be read: {error.problems[0]}")
