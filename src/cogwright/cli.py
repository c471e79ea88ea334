"""The command line: assembles the subcommands; imports the app only to open it."""

import argparse
import sys
from collections.abc import Sequence

from cogwright import __version__


def parser() -> argparse.ArgumentParser:
    """The whole command line."""
    top = argparse.ArgumentParser(prog="cogwright", description=__doc__)
    top.add_argument("--version", action="version", version=f"cogwright {__version__}")
    return top


def main(argv: Sequence[str] | None = None) -> int:
    """Run the command line; the exit status."""
    parser().parse_args(sys.argv[1:] if argv is None else argv)
    return 0
