"""`cogwright check`: read files, print every problem and caution; the exit status says if all can be used."""

import argparse
import os
import sys
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from pathlib import Path
from typing import Final

from cogwright.commands.arguments import path
from cogwright.commands.reading import course_from
from cogwright.core.common.errors import InputError, Problem
from cogwright.core.common.safe_text import shown_name
from cogwright.core.setup.unusual import cautions
from cogwright.store.bins import read_bin
from cogwright.store.courses import TRACKS, course_files
from cogwright.store.documents import read_setup
from cogwright.store.files import problem_of

EXAMPLES: Final = """examples:
  cogwright check cogwright-demo/yard-7-pass.toml
  cogwright check cogwright-demo        every setup of the folder, its bins and its courses

Problems go to stderr, one a line: file:line: key: what is wrong; how to mend it. Exit status 1 if there
is any. Cautions go to stdout and leave the exit status at 0."""

#: Reads a file (raises InputError) and gives its cautions.
Checker = Callable[[Path], Iterable[Problem]]


@dataclass(frozen=True, slots=True)
class Result:
    """What was found in one file, or in a folder without any, which is no file `read`."""

    path: Path
    problems: tuple[Problem, ...] = ()
    cautions: tuple[Problem, ...] = ()
    read: bool = True


def check_setup(file: Path) -> Iterable[Problem]:
    """Read a setup; its cautions."""
    return cautions(read_setup(file).value)


def check_bin(file: Path) -> Iterable[Problem]:
    """Read a parts bin, which has no cautions."""
    read_bin(file)
    return ()


def check_course(file: Path) -> Iterable[Problem]:
    """Read a course; nothing in one is odd but usable."""
    course_from(file)
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
    parser.add_argument("paths", nargs="+", type=path, metavar="FILE", help="files, or folders of them")
    parser.set_defaults(run=run)


def run(args: argparse.Namespace) -> int:
    """Check all files; 1 if one has a problem."""
    results, empty = [], False
    for given in args.paths:
        files = files_in(given)
        empty = empty or not files
        results += [check(file) for file in files] or [_nothing_in(given)]
    for result in results:
        _print(result)
    read = [result for result in results if result.read]
    bad = sum(bool(result.problems) for result in read)
    print(f"{len(read) or 'no'} file{'' if len(read) == 1 else 's'} read, {bad or 'none'} with problems")
    return 1 if bad or empty else 0


def files_in(given: Path) -> list[Path]:
    """The file itself, or the setups of a folder with its bins and courses."""
    if not os.path.isdir(given):
        return [given]
    setups = [file for folder in (given, given / "bins") for file in sorted(folder.glob("*.toml"))]
    return [*setups, *course_files(given)]


def _nothing_in(folder: Path) -> Result:
    """A folder that there is nothing in to check, or that cannot be looked into."""
    problem = Problem("there is no setup, bin or course in this folder", "name a folder that has some")
    try:
        os.listdir(folder)
    except OSError as error:
        problem = problem_of(error, folder)
    return Result(folder, problems=(problem.at(shown_name(str(folder))),), read=False)


def check(file: Path) -> Result:
    """Read one file as what it is."""
    checker = CHECKERS.get(Path(os.path.abspath(file)).parent.name, check_setup)
    if file.suffix.lower() in TRACKS:
        checker = check_course
    try:
        return Result(file, cautions=tuple(checker(file)))
    except InputError as error:
        return Result(file, problems=error.problems)


def _print(result: Result) -> None:
    for problem in result.problems:
        print(problem, file=sys.stderr)
    for caution in result.cautions:
        print("caution:", caution.at(shown_name(str(result.path))))
