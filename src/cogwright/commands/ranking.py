"""What a plan is ranked by on the command line: recorded rides, or a course."""

import argparse

from cogwright.commands.arguments import path
from cogwright.commands.reading import course_from, ride_from
from cogwright.core.proposing.served import Served
from cogwright.core.riding.evidence.evidence import ridden_on
from cogwright.core.setup.model import Setup


def add_ranking(parser: argparse.ArgumentParser) -> None:
    """Declare the arguments."""
    parser.add_argument(
        "--course", type=path, metavar="FILE", help="rank a plan by it, mark the ring that serves best on it"
    )
    parser.add_argument(
        "--ride",
        type=path,
        action="append",
        default=[],
        metavar="FILE",
        help="rank a plan by a recorded ride of the baseline; several add up",
    )


def ranking_must_go_together(args: argparse.Namespace) -> None:
    """Refuse what would say nothing."""
    if args.course and args.kind not in {"single", "plan"}:
        args.refuse("--course goes with --single and --plan")
    if args.ride and args.kind != "plan":
        args.refuse("--ride goes with --plan")
    if args.ride and args.course:
        args.refuse("rank by a --course or by a --ride")


def ranked(args: argparse.Namespace, setup: Setup, ridden: Setup) -> Served | None:
    """Where the finds of a plan are to serve; None where nothing was said."""
    if args.ride:
        return Served.on_rides(ridden_on([ride_from(file) for file in args.ride], ridden))
    return Served.on_course(course_from(args.course), setup) if args.course else None
