"""Changes to a parts bin that several sessions may make at once: each starts from what is there now."""

from collections.abc import Callable
from pathlib import Path
from typing import Final

from cogwright.core.common.errors import InputError
from cogwright.core.parts.bin import Bin
from cogwright.store.bins import lost_by_saving_bin, read_bin, save_bin
from cogwright.store.documents import Document
from cogwright.store.files import StoreError
from cogwright.store.saving import ChangedOnDisk

#: So often another session may come in between before it is given up.
_TRIES: Final = 200


def change_bin(path: Path, change: Callable[[Bin], Bin]) -> Bin:
    """The bin after a change, which is made to what its file says now and is on the disk when this returns.

    If another session saves in between the change is made again, to what that one has left. Raises
    StoreError, and whatever the change raises: then nothing was written.
    """
    for _ in range(_TRIES):
        now = _there(path)
        try:
            return save_bin(path, change(now.value), now.stamp).value
        except ChangedOnDisk:
            continue
    raise StoreError("The bin was not changed: other programs keep changing it; try again")


def lost_by_changing(path: Path, change: Callable[[Bin], Bin]) -> tuple[str, ...]:
    """What a change would lose of the file's comments and layout; mostly nothing. Raises as `change_bin`."""
    now = _there(path)
    return lost_by_saving_bin(path, change(now.value), now.stamp)


def _there(path: Path) -> Document[Bin]:
    try:
        return read_bin(path)
    except InputError as error:
        raise StoreError(f"The bin was not changed: {error}") from error
