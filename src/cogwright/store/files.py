"""Reading from disk without being blocked, flooded or fooled by what a folder may hold."""

import errno
import hashlib
import io
import os
import stat
from collections.abc import Iterator
from dataclasses import dataclass, field
from pathlib import Path
from typing import Final

from cogwright.core.common.errors import CogwrightError, InputError, Problem
from cogwright.core.common.safe_text import shown_name
from cogwright.store.system import flags

#: Bytes. No bin or course that a person writes comes near this, nor a setup (20,000 characters of notes
#: included) near the smaller one; a recorded track has a limit of its own.
SIZE_LIMIT: Final = 1_000_000
SETUP_LIMIT: Final = 200_000

_CHUNK = 65_536
_KINDS = {
    stat.S_IFDIR: "a folder, not a file",
    stat.S_IFIFO: "a pipe, not a file",
    stat.S_IFSOCK: "a socket, not a file",
    stat.S_IFCHR: "a device, not a file",
    stat.S_IFBLK: "a device, not a file",
}
_REASONS = {
    errno.ENOENT: ("there is no such file", "check the name and the folder"),
    errno.ENOTDIR: ("there is no such file", "a part of the path is a file, not a folder"),
    errno.EACCES: ("no permission to use it", "ask its owner, or change its mode with chmod"),
    errno.EPERM: ("no permission to use it", "ask its owner"),
    errno.ELOOP: ("its links lead in a circle", "remove the link or point it at a file"),
    errno.ENAMETOOLONG: ("the name is too long", "choose a shorter name"),
    errno.ENOSPC: ("the disk is full", "free some space and save again"),
    getattr(errno, "EDQUOT", -1): ("your share of the disk is full", "free some space and save again"),
    errno.EFBIG: ("the file would be larger than is allowed here", "ask who runs this machine"),
    errno.EROFS: ("the disk is read-only", "save under a folder that you can write to"),
    errno.EIO: ("the disk reports an error", "save elsewhere and have the disk checked"),
    errno.EISDIR: ("it is a folder, not a file", "name a file"),
    errno.EINVAL: ("the name cannot be used", "choose another name"),
}


class StoreError(CogwrightError):
    """A file could not be written; what was there before still is. Its text says why, and what to do."""


@dataclass(frozen=True, slots=True)
class Stamp:
    """What a file was when it was read: its size in bytes, its time of change in ns, and a digest.

    `made_from` is the text that a version of the program's own was edited from, as a person left it.
    """

    size: int
    mtime_ns: int
    digest: str
    made_from: bytes | None = field(default=None, compare=False, repr=False)


def why(error: OSError | ValueError) -> tuple[str, str]:
    """What is wrong and how to mend it, for an error of the system."""
    known = _REASONS.get(getattr(error, "errno", None) or errno.EINVAL)
    return known or (getattr(error, "strerror", None) or str(error), "")


def problem_of(error: OSError | ValueError, path: Path) -> Problem:
    """An error of the system as a problem of a file."""
    what, mend = why(error)
    return Problem(what, mend, file=shown_name(str(path)))


def stamp_of(data: bytes, status: os.stat_result) -> Stamp:
    """The stamp of content just read."""
    return Stamp(len(data), status.st_mtime_ns, hashlib.blake2b(data, digest_size=16).hexdigest())


def opened(path: Path, limit: int = SIZE_LIMIT) -> tuple[io.FileIO, os.stat_result]:
    """A regular file of at most `limit` bytes, to be read and closed, and its status.

    Raises InputError for what is no regular file, too large, missing or unreadable. Never waits: a pipe
    or a device is recognised before it is opened, and opened without blocking if it comes in between.
    """
    try:
        _refuse(path, os.stat(path), limit)
        file = io.FileIO(os.open(path, os.O_RDONLY | flags("O_NONBLOCK", "O_NOCTTY")), "r")
        try:
            status = os.fstat(file.fileno())
            _refuse(path, status, limit)
        except BaseException:
            file.close()
            raise
    except (OSError, ValueError) as error:
        raise InputError(problem_of(error, path)) from error
    return file, status


def read_bytes(path: Path, limit: int = SIZE_LIMIT) -> tuple[bytes, Stamp]:
    """A regular file's content, at most `limit` bytes, and its stamp. Raises InputError as `opened` does."""
    file, status = opened(path, limit)
    with file:
        data = b"".join(pieces(file, path, limit))
    return data, stamp_of(data, status)


def pieces(file: io.FileIO, path: Path, limit: int) -> Iterator[bytes]:
    """The rest of an opened file in pieces. Raises InputError if it goes on past the limit or fails."""
    done = 0
    while piece := _piece(file, path):
        done += len(piece)
        if done > limit:
            raise _too_large(path, done, limit)
        yield piece


def _piece(file: io.FileIO, path: Path) -> bytes:
    try:
        return file.read(_CHUNK) or b""
    except OSError as error:
        raise InputError(problem_of(error, path)) from error


def write_all(handle: int, data: bytes) -> None:
    """Write all of the data to an open file. Raises OSError."""
    rest = memoryview(data)
    while rest:
        rest = rest[os.write(handle, rest) :]


def _refuse(path: Path, status: os.stat_result, limit: int) -> None:
    if not stat.S_ISREG(status.st_mode):
        kind = _KINDS.get(stat.S_IFMT(status.st_mode), "not a file")
        raise InputError(Problem(f"this is {kind}", "name a TOML file", file=shown_name(str(path))))
    if status.st_size > limit:
        raise _too_large(path, status.st_size, limit)


def _too_large(path: Path, size: int, limit: int) -> InputError:
    what = f"the file is too large: {size / 1000:,.0f} kB, and {limit / 1000:,.0f} kB are the most"
    return InputError(Problem(what, "name a file of this program", file=shown_name(str(path))))
