"""A proposal as a setup file of its own: `propose ... --apply N --out FILE`."""

import argparse
import os
from collections.abc import Sequence
from pathlib import Path
from typing import Final

from cogwright.commands.arguments import count as which
from cogwright.commands.arguments import path
from cogwright.core.common.errors import CogwrightError
from cogwright.core.common.safe_text import shown_name
from cogwright.core.common.words import count
from cogwright.core.comparing.naming import changed_name
from cogwright.core.proposing.proposal import Proposal
from cogwright.core.setup.model import Setup
from cogwright.store.paths import path_in
from cogwright.store.saving import AlreadyThere, write_setup

#: The searches whose proposals are whole bikes.
APPLIED: Final = frozenset({"even", "single", "plan"})


def add_applying(parser: argparse.ArgumentParser) -> None:
    """Declare `--apply` and `--out`."""
    group = parser.add_argument_group("as a file")
    group.add_argument("--apply", type=which, metavar="N", help="write the N-th proposal as a setup file")
    group.add_argument("--out", type=path, metavar="FILE", help="that file: a new one, none is written over")


def refuse_to_apply(args: argparse.Namespace) -> None:
    """Say before a search what would be in the way after it. Raises StoreError, AlreadyThere."""
    if (args.apply is None) is not (args.out is None):
        args.refuse("--apply N and --out FILE go together")
    if args.apply is not None and args.kind not in APPLIED:
        args.refuse("--apply goes with --even, --single and --plan")
    if args.out is not None and os.path.lexists(_file(args)):
        raise AlreadyThere(f"{shown_name(str(_file(args)))} is there already: give --out another name")


def applied(args: argparse.Namespace, found: Sequence[Proposal], base: Setup, of: Path) -> Path | None:
    """Write the proposal that was asked for; the file, None where none was. Raises CogwrightError.

    `base` is the bike as it is, out of the file `of`: the new one names it as its baseline, if it lies
    beside it.
    """
    if args.apply is None:
        return None
    if args.apply > len(found):
        have = f"only {count(len(found), 'proposal')}" if found else "nothing to propose"
        raise CogwrightError(f"there is no proposal {args.apply}: {have}; nothing was written")
    file = _file(args)
    there = found[args.apply - 1].setup
    update = {"name": changed_name(base, there), "baseline": of.name if _beside(of, file) else None}
    write_setup(file, there.model_copy(update=update))
    return file


def _file(args: argparse.Namespace) -> Path:
    given: Path = args.out
    return path_in(given.parent, given.name)


def _beside(one: Path, other: Path) -> bool:
    return one.parent.resolve() == other.parent.resolve()
