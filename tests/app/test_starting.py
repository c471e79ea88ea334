"""Where there is nothing to open, and files that lie elsewhere."""

from pathlib import Path
from shutil import copytree

import pytest
from screens import is_open, text, words
from textual import events
from textual.pilot import Pilot

from cogwright.app.main import BenchApp
from support import ROOT

SIZE = (120, 30)


@pytest.fixture
def empty(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A folder with nothing in it, and a state folder of its own."""
    monkeypatch.setenv("XDG_STATE_HOME", str(tmp_path / "state"))
    folder = tmp_path / "mine"
    folder.mkdir()
    return folder


async def typed(app: BenchApp, pilot: Pilot[int], text: str) -> None:
    for char in text:
        app.post_message(events.Key(char, char))
    await pilot.pause()


async def test_an_empty_folder_offers_a_new_bike_the_demo_or_another_folder(empty: Path) -> None:
    app = BenchApp([empty])
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("x")  # a key that comes too soon does not count
        assert "What would you like to begin with?" in text(app)
        for word in ("a new bike, fact by fact", "the demo", "another folder", str(empty)):
            assert word.replace(" ", "") in words(app).replace(" ", "")
        await pilot.press("n")
        assert "New bike" in text(app)
        await pilot.press("escape")
        assert not is_open(app)


async def test_the_demo_is_laid_out_and_opened(empty: Path) -> None:
    app = BenchApp([empty])
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("d")
        assert app.store.session.folder == empty / "cogwright-demo"
        assert "Yard 1" in text(app)
        await pilot.press("g")
        assert "crook-hause.toml" in text(app)


@pytest.mark.long(cases=0)
async def test_another_folder_is_walked_to_and_opened(empty: Path) -> None:
    copytree(ROOT / "setups", empty.parent / "yard")
    app = BenchApp([empty])
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("f", *"up)", "enter")
        await pilot.press(*"yard", "enter", "enter")
        assert app.store.session.folder == empty.parent / "yard"
        assert "Yard 1" in text(app)


@pytest.mark.long(cases=0)
async def test_a_folder_with_setups_is_opened_without_a_word(empty: Path) -> None:
    app = BenchApp([copytree(ROOT / "setups", empty / "yard")])
    async with app.run_test(size=SIZE) as pilot:
        await pilot.pause()
        assert not is_open(app)


@pytest.mark.long(cases=0)
async def test_a_course_and_a_bin_by_any_path(empty: Path) -> None:
    """Walked to in folders, or typed; the folder that is missing is named in full and made on request."""
    elsewhere = copytree(ROOT / "setups", empty.parent / "yard")
    (empty / "one.toml").write_text((elsewhere / "yard-7-pass.toml").read_text())
    app = BenchApp([empty])
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("g")
        assert f"Thereisnofolder{empty}/coursesyet." in words(app).replace(" ", "")
        await pilot.press("m")
        assert (empty / "courses").is_dir()
        await pilot.press("g", "f")
        await typed(app, pilot, f"{elsewhere}/courses/crook")
        await pilot.press("enter")
        assert app.store.session.course is not None
        assert app.store.session.course.name.startswith("Crook Hause")
        await pilot.press("B", "f")
        await typed(app, pilot, f"{elsewhere}/bins/")
        await pilot.press("enter")
        assert app.store.session.stock is not None
        assert app.store.session.stock.name == "Hollin Yard drawers"


@pytest.mark.long(cases=0)
async def test_a_course_that_is_chosen_elsewhere_stands_below_those_of_the_folder(empty: Path) -> None:
    app = BenchApp([copytree(ROOT / "setups", empty / "yard")])
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("g", *"elsewhere", "enter")
        assert "a path can be typed" in text(app)
        assert "saddlebeck.toml" in text(app)
        await typed(app, pilot, "/nowhere/at/all")
        assert "there is no such file or folder here" in text(app)
        await pilot.press("enter")
        assert is_open(app)
        await pilot.press("f10")
        assert not is_open(app)
