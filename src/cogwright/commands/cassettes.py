"""Cogs and cassettes that the command line names: by a setup's file, by their teeth, or by their ends."""

import argparse
import os
from collections.abc import Iterator
from pathlib import Path

from cogwright.commands.arguments import path
from cogwright.commands.reading import setup_from
from cogwright.core.common.errors import CogwrightError, InputError, Problem
from cogwright.core.parts.bin import Bin
from cogwright.core.proposing.bin_choices import cassette_choice
from cogwright.core.proposing.choices import CassetteChoice
from cogwright.core.setup.teeth_lists import CassetteRange, cassette_in, fitting, teeth_in
from cogwright.store.shelf import read_shelf


def teeth(text: str) -> tuple[int, ...]:
    """Tooth counts, as people write lists of them: a type of argument."""
    try:
        return teeth_in(text)
    except InputError as error:
        raise argparse.ArgumentTypeError(str(error)) from error


def cassettes_given(args: argparse.Namespace, of: Bin | None) -> list[CassetteChoice]:
    """The cassettes that were asked for; raises InputError for one that is none, or that could be several."""
    return [_given(text, args.setup, of) for text in args.cassette]


def _given(text: str, setup: Path, of: Bin | None) -> CassetteChoice:
    if os.path.exists(path(text)) or text.lower().endswith(".toml"):
        return _of_file(Path(text))
    wanted = cassette_in(text)
    if isinstance(wanted, CassetteRange):
        return _only(wanted, [one for one in _there(setup, of) if fitting(wanted, [one])])
    return CassetteChoice(wanted, name=f"cassette {min(wanted)}-{max(wanted)}, {len(wanted)} cogs, as given")


def _of_file(file: Path) -> CassetteChoice:
    found = setup_from(file)
    return CassetteChoice.of(found, f"cassette of {found.name}")


def _there(setup: Path, of: Bin | None) -> Iterator[CassetteChoice]:
    """The cassettes of the bin, and those of the setups beside the one that is to be changed."""
    yield from map(cassette_choice, of.cassettes if of else ())
    for entry in read_shelf(setup.parent):
        if entry.setup is not None:
            yield CassetteChoice.of(entry.setup, f"cassette of {entry.setup.name} ({entry.name})")


def _only(wanted: CassetteRange, found: list[CassetteChoice]) -> CassetteChoice:
    """The one cassette of a range; of alike ones the first."""
    different = {(one.cogs, one.carriers): one for one in reversed(found)}
    if len(different) == 1:
        return next(iter(different.values()))
    if not different:
        mend = "write its cogs, such as 11 13 15, or name a bin that has it with --bin"
        raise InputError(Problem(f"there is no cassette {wanted} in the bin or beside the setup", mend))
    named = "; ".join(f"{' '.join(map(str, one.cogs))} ({one.name})" for one in reversed(different.values()))
    what = f"{wanted} can be {len(different)} cassettes: write the cogs of the one that is meant"
    raise CogwrightError(f"{what}: {named}")
