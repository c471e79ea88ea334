"""`cogwright order`: what the change from a baseline takes: parts, cost, mass, and the work in order."""

import argparse
from collections.abc import Callable
from typing import Final

from cogwright.commands.arguments import path
from cogwright.commands.given import add_given, given
from cogwright.commands.report import look
from cogwright.core.common.errors import InputError, Problem
from cogwright.core.common.safe_text import shown_name
from cogwright.core.study import study
from cogwright.core.worksheet.build import order_sheet
from cogwright.core.worksheet.sheet import OrderSheet
from cogwright.present.lines import plain
from cogwright.present.report.order_sheet import order_json, order_markdown
from cogwright.present.views.order import order_lines

EXAMPLES: Final = """examples:
  cogwright order yard-1-second-trial.toml --baseline yard-1-two-rings.toml
  cogwright order new.toml --baseline old.toml --bin bins/hollin-yard.toml
  cogwright order new.toml --baseline old.toml --format markdown > ticket.md"""


def add(subparsers: "argparse._SubParsersAction[argparse.ArgumentParser]") -> None:
    """Declare the subcommand."""
    parser = subparsers.add_parser(
        "order",
        help="list what a change takes: parts, cost, work",
        description=__doc__,
        epilog=EXAMPLES,
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    parser.add_argument("setup", type=path, metavar="SETUP", help="the setup as it shall be")
    add_given(parser)
    parser.add_argument("--format", choices=list(FORMATS), default="text", help="default: text")
    parser.set_defaults(run=run)


def run(args: argparse.Namespace) -> int:
    """Print the sheet; the exit status."""
    found = given(args)
    sheet = order_sheet(study(found.bench, found.baseline), found.stock)
    if sheet is None:
        mend = "give the setup as it is with --baseline FILE"
        what = f"there is nothing to come from. {found.used[0]}".rstrip(".")
        raise InputError(Problem(what, mend, file=shown_name(str(args.setup))))
    print(FORMATS[args.format](sheet, found.used), end="")
    return 0


def text(sheet: OrderSheet, used: tuple[str, ...]) -> str:
    """The sheet for the terminal, or 80 columns wide where stdout is none: then it fits one page."""
    return "".join(plain(row) + "\n" for row in order_lines(sheet, look(), used))


FORMATS: Final[dict[str, Callable[[OrderSheet, tuple[str, ...]], str]]] = {
    "text": text,
    "markdown": order_markdown,
    "json": order_json,
}
