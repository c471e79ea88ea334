"""What the command line asks of the app."""

from pathlib import Path
from typing import NamedTuple


class Options(NamedTuple):
    """How to open the app: a baseline, plain ASCII whatever the terminal, mouse, own keys."""

    baseline: Path | None = None
    ascii: bool = False
    mouse: bool = True
    keys: Path | None = None
