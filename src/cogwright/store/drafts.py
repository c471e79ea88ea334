"""Drafts: unsaved work kept outside the setup files, and offered again after a crash or a lost line.

A draft is written on every edit. It is not flushed to the disk: it guards against the death of the program,
and what a dead program has written the kernel still has. A power cut can cost a draft, never a saved file.

A session holds a lock file for as long as it lives; the kernel drops the lock however it dies. So a draft is
offered when nobody holds its session's lock, and two live sessions do not see each other's. Where there are
no locks a draft is offered while its session still lives, which is better than never.

Drafts are for their owner alone: the folder is 0700, the files are 0600, a folder that is a link or somebody
else's is refused, and what others have put there is not offered.
"""

import json
import os
import secrets
import time
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from dataclasses import dataclass
from datetime import UTC, datetime
from hashlib import blake2b
from pathlib import Path
from typing import Any, Final

from cogwright.core.common.errors import InputError, Problem
from cogwright.core.common.safe_text import shown_name
from cogwright.core.common.words import count
from cogwright.core.setup.differences import differences
from cogwright.core.setup.model import Setup
from cogwright.store.documents import parse, read_setup, to_toml
from cogwright.store.files import Stamp, StoreError, read_bytes, why
from cogwright.store.locks import try_lock
from cogwright.store.paths import state_folder, state_folders
from cogwright.store.private import TEMPORARY, is_private, new_private, private_folder, write_private
from cogwright.store.system import flags

_SUFFIX: Final = ".draft"
_LOCK: Final = ".lock"
_FOLDER: Final = "drafts"
_STALE_S: Final = 60.0
#: How often, and how long apart, a lock is tried: another session that looks holds it for a moment too.
_TRIES, _APART_S = 3, 0.002
#: Years that any time zone can show.
_FIRST, _LAST = 1970, 9000


@dataclass(frozen=True, slots=True)
class Draft:
    """Unsaved work of a session that is gone. `file` is None for a bench that never had a file.

    `digest` is that of the file version it was made from; None if there was none. `candidates` are what else
    was kept of it and is in no file.
    """

    path: Path
    file: Path | None
    setup: Setup
    time: datetime
    digest: str | None
    candidates: tuple[Setup, ...] = ()

    def changes(self) -> tuple[str, ...]:
        """What it has otherwise than the file has now; all of it is new where the file cannot be read."""
        kept = (count(len(self.candidates), "candidate"),) if self.candidates else ()
        try:
            bench = differences(read_setup(self.file).value, self.setup) if self.file else ("not saved yet",)
        except InputError as error:
            bench = (f"the file cannot be read: {error.problems[0].what}",)
        return (*bench, *kept)

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
    """The drafts of this session. While they cannot be kept `failing` says why; every `put` tries again."""

    def __init__(self, folder: Path | None = None) -> None:
        self.folder = folder or state_folder() / _FOLDER
        #: Why work is not kept at present, for a mark that stays; empty while it is.
        self.failing = ""
        self._lock: int | None = None
        self._session = f"{os.getpid()}-{secrets.token_hex(6)}"
        with suppress(StoreError), self._noting():
            self._make_ready()

    def put(
        self, file: Path | None, setup: Setup, over: Stamp | None = None, candidates: tuple[Setup, ...] = ()
    ) -> None:
        """Keep the work on a file as it stands; cheap enough for every edit. Raises StoreError."""
        data = {
            "format": 1,
            "file": None if file is None else str(_settled(file)),
            "digest": over.digest if over else None,
            "time": datetime.now(UTC).isoformat(),
            "setup": to_toml(setup),
            "candidates": [to_toml(one) for one in candidates],
        }
        with self._noting():
            self._make_ready()
            write_private(self._path(file), json.dumps(data).encode("ascii"))

    def retry(self) -> None:
        """See whether drafts can be kept again; `failing` says so. Nothing is done while they are kept."""
        probe = self.folder / f"{secrets.token_hex(8)}{TEMPORARY}"
        if self.failing:
            with suppress(StoreError), self._noting():
                self._make_ready()
                write_private(probe, b"can this be written?")
                os.unlink(probe)

    @contextmanager
    def _noting(self) -> Iterator[None]:
        """Note how it went; what goes wrong becomes a StoreError that says what is not kept, and why."""
        try:
            yield
        except (StoreError, OSError, ValueError) as error:
            said = str(error) if isinstance(error, StoreError) else "; ".join(filter(None, why(error)))
            self.failing = f"Unsaved work cannot be kept in {shown_name(str(self.folder))}: {said}"
            raise StoreError(self.failing) from error
        self.failing = ""

    def _make_ready(self) -> None:
        """The folder and the session's lock, which somebody may have cleared away."""
        for each in (self.folder.parent, self.folder):
            private_folder(each)
        lock = self.folder / (self._session + _LOCK)
        if self._lock is None or not os.path.lexists(lock):
            self._let_go()
            self._lock = _held(lock)

    def _let_go(self) -> None:
        if self._lock is not None:
            os.close(self._lock)
            self._lock = None

    def discard(self, file: Path | None) -> None:
        """Forget the work on a file: it was saved, or given up."""
        with suppress(OSError):
            self._path(file).unlink(missing_ok=True)

    def close(self) -> None:
        """Leave what drafts there are to the next start, and let go of them."""
        self._let_go()
        with suppress(OSError):
            (self.folder / (self._session + _LOCK)).unlink(missing_ok=True)

    def _path(self, file: Path | None) -> Path:
        key = b"" if file is None else os.fsencode(_settled(file))
        return self.folder / f"{self._session}-{blake2b(key, digest_size=8).hexdigest()}{_SUFFIX}"


