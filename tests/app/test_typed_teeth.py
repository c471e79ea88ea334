"""Digits: teeth of a sprocket that is picked, views where none is."""

from pathlib import Path

import pytest
from screens import is_open, rows, text

from cogwright.app.main import BenchApp

SETUP = """format = 1
name = "Bench test"
[wheel]
size = "40-622"
[crank]
rings = [30, 46]
[rear]
cogs = [11, 13, 15, 17, 19, 21, 24, 28]
"""


@pytest.fixture
def app(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> BenchApp:
    """A bike of two rings, and a state folder of its own."""
    monkeypatch.setenv("XDG_STATE_HOME", str(tmp_path / "state"))
    (tmp_path / "one.toml").write_text(SETUP)
    return BenchApp([tmp_path])


async def test_digits_on_a_picked_sprocket_are_its_teeth(app: BenchApp) -> None:
    async with app.run_test(size=(80, 24)) as pilot:
        assert "[28]" in rows(app)[2]
        await pilot.press("left")
        assert "<24>" in rows(app)[2]
        assert "0-9 teeth" in rows(app)[-1]
        await pilot.press("2", "3", "enter")
        assert app.store.session.bench.rear.cogs == (11, 13, 15, 17, 19, 21, 23, 28)
        assert "[23]" in rows(app)[2]


@pytest.mark.long(cases=1)
@pytest.mark.parametrize("view", [1, 2, 3, 4, 5, 6])
async def test_the_rule_is_the_same_in_every_view(app: BenchApp, view: int) -> None:
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press(str(view), "tab", "4", "4", "enter")
        assert app.store.session.bench.crank.rings == (30, 44)
        assert app.store.session.view == view
        await pilot.press("3")
        assert app.store.session.view == 3


@pytest.mark.long(cases=0)
@pytest.mark.parametrize(
    "done", [("up",), ("down", "up"), ("x",), ("escape",), ("f10",), ("o", "f10"), ("a", "escape")]
)
async def test_after_anything_is_done_digits_are_views_again(app: BenchApp, done: tuple[str, ...]) -> None:
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("left")
        assert "2 Figures" not in text(app)  # a digit would be no view now, so none is shown as one
        await pilot.press(*done)
        assert "2 Figures" in text(app)
        await pilot.press("2")
        assert app.store.session.view == 2
        assert not is_open(app)


@pytest.mark.long(cases=0)
async def test_a_typed_count_that_is_left_changes_nothing_and_can_be_typed_again(app: BenchApp) -> None:
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("left", "9", "9", "9", "enter")
        assert "6 to 130" in text(app)
        await pilot.press("escape", "2", "2", "enter")
        assert app.store.session.bench.rear.cogs == (11, 13, 15, 17, 19, 21, 22, 28)


async def test_what_is_typed_replaces_a_suggestion(app: BenchApp) -> None:
    """`a` suggests the next tooth count; a digit is the beginning of another one, not its third figure."""
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("a")
        assert "in its place" in rows(app)[-1]
        await pilot.press("3", "2", "enter")
        assert app.store.session.bench.rear.cogs[-2:] == (28, 32)


async def test_an_arrow_goes_into_a_suggestion(app: BenchApp) -> None:
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("N", "end", "s", "enter")
        assert app.store.session.bench.name == "Bench tests"
        await pilot.press("N", "backspace", "N", "o", "w", "enter")
        assert app.store.session.bench.name == "Now"


@pytest.mark.long(cases=0)
@pytest.mark.parametrize("written", ["32 36", "32-36", "32,36", "32/36", "[32, 36]"])
async def test_several_cogs_are_added_at_once_however_they_are_written(app: BenchApp, written: str) -> None:
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("a", *written, "enter")
        assert app.store.session.bench.rear.cogs[-3:] == (28, 32, 36)
        await pilot.press("u")
        assert app.store.session.bench.rear.cogs[-1] == 28
