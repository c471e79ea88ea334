"""Drafts: unsaved work kept outside the setup files, and offered again after a crash or a lost line.

A draft is written on every edit. It is not flushed to the disk: it guards against the death of the program,
and what a dead program has written the kernel still has. A power cut can cost a draft, never a saved file.

A session holds a lock file for as long as it lives; the kernel drops the lock however it dies. So a draft is
offered when nobody holds its session's lock, and two live sessions do not see each other's.
"""

import fcntl
import json
import os
import secrets
import time
from collections.abc import Iterator
from contextlib import suppress
from dataclasses import dataclass
from datetime import UTC, datetime
from hashlib import blake2b
from pathlib import Path
from typing import Any, Final

from cogwright.core.common.errors import InputError, Problem
from cogwright.core.common.safe_text import shown_name
from cogwright.core.setup.differences import differences
from cogwright.core.setup.model import Setup
from cogwright.store.documents import parse, read_setup, to_toml
from cogwright.store.files import Stamp, StoreError, read_bytes, why
from cogwright.store.paths import state_folder

_SUFFIX: Final = ".draft"
_LOCK: Final = ".lock"
_TEMPORARY: Final = ".tmp"
_STALE_S: Final = 60.0
#: Years that any time zone can show.
_FIRST, _LAST = 1970, 9000


@dataclass(frozen=True, slots=True)
class Draft:
    """Unsaved work of a session that is gone. `file` is None for a bench that never had a file.

    `digest` is that of the file version it was made from; None if there was none.
    """

    path: Path
    file: Path | None
    setup: Setup
    time: datetime
    digest: str | None

    def changes(self) -> tuple[str, ...]:
        """What it has otherwise than the file has now; all of it is new where the file cannot be read."""
        try:
            return differences(read_setup(self.file).value, self.setup) if self.file else ("not saved yet",)
        except InputError as error:
            return (f"the file cannot be read: {error.problems[0].what}",)

    def file_has_changed(self) -> bool:
        """Whether the file is another than the one that the work began from."""
        try:
            return self.file is not None and read_bytes(self.file)[1].digest != self.digest
        except InputError:
            return True


@dataclass(frozen=True, slots=True)
class Pending:
    """What is there to be recovered, newest first, and notes on drafts that cannot be read."""

    drafts: tuple[Draft, ...] = ()
    notes: tuple[Problem, ...] = ()


class Drafts:
    """The drafts of this session. Raises StoreError when the state folder cannot be used."""

    def __init__(self, folder: Path | None = None) -> None:
        self.folder = folder or state_folder() / "drafts"
        self._session = f"{os.getpid()}-{secrets.token_hex(6)}"
        try:
            self.folder.mkdir(mode=0o700, parents=True, exist_ok=True)
            self._lock: int | None = _held(self.folder, self._session)
        except (OSError, ValueError) as error:
            raise _failed(error, self.folder) from error

    def put(self, file: Path | None, setup: Setup, over: Stamp | None = None) -> None:
        """Keep the work on a file as it stands; cheap enough for every edit. Raises StoreError."""
        data = {
            "format": 1,
            "file": None if file is None else str(_settled(file)),
            "digest": over.digest if over else None,
            "time": datetime.now(UTC).isoformat(),
            "setup": to_toml(setup),
        }
        path = self._path(file)
        temporary = path.with_name(f"{secrets.token_hex(8)}{_TEMPORARY}")
        try:
            temporary.write_text(json.dumps(data), encoding="ascii")
            os.replace(temporary, path)
        except (OSError, ValueError) as error:
            with suppress(OSError):
                temporary.unlink(missing_ok=True)
            raise _failed(error, self.folder) from error

    def discard(self, file: Path | None) -> None:
        """Forget the work on a file: it was saved, or given up."""
        with suppress(OSError):
            self._path(file).unlink(missing_ok=True)

    def close(self) -> None:
        """Leave what drafts there are to the next start, and let go of them."""
        with suppress(OSError):
            (self.folder / (self._session + _LOCK)).unlink(missing_ok=True)
        if self._lock is not None:
            os.close(self._lock)
            self._lock = None

    def _path(self, file: Path | None) -> Path:
        key = b"" if file is None else os.fsencode(_settled(file))
        return self.folder / f"{self._session}-{blake2b(key, digest_size=8).hexdigest()}{_SUFFIX}"


