"""The main job as a user does it: the installed program in a terminal, on the demo, by keys alone."""

import shutil
import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest

from cogwright.store.documents import read_setup
from forking import run_bench
from ptyterm import Term
from support import ROOT

FIRST = "yard-1-first-trial.toml"


def command() -> list[str]:
    """The installed command where there is one beside this Python, else the module."""
    script = Path(sys.executable).with_name("cogwright")
    return [str(script)] if script.exists() else [sys.executable, "-m", "cogwright"]


@pytest.fixture
def shop(tmp_path: Path) -> Path:
    """The demo folder, to be changed."""
    return Path(shutil.copytree(ROOT / "setups", tmp_path / "setups"))


@contextmanager
def started(shop: Path, forks: Callable[[], int] | None = None) -> Iterator[Term]:
    """The program on it at 80x24, its bars drawn; installed, or forked."""
    env = {"PYTHONPATH": str(ROOT / "src"), "XDG_STATE_HOME": str(shop.parent / "state")}
    with Term([*command(), str(shop)], env=env, forks=forks) as term:
        term.wait_for("36x45 \u2588")
        term.wait_for("q quit")
        yield term


@pytest.fixture
def term(shop: Path) -> Iterator[Term]:
    """The installed program."""
    with started(shop) as term:
        yield term


def test_a_cog_is_changed_saved_and_the_file_has_it(term: Term, shop: Path) -> None:
    before = read_setup(shop / FIRST).value.rear.cogs
    term.wait_for("lost")
    term.key("\x1b[B" * 5)
    term.wait_for("[40]")
    assert "unsaved" in term.text
    term.key("s")
    term.wait_for("Saved")
    term.key("q")
    assert term.wait() == 0
    assert term.leftovers() == []
    assert read_setup(shop / FIRST).value.rear.cogs == (*before[:-1], 40)
    assert "45" in (shop / f"{FIRST}~").read_text()


@pytest.mark.long(cases=0)
def test_every_view_opens_by_its_digit_and_another_bike_from_the_shelf(shop: Path) -> None:
    with started(shop, forks=run_bench) as term:
        for digit, words in (
            ("2", "ratio"),
            ("3", "chain slack"),
            ("6", "Order sheet"),
            ("1", "rpm"),
            ("7", "What this means"),
        ):
            term.key(digit)
            term.wait_for(words)
        term.key("o")
        term.wait_for("ranges on one scale")
        term.key("pass\r")
        term.wait_for("Yard 7")
        term.key("q")
        assert term.wait() == 0
