"""Keys that come in one packet do what the same keys do one by one: same session, same screen."""

import os
import random
import re
import shutil
import time
from itertools import repeat, takewhile
from pathlib import Path
from typing import Any

import pytest
from screens import dealt_with, text, type_keys
from textual.pilot import Pilot

from cogwright.app.actions import ACTIONS
from cogwright.app.controllers import drill, proposal_list, reading, registry
from cogwright.app.main import BenchApp
from forking import run_bench
from ptyterm import Term
from support import ROOT, long_cases, long_run

SEED = 20261126
MOVES = ["up", "down", "pageup", "pagedown", "home", "end", "left", "right", "j", "k", "space"]
LEAVE = ["enter", "enter", "escape", "f10", "q"]
#: What a line may be typed with; backspace and ctrl+u among it.
TYPED = [
    "3",
    "6",
    "1",
    "2",
    "x",
    "o",
    "ring",
    "cog",
    "11-",
    ".",
    "9999",
    "backspace",
    "left",
    "home",
    "ctrl+u",
]
SEARCHED = ["save", "undo", "ride", "sort", "base", "fig", "help", "set", "zzz", "up", "colours"]
#: A search for proposals hands over what it finds when it has found it, and a picture waits for a drawing.
LEFT_OUT = {"proposals", "export"}


def sequence(chance: random.Random) -> list[str]:
    """Some pieces of work, and keys at random between them."""
    pieces = [piece(chance) for _ in range(chance.randint(1, 4))]
    return [key for each in pieces for key in each]


def piece(chance: random.Random) -> list[str]:
    """A list, a line to type, a question, a view, the palette, or anything."""

    def some(of: list[str], most: int) -> list[str]:
        return [key for _ in range(chance.randint(0, most)) for key in keys_of(chance.choice(of))]

    bound = [key for action in ACTIONS for key in action.keys if action.id not in LEFT_OUT]
    kind = chance.randrange(6)
    if kind == 0:
        return [chance.choice("bociBgwf"), *some(TYPED, 2), *some(MOVES, 4), chance.choice(LEAVE)]
    if kind == 1:
        return [chance.choice(["enter", "a", "N", "S"]), *some(TYPED, 5), chance.choice(["enter", "escape"])]
    if kind == 2:
        return [chance.choice("DqnRs"), *some(["c", "e", "d", "s", "w", "f8", "q", "escape"], 2)]
    if kind == 3:
        return [chance.choice("123456d?v"), *some(MOVES, 5)]
    if kind == 4:
        return ["colon", *some(SEARCHED, 2), *some(MOVES[:4], 3), chance.choice(["enter", "escape"])]
    return some([*bound, *TYPED, *MOVES], 10)


def keys_of(word: str) -> list[str]:
    """A named key, or the characters of a word."""
    named = {"up", "down", "backspace", "left", "right", "home", "end", "space", "enter", "escape", "tab"}
    known = word in named or "+" in word or "page" in word or "_" in word or re.fullmatch(r"f\d+", word)
    return [word] if known or len(word) == 1 or word in {"plus", "minus", "colon", "delete"} else [*word]


class Caged(BenchApp):
    """The app, which does not leave."""

    def exit(self, *args: Any, **kwargs: Any) -> None:
        """Stay."""


