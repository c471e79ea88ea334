"""`cogwright propose`: what to change, out of all tooth counts or out of a parts bin."""

import argparse
import json
from collections.abc import Callable, Iterator
from functools import partial
from pathlib import Path
from typing import Final, NamedTuple

from cogwright.commands.applying import add_applying, applied, refuse_to_apply
from cogwright.commands.arguments import count, length, number, path, seconds
from cogwright.commands.cassettes import cassettes_given, teeth
from cogwright.commands.climbing import (
    ANSWERED,
    add_climb,
    answer,
    answer_lines,
    climb_answer,
    goal_of,
    kind_asked,
    kind_told,
    must_go_together,
)
from cogwright.commands.given import add_baseline, baseline_for, bin_for
from cogwright.commands.ranking import add_ranking, ranked, ranking_must_go_together
from cogwright.commands.reading import course_from, setup_from
from cogwright.commands.report import look
from cogwright.commands.searching import Ended, ended, thousands
from cogwright.core.common.safe_text import shown_name
from cogwright.core.parts.bin import Bin
from cogwright.core.proposing.bin_choices import (
    cassette_choice,
    cassettes_for,
    pool_for,
    ring_source,
    rings_for,
    whole_for,
)
from cogwright.core.proposing.course_score import score_on
from cogwright.core.proposing.goal import held_to
from cogwright.core.proposing.options import unpriced
from cogwright.core.proposing.plan import Plan
from cogwright.core.proposing.progress import Progress, even_progress, single_progress
from cogwright.core.proposing.proposal import Proposal
from cogwright.core.proposing.served import ranked_by
from cogwright.core.setup.model import Setup
from cogwright.present.lines import plain, wrap
from cogwright.present.panels.search_words import NAMES, nothing_words
from cogwright.present.report.climb_data import climb_json
from cogwright.present.report.proposals import proposal_json, propose_text

MOST_AS_TEXT: Final = 12
EXAMPLES: Final = """examples:
  cogwright propose yard-7.toml --even
  cogwright propose yard-7.toml --even --bin bins/drawers.toml --pin "28 32"
  cogwright propose yard-7.toml --single --cassette yard-2.toml --cassette "11 13 15 18 21 24 28 34"
  cogwright propose yard-7.toml --single --bin bins/drawers.toml --cassette 11-34
  cogwright propose yard-7.toml --single --course courses/crook-hause.toml
  cogwright propose yard-7.toml --plan --bin bins/drawers.toml --low-at-most 1.60 --cost-at-most 120
  cogwright propose yard-7.toml --plan --bin bins/drawers.toml --format json
  cogwright propose yard-7.toml --plan --bin bins/drawers.toml --apply 1 --out yard-7-plan.toml
  cogwright propose yard-7.toml --plan --bin bins/drawers.toml --ride rides/sunday.fit
  cogwright propose yard-7.toml --climb 12 --load 25 --cadence 60
  cogwright propose yard-7.toml --climb 12 --load 25 --bin bins/drawers.toml --top-speed 40
  cogwright propose errand.toml --pairs --development 4.60 --rings "40 42 44" --cogs "16 17 18"

The best comes first. A plan that finds nothing within the limits names the nearest miss. Ctrl+C ends a long
search with the best so far (exit status 130), and so does --time-limit (exit status 0)."""


