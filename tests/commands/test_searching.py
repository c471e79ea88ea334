"""Searches on the command line: progress for a person, the best so far for whoever cannot wait."""

import json
import os
import signal
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

from cogwright.commands import searching
from cogwright.commands.searching import ended
from cogwright.core.proposing.plan import Plan, PlanProgress
from cogwright.core.proposing.progress import FoundSoFar
from cogwright.store.documents import to_toml
from forking import run_bench
from ptyterm import Term
from support import called, environment, long_cases, make


def pieces(count: int, then: BaseException | None = None) -> Iterator[FoundSoFar]:
    """A search of so many pieces, or one that something happens in."""
    for done in range(count):
        yield FoundSoFar((), done, count)
    if then is not None:
        raise then
    yield FoundSoFar((), count, count)


def test_a_search_that_is_let_alone_finishes_and_says_nothing() -> None:
    end = ended(pieces(3))
    assert (end.how, end.status, end.words) == ("finished", 0, "")
    assert end.last is not None
    assert end.last.finished


def test_ctrl_c_leaves_what_was_found_up_to_there() -> None:
    end = ended(pieces(3, KeyboardInterrupt()))
    assert (end.how, end.status) == ("interrupted", 130)
    assert end.last is not None
    assert end.last.done == 2
    assert end.words == "stopped by Ctrl+C after 2 of 3: this is the best so far, and there may be better"


def test_ctrl_c_before_the_first_piece_leaves_nothing() -> None:
    end = ended(pieces(0, KeyboardInterrupt()))
    assert (end.how, end.last, end.status) == ("interrupted", None, 130)


def test_the_time_limit_ends_a_search_at_the_next_piece(monkeypatch: pytest.MonkeyPatch) -> None:
    clock = iter([0.0, 0.0, 1.0, 2.0, 3.0])
    monkeypatch.setattr(searching, "monotonic", lambda: next(clock))
    end = ended(pieces(9), limit_s=2.0)
    assert (end.how, end.status) == ("time", 0)
    assert end.last is not None
    assert end.last.done == 1  # looked at once a piece: at 1 s and, over, at 2 s
    assert "by the time limit after 1 of 9" in end.words


def a_bin(rings: range, cogs: range, cassettes: range) -> str:
    """So many parts, as TOML."""
    parts = [f'[[rings]]\nname = "ring {n}"\nteeth = {n}\nprice = {n}\n' for n in rings]
    parts += [f'[[cogs]]\nname = "cog {n}"\nteeth = {n}\nprice = {n}\n' for n in cogs]
    for n in cassettes:
        whole = [11, *range(13 + n, 43 + n, 3)]
        parts.append(f'[[cassettes]]\nname = "cassette {n}"\ncogs = {whole}\nprice = {40 + n}\n')
    return 'format = 1\nname = "Heap"\ncurrency = "EUR"\n' + "".join(parts)


