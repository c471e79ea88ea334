"""What a climb or a top speed asks for on the command line, and pairs for a bike without a tensioner."""

import argparse
import json
from collections.abc import Sequence
from dataclasses import replace
from typing import Final

from cogwright.commands.arguments import length, number
from cogwright.commands.cassettes import teeth
from cogwright.commands.given import bin_for
from cogwright.commands.report import look
from cogwright.core.chain.slack import chain_of
from cogwright.core.common.errors import InputError, Problem
from cogwright.core.drive.pairs import StayPair
from cogwright.core.parts.bin import Bin
from cogwright.core.parts.pairs_at_hand import one_to_one_m, pairs_at_hand
from cogwright.core.proposing.goal import Goal
from cogwright.core.riding.needed import CADENCES, GRADES, LOADS, Answer, Climb, answer_on, top_development
from cogwright.core.setup.model import Setup
from cogwright.present.lines import Line, line, plain, told
from cogwright.present.report.climb_data import climb_json, pairs_json
from cogwright.present.views.climb import climb_lines
from cogwright.present.views.drives import pair_lines, stay_words

EFFORTS: Final = ("all-day", "short")
#: Kinds that are answered without a search.
ANSWERED: Final = ("climb", "pairs")
MOST_PAIRS: Final = 12


def add_climb(parser: argparse.ArgumentParser) -> None:
    """Declare the arguments."""
    asked = parser.add_argument_group("a climb and a top speed, which a plan takes like metres")
    asked.add_argument("--climb", type=_grade, metavar="PCT", help="a grade that the lowest gear must serve")
    asked.add_argument("--load", type=_load, metavar="KG", help="with so much luggage (default: the setup's)")
    asked.add_argument("--cadence", type=_cadence, metavar="RPM", help="in rpm (default: the low one)")
    asked.add_argument("--effort", choices=EFFORTS, default=EFFORTS[0], help=f"default: {EFFORTS[0]}")
    asked.add_argument("--top-speed", type=_speed, metavar="KMH", help="reached at the high cadence")
    pairs = parser.add_argument_group("pairs without a tensioner")
    pairs.add_argument("--development", type=length, metavar="M", help="wanted, m a turn of the cranks")
    pairs.add_argument("--rings", type=teeth, metavar="TEETH", help="rings at hand (default: bin, or all)")
    pairs.add_argument("--cogs", type=teeth, metavar="TEETH", help="cogs at hand (default: bin, or all)")


def _bounded(text: str, bounds: tuple[float, float], unit: str) -> float:
    value = number(text)
    if not bounds[0] <= value <= bounds[1]:
        raise argparse.ArgumentTypeError(f"{text} is not within {bounds[0]:g} to {bounds[1]:g} {unit}")
    return value


def _grade(text: str) -> float:
    return _bounded(text, GRADES, "%")


def _load(text: str) -> float:
    return _bounded(text, LOADS, "kg")


def _cadence(text: str) -> float:
    return _bounded(text, CADENCES, "rpm")


def _speed(text: str) -> float:
    return _bounded(text, (1.0, 150.0), "km/h")


def kind_asked(args: argparse.Namespace) -> str:
    """What is wanted where no kind is named: the plan out of a bin that serves a climb, else the answer."""
    if args.climb is None and args.top_speed is None:
        args.refuse("one of the arguments --even --single --plan --pairs --climb --top-speed is required")
    if args.climb is None or bin_for(args, args.setup)[0] is not None:
        return "plan"
    return "climb"


def kind_told(args: argparse.Namespace) -> str:
    """The kind in JSON: a climb stays one where nobody named a bin and the folder's only one has kits."""
    unasked = args.asked is None and args.bin is None and args.climb is not None
    kind: str = args.kind
    return "climb" if unasked else kind


def must_go_together(args: argparse.Namespace) -> None:
    """Refuse what says nothing without the other."""
    if args.climb is None and (args.load is not None or args.cadence is not None):
        args.refuse("--load and --cadence go with --climb")
    if args.kind == "pairs" and args.climb is None and args.development is None:
        args.refuse("--pairs wants a --development M or a --climb PCT")
    if args.kind != "pairs" and (args.development or args.rings or args.cogs):
        args.refuse("--development, --rings and --cogs go with --pairs")


