"""One way back: the same key leaves everything that can stand open, and every foot says so alike."""

from pathlib import Path
from shutil import copytree

import pytest
from screens import is_open, words

from cogwright.app.main import BenchApp
from cogwright.app.state.opened import ActionSearch
from support import ROOT, long_cases, long_spread

#: Keys that open something, with what they open; lists within lists too.
OPENING = {
    "add": ("a",),
    "baseline": ("b",),
    "baseline by its path": ("b", *"elsewhere", "enter"),
    "bin": ("B",),
    "bin's parts": ("I",),
    "bin elsewhere": ("B", "down", "enter"),
    "cassette": ("c",),
    "climb": ("h",),
    "climb figure": ("h", "enter"),
    "course": ("g",),
    "delete": ("D",),
    "drill": ("d",),
    "export": ("e",),
    "facts": ("f",),
    "facts in a form": ("F",),
    "folder": ("E",),
    "help": ("question_mark",),
    "limits": ("p", "l"),
    "name": ("N",),
    "new": ("n",),
    "part": ("i",),
    "proposals": ("p",),
    "reasons": ("p", "s", "w"),
    "rider": ("w",),
    "rider figure": ("w", "enter"),
    "rides": ("G",),
    "rides elsewhere": ("G", "end", "up", "enter"),
    "save as": ("S",),
    "shelf": ("o",),
    "teeth": ("enter",),
    "unsaved": ("down", "q"),
}


@pytest.fixture
def app(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> BenchApp:
    """The demo, and a state folder of its own."""
    monkeypatch.setenv("XDG_STATE_HOME", str(tmp_path / "state"))
    return BenchApp([copytree(ROOT / "setups", tmp_path / "setups")])


@pytest.mark.long
@pytest.mark.parametrize("back", long_cases(["escape", "f10"], 1))
async def test_one_key_leaves_everything_and_every_foot_says_so(app: BenchApp, back: str) -> None:
    async with app.run_test(size=(80, 24)) as pilot:
        for name, keys in long_spread([*OPENING.items()], 5):
            before = app.store.session.bench
            await pilot.press(*keys)
            await pilot.pause()
            deep = len(app.store.session.over)
            assert deep, name
            for _ in range(deep):
                assert "Esc F10 back" in words(app), name
                await pilot.press(back)
            assert not is_open(app), name
            assert app.is_running, name
            if name == "unsaved":
                await pilot.press("u")
            assert app.store.session.bench == before, name


@pytest.mark.long(cases=1)
@pytest.mark.parametrize("back", ["escape", "f10"])
async def test_the_list_of_actions_is_left_by_the_same_key(app: BenchApp, back: str) -> None:
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("colon")
        assert isinstance(app.store.session.open, ActionSearch)
        assert "Esc F10 back" in words(app)
        await pilot.press(back)
        assert not is_open(app)
