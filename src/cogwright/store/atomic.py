"""Writing a file in one step: a temporary file of the same folder, flushed, that takes the name over.

No temporary file stays. Where the system will not let it go, an error has a note that names it
(`BaseException.add_note`), which whoever says the error says as well.
"""

import errno
import os
import secrets
import stat
import time
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path
from typing import Final

from cogwright.core.common.errors import InputError, Problem
from cogwright.core.common.safe_text import shown_name
from cogwright.store.files import write_all
from cogwright.store.system import flags, has_owners, only_owner_may_replace, set_mode

TEMPORARY: Final = ".cogwright-"
#: A temporary file of this age is nobody's any more, even where there are no locks.
_STALE_S: Final = 60.0
#: What a file system says that cannot flush a folder: it has no better way.
_CANNOT_FLUSH: Final = {errno.EINVAL, errno.EROFS, errno.ENOTSUP}
_UNSURE: Final = (
    "the disk did not confirm it ({}), so after a power cut the version before may stand there: save a copy "
    "elsewhere, and have the disk checked"
)


def sweep(folder: Path) -> None:
    """Remove what a killed save has left: with the lock held nobody else's temporary file can be at work."""
    for path in folder.glob(TEMPORARY + "*.tmp"):
        with suppress(OSError):
            if time.time() - path.lstat().st_mtime > _STALE_S:
                path.unlink()


def may_replace(path: Path) -> None:
    """Raise OSError or InputError, before anything is made, where a file may not be written or replaced."""
    if not os.path.lexists(path):
        return
    if not os.access(path, os.W_OK):
        raise PermissionError(errno.EACCES, "read-only")
    if only_owner_may_replace(path):
        what = "its folder lets nobody but its owner replace it"
        raise InputError(Problem(what, "save in a folder of yours", file=str(path)))


def written_beside(path: Path, data: bytes, like: Path | None) -> Path:
    """A flushed temporary file beside `path`, with the mode and the owner of `like`. Raises OSError."""
    temporary = path.with_name(f"{TEMPORARY}{secrets.token_hex(8)}.tmp")
    old = os.stat(like) if like is not None else None
    mode = 0o666 if old is None else stat.S_IMODE(old.st_mode) & 0o777
    handle = os.open(temporary, os.O_WRONLY | os.O_CREAT | os.O_EXCL | flags("O_NOFOLLOW"), mode)
    with noted(temporary):
        try:
            if old is not None:
                _made_like(handle, old)
            write_all(handle, data)
            os.fsync(handle)
        finally:
            os.close(handle)
    return temporary


@contextmanager
def noted(temporary: Path) -> Iterator[None]:
    """Remove a temporary file where what is done with it fails; what stays is noted on the error."""
    try:
        yield
    except BaseException as error:
        if said := _removed(temporary):
            error.add_note(said)
        raise


def _made_like(handle: int, old: os.stat_result) -> None:
    """Give a new file the owner, group and mode of the old one, as far as that is ours to give."""
    if not has_owners():
        return
    made = os.fstat(handle)
    if (made.st_uid, made.st_gid) != (old.st_uid, old.st_gid):
        with suppress(OSError):  # only root may give a file away
            os.fchown(handle, old.st_uid, old.st_gid)
    with suppress(OSError):  # file systems without modes; it was made with this one, less the umask
        set_mode(handle, stat.S_IMODE(old.st_mode) & 0o777)


def take_over(temporary: Path, path: Path) -> os.stat_result:
    """Let a temporary file take a name over. Raises OSError; then what stood there still does.

    An error that comes although the name has been taken over, as a server can send one, is none.
    """
    with noted(temporary):
        status = os.stat(temporary)
        try:
            os.replace(temporary, path)
        except OSError:
            if not _stands_at(path, status):
                raise
    return status


def _stands_at(path: Path, status: os.stat_result) -> bool:
    with suppress(OSError):
        return os.path.samestat(os.lstat(path), status)
    return False


def keep_as(path: Path, to: Path, data: bytes, alone: bool) -> str:
    """Keep the file's version, which is `data`, under another name as well, set in one step.

    It becomes a second name of the same file if the file is `alone`, having none; otherwise, and where there
    are no second names, a copy. What is left behind, in words, mostly nothing. Raises OSError, InputError.
    """
    may_replace(to)
    temporary = path.with_name(f"{TEMPORARY}{secrets.token_hex(8)}.tmp")
    try:
        if not alone or only_owner_may_replace(path):  # such a folder would not let the second name go again
            raise OSError(errno.EPERM, "not here")
        os.link(path, temporary)
    except OSError:
        temporary = written_beside(path, data, path)
    take_over(temporary, to)
    return _removed(temporary)  # it is there still if both were names of one file: then a rename does nothing


def other_names(path: Path) -> int:
    """How many more names (hard links) the file has, apart from the program's own copies of it."""
    status = os.stat(path)
    if status.st_nlink < 2:
        return 0
    own = [path.with_name(path.name + "~"), *path.parent.glob(TEMPORARY + "*.tmp")]
    return max(status.st_nlink - 1 - sum(_stands_at(each, status) for each in own), 0)


def flush(folder: int | None) -> str:
    """Make a rename in the folder last; what to say where that is not certain."""
    if folder is None:
        return ""
    try:
        os.fsync(folder)
    except OSError as error:
        if error.errno not in _CANNOT_FLUSH:
            return _UNSURE.format(error.strerror or "an error")
    return ""


def _removed(temporary: Path) -> str:
    """Remove a temporary file that is not needed; what to say where it stays."""
    try:
        os.unlink(temporary)
    except FileNotFoundError:
        return ""
    except OSError:
        return f"the temporary file {shown_name(temporary.name)} stays beside it: remove it"
    return ""
