"""What people call an action finds it; the help is found in by typing; the first hint covers no gear."""

from pathlib import Path
from shutil import copytree

import pytest
from screens import rows, text
from textual.command import CommandList

from cogwright.app.actions import ACTIONS, BY_ID
from cogwright.app.main import BenchApp
from cogwright.app.screens.palette import ActionPalette
from support import ROOT, long_cases

SIZE = (80, 24)


@pytest.fixture
def app(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> BenchApp:
    """The demo, started for the first time."""
    monkeypatch.setenv("XDG_STATE_HOME", str(tmp_path / "state"))
    return BenchApp([copytree(ROOT / "setups", tmp_path / "setups")])


@pytest.mark.long(cases=0)
@pytest.mark.parametrize(
    ("called", "action"),
    long_cases(
        [
            ("print", {"export", "view-6"}),
            ("cost", {"view-6"}),
            ("price", {"view-6", "bin"}),
            ("mean", {"help", "view-2"}),
            ("compare", {"baseline", "baseline-mode"}),
            ("gpx", {"course"}),
            ("intake", {"new", "facts"}),
            ("stock", {"bin", "part"}),
        ],
        3,
    ),
)
async def test_the_list_of_actions_finds_what_people_call_it(
    app: BenchApp, called: str, action: set[str]
) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("colon", *called)
        assert isinstance(app.screen, ActionPalette)
        found = app.screen.query_one(CommandList)
        first = [found.get_option_at_index(at) for at in range(min(3, found.option_count))]
        assert {option.hit.text for option in first} & action  # type: ignore[attr-defined]


def test_words_for_an_action_are_of_the_registry() -> None:
    assert sum(bool(action.also) for action in ACTIONS) > 25
    assert BY_ID["course"].called("gpx")
    assert not BY_ID["course"].called("price")


async def test_the_help_is_found_in_and_fits(app: BenchApp) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("question_mark")
        assert "type to narrow" in text(app)
        await pilot.press(*"capacity")
        assert "teeth of slack that a rear derailleur takes up" in text(app)
        await pilot.press("ctrl+u", *"undo", "down")
        assert "As far back as the session goes." in text(app)


@pytest.mark.long(cases=0)
async def test_nothing_of_the_help_is_cut(app: BenchApp) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("question_mark")
        for _ in range(8):
            assert not any(row.rstrip(" \u2803\u28ff\u254e").endswith("~") for row in rows(app)[3:])
            await pilot.press("pagedown")


async def test_the_first_hint_covers_none_of_the_gears_it_talks_about(app: BenchApp) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await pilot.pause()
        hinted = [row for row in rows(app) if "pick a sprocket" in row]
        assert len(hinted) == 1
        before = [row[:6] for row in rows(app) if "x" in row[:6]]
        await pilot.press("down", "u", "escape")
        assert [row[:6] for row in rows(app) if "x" in row[:6]] == before


@pytest.mark.long(cases=0)
async def test_a_high_screen_has_the_whole_hint_below_the_gears(app: BenchApp) -> None:
    async with app.run_test(size=(80, 40)) as pilot:
        await pilot.pause()
        assert "watch the bars" in text(app)


async def test_a_message_takes_no_row_from_the_view_while_the_hint_stands(app: BenchApp) -> None:
    """It would be laid out anew, and sent over the line, with every move."""
    async with app.run_test(size=(120, 44)) as pilot:
        await pilot.pause()
        before = rows(app)
        assert any("watch the bars" in row for row in before)
        app.store.say("something is said")
        await pilot.pause()
        differ = [(was, now) for was, now in zip(before, rows(app), strict=True) if was != now]
        assert [(was.strip(), now.strip()) for was, now in differ] == [("", "something is said")]
