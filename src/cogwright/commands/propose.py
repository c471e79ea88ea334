"""`cogwright propose`: what to change, out of all tooth counts or out of a parts bin."""

import argparse
import json
import math
from collections.abc import Callable
from pathlib import Path
from typing import Final

from cogwright.commands.reading import setup_from
from cogwright.commands.report import look
from cogwright.core.parts.bin import Bin
from cogwright.core.proposing.bin_choices import (
    cassette_choice,
    cassettes_for,
    choices_for,
    pool_for,
    ring_source,
    rings_for,
    unpriced,
    whole_for,
)
from cogwright.core.proposing.choices import CassetteChoice
from cogwright.core.proposing.course_score import score_on
from cogwright.core.proposing.even import even_out
from cogwright.core.proposing.goal import Goal, held_to
from cogwright.core.proposing.hardware import judged
from cogwright.core.proposing.plan import Plan
from cogwright.core.proposing.proposal import Proposal
from cogwright.core.proposing.single import single_ring
from cogwright.core.setup.model import MAX_TEETH, MIN_TEETH, Setup
from cogwright.present.lines import plain
from cogwright.present.panels.proposals import NAMES, nothing_words, propose_text
from cogwright.store.bins import read_bin
from cogwright.store.courses import read_course

MOST_AS_TEXT: Final = 12
EXAMPLES: Final = """examples:
  cogwright propose yard-7.toml --even
  cogwright propose yard-7.toml --even --bin bins/drawers.toml --pin 28 --pin 32
  cogwright propose yard-7.toml --single --cassette yard-2.toml
  cogwright propose yard-7.toml --single --course courses/crook-hause.toml
  cogwright propose yard-7.toml --plan --bin bins/drawers.toml --low-at-most 1.60 --cost-at-most 120
  cogwright propose yard-7.toml --plan --bin bins/drawers.toml --format json

The best comes first. A plan that finds nothing within the limits names the nearest miss."""