@pytest.fixture(scope="module")
def heap(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A bike, a bin that allows 130 million changes (a quarter of a minute of planning), and a small one."""
    folder = tmp_path_factory.mktemp("heap")
    (folder / "bike.toml").write_text(to_toml(make([30, 46], [11, 13, 15, 17, 19, 21, 24, 28, 32, 36, 40])))
    (folder / "heap.toml").write_text(a_bin(range(26, 54), range(10, 52), range(12)))
    (folder / "few.toml").write_text(a_bin(range(32, 36), range(12, 15), range(1)))
    return folder


PLAN = ("propose", "bike.toml", "--plan", "--bin", "heap.toml")


@pytest.mark.long(cases=0)
def test_progress_shows_in_a_terminal_and_ctrl_c_gives_the_best_so_far(heap: Path) -> None:
    with Term(["cogwright", *PLAN, "--most", "1"], env=environment(), cwd=heap, forks=run_bench) as term:
        term.wait_for("looked at; Ctrl+C takes the best so far")
        os.kill(term.process.pid, signal.SIGINT)
        term.wait_for("stopped by Ctrl+C after")
        assert term.wait() == 130
        assert "looked at" not in term.text  # the progress is wiped away before the list is printed
        assert "the best so far, and there may be better" in " ".join(term.text.split())
        assert "Traceback" not in term.text


def test_json_says_that_a_search_was_stopped(heap: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    whole = Plan.progress

    def interrupted(plan: Plan) -> Iterator[PlanProgress]:
        for piece in whole(plan):
            yield piece
            if piece.kits:
                raise KeyboardInterrupt

    monkeypatch.setattr(Plan, "progress", interrupted)
    done = called("propose", "bike.toml", "--plan", "--bin", "few.toml", "--format", "json", cwd=heap)
    assert (done.returncode, done.stderr) == (130, "")
    found = json.loads(done.stdout)
    assert found["finished"] is False
    assert found["proposals"]
    assert found["notes"][-1].startswith("stopped by Ctrl+C after")


def test_a_time_limit_is_kept_and_said(heap: Path) -> None:
    done = called(*PLAN, "--time-limit", "0.3", "--format", "json", cwd=heap)
    assert (done.returncode, done.stderr) == (0, "")  # no progress where stderr is no terminal
    found = json.loads(done.stdout)
    assert found["finished"] is False
    assert found["notes"][-1].startswith("stopped by the time limit after")


def test_a_limit_that_is_not_reached_changes_nothing(heap: Path) -> None:
    args = ("propose", "bike.toml", "--even", "--format", "json")
    plain, limited = called(*args, cwd=heap), called(*args, "--time-limit", "60", cwd=heap)
    assert json.loads(plain.stdout)["finished"] is True
    assert plain.stdout == limited.stdout


@pytest.mark.parametrize("limit", ["0", "-1", "soon", "nan"])
def test_a_time_limit_that_is_none_is_refused(limit: str, heap: Path) -> None:
    done = called(*PLAN, "--time-limit", limit, cwd=heap)
    assert done.returncode == 2
    assert "--time-limit" in done.stderr


INTERRUPTS = """
import os, signal, sys
import {module} as place
def interrupt(*args, **more):
    os.kill(os.getpid(), signal.SIGINT)
    raise AssertionError("it was not interrupted")
place.{name} = interrupt
from cogwright.__main__ import run
sys.exit(run())
"""


@pytest.mark.long(cases=1)
@pytest.mark.parametrize(
    ("args", "module", "name"),
    long_cases(
        [
            (("report", "bike.toml"), "cogwright.store.documents", "read_document"),
            (("check", "bike.toml"), "cogwright.commands.check", "check"),
            (("order", "bike.toml", "--baseline", "bike.toml"), "cogwright.commands.order", "order_sheet"),
            (("card", "bike.toml"), "cogwright.commands.card", "study"),
            (("propose", "bike.toml", "--even"), "cogwright.commands.propose", "propose_text"),
            (("--help",), "cogwright.cli", "app_parser"),
        ],
        2,
    ),
)
def test_ctrl_c_ends_every_subcommand_quietly(
    args: tuple[str, ...], module: str, name: str, heap: Path
) -> None:
    argv = [sys.executable, "-c", INTERRUPTS.format(module=module, name=name), *args]
    done = subprocess.run(
        argv, cwd=heap, env=environment(), capture_output=True, text=True, timeout=60, check=False
    )
    assert (done.returncode, done.stdout, done.stderr) == (130, "", "")


WHILE_IMPORTING = """
import os, runpy, signal, sys
class Interrupts:
    def find_spec(self, name, path=None, target=None):
        if name == "{module}":
            os.kill(os.getpid(), signal.SIGINT)
        return None
sys.meta_path.insert(0, Interrupts())
sys.argv = ["cogwright", "report", "bike.toml"]
runpy.run_module("cogwright", run_name="__main__", alter_sys=True)
"""


@pytest.mark.long(cases=1)
@pytest.mark.parametrize(
    "module",
    long_cases(
        ["pydantic", "cogwright.cli", "argparse", "cogwright.commands.report", "cogwright.core.study"], 1
    ),
)
def test_ctrl_c_while_it_imports_leaves_no_traceback(module: str, heap: Path) -> None:
    argv = [sys.executable, "-c", WHILE_IMPORTING.format(module=module)]
    done = subprocess.run(
        argv, cwd=heap, env=environment(), capture_output=True, text=True, timeout=60, check=False
    )
    assert (done.returncode, done.stdout, done.stderr) == (130, "", "")