def add(subparsers: "argparse._SubParsersAction[argparse.ArgumentParser]") -> None:
    """Declare the subcommand."""
    parser = subparsers.add_parser(
        "propose",
        help="say what to change",
        description=__doc__,
        epilog=EXAMPLES,
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    parser.add_argument("setup", type=path, metavar="SETUP", help="the setup file to change")
    _add_goals(parser)
    _add_limits(parser)
    add_applying(parser)
    add_climb(parser)
    parser.add_argument("--format", choices=("text", "json"), default="text", help="default: text")
    parser.add_argument(
        "--most", type=count, metavar="N", help=f"list N at most (else {MOST_AS_TEXT} as text)"
    )
    parser.add_argument("--time-limit", type=seconds, metavar="SECONDS", help="end a search after that")
    parser.set_defaults(run=run, refuse=parser.error)


def _add_goals(parser: argparse.ArgumentParser) -> None:
    kinds = parser.add_mutually_exclusive_group()
    said = {
        "even": "more even steps for the same ends and number of cogs",
        "single": "one ring in the place of several",
        "plan": "the best changes out of the bin (needs --bin)",
        "pairs": "ring and cog that need no tensioner (with --development or --climb)",
    }
    for kind, words in said.items():
        kinds.add_argument(f"--{kind}", dest="kind", action="store_const", const=kind, help=words)
    bins = parser.add_mutually_exclusive_group()
    bins.add_argument(
        "--bin",
        type=path,
        metavar="FILE",
        help="choose from this parts bin (a plan: else the folder's only)",
    )
    bins.add_argument("--no-bin", action="store_true", help="a plan: not the folder's only bin either")
    add_baseline(parser)
    parser.add_argument(
        "--pin", type=teeth, action="extend", default=[], metavar="TEETH", help="these cogs stay"
    )
    add_ranking(parser)
    parser.add_argument(
        "--cassette",
        action="append",
        default=[],
        metavar="CASSETTE",
        help="try this one: a setup's file, cogs, or ends (11-34) to be found in the bin and beside SETUP",
    )


def _add_limits(parser: argparse.ArgumentParser) -> None:
    limits = parser.add_argument_group("limits")
    limits.add_argument("--low-at-most", type=length, metavar="M", help="lowest gear, m of development")
    limits.add_argument("--high-at-least", type=length, metavar="M", help="highest gear, m of development")
    limits.add_argument("--cost-at-most", type=number, metavar="PRICE", help="in the bin's currency")
    limits.add_argument("--jump-at-most", type=number, metavar="PCT", help="largest step of a click, %%")


def run(args: argparse.Namespace) -> int:
    """Print the proposals; the exit status."""
    args.asked = args.kind
    args.kind = args.kind or kind_asked(args)
    _must_go_together(args)
    refuse_to_apply(args)
    setup = setup_from(args.setup)
    of, of_bin = _bin(args)
    if args.kind in ANSWERED:
        return answer(args, setup, of)
    search = SEARCHES[args.kind](args, setup, of)
    end = ended(search.progress, args.time_limit)
    found = search.held(end.last.proposals() if end.last else ())
    notes = [note for note in (*search.notes(end), end.words) if note]
    base = _baseline(args, setup) or setup
    written = applied(args, found, base, _baseline_file(args, setup) or args.setup)
    notes += [f"proposal {args.apply} is written to {shown_name(str(written))}"] if written else []
    if args.format == "json":
        used = [baseline_for(args, setup, args.setup)[2], of_bin]
        told = _as_json(args, setup, found, notes, end) | {"used": used}
        print(json.dumps(told, ensure_ascii=False, indent=1))
    else:
        _print(args, setup, of, found, notes, end)
    return end.status


def _must_go_together(args: argparse.Namespace) -> None:
    must_go_together(args)
    if args.pin and args.kind != "even":
        args.refuse("--pin goes with --even")
    ranking_must_go_together(args)
    if args.cassette and args.kind == "plan":
        args.refuse("--cassette goes with --even and --single; a plan takes its cassettes from the bin")


def _baseline(args: argparse.Namespace, setup: Setup) -> Setup | None:
    """The baseline given, else the one that the setup names, as in the app; else none."""
    return baseline_for(args, setup, args.setup)[0]


def _baseline_file(args: argparse.Namespace, setup: Setup) -> Path | None:
    named = baseline_for(args, setup, args.setup)[1]
    return Path(named) if named else None


def _bin(args: argparse.Namespace) -> tuple[Bin | None, str]:
    """The bin, and what to say of it; unasked only a plan takes the folder's, for it needs one."""
    if args.kind != "plan" and args.bin is None:
        return None, "No parts bin was asked for: any tooth count is considered."
    found, said = bin_for(args, args.setup)
    if found is None:
        args.refuse(f"--plan chooses from a bin: give one with --bin FILE. {said}")
    return found, said


class AskedSearch(NamedTuple):
    """A search that has not begun, how its finds are held to the limits, and what its end is noted with."""

    progress: Iterator[Progress]
    held: Callable[[tuple[Proposal, ...]], tuple[Proposal, ...]] = tuple
    notes: Callable[[Ended], list[str]] = lambda _: []


def _even(args: argparse.Namespace, setup: Setup, of: Bin | None) -> AskedSearch:
    whole = [*cassettes_given(args, of), *map(cassette_choice, whole_for(setup, of) if of else ())]
    pool = pool_for(setup, of) if of else None
    progress = even_progress(setup, _baseline(args, setup), pool, args.pin, whole, of)
    return AskedSearch(progress, lambda found: held_to(goal_of(args, setup), found))


def _single(args: argparse.Namespace, setup: Setup, of: Bin | None) -> AskedSearch:
    own, *others = cassettes_for(setup, of)
    progress = single_progress(
        setup,
        _baseline(args, setup),
        [own, *cassettes_given(args, of), *others],
        rings_for(setup, of) if of else (),
        score_on(course_from(args.course)) if args.course else None,
        of,
    )
    return AskedSearch(progress, lambda found: held_to(goal_of(args, setup), found))


def _plan(args: argparse.Namespace, setup: Setup, of: Bin | None) -> AskedSearch:
    assert of is not None
    base = _baseline(args, setup)
    served = ranked(args, setup, base or setup)
    plan = Plan(setup, of, goal_of(args, setup), base, served)
    left_out = unpriced(of)
    noted = [f"left out, no price: {', '.join(left_out)}"] if left_out else []
    order = partial(ranked_by, served) if served else tuple
    return AskedSearch(plan.progress(), order, notes=lambda end: [*_compared(end), *noted])


def _compared(end: Ended) -> list[str]:
    return [f"{thousands(end.last.done)} changes compared"] if end.last else []


SEARCHES: Final[dict[str, Callable[[argparse.Namespace, Setup, Bin | None], AskedSearch]]] = {
    "even": _even,
    "single": _single,
    "plan": _plan,
}


def _as_json(
    args: argparse.Namespace, setup: Setup, found: tuple[Proposal, ...], notes: list[str], end: Ended
) -> dict[str, object]:
    return {
        "format": 1,
        "kind": kind_told(args),
        "setup": {"name": setup.name, "file": str(args.setup)},
        "meets": any(one.meets for one in found),
        "finished": end.how == "finished",
        "notes": notes,
        "climb": climb_json(climb_answer(args, setup)),
        "proposals": [proposal_json(one) for one in found[: args.most]],
    }


def _print(
    args: argparse.Namespace,
    setup: Setup,
    of: Bin | None,
    found: tuple[Proposal, ...],
    notes: list[str],
    end: Ended,
) -> None:
    base, _, said = baseline_for(args, setup, args.setup)
    source = of.name if of else "all tooth counts"
    source = ring_source(setup, of) if args.kind == "single" else source
    source += "" if args.bin or of is None else " (the folder's only bin)"
    against = said.removeprefix("Compared with ").removesuffix(".") if base else "itself as it stands"
    rows = propose_text(
        f"{NAMES[args.kind]}: {setup.name}",
        found,
        look(),
        args.most or MOST_AS_TEXT,
        marked=args.most is None,
        under=f"Out of {source}, compared with {against}.",
        nothing=_nothing(args, setup, source, end),
    )
    answered = answer_lines(climb_answer(args, setup), setup)
    answered += [()] if answered else []
    for row in (*answered, *rows, *(each for note in notes for each in wrap(note, look().width))):
        print(plain(row))


def _nothing(args: argparse.Namespace, setup: Setup, source: str, end: Ended) -> str:
    """What to say when nothing was found; a search that was stopped cannot say that there is nothing."""
    if end.how != "finished":
        return "Stopped before anything was found."
    return nothing_words(args.kind, source, len(setup.rear.cogs))
