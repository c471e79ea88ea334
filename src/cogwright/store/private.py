"""Folders and files that are nobody else's business: 0700 and 0600, and never by way of a planted link."""

import os
import secrets
import stat
from contextlib import suppress
from pathlib import Path
from typing import Final

from cogwright.core.common.safe_text import shown_name
from cogwright.store.files import StoreError, write_all
from cogwright.store.system import flags, is_ours, set_mode

TEMPORARY: Final = ".tmp"


def private_folder(folder: Path) -> None:
    """Make a folder of this user's own, or make sure that it is one. Raises StoreError and OSError.

    A link is refused, whoever made it, and so is a folder that belongs to somebody else: what is written
    there would be theirs to read and to change.
    """
    if not folder.is_absolute():
        raise StoreError("there is no home folder; set HOME to yours")
    _made(folder)
    status = os.lstat(folder)
    name = shown_name(str(folder))
    if not stat.S_ISDIR(status.st_mode):
        kind = "a link" if stat.S_ISLNK(status.st_mode) else "a file"
        raise StoreError(f"{name} is {kind}, not a folder; move it away")
    if not is_ours(status):
        raise StoreError(f"{name} belongs to somebody else; move it away, or ask who it belongs to")
    if stat.S_IMODE(status.st_mode) != 0o700:
        set_mode(folder, 0o700)


def _made(folder: Path) -> None:
    """Make a folder, and what is missing above it, each for this user alone."""
    if os.path.lexists(folder):
        return
    if not folder.parent.is_dir():
        _made(folder.parent)
    with suppress(FileExistsError):  # another start of the program was quicker
        os.mkdir(folder, 0o700)
        set_mode(folder, 0o700)


def is_private(path: Path) -> bool:
    """Whether there is a file or folder of this user's own by that name, and no link to one."""
    try:
        status = os.lstat(path)
    except (OSError, ValueError):
        return False
    return is_ours(status) and (stat.S_ISREG(status.st_mode) or stat.S_ISDIR(status.st_mode))


def write_private(path: Path, data: bytes) -> None:
    """Write a file that only this user can read, in one step. Raises OSError; nothing is left behind then."""
    temporary = path.with_name(secrets.token_hex(8) + TEMPORARY)
    handle = new_private(temporary)
    try:
        try:
            write_all(handle, data)
        finally:
            os.close(handle)
        os.replace(temporary, path)
    except BaseException:
        with suppress(OSError):
            os.unlink(temporary)
        raise


def new_private(path: Path) -> int:
    """The handle of a new file that only this user can read. Raises OSError, also where there is one."""
    handle = os.open(path, os.O_RDWR | os.O_CREAT | os.O_EXCL | flags("O_NOFOLLOW"), 0o600)
    try:
        set_mode(handle, 0o600)
    except BaseException:
        os.close(handle)
        raise
    return handle
