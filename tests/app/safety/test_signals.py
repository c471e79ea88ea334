"""However the program ends, short of kill -9: the work is kept and the terminal is as it was."""

import os
import signal
import sys
import time
from contextlib import ExitStack
from pathlib import Path

import guarded_app
import pytest
import textual.drivers.linux_driver  # noqa: F401 - so that no start has to

from cogwright.app.safety.signals import CAUGHT
from cogwright.app.terminal import restore as terminal
from ptyterm import Term
from support import ROOT, ended, forked

APP = str(Path(__file__).with_name("guarded_app.py"))
ENV = {"PYTHONPATH": str(ROOT / "src")}


def launched(draft: Path) -> Term:
    """The sample app."""
    return Term([APP, str(draft)], env=ENV, forks=guarded_app.main)


def started(draft: Path) -> Term:
    """The sample app after one edit."""
    return ready(launched(draft))


def ready(term: Term) -> Term:
    """The sample app after one edit."""
    term.wait_for("READY")
    term.key("e")
    term.wait_for("EDITS 1")
    return term


def test_a_signal_keeps_the_work_and_gives_the_terminal_back(tmp_path: Path) -> None:
    with ExitStack() as all_of_them:
        terms = {  # side by side: most of the time goes into starting them
            number: all_of_them.enter_context(launched(tmp_path / number.name)) for number in CAUGHT
        }
        for number, term in terms.items():
            ready(term)
            assert "alternate screen" in term.leftovers()
            assert "line settings" in term.leftovers()
            term.signal(number)
            assert term.wait() == 128 + number
            assert term.leftovers() == []
            assert (tmp_path / number.name).read_text() == "1"


@pytest.mark.long(cases=0)
def test_an_exception_gives_the_terminal_back(tmp_path: Path) -> None:
    with started(tmp_path / "draft") as term:
        term.key("x")
        assert term.wait() == 1
        assert term.leftovers() == []
        assert b"on purpose" in term.output


def test_quitting_leaves_no_trace(tmp_path: Path) -> None:
    with started(tmp_path / "draft") as term:
        term.key("q")
        assert term.wait() == 0
        assert term.leftovers() == []
    assert not (tmp_path / "draft").exists()


@pytest.mark.long(cases=0)
def test_a_blocked_loop_is_ended_all_the_same(tmp_path: Path) -> None:
    with started(tmp_path / "draft") as term:
        term.key("b")
        term.wait_for("BLOCKED")
        term.signal(signal.SIGTERM)
        assert term.wait() == 128 + signal.SIGTERM
        assert term.leftovers() == []
    assert (tmp_path / "draft").read_text() == "1"


@pytest.mark.long(cases=0)
def test_a_stalled_terminal_is_left_in_time(tmp_path: Path) -> None:
    with started(tmp_path / "draft") as term:
        term.stall()
        term.key("f")
        time.sleep(0.5)  # the app's queue fills up
        begun = time.perf_counter()
        term.signal(signal.SIGTERM)
        assert term.wait(reading=False) == 128 + signal.SIGTERM
        assert time.perf_counter() - begun > 0.9  # the hard stage, right after the grace period
        assert term.leftovers() == []
    assert (tmp_path / "draft").read_text() == "1"


def test_a_dropped_line_keeps_the_work(tmp_path: Path) -> None:
    with started(tmp_path / "draft") as term:
        term.hang_up()
        term.process.wait(timeout=30)
    assert (tmp_path / "draft").read_text() == "1"


def test_without_a_terminal_it_says_what_works(tmp_path: Path) -> None:
    (tmp_path / "nothing").touch()
    with open(tmp_path / "nothing", "rb") as nothing, open(tmp_path / "said", "wb") as said:

        def runs() -> None:
            os.dup2(nothing.fileno(), 0)
            os.dup2(said.fileno(), 2)
            sys.stdin, sys.stderr = open(0, closefd=False), open(2, "w", closefd=False)  # noqa: SIM115
            status = guarded_app.main()
            sys.stderr.flush()
            os._exit(status)

        assert os.waitstatus_to_exitcode(ended(forked(runs))) == 2
    assert "standard input and standard error are not a terminal" in (tmp_path / "said").read_text()
    assert "cogwright report, check, order, propose, card" in (tmp_path / "said").read_text()


def test_a_dumb_terminal_is_refused(tmp_path: Path) -> None:
    env = {**ENV, "TERM": "dumb"}
    with Term([APP, str(tmp_path / "draft")], env=env, forks=guarded_app.main) as term:
        assert term.wait() == 2
        assert "cannot draw (TERM=dumb)" in term.text
        assert b"\x1b" not in term.output


def test_the_hard_stage_does_not_make_the_shells_terminal_non_blocking() -> None:
    master, slave = os.openpty()

    def restores() -> None:
        os.dup2(slave, 0)
        os.dup2(slave, 2)
        terminal.TerminalState.now().restore("")
        os._exit(0 if os.get_blocking(2) else 1)

    assert ended(forked(restores)) == 0
    assert os.read(master, 1000).endswith(b"\r\n")
    os.close(master)
    os.close(slave)


@pytest.mark.long(cases=0)
def test_more_signals_change_nothing_until_the_process_is_gone(tmp_path: Path) -> None:
    """Python forgets handlers as it ends: what comes then must not make another status of it."""
    with ready(Term([sys.executable, APP, str(tmp_path / "draft")], env=ENV)) as term:
        term.signal(signal.SIGTERM)
        assert term.wait_until((tmp_path / "draft").exists)  # it has been seen: the work is kept
        while term.process.poll() is None:
            term.signal(signal.SIGHUP)
            term.read(quiet=0.001, limit=0.002)
        assert term.wait() == 128 + signal.SIGTERM
        assert term.leftovers() == []