def add(subparsers: "argparse._SubParsersAction[argparse.ArgumentParser]") -> None:
    """Declare the subcommand."""
    parser = subparsers.add_parser(
        "propose",
        help="say what to change",
        description=__doc__,
        epilog=EXAMPLES,
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    parser.add_argument("setup", type=Path, metavar="SETUP", help="the setup file to change")
    _add_goals(parser)
    _add_limits(parser)
    parser.add_argument("--format", choices=("text", "json"), default="text", help="default: text")
    parser.add_argument("--most", type=_count, metavar="N", help=f"list N at most (text: {MOST_AS_TEXT})")
    parser.set_defaults(run=run, refuse=parser.error)


def _add_goals(parser: argparse.ArgumentParser) -> None:
    kinds = parser.add_mutually_exclusive_group(required=True)
    said = {
        "even": "more even steps for the same ends and number of cogs",
        "single": "one ring in the place of several",
        "plan": "the best changes out of the bin (needs --bin)",
    }
    for kind, words in said.items():
        kinds.add_argument(f"--{kind}", dest="kind", action="store_const", const=kind, help=words)
    parser.add_argument("--bin", type=Path, metavar="FILE", help="the parts bin to choose from")
    parser.add_argument(
        "--baseline",
        type=Path,
        metavar="FILE",
        help="compare with this setup (else the one that SETUP names, else SETUP)",
    )
    parser.add_argument("--pin", type=_teeth, action="append", default=[], metavar="N", help="this cog stays")
    parser.add_argument("--course", type=Path, metavar="FILE", help="mark the ring that serves best on it")
    parser.add_argument(
        "--cassette", type=Path, action="append", default=[], metavar="FILE", help="try this setup's cassette"
    )


def _add_limits(parser: argparse.ArgumentParser) -> None:
    limits = parser.add_argument_group("limits")
    limits.add_argument("--low-at-most", type=_length, metavar="M", help="lowest gear, m of development")
    limits.add_argument("--high-at-least", type=_length, metavar="M", help="highest gear, m of development")
    limits.add_argument("--cost-at-most", type=_number, metavar="PRICE", help="in the bin's currency")
    limits.add_argument("--jump-at-most", type=_number, metavar="PCT", help="largest step of a click, %%")


def _number(text: str) -> float:
    try:
        value = float(text.replace(",", "."))
    except ValueError:
        value = math.nan
    if not math.isfinite(value) or value < 0:
        raise argparse.ArgumentTypeError(f"{text} is not a number from 0 up")
    return value


def _length(text: str) -> float:
    value = _number(text)
    if value == 0:
        raise argparse.ArgumentTypeError("no gear goes 0 m: give a length above 0")
    return value


def _teeth(text: str) -> int:
    value = int(text) if text.isdecimal() else 0
    if not MIN_TEETH <= value <= MAX_TEETH:
        raise argparse.ArgumentTypeError(f"{text} is not a number of teeth, {MIN_TEETH} to {MAX_TEETH}")
    return value


def _count(text: str) -> int:
    value = int(text) if text.isdecimal() else 0
    if value < 1:
        raise argparse.ArgumentTypeError(f"{text} is not a number of proposals, 1 or more")
    return value


def run(args: argparse.Namespace) -> int:
    """Print the proposals; the exit status."""
    _must_go_together(args)
    setup = setup_from(args.setup)
    of = read_bin(args.bin).value if args.bin else None
    found, notes = SEARCHES[args.kind](args, setup, of)
    if args.format == "json":
        print(json.dumps(_as_json(args, setup, found[: args.most], notes), ensure_ascii=False, indent=1))
    else:
        _print(args, setup, of, found, notes)
    return 0


def _must_go_together(args: argparse.Namespace) -> None:
    if args.kind == "plan" and args.bin is None:
        args.refuse("--plan chooses from a bin: give one with --bin FILE")
    if args.pin and args.kind != "even":
        args.refuse("--pin goes with --even")
    if args.course and args.kind != "single":
        args.refuse("--course goes with --single")
    if args.cassette and args.kind == "plan":
        args.refuse("--cassette goes with --even and --single; a plan takes its cassettes from the bin")


def _goal(args: argparse.Namespace) -> Goal:
    return Goal(args.low_at_most, args.high_at_least, args.cost_at_most, args.jump_at_most)


def _baseline(args: argparse.Namespace, setup: Setup) -> Setup | None:
    """The baseline given, else the one that the setup names, as in the app; else none."""
    named: Path | None = args.baseline
    if named is None and setup.baseline is not None:
        named = args.setup.parent / setup.baseline
    return setup_from(named) if named else None


def _given(args: argparse.Namespace) -> list[CassetteChoice]:
    return [CassetteChoice.of(one, f"cassette of {one.name}") for one in map(setup_from, args.cassette)]


def _even(args: argparse.Namespace, setup: Setup, of: Bin | None) -> tuple[tuple[Proposal, ...], list[str]]:
    found = even_out(
        setup,
        _baseline(args, setup),
        pool_for(setup, of) if of else None,
        args.pin,
        cassettes=[*_given(args), *map(cassette_choice, whole_for(setup, of) if of else ())],
        judge=judged,
    )
    return held_to(_goal(args), found), []


def _single(args: argparse.Namespace, setup: Setup, of: Bin | None) -> tuple[tuple[Proposal, ...], list[str]]:
    own, *others = cassettes_for(setup, of)
    found = single_ring(
        setup,
        _baseline(args, setup),
        [own, *_given(args), *others],
        rings_for(setup, of) if of else (),
        judge=judged,
        course_score=score_on(read_course(args.course)) if args.course else None,
        currency=of.currency if of else "",
    )
    return held_to(_goal(args), found), []


def _plan(args: argparse.Namespace, setup: Setup, of: Bin | None) -> tuple[tuple[Proposal, ...], list[str]]:
    assert of is not None
    result = Plan(setup, choices_for(setup, of), _goal(args), _baseline(args, setup)).result()
    left_out = unpriced(of)
    notes = [f"left out for want of a price: {', '.join(left_out)}"] if left_out else []
    return result.proposals(), [f"{result.total:,} changes compared".replace(",", " "), *notes]


_Search = Callable[[argparse.Namespace, Setup, Bin | None], tuple[tuple[Proposal, ...], list[str]]]
SEARCHES: Final[dict[str, _Search]] = {"even": _even, "single": _single, "plan": _plan}


def _as_json(
    args: argparse.Namespace, setup: Setup, found: tuple[Proposal, ...], notes: list[str]
) -> dict[str, object]:
    return {
        "format": 1,
        "kind": args.kind,
        "setup": {"name": setup.name, "file": str(args.setup)},
        "meets": any(one.meets for one in found),
        "notes": notes,
        "proposals": [one.as_json() for one in found],
    }


def _print(
    args: argparse.Namespace, setup: Setup, of: Bin | None, found: tuple[Proposal, ...], notes: list[str]
) -> None:
    base, source = _baseline(args, setup), of.name if of else "all tooth counts"
    source = ring_source(setup, of) if args.kind == "single" else source
    rows = propose_text(
        f"{NAMES[args.kind]}: {setup.name}",
        found,
        look(),
        args.most or MOST_AS_TEXT,
        under=f"Out of {source}, compared with {base.name if base else 'itself as it stands'}.",
        nothing=nothing_words(args.kind, source, len(setup.rear.cogs)),
    )
    for row in rows:
        print(plain(row))
    for note in notes:
        print(note)