def pending(folder: Path | None = None, of: Path | None = None) -> Pending:
    """Drafts of sessions that are gone, newest first; only of files in the folder `of` if it is given.

    Drafts of benches without a file, and of folders that are gone, are offered everywhere. A draft that
    says what its file says is forgotten; one that cannot be read is noted once and set aside.
    """
    folder = folder or state_folder() / "drafts"
    drafts: list[Draft] = []
    notes: list[Problem] = []
    for path in _orphans(folder):
        try:
            draft = _read(path)
        except InputError:
            notes.append(_set_aside(path))
            continue
        if not draft.changes():
            drop(draft)
        elif of is None or _belongs(draft, of):
            drafts.append(draft)
    return Pending(tuple(sorted(drafts, key=lambda one: one.time, reverse=True)), tuple(notes))


def _belongs(draft: Draft, folder: Path) -> bool:
    """Whether a draft is offered in a folder; one that has no folder any more is offered in every one."""
    if draft.file is None or not os.path.isdir(draft.file.parent):
        return True
    return draft.file.parent == Path(os.path.realpath(folder))


def drop(draft: Draft) -> bool:
    """Forget a draft for good: it was taken over, or turned down. False if it cannot be removed."""
    try:
        draft.path.unlink(missing_ok=True)
    except OSError:
        return False
    return True


def _orphans(folder: Path) -> Iterator[Path]:
    """Draft files whose session is gone; locks of such sessions are cleared away."""
    try:
        names = sorted(os.listdir(folder))
    except (OSError, ValueError):
        return  # no folder, no drafts
    sessions = {name.removesuffix(_LOCK): folder / name for name in names if name.endswith(_LOCK)}
    alive = {session for session, lock in sessions.items() if _is_held(lock)}
    for session in sessions.keys() - alive:
        with suppress(OSError):
            sessions[session].unlink()
    _sweep(folder, [name for name in names if name.endswith(_TEMPORARY)])
    for name in names:
        if name.endswith(_SUFFIX) and name.rsplit("-", 1)[0] not in alive:
            yield folder / name


def _sweep(folder: Path, names: list[str]) -> None:
    """Remove what was half written when its session was killed: a live one finishes within moments."""
    for name in names:
        with suppress(OSError):
            if time.time() - (folder / name).lstat().st_mtime > _STALE_S:
                (folder / name).unlink()


def _set_aside(path: Path) -> Problem:
    aside = path.with_name(path.name + ".unreadable")
    with suppress(OSError):
        os.replace(path, aside)
    return Problem("a draft of unsaved work cannot be read", "it is kept there", file=shown_name(str(aside)))


def _settled(file: Path) -> Path:
    """The file's path without links on the way to its folder, so that every session calls it the same."""
    return Path(os.path.realpath(file.parent)) / file.name


def _held(folder: Path, session: str) -> int:
    """A lock file of the session; it gets its name only once it is locked."""
    temporary = folder / f"{secrets.token_hex(8)}{_TEMPORARY}"
    handle = os.open(temporary, os.O_RDWR | os.O_CREAT | os.O_EXCL | os.O_CLOEXEC, 0o600)
    try:
        fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
        os.replace(temporary, folder / (session + _LOCK))
    except BaseException:
        os.close(handle)
        temporary.unlink(missing_ok=True)
        raise
    return handle


def _is_held(lock: Path) -> bool:
    try:
        handle = os.open(lock, os.O_RDWR | os.O_NONBLOCK | os.O_NOFOLLOW | os.O_CLOEXEC)
    except FileNotFoundError:
        return False
    except OSError:
        return True  # not ours to judge, so not ours to offer
    try:
        fcntl.flock(handle, fcntl.LOCK_SH | fcntl.LOCK_NB)  # shared: two that look do not see each other
    except OSError:
        return True
    finally:
        os.close(handle)
    return False


def _read(path: Path) -> Draft:
    """A draft. Raises InputError when it is none."""
    data, _ = read_bytes(path)
    try:
        found: dict[str, Any] = json.loads(data)
        file, setup = found["file"], parse(found["setup"], Setup, shown_name(path.name))
        time = datetime.fromisoformat(found["time"]).astimezone(UTC)
        if not _FIRST <= time.year <= _LAST:
            raise ValueError("no time of a draft")
        return Draft(path, Path(file) if file is not None else None, setup, time, found["digest"])
    except (ValueError, KeyError, TypeError, AttributeError, RecursionError, OverflowError) as error:
        raise InputError(Problem("this is no draft", file=shown_name(str(path)))) from error


def _failed(error: OSError | ValueError, folder: Path) -> StoreError:
    what, mend = why(error)
    text = f"Unsaved work cannot be kept in {shown_name(str(folder))}: {what}"
    return StoreError(f"{text}; {mend}" if mend else text)
