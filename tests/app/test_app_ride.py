"""The Ride and Shifting views by keys: a course, the rider's table, the drill."""

import shutil
from pathlib import Path

import pytest
from screens import is_open, text

from cogwright.app.main import BenchApp
from cogwright.core.riding.grades import ride_of
from cogwright.core.shifting.shift_order import shift_order_of
from support import ROOT


@pytest.fixture
def app(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> BenchApp:
    """The app on a demo bike with two rings, a state folder of its own."""
    monkeypatch.setenv("XDG_STATE_HOME", str(tmp_path / "state"))
    monkeypatch.setenv("LANG", "C.UTF-8")
    shutil.copytree(ROOT / "setups", tmp_path / "setups")
    return BenchApp([tmp_path / "setups" / "yard-7-pass.toml"])


async def test_a_course_is_chosen_and_ridden(app: BenchApp) -> None:
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("g", *"crook", "enter")
        await pilot.pause()
        assert app.store.session.view == 4
        assert app.store.session.course is not None
        assert "Crook Hause" in text(app)
        assert "front+rear" in text(app)
        await pilot.press("g", *"no", "enter")
        await pilot.pause()
        assert app.store.session.course is None


async def test_a_course_that_cannot_be_read_says_so(app: BenchApp, tmp_path: Path) -> None:
    (tmp_path / "setups" / "courses" / "aaa.toml").write_text("format = 1\nname = 7\n")
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("g", "enter")
        await pilot.pause()
        assert "cannot be read" in text(app)
        assert app.store.session.course is None


async def test_the_rider_is_edited_in_the_table_and_undone(app: BenchApp) -> None:
    async with app.run_test(size=(80, 24)) as pilot:
        before = app.store.session.bench.rider
        grade = ride_of(app.store.session.study).steepest_pct
        await pilot.press("w", "right", "right")
        assert app.store.session.bench.rider.mass_kg > before.mass_kg
        assert ride_of(app.store.session.study).steepest_pct < grade  # the heavier, the less steep
        assert is_open(app)
        await pilot.press("down", "down", "down", "enter", "ctrl+u", *"300", "enter")
        assert app.store.session.bench.rider.power_w == 300
        assert is_open(app)
        await pilot.press("q", "u", "u", "u")
        assert app.store.session.bench.rider == before


@pytest.mark.long(cases=0)
async def test_a_rider_that_cannot_be_is_refused_and_the_table_stays(app: BenchApp) -> None:
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("w", "enter", "ctrl+u", *"9999", "enter")
        assert is_open(app)
        assert app.store.session.bench.rider.mass_kg < 250
        await pilot.press("ctrl+u", *"heavy", "enter")
        await pilot.pause()
        assert "Type a number" in text(app)


@pytest.mark.long(cases=0)
async def test_the_drill_keeps_score(app: BenchApp) -> None:
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("d")
        await pilot.pause()
        for _ in range(4):
            await pilot.press(*_answer(app), "enter")
        await pilot.pause()
        assert "4 of 4 right" in text(app)
        await pilot.press("right", "backspace", "q")
        assert not is_open(app)


def _answer(app: BenchApp) -> list[str]:
    """The keys that the Shifting view's own order calls for."""
    asked = text(app)
    label = asked.split("In ")[1].split(":")[0]
    moves = shift_order_of(app.store.session.study).moves
    at = next(i for i, move in enumerate(moves) if move.gear.label == label)
    harder = "next harder" in asked
    move = moves[at + 1] if harder else moves[at]
    front, rear = (move.front, move.rear_clicks) if harder else (-move.front, -move.rear_clicks)
    return ["up" if front > 0 else "down"] * abs(front) + ["right" if rear > 0 else "left"] * abs(rear)


@pytest.mark.long(cases=0)
async def test_the_foot_names_what_the_view_has_of_its_own(app: BenchApp) -> None:
    async with app.run_test(size=(80, 24)) as pilot:
        for view, words in (("4", "g course  w rider"), ("5", "d drill"), ("2", "> sort"), ("6", "B bin")):
            await pilot.press(view)
            await pilot.pause()
            assert words in text(app).splitlines()[-1]
            assert "q quit" in text(app).splitlines()[-1]
        await pilot.press("1")
        await pilot.pause()
        assert "course" not in text(app).splitlines()[-1]


@pytest.mark.long(cases=0)
async def test_an_edit_of_the_rider_is_said_in_words_and_the_totals_stay_in_sight(app: BenchApp) -> None:
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("g", *"crook", "enter", "pagedown", "w", "down", "down", "down", "right")
        await pilot.pause()
        assert "sustained power 225 W." in text(app)
        assert " bench " in text(app)
        assert "grinding" in text(app)
        await pilot.press("q", "u")
        await pilot.pause()
        assert "Undone: sustained power 225 W." in text(app)


async def test_pages_are_turned_however_low_the_screen(app: BenchApp) -> None:
    async with app.run_test(size=(40, 10)) as pilot:
        await pilot.press("4", "pagedown")
        await pilot.pause()
        assert app.store.session.top > 0
        await pilot.press("pageup")
        await pilot.pause()
        assert app.store.session.top == 0


@pytest.mark.long(cases=0)
async def test_a_position_is_chosen_by_its_name(app: BenchApp) -> None:
    """Bicycling Science, table (grade A): upright 0.632 m2."""
    async with app.run_test(size=(80, 24)) as pilot:
        before = app.store.session.bench.rider
        await pilot.press("w", *["down"] * 14, "enter")
        assert "0.632 m2  upright, in street clothes" in text(app)
        await pilot.press("home", "enter")
        assert app.store.session.bench.rider.cda_m2 == 0.632
        assert "Rider, bike and road" in text(app)
        await pilot.press("enter", "end", "enter", "ctrl+u", *"0,5", "enter")
        assert app.store.session.bench.rider.cda_m2 == 0.5
        await pilot.press("enter", "escape")
        assert "Rider, bike and road" in text(app)
        await pilot.press("q", "u", "u")
        assert app.store.session.bench.rider == before


@pytest.mark.long(cases=0)
async def test_the_drill_has_only_the_shifters_that_there_are(app: BenchApp) -> None:
    """A front lever on a single ring, or a hub's on a derailleur bike, must not spoil an answer."""
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("d", "pageup", "up", "up", "down", "down")
        await pilot.pause()
        assert "your shift: none yet" in text(app)
        assert "hub" not in text(app)
        assert "Up Down front" in text(app)
