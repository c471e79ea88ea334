"""`cogwright handout`: a page for the rider in everyday words: what changes, what it costs, what to mind."""

import argparse
from collections.abc import Callable
from typing import Final

from cogwright.commands.arguments import path
from cogwright.commands.given import add_given, given
from cogwright.commands.reading import course_from
from cogwright.commands.report import look
from cogwright.core.common.errors import InputError, Problem
from cogwright.core.common.safe_text import shown_name
from cogwright.core.study import study
from cogwright.present.lines import plain
from cogwright.present.report.handout import Handout, handout_of
from cogwright.present.report.handout_html import handout_html
from cogwright.present.report.handout_text import handout_lines, handout_markdown

EXAMPLES: Final = """examples:
  cogwright handout yard-1-second-trial.toml
  cogwright handout new.toml --baseline old.toml --course courses/crook-hause.toml
  cogwright handout new.toml --format html > for-the-rider.html"""


def add(subparsers: "argparse._SubParsersAction[argparse.ArgumentParser]") -> None:
    """Declare the subcommand."""
    parser = subparsers.add_parser(
        "handout",
        help="print a page for the rider",
        description=__doc__,
        epilog=EXAMPLES,
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    parser.add_argument("setup", type=path, metavar="SETUP", help="the setup as it shall be")
    add_given(parser)
    parser.add_argument("--course", type=path, metavar="FILE", help="a road that the rider knows")
    parser.add_argument("--format", choices=list(FORMATS), default="text", help="default: text")
    parser.set_defaults(run=run)


def run(args: argparse.Namespace) -> int:
    """Print the page; the exit status."""
    found = given(args)
    if found.baseline is None:
        what = f"there is no change to tell of. {found.used[0]}".rstrip(".")
        mend = "give the setup as it was with --baseline FILE"
        raise InputError(Problem(what, mend, file=shown_name(str(args.setup))))
    course = course_from(args.course) if args.course else None
    of = handout_of(study(found.bench, found.baseline), course, found.stock, found.used)
    print(FORMATS[args.format](of), end="")
    return 0


def text(of: Handout) -> str:
    """The page for the terminal, or 80 columns wide where stdout is none."""
    return "".join(plain(row) + "\n" for row in handout_lines(of, look()))


FORMATS: Final[dict[str, Callable[[Handout], str]]] = {
    "text": text,
    "markdown": handout_markdown,
    "html": handout_html,
}
