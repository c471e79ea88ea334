"""A line of 10 kB/s, in a pseudo-terminal: the screen stays within one drawing of the last key.

A terminal that answers says where its cursor is only once it has drawn what came before, as a real one does.
"""

import time
from collections.abc import Iterator
from pathlib import Path

import pytest

from forking import run_bench
from ptyterm import Term
from support import ROOT, long_cases

SETUP = """format = 1
name = "Slow line"
[wheel]
size = "40-622"
[crank]
rings = [30, 46]
[rear]
cogs = [11, 13, 15, 17, 19, 21, 23, 25, 28, 31, 34]
"""
SOURCE = str(ROOT / "src")
BYTES_PER_S = 10_000
KEYS, KEYS_PER_S = 40, 30


@pytest.fixture(params=long_cases(["answers", "mute"], 1))
def term(tmp_path: Path, request: pytest.FixtureRequest) -> Iterator[Term]:
    """The program on a slow line, its first drawing done; the terminal answers questions or does not."""
    (tmp_path / "a.toml").write_text(SETUP)
    env = {"PYTHONPATH": SOURCE, "SSH_TTY": "/dev/pts/9", "XDG_STATE_HOME": str(tmp_path / "state")}
    answers = {b"\x1b[6n": b"\x1b[1;1R"} if request.param == "answers" else {}
    with Term(["cogwright", str(tmp_path)], env=env, answers=answers, forks=run_bench) as slow:
        slow.wait_for("30x34 \u28ff")
        slow.settle(quiet=0.2)
        slow.rate = BYTES_PER_S
        yield slow


def hold_down(term: Term, key: bytes) -> float:
    """A key held down; when it was let go."""
    for _ in range(KEYS):
        term.key(key)
        next_key = time.perf_counter() + 1 / KEYS_PER_S
        while (left := next_key - time.perf_counter()) > 0:
            term.read(quiet=left, limit=left)
    return time.perf_counter()


@pytest.mark.long(cases=0)
def test_a_key_held_down_leaves_no_queue_of_drawings(term: Term) -> None:
    one_drawing = 2_500  # bytes, well above the aim of 2 kB for a tooth change
    for key, last in ((b"\x1b[A", "[74]"), (b"\x1b[B", "[34]"), (b"\x1b[A", "[74]")):
        before = len(term.output)
        let_go = hold_down(term, key)
        at_let_go = len(term.output)
        term.wait_for(last)
        term.settle(quiet=0.4)
        behind = term.chunks[-1][0] - let_go
        if (
            len(term.output) - at_let_go < 2 * one_drawing  # the one under way and the last one
            and behind < 2 * one_drawing / BYTES_PER_S + 0.3
            and len(term.output) - before < KEYS / KEYS_PER_S * BYTES_PER_S + 2 * one_drawing
        ):
            return  # a machine with something else to do may spoil one try, but not all three
    pytest.fail(f"{behind:.2f} s and {len(term.output) - at_let_go} bytes behind")


@pytest.mark.long(cases=0)
def test_a_burst_in_one_piece_is_one_drawing_or_two(term: Term) -> None:
    before = len(term.output)
    term.key(b"\x1b[A" * KEYS)
    term.wait_for("[74]")
    term.settle(quiet=0.4)
    assert len(term.output) - before < 2 * 2_500


@pytest.mark.long(cases=0)
def test_whole_screens_in_a_burst_keep_to_the_line(term: Term) -> None:
    """Two views by turns, 30 times a second: what is left over when the keys stop is one screen or two."""
    largest = max(len(term.press(view, quiet=0.5)) for view in ("2", "1"))
    rests = []
    while not rests or rests[-1] >= 2 * largest + 200:
        assert len(rests) < 3, (
            rests
        )  # a machine with something else to do may spoil one try, but not all three
        for at in range(KEYS):
            term.key("21"[at % 2])
            next_key = time.perf_counter() + 1 / KEYS_PER_S
            while (left := next_key - time.perf_counter()) > 0:
                term.read(quiet=left, limit=left)
        rests.append(len(term.settle(quiet=0.6)))
        assert "[1 Gears]" in term.text
        assert "30x34 \u28ff" in term.text
