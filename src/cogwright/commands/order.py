"""`cogwright order`: what the change from a baseline takes: parts, cost, mass, and the work in order."""

import argparse
from collections.abc import Callable
from pathlib import Path
from typing import Final

from cogwright.commands.arguments import path
from cogwright.commands.reading import setup_from
from cogwright.commands.report import look
from cogwright.core.common.errors import InputError, Problem
from cogwright.core.common.safe_text import shown_name
from cogwright.core.setup.model import Setup
from cogwright.core.study import study
from cogwright.core.worksheet.build import order_sheet
from cogwright.core.worksheet.sheet import OrderSheet
from cogwright.present.lines import plain
from cogwright.present.report.order_sheet import order_json, order_markdown
from cogwright.present.views.order import order_lines
from cogwright.store.bins import read_bin

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
    parser.add_argument("--baseline", type=path, metavar="FILE", help="as it is, unless SETUP names it")
    parser.add_argument("--bin", type=path, metavar="BIN", help="a parts bin, for stock, prices and masses")
    parser.add_argument("--format", choices=list(FORMATS), default="text", help="default: text")
    parser.set_defaults(run=run)


def run(args: argparse.Namespace) -> int:
    """Print the sheet; the exit status."""
    stock = read_bin(args.bin).value if args.bin else None
    bench = setup_from(args.setup)
    base = setup_from(args.baseline or baseline_named(bench, args.setup))
    sheet = order_sheet(study(bench, base), stock)
    assert sheet is not None
    print(FORMATS[args.format](sheet), end="")
    return 0


def baseline_named(bench: Setup, file: Path) -> Path:
    """The baseline that a setup's file names, in the same folder. Raises InputError when it names none."""
    if bench.baseline is None:
        mend = "give the setup as it is with --baseline FILE"
        raise InputError(Problem("there is nothing to come from", mend, file=shown_name(str(file))))
    return file.parent / bench.baseline


def text(sheet: OrderSheet) -> str:
    """The sheet for the terminal, or 80 columns wide where stdout is none: then it fits one page."""
    return "".join(plain(row) + "\n" for row in order_lines(sheet, look()))


FORMATS: Final[dict[str, Callable[[OrderSheet], str]]] = {
    "text": text,
    "markdown": order_markdown,
    "json": order_json,
}
