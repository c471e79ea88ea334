"""What the command line asks of the app."""

from dataclasses import dataclass
from pathlib import Path


@dataclass(frozen=True, slots=True)
class Options:
    """How to open the app: a baseline, plain ASCII whatever the terminal, mouse, own keys."""

    baseline: Path | None = None
    ascii: bool = False
    mouse: bool = True
    keys: Path | None = None
