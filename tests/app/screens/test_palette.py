"""The palette: it finds actions by some of their letters, shows their keys, and does what is chosen."""

from pathlib import Path

import pytest
from screens import is_open, text
from textual.command import CommandList

from cogwright.app.actions import ACTIONS
from cogwright.app.main import BenchApp
from cogwright.present.lines import UNICODE
from cogwright.store.documents import to_toml
from support import make

SIZE = (80, 40)


@pytest.fixture
def app(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> BenchApp:
    """The app on one setup, a state folder of its own."""
    for name in ("XDG_STATE_HOME", "XDG_CONFIG_HOME"):
        monkeypatch.setenv(name, str(tmp_path / "state"))
    monkeypatch.setenv("LANG", "C.UTF-8")
    (tmp_path / "a.toml").write_text(to_toml(make([30, 46], [11, 13, 15, 17, 19, 21, 24])))
    return BenchApp([tmp_path / "a.toml"])


def found(app: BenchApp) -> list[str]:
    """The names in the list, with their keys."""
    names = {action.name for action in ACTIONS}
    rows = [row.strip(f" {UNICODE.thumb}{UNICODE.track}{UNICODE.bullet}") for row in text(app).splitlines()]
    return [row for row in rows if row.rpartition("   ")[0] in names]


async def test_letters_in_their_order_find_an_action_and_its_key_is_shown(app: BenchApp) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("colon")
        assert "pick the sprocket to the left   Left" in found(app)
        await pilot.press(*"svas")
        assert "save under another name   S" in found(app)
        await pilot.press("ctrl+u", *"undo")
        assert found(app)[0] == "undo   u"
        await pilot.press("ctrl+u", *"hills")  # stands in what is said of the view alone
        assert found(app) == ["Ride   4"]


@pytest.mark.long(cases=0)
async def test_what_is_chosen_is_done(app: BenchApp) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("down", "colon", *"undo", "enter")
        assert not is_open(app)
        assert not app.store.session.history.past
        assert "Undone: cog 24 to 23." in text(app)
        await pilot.press("colon", *"figu", "down", "up", "enter")
        assert app.store.session.view == 2
        await pilot.press("colon", *"delete the", "enter")
        assert "Delete a.toml?" in text(app)


@pytest.mark.long(cases=0)
async def test_what_no_action_is_called_does_nothing_until_it_is_left(app: BenchApp) -> None:
    async with app.run_test(size=SIZE) as pilot:
        before = app.store.session.work
        await pilot.press("colon", *"zz", "enter", "down", "enter")
        assert "no action is called that" in text(app)
        assert is_open(app)
        await pilot.press("f10")
        assert not is_open(app)
        assert app.store.session.work == before


@pytest.mark.long(cases=1)
@pytest.mark.parametrize("key", ["pageup", "pagedown"])
async def test_a_list_without_room_has_no_pages(app: BenchApp, key: str) -> None:
    """So it is between two drawings, when what was found has changed."""
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("colon")
        found = app.screen.query_one(CommandList)
        found.display = False
        await pilot.pause()
        found.clear_options().add_options(["one", "other"])
        found.highlighted = 0
        await pilot.press(key)
        assert found.highlighted == 0


@pytest.mark.long(cases=0)
@pytest.mark.parametrize("leave", ["escape", "f10"])
async def test_it_can_be_left_and_opened_again_at_once(leave: str, app: BenchApp) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("colon", *"sav", leave, "colon", *"undo", leave, "down")
        assert not is_open(app)
        assert app.store.session.cursor.teeth == 23


@pytest.mark.long(cases=0)
async def test_a_click_chooses_and_one_beside_it_leaves(app: BenchApp) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("down", "colon", *"undo")
        await pilot.pause()
        await pilot.click("CommandList", offset=(5, 0))
        await pilot.pause()
        assert not is_open(app)
        assert not app.store.session.history.past
        await pilot.press("colon")
        await pilot.click(offset=(40, 0))
        await pilot.pause()
        assert not is_open(app)
        await pilot.press("down")
        assert app.store.session.cursor.teeth == 23
