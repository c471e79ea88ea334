"""Pointing: sprockets, views, keys in a foot, rows, scroll bars and the wheel, and text that is marked."""

import shutil
from pathlib import Path

import pytest
from screens import dealt_with, is_open, text
from textual import events
from textual.pilot import Pilot

from cogwright.app.main import BenchApp
from support import ROOT

SIZE = (80, 24)


@pytest.fixture
def app(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> BenchApp:
    """The app on the demo, a state folder of its own."""
    for name in ("XDG_STATE_HOME", "XDG_CONFIG_HOME"):
        monkeypatch.setenv(name, str(tmp_path / "state"))
    monkeypatch.setenv("LANG", "C.UTF-8")
    shutil.copytree(ROOT / "setups", tmp_path / "setups")
    return BenchApp([tmp_path / "setups"])


def place(app: BenchApp, words: str, last: bool = False) -> tuple[int, int]:
    """A cell inside of words on the screen: column and row."""
    found = [(row.index(words), y) for y, row in enumerate(text(app).splitlines()) if words in row]
    x, y = found[-1 if last else 0]
    return x + len(words) // 2, y


async def wheel(
    app: BenchApp, pilot: Pilot[int], at: tuple[int, int], down: bool = True, notches: int = 1
) -> None:
    """So many notches of the wheel over a cell."""
    kind = events.MouseScrollDown if down else events.MouseScrollUp
    x, y = at
    for _ in range(notches):
        app.post_message(kind(None, x, y, 0, 1 if down else -1, 0, False, False, False, x, y))
        await dealt_with(app)  # several that wait would be one
    await pilot.pause()


async def test_a_click_picks_a_sprocket_and_beside_them_nothing(app: BenchApp) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await pilot.click(offset=place(app, " 15 "))
        assert app.store.session.cursor.teeth == 15
        await pilot.click(offset=place(app, "rings"))
        assert app.store.session.cursor.teeth == 15
        await pilot.click(offset=place(app, " 36 "))
        assert app.store.session.cursor.where == "ring"


async def test_a_click_on_its_name_opens_a_view(app: BenchApp) -> None:
    async with app.run_test(size=SIZE) as pilot:
        for name, number in (("Figures", 2), ("Order", 6), ("Gears", 1)):
            await pilot.click(offset=place(app, name))
            assert app.store.session.view == number
            assert f"[{number} {name}]" in text(app)
            await pilot.press("o")
            await pilot.click(offset=place(app, "Fit"))  # a list keeps the mouse off what is below it
            assert app.store.session.view == number
            await pilot.press("f10")


async def test_keys_in_the_foot_can_be_clicked(app: BenchApp) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("down")
        await pilot.click(offset=place(app, "undo"))
        assert not app.store.session.history.past
        await pilot.click(offset=place(app, "help"))
        assert " Help - type what you look for" in text(app)
        await pilot.click(offset=place(app, "back", last=True))
        assert not is_open(app)
        await pilot.press("N")
        await pilot.click(offset=place(app, "back", last=True))
        assert not is_open(app)


@pytest.mark.long(cases=0)
async def test_a_question_is_answered_by_a_click(app: BenchApp) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("down", "n")
        await pilot.click(offset=place(app, "empty start"))
        assert "Not saved yet" in text(app)
        await pilot.click(offset=place(app, "discard the changes"))
        assert app.store.session.bench.name == "New setup"


@pytest.mark.long(cases=0)
async def test_a_click_on_a_row_takes_it(app: BenchApp) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("o")
        await pilot.click(offset=place(app, "Yard 2"))
        assert not is_open(app)
        assert app.store.session.bench.name.startswith("Yard 2")


async def test_the_wheel_scrolls_what_lies_under_it(app: BenchApp) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("3")
        await wheel(app, pilot, (10, 12))
        assert app.store.session.top == 3
        await wheel(app, pilot, (10, 12), down=False)
        assert app.store.session.top == 0
        await pilot.press("f")
        listed = text(app)
        await wheel(app, pilot, place(app, "wheel.size"))
        assert app.store.session.top == 0
        assert app.store.session.open.top == 3
        assert app.store.session.open.at == 3  # the mark stays in sight
        assert text(app) != listed
        await wheel(app, pilot, (10, 1))
        assert app.store.session.open.top == 3


@pytest.mark.long(cases=0)
async def test_the_wheel_scrolls_help_and_never_past_its_ends(app: BenchApp) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("question_mark")
        await wheel(app, pilot, (10, 12), down=False)
        assert app.store.session.open.top == 0
        await wheel(app, pilot, (10, 12), notches=60)
        end = app.store.session.open.top
        assert "rollout" in text(app)  # the last word
        await pilot.press(*["pagedown"] * 20)
        assert app.store.session.open.top == end


@pytest.mark.long(cases=0)
async def test_a_press_beside_the_thumb_turns_a_page(app: BenchApp) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("3")
        bar = app.query_one("#view").vertical_scrollbar.region
        await pilot.click(offset=(bar.x, bar.bottom - 1))
        paged = app.store.session.top
        await pilot.press("home", "pagedown")
        assert app.store.session.top == paged > 3


@pytest.mark.long(cases=0)
async def test_the_wheel_and_a_press_beside_the_thumb_turn_a_text_that_is_read(app: BenchApp) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("H", "enter")
        sheet = app.screen.query_one("#sheet-text")
        region = sheet.region
        await wheel(app, pilot, (region.x + 4, region.y + 2), notches=3)
        wheeled = app.store.session.open.top
        assert wheeled > 0
        bar = sheet.vertical_scrollbar.region
        await pilot.click(offset=(bar.x, bar.bottom - 1))
        assert app.store.session.open.top > wheeled
        await pilot.click(offset=(bar.x, bar.y))
        assert app.store.session.open.top < wheeled + region.height


@pytest.mark.long(cases=0)
async def test_the_thumb_can_be_drawn_along(app: BenchApp) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("3")
        bar = app.query_one("#view").vertical_scrollbar.region
        await pilot.mouse_down(offset=(bar.x, bar.y))
        await pilot.hover(offset=(bar.x, bar.bottom - 1))
        await pilot.mouse_up(offset=(bar.x, bar.bottom - 1))
        drawn = app.store.session.top
        await pilot.press("end")
        assert drawn == app.store.session.top > 0


async def test_marked_text_is_copied_and_without_any_the_key_quits(app: BenchApp) -> None:
    async with app.run_test(size=SIZE) as pilot:
        row = next(y for y, line in enumerate(text(app).splitlines()) if line.startswith(" 36x36"))
        await pilot.mouse_down(offset=(1, row))
        await pilot.hover(offset=(5, row))
        await pilot.mouse_up(offset=(5, row))
        await pilot.press("ctrl+c")
        assert app.clipboard == "36x36"
        assert "1 line sent to the terminal's clipboard" in text(app)
        await pilot.click(offset=(40, row))
        await pilot.press("down", "ctrl+c")
        assert "Not saved yet" in text(app)


@pytest.mark.long(cases=0)
async def test_text_marked_across_parts_of_the_screen_comes_in_their_order(app: BenchApp) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await pilot.mouse_down(offset=(1, 2))
        await pilot.hover(offset=(20, 8))
        await pilot.mouse_up(offset=(20, 8))
        await pilot.press("ctrl+c")
        lines = app.clipboard.splitlines()
        assert lines[0].startswith("cogs ")
        assert any(line.startswith(" 36x45") for line in lines)


@pytest.mark.long(cases=0)
async def test_what_can_be_done_with_marked_text_is_said_and_any_other_key_lets_it_go(app: BenchApp) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await pilot.mouse_down(offset=(1, 0))
        await pilot.hover(offset=(5, 0))
        await pilot.mouse_up(offset=(5, 0))
        await pilot.pause()
        assert "Marked: Ctrl+C copies it." in text(app)
        await pilot.press("left")
        assert not app.screen.selections