@pytest.fixture
def shelf(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A folder for the demo, and states of its own."""
    for name in ("XDG_STATE_HOME", "XDG_CONFIG_HOME"):
        monkeypatch.setenv(name, str(tmp_path / "state"))
    monkeypatch.setenv("LANG", "C.UTF-8")
    monkeypatch.chdir(tmp_path)
    monkeypatch.setattr(drill.time, "time_ns", lambda: 1)
    registry.load()
    # What is left out is come to by other ways, too: the list of all actions, the climb that wants a gear.
    monkeypatch.setitem(registry.CONTROLLERS, "export", lambda store: store.say("left out"))
    monkeypatch.setattr(proposal_list, "_run", lambda *search: None)
    monkeypatch.setattr(proposal_list, "_NUMBERS", repeat(1))
    monkeypatch.setattr(reading, "_size", lambda path: 0)  # a large file is taken when a thread has read it
    return tmp_path / "shelf"


def fresh(shelf: Path) -> Path:
    """The demo as it was, with nothing left of what was done to it."""
    here = shelf.parent / "here"
    for folder in (shelf, shelf.parent / "state", here):
        shutil.rmtree(folder, ignore_errors=True)
    here.mkdir()
    os.chdir(here)
    return Path(shutil.copytree(ROOT / "setups", shelf))


async def states(shelf: Path, sequences: list[list[str]], packet: bool) -> list[tuple[str, str]]:
    """Session and screen after each of the sequences, which follow each other."""
    app, found = Caged([fresh(shelf)]), []
    async with app.run_test(size=(80, 24)) as pilot:
        for keys in sequences:
            for key in keys:
                type_keys(app, key)
                if not packet:
                    await dealt_with(app)
            await dealt_with(app)
            shown = await still(app, pilot)
            found.append((re.sub(r"\d{5,}", "#", repr(app.store.session)), shown))
    return found


async def still(app: BenchApp, pilot: Pilot[int]) -> str:
    """The screen, once nothing more comes to it: the library makes its panel of keys anew bit by bit."""
    shown, same = "", 0
    while same < (5 if app.store.session.keys_beside else 1):
        await pilot.pause(0.01)
        before, shown = shown, text(app)
        same = same + 1 if shown == before else 0
    return shown


#: So many sequences, in parts that each begin on a fresh shelf.
SEQUENCES, PARTS = 300, 10


def parting(one: str, other: str) -> tuple[str, str] | None:
    """What two long texts say where they part; None where they do not. A diff of them would take minutes."""
    if one == other:
        return None
    same = sum(1 for _ in takewhile(lambda pair: pair[0] == pair[1], zip(one, other, strict=False)))
    around = slice(max(same - 80, 0), same + 80)
    return one[around], other[around]


@pytest.mark.long
@pytest.mark.parametrize("part", long_cases(range(PARTS), 1))
async def test_a_packet_of_keys_does_what_the_keys_do_one_by_one(part: int, shelf: Path) -> None:
    chance = random.Random(SEED)
    sequences = [sequence(chance) for _ in range(SEQUENCES)][part::PARTS][: long_run(SEQUENCES // PARTS, 15)]
    one_by_one = await states(shelf, sequences, packet=False)
    in_packets = await states(shelf, sequences, packet=True)
    for keys, (session, shown), (packed, packed_shown) in zip(sequences, one_by_one, in_packets, strict=True):
        assert packed_shown == shown, keys
        assert parting(packed, session) is None, keys


#: What a terminal sends for a key.
SENT = {
    "down": "\x1b[B",
    "up": "\x1b[A",
    "enter": "\r",
    "left": "\x1b[D",
    "colon": ":",
    "end": "\x1b[F",
    "f10": "\x1b[21~",
}
PACKETS = (
    ["b", "down", "enter", "down"],
    ["colon", *"basel", "enter", "down", "enter", "up"],
    ["f", *"chainstay", "enter", *"435", "enter", "down", "2", "1"],
    ["o", "down", "down", "enter", "up", "up", "u"],
    ["down", "q", "q", "down", "D", "q", "up"],
    ["enter", *"36", "enter", "left", "a", "f10", "3", "f", "f10", "1"],
)


@pytest.mark.long(cases=0)
@pytest.mark.parametrize(
    "keys", PACKETS[: long_run(len(PACKETS) * 2)], ids=lambda keys: "".join(key[0] for key in keys)
)
def test_a_packet_from_a_terminal_does_what_its_keys_do(keys: list[str], shelf: Path) -> None:
    ends: list[str] = []
    for packet in (False, True):
        env = {"PYTHONPATH": str(ROOT / "src"), "XDG_STATE_HOME": str(shelf.parent / "state")}
        with Term(["cogwright", str(fresh(shelf))], env=env, forks=run_bench) as term:
            term.wait_for("quit")
            sent = [SENT.get(key, key) for key in keys]
            for part in ["".join(sent)] if packet else sent:
                term.press(part, quiet=0.2, limit=3)
            settled(term, ends)
    assert ends[0] == ends[1]


def settled(term: Term, ends: list[str]) -> None:
    """Note the screen once nothing more comes to it, or what is to be there has come."""
    before, since, begun = "", time.monotonic(), time.monotonic()
    while time.monotonic() < begun + 30.0 and not (before and before in ends):
        if term.text != before:
            before, since = term.text, time.monotonic()
        elif time.monotonic() > since + (20.0 if ends else 1.0):
            break
        term.read(0.1, 1.0)
    ends.append(before)
