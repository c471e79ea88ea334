"""The parts bins of a folder of setups: the TOML files of its subfolder `bins`."""

from pathlib import Path
from typing import Final

from cogwright.core.parts.bin import Bin
from cogwright.store.documents import Document, read_document
from cogwright.store.files import Stamp
from cogwright.store.saving import lost_by_saving, write_document

FOLDER: Final = "bins"


def bin_files(folder: Path) -> tuple[Path, ...]:
    """The bins' files beside the setups of a folder, by name; none when it has no bins."""
    return tuple(sorted(folder.joinpath(FOLDER).glob("*.toml")))


def read_bin(path: Path) -> Document[Bin]:
    """Read one bin. Raises InputError with all its problems."""
    return read_document(path, Bin)


def save_bin(path: Path, stock: Bin, over: Stamp | None) -> Document[Bin]:
    """Write a bin; what a person wrote in its file stays. Raises as `saving.write_document` does."""
    return write_document(path, stock, over)


def lost_by_saving_bin(path: Path, stock: Bin, over: Stamp) -> tuple[str, ...]:
    """What that would lose of the file's comments and layout; mostly nothing."""
    return lost_by_saving(path, stock, over)
