"""Locks that die with the program that holds them.

By filelock, which knows how each system does it, on handles that are opened here: a lock on a folder is one
on the folder itself, so that it leaves no file in it, where the system can open folders, and one on a file of
the state folder where it cannot.
"""

import errno
import os
import time
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from hashlib import blake2b
from pathlib import Path
from typing import Final, NamedTuple

from filelock import lock_descriptor

from cogwright.core.common.errors import InputError, Problem
from cogwright.store.files import StoreError
from cogwright.store.paths import state_folder
from cogwright.store.private import private_folder
from cogwright.store.system import flags

_WAIT_S: Final = 3.0
_AGAIN_S: Final = 0.005
_CANNOT_LOCK: Final = {errno.ENOSYS, errno.ENOTSUP, errno.EOPNOTSUPP, errno.ENOLCK, errno.EBADF, errno.EINVAL}


class FolderLock(NamedTuple):
    """The handle of a folder, None where folders cannot be opened, and whether its lock is held.

    Some network shares have no locks, and then savers there do not wait for each other.
    """

    handle: int | None
    held: bool


@contextmanager
def folder_lock(folder: Path) -> Iterator[FolderLock]:
    """Savers of one folder take turns; raises InputError after some seconds of waiting, and OSError."""
    if not hasattr(os, "O_DIRECTORY"):
        with _lock_by_file(folder) as held:
            yield FolderLock(None, held)
        return
    handle = os.open(folder, os.O_RDONLY | os.O_DIRECTORY)
    try:
        yield FolderLock(handle, _waited(handle, folder))
    finally:
        with suppress(OSError):  # nothing was written by it
            os.close(handle)


@contextmanager
def _lock_by_file(folder: Path) -> Iterator[bool]:
    """A lock on a file of the state folder that stands for the folder."""
    os.stat(folder)  # a folder that is gone is said to be
    name = blake2b(os.fsencode(os.path.realpath(folder)), digest_size=16).hexdigest()
    locks = state_folder() / "locks"
    try:
        for each in (locks.parent, locks):
            private_folder(each)
        handle = os.open(locks / f"{name}.lock", os.O_RDWR | os.O_CREAT | flags("O_NOFOLLOW"), 0o600)
    except (OSError, StoreError):  # without a state folder there is no lock, as on a share without locks
        yield False
        return
    try:
        yield _waited(handle, folder)
    finally:
        os.close(handle)


def _waited(handle: int, folder: Path) -> bool:
    end = time.monotonic() + _WAIT_S
    while (got := try_lock(handle)) is False:
        if time.monotonic() > end:
            raise InputError(
                Problem("another program is saving in this folder", "try again", file=str(folder))
            )
        time.sleep(_AGAIN_S)
    return got is True


def try_lock(handle: int) -> bool | None:
    """Take the lock on an open file: whether it was free; None where there are no locks. Raises OSError."""
    try:
        return lock_descriptor(handle, blocking=False)
    except OSError as error:
        if error.errno in _CANNOT_LOCK:
            return None
        raise
