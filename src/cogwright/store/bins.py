"""The parts bins of a folder of setups: the TOML files of its subfolder `bins`."""

from pathlib import Path
from typing import Final

from cogwright.core.parts.bin import Bin
from cogwright.store.documents import Document, read_document

FOLDER: Final = "bins"


def bin_files(folder: Path) -> tuple[Path, ...]:
    """The bins' files beside the setups of a folder, by name; none when it has no bins."""
    return tuple(sorted(folder.joinpath(FOLDER).glob("*.toml")))


def read_bin(path: Path) -> Document[Bin]:
    """Read one bin. Raises InputError with all its problems."""
    return read_document(path, Bin)
