"""What several tests use: setups made in one line, and the command line run as a user runs it."""

import io
import os
import signal
import subprocess
import sys
import time
import traceback
from collections.abc import Callable, Iterator, Sequence
from contextlib import chdir, redirect_stderr, redirect_stdout
from pathlib import Path
from typing import TypeVar

from cogwright.core.setup.model import Setup

ROOT = Path(__file__).parents[1]
T = TypeVar("T")


def make(rings: Sequence[int], cogs: Sequence[int], size: str = "40-622", **tables: object) -> Setup:
    """A valid setup of these rings and cogs; a keyword gives a table of the file, `rollout_mm` the wheel."""
    rollout = tables.pop("rollout_mm", None)
    wheel = {"rollout_mm": rollout} if rollout is not None else {"size": size}
    crank = {"rings": list(rings), **dict(tables.pop("crank", {}))}  # type: ignore[call-overload]
    rear = {"cogs": list(cogs), **dict(tables.pop("rear", {}))}  # type: ignore[call-overload]
    return Setup.model_validate({"name": "Test bike", "wheel": wheel, "crank": crank, "rear": rear, **tables})


def in_pieces(data: bytes, size: int = 65_536) -> Iterator[bytes]:
    """Bytes as a file gives them."""
    return (data[i : i + size] for i in range(0, len(data), size))


def parse_csv(text: str) -> list[tuple[float, float]]:
    """The points of a course in CSV."""
    from cogwright.store.course_csv import read_course_csv

    road = read_course_csv(in_pieces(text.encode()))
    return list(zip(road.metres, road.heights, strict=True))


def parse_gpx(data: bytes) -> tuple[str, list[tuple[float, float]]]:
    """Name and road of a GPX file."""
    from cogwright.store.tracks.gpx import read_gpx

    name, found = read_gpx(in_pieces(data))
    return name, list(found.recording(name, "").road())


#: Whether the long runs (kills, random keys, spoilt files, storms in a terminal) are run in full.
LONG = os.environ.get("COGWRIGHT_LONG") == "1"


#: Longest that a long test may take in full, s.
LONG_LIMIT_S = 900


def long_run(full: int, part: int = 10) -> int:
    """How many tries a test marked `long` makes: all with COGWRIGHT_LONG=1, else a tenth or less."""
    return full if LONG else max(1, full // part)


def long_cases(cases: Sequence[T], few: int) -> Sequence[T]:
    """The cases of a parameter that a test marked `long` tries: all with COGWRIGHT_LONG=1, else a few."""
    return cases if LONG else cases[:few]


def spread(count: int, few: int) -> set[int]:
    """The places of so few cases out of so many, evenly spread."""
    return {count * place // few for place in range(few)}


def long_spread(cases: Sequence[T], few: int) -> Sequence[T]:
    """The cases that a test marked `long` walks: all with COGWRIGHT_LONG=1, else a few, evenly spread."""
    return cases if LONG else [cases[place] for place in sorted(spread(len(cases), few))]


def called(
    *args: str | bytes | Path, cwd: Path = ROOT, encoding: str = "utf-8"
) -> subprocess.CompletedProcess[str]:
    """The command line run within this process, far quicker: for whatever needs no process to be proved."""
    from cogwright.cli import main

    out, err = (io.TextIOWrapper(io.BytesIO(), encoding, write_through=True) for _ in range(2))
    with chdir(cwd), redirect_stdout(out), redirect_stderr(err):
        try:
            status = main([*map(os.fsdecode, args)])
        except SystemExit as left:
            status = int(left.code or 0)
    return subprocess.CompletedProcess(
        args, status, *(s.buffer.getvalue().decode(encoding) for s in (out, err))
    )


def forked_command(*args: str | Path, stdout: int, cwd: Path = ROOT) -> tuple[int, str]:
    """The command line in a process forked from this one, writing to that; its status and standard error."""
    from cogwright.__main__ import run

    reader, writer = os.pipe()

    def begin() -> None:
        for given, stream in ((stdout, 1), (writer, 2)):
            os.dup2(given, stream)
        sys.stdout, sys.stderr = (io.TextIOWrapper(io.FileIO(stream, "w"), "utf-8") for stream in (1, 2))
        os.chdir(cwd)
        sys.argv = ["cogwright", *map(str, args)]
        os._exit(run())

    status = os.waitstatus_to_exitcode(ended(forked(begin)))
    os.close(writer)
    with open(reader, encoding="utf-8") as said:
        return status, said.read()


def forked(deed: Callable[[], object]) -> int:
    """A process of its own that does it and ends, with status 1 where it fails: never as a second pytest."""
    if pid := os.fork():
        return pid
    status = 1
    try:
        deed()
        status = 0
    except BaseException:
        traceback.print_exc()
        raise
    finally:
        os._exit(status)


def ended(pid: int, limit_s: float = 60.0) -> int:
    """The status of a child once it has ended, as of `os.waitpid`; TimeoutError for one that hangs."""
    end = time.monotonic() + limit_s
    while time.monotonic() < end:
        done, status = os.waitpid(pid, os.WNOHANG)
        if done:
            return status
        time.sleep(0.001)
    os.kill(pid, signal.SIGKILL)
    os.waitpid(pid, 0)
    raise TimeoutError(f"process {pid} had not ended after {limit_s} s")


def environment(**more: str) -> dict[str, str]:
    """The environment with the source tree importable, so that the tests need no installed program."""
    return os.environ | {"PYTHONPATH": str(ROOT / "src")} | more
