"""`cogwright card`: the pocket card that says how to shift a setup."""

import argparse
from typing import Final

from cogwright.commands.arguments import path
from cogwright.commands.reading import setup_from
from cogwright.core.study import study
from cogwright.present.report.card import card_text

EXAMPLES: Final = """examples:
  cogwright card yard-7.toml
  cogwright card yard-7.toml | lp"""


def add(subparsers: "argparse._SubParsersAction[argparse.ArgumentParser]") -> None:
    """Declare the subcommand."""
    parser = subparsers.add_parser(
        "card",
        help="print a pocket card that says how to shift",
        description=__doc__,
        epilog=EXAMPLES,
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    parser.add_argument("setup", type=path, metavar="SETUP", help="the setup file")
    parser.set_defaults(run=run)


def run(args: argparse.Namespace) -> int:
    """Print the card; the exit status."""
    print(card_text(study(setup_from(args.setup))), end="")
    return 0