def climb_answer(args: argparse.Namespace, setup: Setup) -> Answer | None:
    """The answer to the climb that was asked about."""
    if args.climb is None:
        return None
    asked = Climb(args.climb, args.load, args.cadence, briefly=args.effort == "short")
    return answer_on(asked, setup)


def goal_of(args: argparse.Namespace, setup: Setup) -> Goal:
    """The limits: those in metres, and a climb and a top speed turned into metres."""
    goal = Goal(args.low_at_most, args.high_at_least, args.cost_at_most, args.jump_at_most)
    answer = climb_answer(args, setup)
    if answer is not None:
        low = answer.needed.development_m
        goal = replace(goal, low_at_most_m=min(low, goal.low_at_most_m or low))
    if args.top_speed is not None:
        high = top_development(args.top_speed, setup.rider)
        goal = replace(goal, high_at_least_m=max(high, goal.high_at_least_m or high))
    return goal


def answer(args: argparse.Namespace, setup: Setup, of: Bin | None) -> int:
    """Print what is answered without a search; the exit status."""
    found = climb_answer(args, setup)
    pairs = _pairs(args, setup, of, found) if args.kind == "pairs" else None
    if args.format == "json":
        print(json.dumps(_as_json(args, setup, found, pairs), ensure_ascii=False, indent=1))
        return 0
    rows = answer_lines(found, setup)
    if pairs is not None:
        rows += _pair_rows(args, setup, pairs, _wanted(args, found))
    for row in rows:
        print(plain(row))
    return 0


def answer_lines(found: Answer | None, setup: Setup) -> list[Line]:
    """The answer to a climb as lines; none where none was asked about."""
    return climb_lines(found, setup, look()) if found else []


def _pair_rows(
    args: argparse.Namespace, setup: Setup, pairs: Sequence[StayPair], wanted_m: float
) -> list[Line]:
    """The pairs nearest to what is wanted, or that there is none."""
    said = f"Pairs for {wanted_m:.2f} m on {stay_words(setup)}, without a tensioner:"
    if not pairs:
        none = "No pair of the teeth at hand is right on this stay, new or worn."
        return told(none, look().width)
    shown = pairs[: args.most or MOST_PAIRS]
    rows = [*told(said, look().width), *pair_lines(shown, look(), one_to_one_m(setup), wanted_m)]
    left = len(pairs) - len(shown)
    return [*rows, line(f" {left} more: --most {len(pairs)} lists all.")] if left else rows


def _wanted(args: argparse.Namespace, found: Answer | None) -> float:
    """The development wanted, in m."""
    given: float | None = args.development
    return given if given is not None else found.needed.development_m if found else 0.0


def _as_json(
    args: argparse.Namespace, setup: Setup, found: Answer | None, pairs: Sequence[StayPair] | None
) -> dict[str, object]:
    out: dict[str, object] = {
        "format": 1,
        "kind": args.kind,
        "setup": {"name": setup.name, "file": str(args.setup)},
        "climb": climb_json(found),
    }
    if pairs is not None:
        out["pairs"] = pairs_json(pairs[: args.most], one_to_one_m(setup), _wanted(args, found))
    return out


def _pairs(
    args: argparse.Namespace, setup: Setup, of: Bin | None, found: Answer | None
) -> tuple[StayPair, ...]:
    stay = setup.frame.chainstay_mm
    if stay is None:
        mend = "give chainstay_mm under [frame]"
        raise InputError(Problem("its stay is not known", mend, file=str(args.setup)))
    if chain_of(setup).tensioned:
        why, mend = "its chain has a tensioner, so any pair goes", "name a bike without a derailleur"
        raise InputError(Problem(why, mend, file=str(args.setup)))
    return pairs_at_hand(_wanted(args, found), setup, stay, of, args.rings, args.cogs)
