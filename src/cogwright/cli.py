"""The command line: opens the bench, or runs one subcommand; imports the app only to open it."""

import argparse
import gc
import os
import signal
import sys
from collections.abc import MutableMapping, Sequence
from contextlib import suppress
from importlib import import_module
from pathlib import Path
from typing import Any, Final, NoReturn, Protocol, TextIO

from cogwright import __version__
from cogwright.commands.arguments import INTERRUPTED, path
from cogwright.core.common.errors import CogwrightError, InputError, Problem
from cogwright.core.common.safe_text import shown_name
from cogwright.options import Options
from cogwright.putting_off import put_off

#: Each subcommand is the module of its name in `cogwright.commands`; here its line in `--help`.
COMMANDS: Final[dict[str, str]] = {
    "demo": "lay the bikes, parts bin and courses of an invented yard out, and open them",
    "report": "print what every gear does, as text, Markdown, CSV or JSON",
    "check": "read files and say what is wrong with them",
    "picture": "draw the chart of the gears into an SVG file",
    "card": "print a pocket card that says how to shift",
    "handout": "print a page for the rider: what changes, what it costs, what to mind",
    "propose": "say what to change: more even steps, a single ring, a plan out of a parts bin",
    "compare": "set candidates side by side: gears, hills, course, fit, cost",
    "order": "list what a change takes: parts, cost, mass, and the work in order",
    "rides": "say which gears recorded rides used, and what another setup would have done",
}
USAGE: Final = """cogwright [FOLDER | FILE ...] [--baseline FILE] [--ascii] [--no-mouse] [--keys FILE]
       cogwright COMMAND ...      (each has its own --help)"""
ABOUT: Final = """A drivetrain bench in the terminal: swap rings and cogs, see what every gear does,
and what the change costs against a baseline. Without a file or folder it opens this folder."""
EXAMPLES: Final = """examples:
  cogwright demo                           see it at work on bikes that come with it
  cogwright cogwright-demo/yard-7-pass.toml --baseline cogwright-demo/yard-1-two-rings.toml
  cogwright report mine.toml               every gear as text
  cogwright report mine.toml --baseline old.toml --format json
  cogwright check *.toml                   exit status 1 if a file cannot be used

Exit status: 0 done, 1 a file or the data has a problem, 2 the command line has one, 130 Ctrl+C."""
#: A terminal of more columns or lines than this is a slip of the environment: drawing it takes gigabytes.
MOST_CELLS: Final = 1000


class Command(Protocol):
    """A subcommand's module: `add` declares it (and sets `run` as a default), `run` does the work."""

    def add(self, subparsers: "argparse._SubParsersAction[argparse.ArgumentParser]") -> None:
        """Declare the subcommand."""
        ...


class _Parser(argparse.ArgumentParser):
    """Its errors quote arguments, and those may be names of files: they are cleaned before they are shown."""

    def error(self, message: str) -> NoReturn:
        """See ArgumentParser."""
        super().error(shown_name(message))

    def _print_message(self, message: str, file: Any = None) -> None:
        """See ArgumentParser, which lets pass that help and version could not be written."""
        if file is not None and file is sys.stdout:
            file.write(message)
        else:
            super()._print_message(message, file)


def app_parser() -> argparse.ArgumentParser:
    """The command line that opens the app, and the help for all of it."""
    listed = "\n".join(f"  {name:<9}{said}" for name, said in COMMANDS.items())
    top = _Parser(
        prog="cogwright",
        usage=USAGE,
        description=ABOUT,
        epilog=f"commands:\n{listed}\n\n{EXAMPLES}",
        formatter_class=argparse.RawDescriptionHelpFormatter,
        allow_abbrev=False,
    )
    top.add_argument("paths", nargs="*", type=path, metavar="FOLDER | FILE", help="setups to open")
    top.add_argument("--baseline", type=path, metavar="FILE", help="the setup to compare with")
    top.add_argument("--ascii", action="store_true", help="draw with plain ASCII characters only")
    top.add_argument("--no-mouse", action="store_true", help="leave the mouse to the terminal")
    top.add_argument("--keys", type=path, metavar="FILE", help="a file of key bindings of your own")
    top.add_argument("--version", action="version", version=f"cogwright {__version__}")
    return top


