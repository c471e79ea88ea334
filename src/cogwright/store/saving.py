"""Saving: the file on disk is always the old one or the new one, whole, and the last version is kept.

A save goes into a temporary file of the same folder, is flushed to the disk, and takes the name over; then
the folder is flushed. The version before stays beside it as `name.toml~`, where an editor would put it and
where the shelf, which lists `*.toml`, does not see it. tomli-w keeps no comments, so a version that had
comments stays as `name.toml.orig`. Savers of one folder take turns by a lock on the folder itself.
"""

import errno
import fcntl
import os
import secrets
import time
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path
from typing import Final

from cogwright.core.common.errors import InputError, Problem
from cogwright.core.common.safe_text import shown_name
from cogwright.core.setup.model import Setup
from cogwright.store.documents import Document, parse, to_toml
from cogwright.store.files import Stamp, StoreError, problem_of, read_bytes, stamp_of
from cogwright.store.toml_lines import has_comments

_TEMPORARY: Final = ".cogwright-"
_LOCK_S: Final = 3.0
_STALE_S: Final = 60.0
_ORIGINALS: Final = 20


class ChangedOnDisk(StoreError):
    """The file is not what it was when it was read: ask, and save again over `stamp` if that is wanted.

    `setup` is what is there now, None if the file is gone (`stamp` is None then too) or cannot be read as a
    setup (`problems` say why). `has_comments` is for what is there now.
    """

    def __init__(
        self,
        path: Path,
        stamp: Stamp | None,
        setup: Setup | None,
        problems: tuple[Problem, ...],
        has_comments: bool = False,
    ):
        self.path, self.stamp, self.setup, self.problems = path, stamp, setup, problems
        self.has_comments = has_comments
        what = "is gone" if stamp is None else "was changed by another program"
        super().__init__(f"{shown_name(path.name)} {what} since it was read")


class AlreadyThere(StoreError):
    """A new file would take the name of one that is there."""


def backup_of(path: Path) -> Path:
    """Where the last version of a file is kept."""
    return path.with_name(path.name + "~")


def original_of(path: Path, version: Stamp) -> Path:
    """Where a version with comments is kept, or will be when it is saved over. Raises StoreError."""
    for kept in _originals(path):
        if not os.path.lexists(kept):
            return kept
        with suppress(InputError):
            if read_bytes(kept)[1].digest == version.digest:
                return kept
    raise StoreError(f"Not saved: {_ORIGINALS} files {shown_name(path.name)}.orig are kept; remove old ones")


def _originals(path: Path) -> Iterator[Path]:
    for count in range(1, _ORIGINALS + 1):
        yield path.with_name(f"{path.name}.orig{count if count > 1 else ''}")


def would_drop_comments(document: Document[Setup]) -> bool:
    """Whether saving over this document loses comments; its original is then kept as `name.toml.orig`."""
    return document.has_comments


def write_setup(path: Path, setup: Setup, over: Stamp | None = None) -> Document[Setup]:
    """Save a setup; the document as it is on the disk now.

    `over` is the stamp of the version that it replaces, None for a new file. Raises ChangedOnDisk or
    AlreadyThere when that is not what is there, StoreError when it cannot be written; the file is then as
    it was. A link stays a link: the file that it points at is written.
    """
    data = _readable(setup)
    real = real_path(path)
    with _failing_clearly("Not saved", path), _locked(real.parent) as folder:
        old = _there(real)
        _expect(path, old, over)
        if old is not None and old[0] == data:
            return Document(path, setup, False, old[1])  # a save without a change keeps the backup
        temporary = _written(real, data, old is not None)
        try:
            if old is not None:
                _keep(real, old)
            status = os.stat(temporary)
            os.replace(temporary, real)
        finally:
            temporary.unlink(missing_ok=True)
        _flush(folder)
    return Document(path, setup, False, stamp_of(data, status))


def delete(path: Path, over: Stamp | None = None) -> None:
    """Delete a file by making it its own backup; `over` is the version that is meant, if it was read.

    Raises ChangedOnDisk, StoreError.
    """
    with _failing_clearly("Not deleted", path), _locked(path.parent) as folder:
        if over is not None:
            _expect(path, _there(path), over)
        os.replace(path, backup_of(path))
        _flush(folder)


def undelete(path: Path) -> None:
    """Bring a deleted file back from its backup. Raises AlreadyThere, StoreError."""
    with _failing_clearly("Not brought back", path), _locked(path.parent) as folder:
        if os.path.lexists(path):
            raise AlreadyThere(f"{shown_name(path.name)} is there already")
        os.replace(backup_of(path), path)
        _flush(folder)


def _readable(setup: Setup) -> bytes:
    """The file's content, once it is certain that it can be read again."""
    text = to_toml(setup)
    try:
        parse(text, Setup)
    except InputError as error:
        raise StoreError(f"Not saved, because it could not be read again: {error}") from error
    return text.encode()


def real_path(path: Path) -> Path:
    """The file that a link points at: a save changes that and leaves the link. Raises StoreError."""
    try:
        return path.resolve(strict=False)
    except (OSError, RuntimeError) as error:
        raise StoreError(f"{shown_name(str(path))}: its links lead in a circle; remove the link") from error


