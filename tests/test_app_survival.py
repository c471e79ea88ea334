"""The bench itself, in a pseudo-terminal: however it ends, the work comes back, the terminal too."""

import os
import signal
import sys
import time
from pathlib import Path

import pytest

from cogwright.core.model import Setup
from cogwright.store.documents import read_setup, to_toml
from cogwright.store.drafts import pending
from ptyterm import Term
from support import make

SOURCE = str(Path(__file__).parents[1] / "src")
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
    term = Term([sys.executable, "-m", "cogwright", str(folder)], env=env)
    term.wait_for("quit")
    term.read(quiet=0.3, limit=3)
    return term


def edited(folder: Path) -> Term:
    """The program after its largest cog went from 24 to 25 teeth."""
    term = bench(folder)
    term.key("\x1b[A")
    term.wait_for("25")
    return term


def drafts(folder: Path) -> list[Setup]:
    return [draft.setup for draft in pending(folder.parent / "state" / "cogwright" / "drafts").drafts]


def test_a_signal_keeps_the_work_and_gives_the_terminal_back(folder: Path) -> None:
    with edited(folder) as term:
        term.signal(signal.SIGHUP)
        assert term.wait(limit=8) == 128 + signal.SIGHUP
        assert term.leftovers() == []
    assert [setup.rear.cogs[-1] for setup in drafts(folder)] == [25]
    assert read_setup(folder / "a.toml").value == SETUP


def test_kill_9_within_a_second_of_the_edit_and_the_next_start_offers_it(folder: Path) -> None:
    with edited(folder) as term:
        term.signal(signal.SIGKILL)
        term.process.wait()
    with bench(folder) as term:
        term.wait_for("Unsaved work")
        assert "cogs: 24 gone, 25 new" in term.text
        term.key("t")
        term.wait_for("Taken back")
        term.key("s")
        term.wait_for("Saved")
        term.key("q")
        assert term.wait() == 0
    assert read_setup(folder / "a.toml").value.rear.cogs[-1] == 25
    assert drafts(folder) == []


def test_a_draft_that_is_turned_down_is_gone(folder: Path) -> None:
    with edited(folder) as term:
        term.signal(signal.SIGKILL)
        term.process.wait()
    with bench(folder) as term:
        term.wait_for("Unsaved work")
        term.key("d")
        term.wait_for("Discarded")
        term.key("q")
        assert term.wait() == 0
    assert drafts(folder) == []
    assert read_setup(folder / "a.toml").value == SETUP


def test_a_stalled_terminal_is_left_in_time_and_the_work_kept(folder: Path) -> None:
    with edited(folder) as term:
        term.stall()
        term.key("\x1b[A")
        time.sleep(0.4)
        begun = time.perf_counter()
        term.signal(signal.SIGTERM)
        assert term.wait(limit=8, reading=False) == 128 + signal.SIGTERM
        assert 1.9 < time.perf_counter() - begun < 5  # it did stall: the hard stage ended it
        assert term.leftovers() == []
    assert [setup.rear.cogs[-1] for setup in drafts(folder)] == [26]


@pytest.mark.parametrize("env", [{"TERM": "dumb"}, {"TERM": "unknown"}])
def test_a_terminal_that_cannot_draw_is_told_what_works(env: dict[str, str], folder: Path) -> None:
    with Term([sys.executable, "-m", "cogwright", str(folder)], env={"PYTHONPATH": SOURCE, **env}) as term:
        assert term.wait() == 2
        assert f"TERM={env['TERM']}" in term.text
        assert "report, check, order, propose, card" in term.text
        assert b"\x1b" not in term.output


MARK = "PWNED"
HOSTILE = (
    f"\x1b]0;{MARK}\x07\x1b[3J\x9b5m\u202e[@click=app.quit]{MARK}[/b] \u6f22e\u0301\u0302\u0303\u0304\u0305"
)
#: All that a terminal would obey, as bytes of the output.
ACTING = [f"\x1b]0;{MARK}".encode(), b"\x1b[3J", "\x9b".encode(), "\u202e".encode(), b"\xff"]
#: Keys that show names and texts: the views, the shelf, the cassettes, the baselines, names to save under.
LOOKS = "123456ocbfS?:"
F10 = "\x1b[21~"


def test_hostile_names_and_texts_never_reach_the_terminal_raw(folder: Path) -> None:
    literal = "".join(f"\\U{ord(char):08x}" for char in HOSTILE)
    text = to_toml(SETUP).replace("Test bike", literal) + f'[shifters]\nfamily = "{literal}"\n'
    raw = os.fsencode(folder)
    for name in (
        b"a.toml",
        b"\x1b[3J\xc2\x9b\xff.toml",
        "\u202egnp.toml".encode(),
        b"[@click=app.quit].toml",
    ):
        Path(os.fsdecode(raw + b"/" + name)).write_text(f'notes = "{literal}"\n' + text)
    Path(os.fsdecode(raw + b"/\x1b[3J\xff bad.toml")).write_text(f'"{literal}" = "{literal}"\n')
    with bench(folder) as term:
        for key in LOOKS:
            term.press(key, quiet=0.03, limit=0.15)
            term.press(F10, quiet=0.03, limit=0.15)
        for _ in range(4):  # the next good file of the shelf onto the bench, changed and saved
            term.key("1o")
            term.wait_for("Setups in")
            term.press("\x1b[B\r", quiet=0.1, limit=0.5)
            if "cannot be read" in term.text:
                term.press(F10 + "o", quiet=0.1, limit=0.5)
                term.press("\x1b[B\x1b[B\r", quiet=0.1, limit=0.5)
            term.press("\x1b[A", quiet=0.1, limit=0.5)
            term.key("s")
            term.wait_for("Saved")
        assert term.process.poll() is None
        assert len([name for name in os.listdir(folder) if name.endswith("~")]) >= 3
        assert MARK in term.output.decode(errors="replace")
        assert [bytes_ for bytes_ in ACTING if bytes_ in term.output] == []
        term.signal(signal.SIGTERM)
        term.wait()
