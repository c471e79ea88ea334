"""The bench in a pseudo-terminal that sends what it should not: nothing acts, nothing ends the program."""

import random
import time
from pathlib import Path

import pytest

from cogwright.store.documents import to_toml
from forking import run_bench
from ptyterm import Term
from support import ROOT, long_cases, long_run, long_spread, make

SETUP = make([30, 46], [11, 13, 15, 17, 19, 21, 24])


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    (tmp_path / "shelf").mkdir()
    (tmp_path / "shelf" / "a.toml").write_text(to_toml(SETUP))
    return tmp_path / "shelf"


def bench(folder: Path, answers: dict[bytes, bytes] | None = None) -> Term:
    state = str(folder.parent / "state")
    env = {"PYTHONPATH": str(ROOT / "src"), "XDG_STATE_HOME": state, "XDG_CONFIG_HOME": state}
    term = Term(["cogwright", str(folder)], env=env, answers=answers, forks=run_bench)
    term.wait_for("quit")
    term.settle()
    return term


def there_and_back(term: Term) -> None:
    """To another view and back again: whatever was sent before has been dealt with then."""
    for key, name in (("2", "[2 Figures]"), ("1", "[1 Gears]")):
        term.key(key)
        term.wait_for(name)
    term.settle()


def still_works(term: Term) -> None:
    """A key does what it should, and the program leaves the terminal as it was."""
    term.key("\x1b[A")
    term.wait_for("25")
    term.key("u")
    term.wait_for("24")
    term.key("q")
    assert term.wait() == 0
    assert term.leftovers() == []


PASTED = (b"note \x1b[31mDy", b"\x1b[200~\x1b[200~Dy", b"\x1b]0;Dy", b"\x1b\x1b\x1bDy\x1b[20")


@pytest.mark.long
def test_a_paste_does_nothing_to_the_bench(folder: Path) -> None:
    with bench(folder) as term:
        before = term.screen
        for inside in long_cases(PASTED, 2):
            term.key(b"\x1b[200~" + inside + b"\x1b[201~")
            there_and_back(term)
            assert term.screen == before, inside
            assert (folder / "a.toml").exists(), inside
        still_works(term)


@pytest.mark.long(cases=0)
def test_a_paste_goes_where_something_is_typed(folder: Path) -> None:
    with bench(folder) as term:
        term.key("N")
        term.settle()
        term.key(b"\x1b[200~ Kes\x1b[1mtrel\x1b[m\x1b[201~")
        term.wait_for("Kestrel")
        term.key("\r")
        term.wait_for("Kestrel")
        assert "\x1b" not in term.text


@pytest.mark.long(cases=0)
def test_answers_that_come_late_are_no_keys(folder: Path) -> None:
    """Colours, device attributes, a size that nobody asked for; in pieces and with pauses."""
    with bench(folder) as term:
        before = term.screen
        for part in (
            b"\x1b]11;rgb:0000",
            b"/2b2b/dddd\x1b\\",
            b"\x1b[?62;2",
            b"2c\x1b[48;10;20;100;100t",
            b"\x1b[?1u",
        ):
            term.key(part)
            time.sleep(0.25)
        there_and_back(term)
        assert term.screen == before
        still_works(term)


NOISE = (b"\xe9", b"\xff\xfe\x80", b"\x1b[M\xf1\xf2\xf3", b"\x1b[1114112;1u", b"\x1b[55296u")


@pytest.mark.long(cases=0)
def test_bytes_that_are_nothing_end_nothing(folder: Path) -> None:
    with bench(folder) as term:
        for noise in long_spread(NOISE, 2):
            term.key(noise)
            there_and_back(term)
            assert term.process.poll() is None, noise
        still_works(term)


@pytest.mark.long(cases=0)
def test_random_bytes_end_nothing_but_by_the_usual_ways(folder: Path) -> None:
    """Keys that leave, write files or open other screens are left out: what they do is tried elsewhere."""
    chance, left = random.Random(23), long_run(60_000, 200)
    spared = set(b"qsSNneDRdipogcxaBb:?\x03\x10\x11\x1a\r")
    allowed = bytes(byte for byte in range(256) if byte not in spared)
    with bench(folder) as term:
        while left > 0:
            size = min(left, chance.randrange(1, 400))
            left -= size
            term.key(bytes(chance.choice(allowed) for _ in range(size)))
            term.read(quiet=0.002, limit=0.02)
            assert term.process.poll() is None, term.text
        term.key(b"\x1b[201~\x1b\\\x18")  # whatever was begun is ended
        time.sleep(2.2)
        term.settle()
        assert term.process.poll() is None
        term.signal(15)
        assert term.wait() == 143
        assert term.leftovers() == []
    assert (folder / "a.toml").exists()
