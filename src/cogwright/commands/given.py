"""The one rule for baseline and parts bin: what the file names and the folder has, unless told otherwise.

The screen follows the same rule. What was used is said at the top of what is printed.
"""

import argparse
import os
from dataclasses import dataclass
from pathlib import Path
from typing import Final

from cogwright.commands.arguments import path
from cogwright.core.common.errors import InputError
from cogwright.core.common.safe_text import shown_name
from cogwright.core.parts.bin import Bin
from cogwright.core.setup.model import Setup
from cogwright.store.bins import bin_files, read_bin
from cogwright.store.documents import read_setup

NO_BASELINE: Final = "Compared with nothing: no baseline is named."
NO_BIN: Final = "No parts bin: no prices."


@dataclass(frozen=True, slots=True)
class Given:
    """What a command works on. `baseline` and `stock` are None where there is none to use."""

    bench: Setup
    file: str
    baseline: Setup | None
    baseline_file: str
    stock: Bin | None
    used: tuple[str, ...]


def add_given(parser: argparse.ArgumentParser) -> None:
    """Declare the options that say what to compare with and what to price with."""
    add_baseline(parser)
    priced = parser.add_mutually_exclusive_group()
    priced.add_argument(
        "--bin", type=path, metavar="BIN", help="this parts bin, not the only one in the folder bins"
    )
    priced.add_argument("--no-bin", action="store_true", help="without a parts bin: no stock, no prices")


def add_baseline(parser: argparse.ArgumentParser) -> None:
    """Declare the options that say what to compare with."""
    compared = parser.add_mutually_exclusive_group()
    compared.add_argument(
        "--baseline", type=path, metavar="FILE", help="compare with this setup, not the one that SETUP names"
    )
    compared.add_argument("--no-baseline", action="store_true", help="compare with nothing")


def given(args: argparse.Namespace) -> Given:
    """What the arguments stand for. Raises InputError for a file that was named and cannot be read."""
    bench = read_setup(args.setup).value
    base, of_base, why_base = baseline_for(args, bench, args.setup)
    stock, why_bin = bin_for(args, args.setup)
    return Given(bench, str(args.setup), base, of_base, stock, (why_base, why_bin))


def baseline_for(args: argparse.Namespace, bench: Setup, file: Path) -> tuple[Setup | None, str, str]:
    """The baseline, its file, and what to say of it."""
    if args.no_baseline:
        return None, "", "Compared with nothing, as asked for."
    if args.baseline is not None:
        base = read_setup(args.baseline).value
        return base, str(args.baseline), f"Compared with {base.name} ({shown_name(str(args.baseline))})."
    if bench.baseline is None:
        return None, "", NO_BASELINE
    named = file.parent / bench.baseline
    try:
        base = read_setup(named).value
    except InputError as error:
        return (
            None,
            "",
            f"Compared with nothing: the baseline that the file names cannot be read: {error.problems[0]}.",
        )
    said = f"Compared with {base.name} ({shown_name(bench.baseline)}, as its file says)."
    return base, str(named), said


def bin_for(args: argparse.Namespace, file: Path) -> tuple[Bin | None, str]:
    """The parts bin, and what to say of it; of several in the folder none is taken unasked."""
    if args.no_bin:
        return None, "Without a parts bin, as asked for: no prices."
    if args.bin is not None:
        stock = read_bin(args.bin).value
        return stock, f"Parts and prices: {stock.name} ({shown_name(str(args.bin))})."
    there = bin_files(file.parent)
    if len(there) != 1:
        many = f"{len(there)} parts bins are in the folder: --bin says which; no prices."
        return None, many if there else NO_BIN
    short = shown_name(os.path.join(*there[0].parts[-2:]))
    try:
        stock = read_bin(there[0]).value
    except InputError as error:
        return None, f"The folder's parts bin cannot be read, so no prices: {error.problems[0]}."
    return stock, f"Parts and prices: {stock.name} ({short}, the folder's only bin)."
