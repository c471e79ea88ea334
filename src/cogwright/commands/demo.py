"""`cogwright demo`: lay the demo's bikes, parts bin and courses out in a folder, and open them."""

import argparse
import os
from pathlib import Path

from cogwright.commands.arguments import path
from cogwright.core.common.safe_text import shown_name
from cogwright.core.common.words import count
from cogwright.store.demo import FOLDER, lay_out

EXAMPLES = """examples:
  cogwright demo              lay it out in the folder cogwright-demo and open it
  cogwright demo my-yard      in another folder

Files that are there already are left as they are. Without a terminal it is laid out and not opened."""


def add(subparsers: "argparse._SubParsersAction[argparse.ArgumentParser]") -> None:
    """Declare the subcommand."""
    parser = subparsers.add_parser(
        "demo",
        help="lay the demo out and open it",
        description=__doc__,
        epilog=EXAMPLES,
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    parser.add_argument("folder", nargs="?", type=path, default=Path(FOLDER), metavar="FOLDER")
    parser.set_defaults(run=run, opens="folder")


def run(args: argparse.Namespace) -> int:
    """Lay it out; the command line opens it then."""
    new = lay_out(args.folder)
    where = shown_name(str(args.folder))
    print(
        f"The demo is in {where}: {count(new, 'new file')}." if new else f"The demo was in {where} already."
    )
    if not os.isatty(0):
        print(f"Open it with: cogwright {where}")
    return 0
