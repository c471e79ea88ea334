"""An old two-ring bike made a one-ring bike, from intake to hand-out, by keys alone: the log of the keys."""

from pathlib import Path
from shutil import copytree

import pytest
from screens import is_open, text, words
from textual import events
from textual.pilot import Pilot

from cogwright.app.main import BenchApp
from cogwright.core.fit.check import Status
from cogwright.store.documents import read_setup
from support import ROOT

#: Each step with its keys; a word stands for its letters.
LOG = {
    "a new bike": ("n",),
    "its name": ("Mill", "enter"),
    "tyre": ("700x40C", "enter"),
    "rings": ("28 42", "enter"),
    "cogs, a cassette of the bin": ("11-30", "enter"),
    "clicks, one a cog": ("enter",),
    "chainstay": ("440", "enter"),
    "chain": ("108", "enter"),
    "derailleur": ("42", "enter", "enter", "35", "enter", "escape"),
    "saved as it came in": ("s", "enter"),
    "and compared with that": ("b", "saved", "enter"),
    "one ring": ("tab", "left", "x", "enter", "36", "enter"),
    "a larger cog": ("left", "42", "enter"),
    "what mends the jump": ("p", "e"),
    "out of all tooth counts": ("a",),
    "the best of it": ("enter",),
    "what the fit says": ("3",),
    "the order": ("6",),
    "the hand-out": ("e", "enter"),
    "saved beside it": ("s", "n", "enter"),
}
_SINGLE = {"enter", "escape", "left", "right", "tab", "up", "down"}


def letters(keys: tuple[str, ...]) -> list[str]:
    """The keys one by one."""
    return [one for key in keys for one in ([key] if key in _SINGLE else key)]


async def press(app: BenchApp, pilot: Pilot[int], step: str) -> None:
    for key in letters(LOG[step]):
        app.post_message(events.Key(key, key if len(key) == 1 else None))
    await pilot.pause()


@pytest.fixture
def shop(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A folder of one's own with a parts bin in it and no bike, and a state folder of its own."""
    monkeypatch.setenv("XDG_STATE_HOME", str(tmp_path / "state"))
    monkeypatch.chdir(tmp_path)
    copytree(ROOT / "setups" / "bins", tmp_path / "mine" / "bins")
    return tmp_path / "mine"


def problems(app: BenchApp) -> set[str]:
    return {check.check for check in app.store.session.study.fit if check.status is Status.PROBLEM}


def test_the_whole_job_takes_under_150_keys() -> None:
    assert sum(len(letters(keys)) for keys in LOG.values()) < 150


async def test_the_keys_do_the_job(shop: Path) -> None:
    app = BenchApp([shop])
    steps = iter(LOG)

    async with app.run_test(size=(80, 24)) as pilot:

        async def until(last: str) -> None:
            for step in steps:
                await press(app, pilot, step)
                if step == last:
                    return

        await until("derailleur")
        assert not is_open(app)
        assert app.store.session.bench.rear.cogs == (11, 12, 13, 15, 17, 19, 21, 24, 27, 30)
        await until("saved as it came in")
        assert read_setup(shop / "mill.toml").value.crank.rings == (28, 42)
        await until("one ring")
        assert app.store.session.bench.crank.rings == (36,)
        # 36 / 42 is 14.3 % less on the same cog
        assert "14.3 % lower" in text(app)
        await until("a larger cog")
        # 42/27 is a step of 55.6 %, by hand
        assert app.store.session.study.summary.worst_rear_step_pct == pytest.approx(100 * (42 / 27 - 1))
        assert "jump" in text(app)
        assert "chain length" in problems(app)
        for step in ("what mends the jump", "out of all tooth counts"):
            await until(step)
            await app.workers.wait_for_complete()
            await pilot.pause()
        await until("the best of it")
        # ten cogs from 11 to 42 have nine steps: the largest is no less than the ninth root of 42/11, by hand
        even = 100 * ((42 / 11) ** (1 / 9) - 1)
        assert even <= app.store.session.study.summary.worst_rear_step_pct < even + 4
        assert app.store.session.bench.rear.cogs[-1] == 42
        await until("what the fit says")
        # 2 * 440 / 12.7 + (36 + 42) / 2 is 108.3 pitches; two more, to an even number: 112
        assert "chain" in words(app)
        assert app.store.session.bench.chain.links == 112, "the proposal brings its chain"
        assert "chain length" not in problems(app)
        await until("the order")
        assert "Order sheet" in text(app)
        await until("the hand-out")
        (sheet,) = shop.parent.glob("mill-order*.txt")
        assert "36" in sheet.read_text()
        await until("saved beside it")
        document = app.store.session.document
        assert document is not None
        assert read_setup(document.path).value == app.store.session.bench
        assert document.path.name != "mill.toml"
        assert read_setup(shop / "mill.toml").value.crank.rings == (28, 42), "as it came in"
        assert not app.store.session.edited
