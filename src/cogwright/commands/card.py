"""`cogwright card`: the pocket card that says how to shift a setup."""

import argparse
from typing import Final

from cogwright.commands.arguments import path
from cogwright.commands.given import add_given, given
from cogwright.core.study import study
from cogwright.present.report.card import NO_PRICES, card_text

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
    add_given(parser)
    parser.set_defaults(run=run)


def run(args: argparse.Namespace) -> int:
    """Print the card; the exit status."""
    found = given(args)
    print(card_text(study(found.bench, found.baseline), (found.used[0], NO_PRICES)), end="")
    return 0
