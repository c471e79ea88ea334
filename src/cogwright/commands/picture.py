"""`cogwright picture`: the chart of the gears, old and new, drawn into an SVG file."""

import argparse
from pathlib import Path
from typing import Final

from cogwright.commands.arguments import path
from cogwright.commands.given import add_baseline, baseline_for
from cogwright.commands.reading import setup_from
from cogwright.core.common.safe_text import shown_name
from cogwright.core.study import study
from cogwright.present.chart_style import AxisUnit, ChartKind, ChartStyle, Choice, RowOrder, ScaleKind
from cogwright.present.palette import DARK, LIGHT
from cogwright.present.picture.chart import chart_picture
from cogwright.store.exports import write_over

EXAMPLES: Final = """examples:
  cogwright picture yard-1-first-trial.toml --out trial.svg
  cogwright picture mine.toml --baseline old.toml --style ladder --out ladder.svg
  cogwright picture mine.toml --out - | rsvg-convert -o mine.png"""
_ENDING: Final = ".svg"


def add(subparsers: "argparse._SubParsersAction[argparse.ArgumentParser]") -> None:
    """Declare the subcommand."""
    parser = subparsers.add_parser(
        "picture",
        help="draw the chart of the gears into an SVG file",
        description=__doc__,
        epilog=EXAMPLES,
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    parser.add_argument("setup", type=path, metavar="SETUP", help="the setup file")
    add_baseline(parser)
    _add_choice(parser, "--style", ChartKind)
    _add_choice(parser, "--scale", ScaleKind)
    _add_choice(parser, "--rows", RowOrder)
    _add_choice(parser, "--axis", AxisUnit)
    parser.add_argument("--dark", action="store_true", help="on a dark ground")
    parser.add_argument(
        "--out", type=_out, required=True, metavar="FILE.svg", help="written over; - prints it"
    )
    parser.set_defaults(run=run)


def _add_choice(parser: argparse.ArgumentParser, name: str, of: type[Choice]) -> None:
    ways = list(of)
    words = "; ".join(f"{way.value}: {way.words}" if way.words != way.value else way.value for way in ways)
    parser.add_argument(
        name,
        type=str,
        choices=[way.value for way in ways],
        default=ways[0].value,
        help=f"{words} (first: default)",
    )


def _out(text: str) -> Path:
    """Where to: a name in .svg, so that no setup is written over by a slip; - is the standard output."""
    if text != "-" and not text.lower().endswith(_ENDING):
        raise argparse.ArgumentTypeError(
            f"{text} does not end in {_ENDING}, and - stands for standard output"
        )
    return path(text)


def run(args: argparse.Namespace) -> int:
    """Draw the picture; the exit status."""
    bench = setup_from(args.setup)
    baseline, _, said = baseline_for(args, bench, args.setup)
    style = ChartStyle(
        ChartKind(args.style), ScaleKind(args.scale), rows=RowOrder(args.rows), axis=AxisUnit(args.axis)
    )
    text = chart_picture(study(bench, baseline), style, DARK if args.dark else LIGHT)
    if str(args.out) == "-":
        print(text, end="")
        return 0
    write_over(args.out, text)
    print(f"Written to {shown_name(str(args.out))}. {said}")
    return 0
