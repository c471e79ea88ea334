"""`cogwright rides`: what recorded rides say of a bike's gears, and what another setup would have done."""

import argparse
from collections.abc import Callable
from typing import Final

from cogwright.commands.arguments import path
from cogwright.commands.reading import ride_from, setup_from
from cogwright.commands.report import look
from cogwright.core.riding.evidence.evidence import evidence_of
from cogwright.present.report.rides_data import (
    RidesReport,
    rides_csv,
    rides_json,
    rides_markdown,
    rides_text,
)

EXAMPLES: Final = """examples:
  cogwright rides mine.toml sunday.fit
  cogwright rides mine.toml week/*.fit --bench with-40-ring.toml
  cogwright rides cogwright-demo/yard-1-two-rings.toml cogwright-demo/rides/crook-hause.csv --format json

SETUP is the bike that was ridden. Nothing of a ride is kept."""


def add(subparsers: "argparse._SubParsersAction[argparse.ArgumentParser]") -> None:
    """Declare the subcommand."""
    parser = subparsers.add_parser(
        "rides",
        help="say which gears recorded rides used",
        description=__doc__,
        epilog=EXAMPLES,
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    parser.add_argument("setup", type=path, metavar="SETUP", help="the setup of the bike that was ridden")
    parser.add_argument(
        "files", type=path, nargs="+", metavar="FILE", help="rides: FIT, TCX, GPX or CSV, known by content"
    )
    parser.add_argument("--bench", type=path, metavar="FILE", help="ride them on this setup too")
    parser.add_argument("--format", choices=list(FORMATS), default="text", help="default: text")
    parser.set_defaults(run=run)


def run(args: argparse.Namespace) -> int:
    """Print what the rides say; the exit status."""
    setup = setup_from(args.setup)
    bench = setup_from(args.bench) if args.bench else None
    rides = [ride_from(file) for file in args.files]
    report = RidesReport(
        evidence_of(rides, setup, bench),
        file=str(args.setup),
        bench_file=str(args.bench) if args.bench else "",
        files=[str(file) for file in args.files],
    )
    print(FORMATS[args.format](report), end="")
    return 0


def _text(report: RidesReport) -> str:
    return rides_text(report, look())


FORMATS: Final[dict[str, Callable[[RidesReport], str]]] = {
    "text": _text,
    "markdown": rides_markdown,
    "csv": rides_csv,
    "json": rides_json,
}
