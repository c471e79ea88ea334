"""`cogwright report`: what every gear of a setup does, and what it costs against a baseline."""

import argparse
import shutil
import sys
from collections.abc import Callable
from typing import Final

from cogwright.commands.arguments import path
from cogwright.commands.given import add_given, given
from cogwright.commands.reading import course_from
from cogwright.core.study import study
from cogwright.present.lines import ASCII, UNICODE, Look, plain
from cogwright.present.report.data import Report, as_csv, as_json
from cogwright.present.report.markdown import as_markdown
from cogwright.present.report.sections import Extras
from cogwright.present.report.text import as_text

#: Columns; a wider terminal has room to spare, and bars that long say no more.
WIDEST: Final = 400
EXAMPLES: Final = """examples:
  cogwright report cogwright-demo/yard-7-pass.toml
  cogwright report cogwright-demo/yard-1-first-trial.toml --baseline cogwright-demo/yard-1-two-rings.toml
  cogwright report cogwright-demo/yard-7-pass.toml --course cogwright-demo/courses/crook-hause.toml
  cogwright report cogwright-demo/yard-7-pass.toml --format csv > yard-7.csv
  cogwright report cogwright-demo/yard-7-pass.toml --format json | python3 -m json.tool"""


def add(subparsers: "argparse._SubParsersAction[argparse.ArgumentParser]") -> None:
    """Declare the subcommand."""
    parser = subparsers.add_parser(
        "report",
        help="print what every gear does",
        description=__doc__,
        epilog=EXAMPLES,
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    parser.add_argument("setup", type=path, metavar="SETUP", help="the setup file to report on")
    add_given(parser)
    parser.add_argument(
        "--course", type=path, metavar="FILE", help="ride this course too: .toml, .csv or .gpx"
    )
    parser.add_argument("--format", choices=list(FORMATS), default="text", help="default: text")
    parser.set_defaults(run=run)


def run(args: argparse.Namespace) -> int:
    """Print the report; the exit status."""
    found = given(args)
    of = Report(
        study(found.bench, found.baseline),
        file=found.file,
        baseline_file=found.baseline_file,
        extras=Extras(course_from(args.course) if args.course else None, found.stock),
        used=found.used,
    )
    if args.format == "csv" and args.baseline is None and sys.stderr is not None:
        print(found.used[0], file=sys.stderr)  # a sheet has no place for it
    print(FORMATS[args.format](of), end="")
    return 0


def text(of: Report) -> str:
    """The report for the terminal, or 80 columns wide where stdout is none."""
    return "".join(plain(row) + "\n" for row in as_text(of, look()))


def look() -> Look:
    """The room on stdout and the characters that its encoding has."""
    out = sys.stdout
    columns = min(shutil.get_terminal_size().columns, WIDEST) if out is not None and out.isatty() else 80
    unicode = out is not None and (out.encoding or "").lower().replace("-", "") == "utf8"
    return Look(width=max(columns, 40), glyphs=UNICODE if unicode else ASCII)


FORMATS: Final[dict[str, Callable[[Report], str]]] = {
    "text": text,
    "markdown": as_markdown,
    "csv": as_csv,
    "json": as_json,
}