def pending(folder: Path | None = None, of: Path | None = None) -> Pending:
    """Drafts of sessions that are gone, newest first; only of files in the folder `of` if it is given.

    Drafts of benches without a file, and of folders that are gone, are offered everywhere. A draft that
    says what its file says is forgotten; one that cannot be read is noted once and set aside.
    """
    folders = [folder] if folder else [each / _FOLDER for each in state_folders()]
    drafts: list[Draft] = []
    notes: list[Problem] = []
    for path in (path for each in folders if is_private(each) for path in _orphans(each)):
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
    """This user's draft files whose session is gone."""
    try:
        names = sorted(os.listdir(folder))
    except (OSError, ValueError):
        return  # no folder, no drafts
    sessions = {name.removesuffix(_LOCK): folder / name for name in names if name.endswith(_LOCK)}
    alive = {session for session, lock in sessions.items() if _is_held(lock)}
    _sweep(folder, [name for name in names if name.endswith(TEMPORARY)])
    for name in names:
        if name.endswith(_SUFFIX) and name.rsplit("-", 1)[0] not in alive and is_private(folder / name):
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


def _held(lock: Path) -> int:
    """The handle of a session's lock file, with its lock held. Raises OSError."""
    while True:
        handle, ours = new_private(lock), False
        try:
            # Another session may have looked at it, and taken it for one that was left, before it was locked.
            ours = try_lock(handle) is not False and os.path.lexists(lock)
            if ours:
                return handle
        finally:
            if not ours:  # nor does it stand in the way of another try
                os.close(handle)
                with suppress(FileNotFoundError):
                    os.unlink(lock)


def _is_held(lock: Path) -> bool:
    """Whether a session still lives; the lock file of one that is gone is removed while its lock is ours."""
    try:
        handle = os.open(lock, os.O_RDWR | flags("O_NONBLOCK", "O_NOFOLLOW"))
    except FileNotFoundError:
        return False
    except OSError:
        return True  # not ours to judge, so not ours to offer
    try:
        held = not _is_free(handle)
        if not held:
            with suppress(OSError):
                os.unlink(lock)
    except OSError:
        return True
    finally:
        os.close(handle)
    return held


def _is_free(handle: int) -> bool:
    for _ in range(_TRIES):
        if try_lock(handle) is not False:
            return True
        time.sleep(_APART_S)
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
        kept = tuple(parse(text, Setup, shown_name(path.name)) for text in found.get("candidates", ()))
        return Draft(path, Path(file) if file is not None else None, setup, time, found["digest"], kept)
    except (ValueError, KeyError, TypeError, AttributeError, RecursionError, OverflowError) as error:
        raise InputError(Problem("this is no draft", file=shown_name(str(path)))) from error
