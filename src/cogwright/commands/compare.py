"""`cogwright compare`: candidates side by side, against the one baseline that they have in common."""

import argparse
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Final

from cogwright.commands.arguments import path
from cogwright.commands.given import add_given, baseline_for, bin_for
from cogwright.commands.reading import course_from, setup_from
from cogwright.commands.report import look
from cogwright.core.common.safe_text import shown_name
from cogwright.core.comparing.columns import side_by_side
from cogwright.core.comparing.naming import LETTERS
from cogwright.core.parts.bin import Bin
from cogwright.core.setup.model import Setup
from cogwright.present.report.compare import (
    ComparedFiles,
    compare_csv,
    compare_json,
    compare_markdown,
    compare_text,
)

EXAMPLES: Final = """examples:
  cogwright compare yard-1-first-trial.toml yard-1-second-trial.toml
  cogwright compare cogwright-demo/yard-1-*.toml --course cogwright-demo/courses/crook-hause.toml
  cogwright compare one.toml two.toml --baseline as-it-came-in.toml --format json"""


def add(subparsers: "argparse._SubParsersAction[argparse.ArgumentParser]") -> None:
    """Declare the subcommand."""
    parser = subparsers.add_parser(
        "compare",
        help="set candidates side by side",
        description=__doc__,
        epilog=EXAMPLES,
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    parser.add_argument("setups", type=path, nargs="+", metavar="SETUP", help=f"{len(LETTERS)} at most")
    add_given(parser)
    parser.add_argument("--course", type=path, metavar="FILE", help="ride this course with all of them")
    parser.add_argument("--format", choices=list(FORMATS), default="text", help="default: text")
    parser.set_defaults(run=run, refuse=parser.error)


@dataclass(frozen=True, slots=True)
class _Base:
    """The baseline in common, the file that it is from, and what to say of it."""

    setup: Setup | None
    file: str
    said: tuple[str, ...]


def run(args: argparse.Namespace) -> int:
    """Print the comparison; the exit status."""
    files: list[Path] = args.setups
    benches = [setup_from(file) for file in files]
    base = _in_common(args, files, benches)
    kept = [(f, b) for f, b in zip(files, benches, strict=True) if not _same(f, base.file)]
    kept = kept or list(zip(files, benches, strict=True))
    if len(kept) > len(LETTERS):
        args.refuse(f"{len(kept)} candidates: {len(LETTERS)} are the most that can be read side by side")
    stocks, said = _bins(args, [file for file, _ in kept])
    course = course_from(args.course) if args.course else None
    of = side_by_side(base.setup, [bench for _, bench in kept], course, stocks)
    ridden = [f"Course: {course.name}."] if course else []
    compared = ComparedFiles(of, tuple(str(f) for f, _ in kept), base.file, (*base.said, *said, *ridden))
    print(FORMATS[args.format](compared), end="")
    return 0


def _same(file: Path, other: str) -> bool:
    return bool(other) and file.absolute().resolve() == Path(other).absolute().resolve()


def _in_common(args: argparse.Namespace, files: Sequence[Path], benches: Sequence[Setup]) -> _Base:
    """The baseline given, else the one that all setups name that name one; none where they name several."""
    found = [baseline_for(args, bench, file) for bench, file in zip(benches, files, strict=True)]
    named = {str(Path(file).resolve()): one for one in found if (file := one[1])}
    trouble = tuple(
        dict.fromkeys(said for setup, _, said in found if setup is None and "cannot be read" in said)
    )
    if len(named) > 1:
        listed = "; ".join(
            f"{shown_name(f.name)}: {_named(one)}" for f, one in zip(files, found, strict=True)
        )
        said = f"Compared with nothing: there is no baseline in common ({listed}). --baseline FILE gives one."
        return _Base(None, "", (said, *trouble))
    if not named:
        return _Base(None, "", trouble or (found[0][2],))
    setup, file, said = next(iter(named.values()))
    return _Base(setup, file, (said, *trouble))


def _named(found: tuple[Setup | None, str, str]) -> str:
    return found[0].name if found[0] else "none"


def _bins(args: argparse.Namespace, files: Sequence[Path]) -> tuple[list[Bin | None], tuple[str, ...]]:
    """The bin of each file, and what to say of them: setups of several folders may have several."""
    found = {folder: bin_for(args, folder / "x") for folder in dict.fromkeys(file.parent for file in files)}
    return [found[file.parent][0] for file in files], tuple(dict.fromkeys(said for _, said in found.values()))


def text(compared: ComparedFiles) -> str:
    """The comparison for the terminal, or 80 columns wide where stdout is none."""
    return compare_text(compared, look())


FORMATS: Final[dict[str, Callable[[ComparedFiles], str]]] = {
    "text": text,
    "markdown": compare_markdown,
    "csv": compare_csv,
    "json": compare_json,
}