@contextmanager
def _failing_clearly(what: str, path: Path) -> Iterator[None]:
    try:
        yield
    except InputError as error:
        raise StoreError(f"{what}: {error}") from error
    except (OSError, ValueError) as error:
        raise StoreError(f"{what}: {_trouble(error, path)}") from error


def _trouble(error: OSError | ValueError, path: Path) -> Problem:
    if isinstance(error, FileNotFoundError | NotADirectoryError) and not os.path.isdir(path.parent):
        return Problem("its folder is gone", "make the folder again, then try again", file=str(path))
    return problem_of(error, path)


@contextmanager
def _locked(folder: Path) -> Iterator[int]:
    """The folder's handle, with its lock held; savers wait for each other for a few seconds at most."""
    handle = os.open(folder, os.O_RDONLY | os.O_DIRECTORY | os.O_CLOEXEC)
    try:
        if _lock(handle):
            _sweep(folder)
        yield handle
    finally:
        os.close(handle)


def _lock(handle: int) -> bool:
    """Take the lock; False where the file system has none, such as some network shares."""
    end = time.monotonic() + _LOCK_S
    while True:
        try:
            fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
            return True
        except BlockingIOError as error:
            if time.monotonic() > end:
                raise StoreError("Another program is saving in this folder; try again") from error
            time.sleep(0.005)
        except OSError:
            return False


def _sweep(folder: Path) -> None:
    """Remove what a killed save has left: with the lock held nobody else's temporary file can be at work."""
    for path in folder.glob(_TEMPORARY + "*.tmp"):
        with suppress(OSError):
            if time.time() - path.lstat().st_mtime > _STALE_S:
                path.unlink()


def _there(path: Path) -> tuple[bytes, Stamp] | None:
    """What is on the disk now; None when there is nothing."""
    return read_bytes(path) if os.path.lexists(path) else None


def _expect(path: Path, old: tuple[bytes, Stamp] | None, over: Stamp | None) -> None:
    if old is None and over is not None:
        raise ChangedOnDisk(path, None, None, ())
    if old is None or (over is not None and old[1].digest == over.digest):
        return
    if over is None:
        raise AlreadyThere(f"{shown_name(path.name)} is there already; choose another name")
    setup, problems = _as_setup(path, old[0])
    raise ChangedOnDisk(path, old[1], setup, problems, _commented(old[0]))


def _as_setup(path: Path, data: bytes) -> tuple[Setup | None, tuple[Problem, ...]]:
    """The setup that a content is, or why it is none."""
    try:
        return parse(data.decode("utf-8-sig"), Setup, shown_name(str(path))), ()
    except UnicodeDecodeError:
        return None, (Problem("the file is not UTF-8 text"),)
    except InputError as error:
        return None, error.problems


def _written(path: Path, data: bytes, replaces: bool) -> Path:
    """A flushed temporary file beside `path` with the content, the mode and the group of what it replaces."""
    if replaces and not os.access(path, os.W_OK):
        raise PermissionError(errno.EACCES, "read-only")
    temporary = path.with_name(f"{_TEMPORARY}{secrets.token_hex(8)}.tmp")
    mode = os.stat(path).st_mode & 0o777 if replaces else 0o666
    handle = os.open(temporary, os.O_WRONLY | os.O_CREAT | os.O_EXCL | os.O_CLOEXEC, mode)
    try:
        if replaces:
            _like(handle, os.stat(path))
        _write_all(handle, data)
        os.fsync(handle)
    except BaseException:
        temporary.unlink(missing_ok=True)
        raise
    finally:
        os.close(handle)
    return temporary


def _like(handle: int, old: os.stat_result) -> None:
    """Give a new file the owner, group and mode of the old one."""
    made = os.fstat(handle)
    if (made.st_uid, made.st_gid) != (old.st_uid, old.st_gid):
        with suppress(OSError):  # only root may give a file away
            os.fchown(handle, old.st_uid, old.st_gid)
    with suppress(OSError):  # file systems without modes; it was made with this one, less the umask
        os.fchmod(handle, old.st_mode & 0o777)


def _write_all(handle: int, data: bytes) -> None:
    rest = memoryview(data)
    while rest:
        rest = rest[os.write(handle, rest) :]


def _keep(path: Path, old: tuple[bytes, Stamp]) -> None:
    """Keep the version on the disk as the backup, and once more beside it if it has comments."""
    data, stamp = old
    if _commented(data):
        kept = original_of(path, stamp)
        if not os.path.lexists(kept):
            _copy(path, kept, data)
    _copy(path, backup_of(path), data)


def _commented(data: bytes) -> bool:
    return has_comments(data.decode("utf-8", errors="replace"))


def _copy(path: Path, to: Path, data: bytes) -> None:
    """A second name for the version on the disk, set in one step; a copy where there are no hard links."""
    temporary = path.with_name(f"{_TEMPORARY}{secrets.token_hex(8)}.tmp")
    try:
        os.link(path, temporary)
    except OSError:
        temporary = _written(path, data, True)
    try:
        os.replace(temporary, to)
    finally:
        temporary.unlink(missing_ok=True)  # two names of one file: a rename then does nothing


def _flush(folder: int) -> None:
    """Make a rename last. A file system that cannot flush folders (EINVAL) has no better way."""
    try:
        os.fsync(folder)
    except OSError as error:
        if error.errno not in {errno.EINVAL, errno.EROFS}:
            raise
