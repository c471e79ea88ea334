"""The bench itself, in a pseudo-terminal: however it ends, the work comes back, the terminal too."""

import signal
import sys
import time
from pathlib import Path

import pytest

from cogwright.app.controllers import registry
from cogwright.app.state.store import SessionStore
from cogwright.core.setup.model import Setup
from cogwright.store.documents import read_setup, to_toml
from cogwright.store.drafts import Drafts, pending
from forking import run_bench
from ptyterm import Term
from support import ROOT, make

SOURCE = str(ROOT / "src")
SETUP = make([30, 46], [11, 13, 15, 17, 19, 21, 24])


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """A folder with one setup."""
    (tmp_path / "shelf").mkdir()
    (tmp_path / "shelf" / "a.toml").write_text(to_toml(SETUP))
    return tmp_path / "shelf"


def bench(folder: Path, **more: str) -> Term:
    """The program on a folder, with a state folder beside it."""
    env = {"PYTHONPATH": SOURCE, "XDG_STATE_HOME": str(folder.parent / "state"), **more}
    term = Term(["cogwright", str(folder)], env=env, forks=run_bench)
    term.wait_for("quit")
    term.settle()
    return term


def edited(folder: Path) -> Term:
    """The program after its largest cog went from 24 to 25 teeth."""
    term = bench(folder)
    term.key("\x1b[A")
    term.wait_for("25")
    return term


def drafts(folder: Path) -> list[Setup]:
    return [draft.setup for draft in pending(folder.parent / "state" / "cogwright" / "drafts").drafts]


@pytest.mark.long(cases=0)
def test_a_signal_keeps_the_work_and_gives_the_terminal_back(folder: Path) -> None:
    with edited(folder) as term:
        term.signal(signal.SIGHUP)
        assert term.wait() == 128 + signal.SIGHUP
        assert term.leftovers() == []
    assert [setup.rear.cogs[-1] for setup in drafts(folder)] == [25]
    assert read_setup(folder / "a.toml").value == SETUP


def test_kill_9_within_a_second_of_the_edit_and_the_next_start_offers_it(folder: Path) -> None:
    with edited(folder) as term:
        kept = folder.parent / "state" / "cogwright" / "drafts"
        assert term.wait_until(lambda: bool(list(kept.glob("*.draft"))), limit=1.0)
        term.signal(signal.SIGKILL)
        term.process.wait(timeout=30)
    with bench(folder) as term:
        term.wait_for("Unsaved work")
        assert "cog 24 to 25" in term.text
        term.key("t")
        term.wait_for("Taken back")
        term.key("s")
        term.wait_for("as it came in")
        term.key("w")
        term.wait_for("Saved")
        term.key("q")
        assert term.wait() == 0
    assert read_setup(folder / "a.toml").value.rear.cogs[-1] == 25
    assert drafts(folder) == []


@pytest.mark.long(cases=0)
def test_a_draft_that_is_turned_down_is_gone(folder: Path) -> None:
    left = Drafts(folder.parent / "state" / "cogwright" / "drafts")
    left.put(folder / "a.toml", make([30, 46], [11, 13, 15, 17, 19, 21, 25]), None)
    left.close()
    with bench(folder) as term:
        term.wait_for("Unsaved work")
        term.key("d")
        term.wait_for("Discarded")
        term.key("q")
        assert term.wait() == 0
    assert drafts(folder) == []
    assert read_setup(folder / "a.toml").value == SETUP


@pytest.mark.long(cases=0)
def test_a_stalled_terminal_is_left_in_time_and_the_work_kept(folder: Path) -> None:
    with edited(folder) as term:
        term.stall()
        term.key("\x1b[A")
        time.sleep(0.4)
        begun = time.perf_counter()
        term.signal(signal.SIGTERM)
        assert term.wait(reading=False) == 128 + signal.SIGTERM
        assert time.perf_counter() - begun > 1.9  # it did stall: the hard stage ended it
        assert term.leftovers() == []
    assert [setup.rear.cogs[-1] for setup in drafts(folder)] == [26]


def run_broken() -> int:
    """The program with an error in the controller of one key, after what that key would have done."""
    registry.load()
    up = registry.CONTROLLERS["teeth-up"]

    def broken(store: SessionStore) -> None:
        up(store)
        raise KeyError("on \x1b[31mpurpose")

    registry.CONTROLLERS["teeth-up"] = broken
    return run_bench()


@pytest.mark.long(cases=0)
def test_an_error_of_the_program_keeps_the_work_and_says_where_in_a_few_lines(folder: Path) -> None:
    env = {"PYTHONPATH": SOURCE, "XDG_STATE_HOME": str(folder.parent / "state")}
    with Term(["cogwright", str(folder)], env=env, cols=200, forks=run_broken) as term:
        term.wait_for("quit")
        term.key("\x1b[A")
        assert term.wait() == 1
        assert term.leftovers() == []
        said = term.output.rsplit(b"\x1b[?1049l", 1)[1].decode()
    assert "Traceback" not in said
    assert len(said.strip().splitlines()) <= 6
    assert "Your unsaved work is kept" in said
    assert f"start it again on {folder}" in " ".join(said.split())
    log = folder.parent / "state" / "cogwright" / "last-crash.txt"
    assert str(log) in said
    assert "in broken" in log.read_text()
    assert "\x1b" not in log.read_text()
    assert [setup.rear.cogs[-1] for setup in drafts(folder)] == [25]


@pytest.mark.long(cases=1)
@pytest.mark.parametrize("env", [{"TERM": "dumb"}, {"TERM": "unknown"}])
def test_a_terminal_that_cannot_draw_is_told_what_works(env: dict[str, str], folder: Path) -> None:
    with Term([sys.executable, "-m", "cogwright", str(folder)], env={"PYTHONPATH": SOURCE, **env}) as term:
        assert term.wait() == 2
        assert f"TERM={env['TERM']}" in term.text
        assert "report, check, order, propose, card" in term.text
        assert b"\x1b" not in term.output
