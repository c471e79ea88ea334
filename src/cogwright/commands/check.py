"""`cogwright check`: read files, print every problem and caution; the exit status says if all can be used."""

import argparse
import os
import sys
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from pathlib import Path
from typing import Final

from cogwright.core.common.errors import InputError, Problem
from cogwright.core.common.safe_text import shown_name
from cogwright.core.setup.unusual import cautions
from cogwright.store.bins import read_bin
from cogwright.store.courses import TRACKS, course_files, read_course
from cogwright.store.documents import read_setup

EXAMPLES: Final = """examples:
  cogwright check setups/yard-7-pass.toml
  cogwright check setups        every setup of the folder, its bins and its courses

Problems go to stderr, one a line: file:line: key: what is wrong; how to mend it. Exit status 1 if there
is any. Cautions go to stdout and leave the exit status at 0."""

#: Reads a file (raises InputError) and gives its cautions.
Checker = Callable[[Path], Iterable[Problem]]


@dataclass(frozen=True, slots=True)
class Result:
    """What was found in one file."""

    path: Path
    problems: tuple[Problem, ...] = ()
    cautions: tuple[Problem, ...] = ()


def check_setup(path: Path) -> Iterable[Problem]:
    """Read a setup; its cautions."""
    return cautions(read_setup(path).value)


def check_bin(path: Path) -> Iterable[Problem]:
    """Read a parts bin, which has no cautions."""
    read_bin(path)
    return ()


def check_course(path: Path) -> Iterable[Problem]:
    """Read a course; nothing in one is odd but usable."""
    read_course(path)
    return ()


#: Files are setups unless they stand in a folder of one of these names.
CHECKERS: Final[dict[str, Checker]] = {"bins": check_bin, "courses": check_course}


def add(subparsers: "argparse._SubParsersAction[argparse.ArgumentParser]") -> None:
    """Declare the subcommand."""
    parser = subparsers.add_parser(
        "check",
        help="say what is wrong with files",
        description=__doc__,
        epilog=EXAMPLES,
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    parser.add_argument("paths", nargs="+", type=Path, metavar="FILE", help="files, or folders of them")
    parser.set_defaults(run=run)


def run(args: argparse.Namespace) -> int:
    """Check all files; 1 if one has a problem."""
    files = [file for path in args.paths for file in files_in(path)]
    results = [check(file) for file in files]
    for result in results:
        _print(result)
    bad = sum(bool(result.problems) for result in results)
    print(f"{len(results)} file{'' if len(results) == 1 else 's'} read, {bad or 'none'} with problems")
    return 1 if bad or not results else 0


def files_in(path: Path) -> list[Path]:
    """The file itself, or the setups of a folder with its bins and courses."""
    if not os.path.isdir(path):
        return [path]
    setups = [file for folder in (path, path / "bins") for file in sorted(folder.glob("*.toml"))]
    return [*setups, *course_files(path)]


def check(path: Path) -> Result:
    """Read one file as what it is."""
    checker = CHECKERS.get(Path(os.path.abspath(path)).parent.name, check_setup)
    if path.suffix.lower() in TRACKS:
        checker = check_course
    try:
        return Result(path, cautions=tuple(checker(path)))
    except InputError as error:
        return Result(path, problems=error.problems)


def _print(result: Result) -> None:
    for problem in result.problems:
        print(problem, file=sys.stderr)
    for caution in result.cautions:
        print("caution:", caution.at(shown_name(str(result.path))))
