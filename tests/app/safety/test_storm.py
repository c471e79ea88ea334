"""Signals in any order, at any time: the program ends when it is told to, and the terminal is as it was."""

import json
import os
import random
import signal
import subprocess
import sys
from pathlib import Path

import pytest

from ptyterm import Term, environment, left_on
from support import LONG, ROOT, long_run

HERE = Path(__file__).parent
#: So many programs storm at a time; each imports all of it first.
SIDE_BY_SIDE = 3 if LONG else 1
DEMO = ROOT / "setups" / "yard-7-pass.toml"


def storms(folder: Path, tries: int) -> list[dict[str, object]]:
    """What came of so many tries."""
    env = environment({"PYTHONPATH": os.pathsep.join([str(ROOT / "src"), str(HERE)])})
    seed = random.Random("CI" if "CI" in os.environ else None).randrange(10**9)
    programs, found = [], []
    for at in range(SIDE_BY_SIDE):
        argv = [sys.executable, HERE / "storm.py", folder, str(seed + at), str(tries // SIDE_BY_SIDE)]
        found.append(folder / f"{at}.jsonl")  # a pipe that nobody reads would hold it up
        with open(found[-1], "wb") as file:
            programs.append(subprocess.Popen(argv, stdout=file, env=env))
    try:
        for program in programs:
            program.wait(timeout=30 + tries * 3)
    finally:
        for program in programs:
            program.kill()
    return [json.loads(line) for path in found for line in path.read_text().splitlines()]


@pytest.mark.long
def test_no_order_of_signals_hangs_the_program_or_breaks_the_terminal(tmp_path: Path) -> None:
    tries = long_run(300, 100)
    found = storms(tmp_path, tries)
    assert len(found) == tries
    for one in found:
        output = str(one.pop("output")).encode("latin-1")
        numbers = [signal.Signals[name] for name in one["sent"]] + [signal.SIGHUP] * bool(one["drops"])
        assert one["status"] is not None, one
        # Before it is guarded, as Python and the program start, a signal does what it does to any program.
        unguarded = {-number for number in numbers} | {128 + signal.SIGINT}
        allowed = {128 + number for number in numbers} | (set() if one["ready"] else unguarded)
        assert one["status"] in allowed, (one, output[-1000:])
        assert one["line"], one
        assert one["drops"] or left_on(output) == [], one
        assert b"Traceback" not in output, one
        assert one["draft"] or not one["ready"], one


@pytest.mark.long
def test_an_interrupt_while_starting_has_no_traceback(tmp_path: Path) -> None:
    """But for those of Python's own start, in which no line of the program has been reached yet."""
    chance = random.Random(31)
    env = {name: str(tmp_path) for name in ("XDG_STATE_HOME", "XDG_CONFIG_HOME")}
    for _ in range(long_run(60, 40)):
        with Term(
            [sys.executable, "-m", "cogwright", str(DEMO)], env=env | {"PYTHONPATH": str(ROOT / "src")}
        ) as term:
            term.read(quiet=1.0, limit=chance.random() * 0.5)
            term.signal(signal.SIGINT)
            status = term.wait()
            assert term.leftovers() == []
            if b"Traceback" in term.output:
                assert b"cogwright" not in term.output, term.text
            else:
                assert status in (128 + signal.SIGINT, -signal.SIGINT)
