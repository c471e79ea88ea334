"""Random keys and resizes from one seed: no exception, flat memory, and undo leads back."""

import random
import shutil
from pathlib import Path
from typing import Any

import pytest
from screens import is_open
from textual import events
from textual.geometry import Size

from cogwright.app.actions import ACTIONS
from cogwright.app.main import BenchApp
from cogwright.app.state.session import Session
from cogwright.app.state.work import Work
from cogwright.core.setup.model import Setup
from support import ROOT, long_run

KEYS, BURST, SEED = long_run(10_000), 60, 20261125
SIZES = ((20, 5), (40, 12), (80, 24), (120, 36), (200, 60), (33, 9))
TYPED = [*"0123456789[],.-a ", "enter", "escape", "backspace", "f10", "up", "down"]


class Caged(BenchApp):
    """The app, which does not leave."""

    def exit(self, *args: Any, **kwargs: Any) -> None:
        """Stay."""


class Beginnings:
    """What the history of each setup on the bench began with, the last one's at the end."""

    def __init__(self, monkeypatch: pytest.MonkeyPatch) -> None:
        self.seen: list[Setup] = []
        begun = Session.begun

        def noted(session: Session, work: Work, message: str = "") -> Session:
            self.seen.append(work.history.first)
            return begun(session, work, message)

        monkeypatch.setattr(Session, "begun", noted)


def rss_mb() -> float:
    with open("/proc/self/statm", encoding="ascii") as file:
        return int(file.read().split()[1]) * 4096 / 1e6


@pytest.mark.long
async def test_random_keys(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("XDG_STATE_HOME", str(tmp_path / "state"))
    monkeypatch.setenv("XDG_CONFIG_HOME", str(tmp_path / "config"))
    monkeypatch.setenv("LANG", "C.UTF-8")
    monkeypatch.chdir(tmp_path)
    shutil.copytree(ROOT / "setups", tmp_path / "shelf")
    chance = random.Random(SEED)
    bound = [key for action in ACTIONS for key in action.keys if action.id != "export"]
    edits = ["up", "down", "left", "right", "tab", "x", "u", "r", "plus", "minus"]
    app = Caged([tmp_path / "shelf"])
    began = Beginnings(monkeypatch)
    began.seen.append(app.store.session.bench)
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("up")
        middle = 0.0
        for number in range(0, KEYS, BURST):
            for _ in range(BURST):
                pool = chance.choices((edits, bound, TYPED), (6, 3, 2))[0]
                key = chance.choice(pool)
                app.post_message(events.Key(key, key if len(key) == 1 else None))
            if chance.random() < 0.1:
                await pilot.resize_terminal(*chance.choice(SIZES))
            await pilot.pause()
            middle = rss_mb() if number <= KEYS // 2 else middle
        assert rss_mb() - middle < 40
        await _back_to_the_start(app, pilot, began.seen[-1])


async def _back_to_the_start(app: Caged, pilot: Any, began: Setup) -> None:
    """Close what is open, then undo until nothing is left to undo."""
    for _ in range(5):
        await pilot.press("escape")
    assert not is_open(app)
    await pilot.resize_terminal(*Size(80, 24))
    assert len(app.store.session.history.past) < KEYS
    while app.store.session.history.past:
        for _ in range(50):
            app.post_message(events.Key("u", "u"))
        await pilot.pause()
    assert app.store.session.bench == began
