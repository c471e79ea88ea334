"""What the subcommands read: setups, with the errors that the command line prints."""

from pathlib import Path

from cogwright.core.setup.model import Setup
from cogwright.store.documents import read_setup


def setup_from(path: Path) -> Setup:
    """The setup in a file. Raises InputError with all its problems."""
    return read_setup(path).value
