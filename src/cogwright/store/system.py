"""What systems differ in: flags, owners and modes that some do not have. Nothing here is of Unix alone."""

import os
import stat
from functools import reduce
from operator import or_


def flags(*names: str) -> int:
    """The named flags for `os.open`, as far as the system has them, and bytes as they are where it asks."""
    return reduce(or_, (getattr(os, name, 0) for name in (*names, "O_BINARY")))


def has_owners() -> bool:
    """Whether files here have owners and modes."""
    return hasattr(os, "geteuid")


def is_ours(status: os.stat_result) -> bool:
    """Whether a file is this user's own; where files have no owners it is."""
    return not has_owners() or status.st_uid == os.geteuid()


def set_mode(path: str | os.PathLike[str] | int, mode: int) -> None:
    """Give a file, by its name or its handle, exactly this mode whatever the umask; nothing without modes."""
    if not has_owners():
        return
    if isinstance(path, int):
        os.fchmod(path, mode)
    else:
        os.chmod(path, mode)


def only_owner_may_replace(path: str | os.PathLike[str]) -> bool:
    """Whether a folder, such as /tmp, keeps the file for its owner, who is somebody else."""
    if not has_owners() or not os.path.lexists(path):
        return False
    folder = os.stat(os.path.dirname(path) or ".")
    sticky = bool(folder.st_mode & stat.S_ISVTX)
    return sticky and os.geteuid() not in {0, folder.st_uid, os.lstat(path).st_uid}