def command_parser(name: str) -> argparse.ArgumentParser:
    """The command line of one subcommand."""
    top: argparse.ArgumentParser = _Parser(prog="cogwright", allow_abbrev=False)
    module: Command = import_module(f"cogwright.commands.{name}")
    module.add(top.add_subparsers(dest="command", required=True))
    return top


def main(argv: Sequence[str] | None = None) -> int:
    """Run the command line; the exit status. A reader that has gone away, or Ctrl+C, ends it quietly."""
    given = list(sys.argv[1:] if argv is None else argv)
    _tolerate_poor_encodings()
    _doubt_the_size(os.environ)
    _want_no_plugins(os.environ)
    try:
        status = _status(given)
        if sys.stdout is not None:
            sys.stdout.flush()
    except CogwrightError as error:
        return complain(error)
    except BrokenPipeError:
        _drop_stdout()
        return 0
    except KeyboardInterrupt:
        return INTERRUPTED
    except OSError as error:
        if error.filename is not None:
            raise
        _drop_stdout()
        return complain(CogwrightError(f"cannot write the output: {error.strerror}"))
    return status


def _status(given: Sequence[str]) -> int:
    """Run what was asked for. Help and errors of the command line leave by SystemExit: so do they here."""
    try:
        return _command(given) if given and given[0] in COMMANDS else _app(given)
    except SystemExit as left:
        return left.code if isinstance(left.code, int) else int(left.code is not None)


def _command(given: Sequence[str]) -> int:
    args = command_parser(given[0]).parse_args(given)
    if sys.stdout is None:
        raise CogwrightError("cannot write the output: standard output is closed")
    signal.signal(signal.SIGINT, signal.default_int_handler)  # from here on there may be something to tidy up
    status: int = args.run(args)
    opens: Path | None = getattr(args, getattr(args, "opens", ""), None)
    if status or opens is None or not os.isatty(0):
        return status
    return _open([opens], Options())


def _app(given: Sequence[str]) -> int:
    parser = app_parser()
    args = parser.parse_args(given)
    paths: list[Path] = args.paths or [Path()]
    for given_path in paths:
        _must_exist(parser, given_path)
    return _open(paths, Options(args.baseline, args.ascii, not args.no_mouse, args.keys))


def _open(paths: Sequence[Path], options: Options) -> int:
    """Open the bench."""
    gc.disable()  # until the first frame is drawn: what is imported stays, and looking through it takes time
    from cogwright.app.run import run  # type: ignore[import-not-found,unused-ignore]

    status: int = run(paths, options)
    return status


def _must_exist(parser: argparse.ArgumentParser, path: Path) -> None:
    if os.path.exists(path):
        return
    if len(path.parts) == 1 and not path.suffix:
        named = ", ".join(COMMANDS)
        parser.error(f"{shown_name(str(path))} is no file, folder or command; the commands are {named}")
    raise InputError(Problem("there is no such file or folder", "check the name", file=str(path)))


def complain(error: CogwrightError, out: TextIO | None = None) -> int:
    """Print an error's problems, one a line, on stderr if there is one; the exit status for it."""
    if (out := out or sys.stderr) is not None:
        with suppress(OSError):  # where an error cannot be written either, the exit status is left to tell it
            print(error, file=out, flush=True)
    return 1


def _tolerate_poor_encodings() -> None:
    """A name that the terminal's encoding lacks is printed with `?` in it, not a reason to stop."""
    for stream in (sys.stdout, sys.stderr):
        if stream is not None and hasattr(stream, "reconfigure"):
            stream.reconfigure(errors="replace")


def _doubt_the_size(environ: MutableMapping[str, str]) -> None:
    """Leave out a size of the environment that no terminal has, so that the terminal itself is asked."""
    for name in ("COLUMNS", "LINES"):
        size = environ.get(name, "")
        if size and not (size.isdecimal() and len(size) < 10 and 0 < int(size) <= MOST_CELLS):
            del environ[name]


def _want_no_plugins(environ: MutableMapping[str, str]) -> None:
    """Of pydantic: they would be code from elsewhere, and what looks for them takes long to import."""
    environ.setdefault("PYDANTIC_DISABLE_PLUGINS", "__all__")
    put_off("importlib.metadata", "entry_points")
    put_off("zoneinfo", "ZoneInfo", "ZoneInfoNotFoundError")  # it names them for fields that we have none of


def _drop_stdout() -> None:
    """Point stdout at nothing, so that Python's own flush at exit does not complain."""
    os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
