"""The main job by keys: swap a cog, see what is lost, undo, save."""

from pathlib import Path

import pytest
from screens import is_open, text, words
from textual import events
from textual.pilot import Pilot

from cogwright.app.actions import ACTIONS
from cogwright.app.controllers.registry import CONTROLLERS, load
from cogwright.app.main import BenchApp
from cogwright.core.setup.model import Setup
from cogwright.options import Options
from cogwright.store.documents import read_setup

TWO_BY = """format = 1
name = "Bench test, two rings"
[wheel]
size = "40-622"
[crank]
rings = [30, 46]
[rear]
cogs = [11, 13, 15, 17, 19, 21, 23, 25, 28, 31, 34]
carriers = [[28, 31, 34]]
"""


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A folder with one setup, and a state folder of its own."""
    monkeypatch.setenv("XDG_STATE_HOME", str(tmp_path / "state"))
    monkeypatch.setenv("LANG", "C.UTF-8")
    shelf = tmp_path / "shelf"
    shelf.mkdir()
    (shelf / "two.toml").write_text(TWO_BY)
    return shelf


def cogs(app: BenchApp) -> tuple[int, ...]:
    return app.store.session.bench.rear.cogs


async def type_text(app: BenchApp, pilot: Pilot[int], typed: str) -> None:
    """Keys all at once, as a quick hand types: the pilot waits after each."""
    for char in typed:
        app.post_message(events.Key(char, char))
    await pilot.pause()


def test_every_action_has_a_controller() -> None:
    load()
    assert {action.id for action in ACTIONS} == set(CONTROLLERS)


async def test_a_cog_is_swapped_and_lost_range_shows(folder: Path) -> None:
    app = BenchApp([folder])
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("up", "up", "down", "up")
        assert cogs(app)[-1] == 36
        await pilot.press("left", "left", "x", "right", "x", "x")
        assert cogs(app)[-1] == 25
        assert "unsaved" in text(app)
        assert app.store.session.study.comparison is not None
        assert app.store.session.study.comparison.low_change_pct == pytest.approx(100 * (34 / 25 - 1))
        assert "36.0 % harder" in text(app)
        await pilot.press(*"uuuuuuu")
        assert cogs(app)[-1] == 34
        assert "unsaved" not in text(app)


async def test_save_writes_the_file_and_keeps_the_version_before(folder: Path) -> None:
    app = BenchApp([folder])
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("left", "left", "down", "s", "w")
        assert read_setup(folder / "two.toml").value.rear.cogs[-3] == 27
        assert "28" in (folder / "two.toml~").read_text()


async def test_leaving_with_unsaved_work_asks(folder: Path) -> None:
    app = BenchApp([folder])
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("down", "q")
        assert is_open(app)
        await pilot.press("q")
        assert not is_open(app)
        assert app.is_running
        await pilot.press("q", "d")
    assert app.return_code == 0
    assert read_setup(folder / "two.toml").value.rear.cogs[-1] == 34


async def test_a_typed_tooth_count_and_a_refused_one(folder: Path) -> None:
    app = BenchApp([folder])
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("enter", "3", "6", "enter")
        assert cogs(app)[-1] == 36
        await pilot.press("enter", "5", "enter")
        assert is_open(app)
        assert "6 to 130" in text(app)
        await pilot.press("escape")
        assert cogs(app)[-1] == 36


@pytest.mark.long(cases=0)
async def test_a_riveted_cog_says_so(folder: Path) -> None:
    app = BenchApp([folder])
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("left")
        assert "31 is riveted to 28 and 34" in text(app)


@pytest.mark.long(cases=0)
async def test_the_whole_two_by_eleven_is_reached_by_scrolling(folder: Path) -> None:
    app = BenchApp([folder])
    async with app.run_test(size=(80, 24)) as pilot:
        seen = text(app)
        for _ in range(5):
            await pilot.press("pagedown")
            seen += text(app)
        assert all(f" {ring}x{cog} " in seen for ring in (30, 46) for cog in cogs(app))
        assert " rings" in text(app)
        assert "range" in text(app)
        assert "jumps" in text(app)


@pytest.mark.long(cases=0)
async def test_the_bench_as_it_stands_becomes_the_baseline(folder: Path) -> None:
    app = BenchApp([folder])
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("down", "b", *"stands", "enter")
        comparison = app.store.session.study.comparison
        assert comparison is not None
        assert comparison.low_change_pct == 0
        setup: Setup = app.store.session.bench
        assert app.store.session.baseline is not None
        assert app.store.session.baseline.setup == setup


@pytest.mark.long(cases=0)
async def test_a_fact_of_the_wrong_size_is_refused_in_plain_words_with_its_unit(folder: Path) -> None:
    app = BenchApp([folder])
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("f", *"chainstay", "enter")
        assert "middle of bottom bracket to middle of rear axle; 200 to 1500 mm" in text(app)
        await pilot.press(*"99", "enter")
        assert app.store.session.message == "99 is too small; give 200 to 1500 mm."
        await pilot.press("escape")
        assert app.store.session.bench.frame.chainstay_mm is None
        await pilot.press("f", *"chainstay", "enter", *"435", "enter")
        assert app.store.session.bench.frame.chainstay_mm == 435


@pytest.mark.long(cases=0)
async def test_the_shelf_says_what_is_wrong_with_a_bad_file_and_how_much(folder: Path) -> None:
    (folder / "bad.toml").write_text(TWO_BY.replace("[30, 46]", "[30, 30, 4]"))
    app = BenchApp([folder])
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("o")
        (row,) = [row for row in text(app).splitlines() if "bad.toml" in row]
        assert "! line 6: crank.rings[3]: 4 is too s" in row
        assert row.endswith("(and 1 more)")
        await pilot.press("up", "enter")
        assert "bad.toml cannot be read" in text(app)
        assert "30 teeth stand there more than once" in words(app)


async def test_keys_that_come_in_one_burst_leave_the_bench_its_keys(folder: Path) -> None:
    """A list opened and left before it could be drawn takes no key after that."""
    app = BenchApp([folder])
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.pause()
        for key in ["b", *"stands", "enter"]:
            app.post_message(events.Key(key, key if len(key) == 1 else None))
        await pilot.pause(0.1)
        assert not is_open(app)
        assert app.focused is None
        await pilot.press("b")
        assert is_open(app)


@pytest.mark.long(cases=0)
async def test_a_file_anywhere_can_be_the_baseline(folder: Path, tmp_path: Path) -> None:
    other = tmp_path / "elsewhere.toml"
    other.write_text(TWO_BY.replace("30, 46", "28, 46").replace("Bench test", "Another"))
    app = BenchApp([folder])
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("b", *"elsewhere", "enter")
        await type_text(app, pilot, str(tmp_path / "nowhere.toml"))
        await pilot.press("enter")
        assert is_open(app)
        assert "there is no such file" in text(app)
        await pilot.press("ctrl+u")
        await type_text(app, pilot, str(other))
        await pilot.press("enter")
        assert app.store.session.baseline is not None
        assert app.store.session.baseline.name == "Another, two rings"
        assert "7.1 % harder" in text(app)  # 30 for 28 teeth in front


async def test_without_a_shell_there_is_none_to_go_back_to(folder: Path) -> None:
    app = BenchApp([folder])
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("ctrl+z")
        assert "There is no shell to go back to" in text(app)


@pytest.mark.long(cases=0)
async def test_what_is_pasted_where_nothing_is_typed_is_left_out(folder: Path) -> None:
    app = BenchApp([folder])
    async with app.run_test(size=(80, 24)) as pilot:
        before = app.store.session
        for keys in ((), ("n",), ("d",), ("p",)):
            await pilot.press(*keys)
            over = app.store.session.over
            app.post_message(events.Paste("Dx\ry36\r"))
            await pilot.pause()
            assert app.store.session.message == "Nothing here takes text: what was pasted is left out.", keys
            assert app.store.session.over == over
            await pilot.press("f10")
        assert app.store.session.work == before.work


@pytest.mark.long(cases=0)
async def test_the_first_line_of_a_paste_goes_where_the_next_character_would(folder: Path) -> None:
    app = BenchApp([folder])
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("N", "home")
        app.post_message(events.Paste("On the stand: \nD\n"))
        await pilot.pause()
        await pilot.press(*"1 ", "enter")
        assert app.store.session.bench.name == "On the stand: 1 Bench test, two rings"
        await pilot.press("colon")
        app.post_message(events.Paste("undo\r"))
        await pilot.pause()
        await pilot.press("enter")
        assert app.store.session.bench.name == "Bench test, two rings"


@pytest.mark.long(cases=0)
async def test_the_library_lists_the_keys_of_the_registry(folder: Path) -> None:
    app = BenchApp([folder], Options(keys=keys_file(folder)))
    async with app.run_test(size=(80, 60)) as pilot:
        listed = {each.binding.id: each.binding for each in app.screen.active_bindings.values()}
        assert set(listed) == {action.id for action in ACTIONS}
        assert {
            each.binding.key for each in app.screen.active_bindings.values() if each.binding.id == "save"
        } == {"Z"}
        await pilot.press("K")
        await pilot.pause()
        assert "choose the parts bin" in text(app)
        await pilot.press("enter")  # a line to type has no keys but those that the foot names
        await pilot.pause()
        assert "take the ring or cog off" in text(app)
        await pilot.press("escape", "K")
        await pilot.pause()
        assert "choose the parts bin" not in text(app)


def keys_file(folder: Path) -> Path:
    """A key file that gives one action another key."""
    path = folder.parent / "keys.toml"
    path.write_text('[keys]\nsave = "Z"\n')
    return path


@pytest.mark.long(cases=0)
async def test_the_colours_change_and_a_screen_that_was_spoilt_is_sent_whole(folder: Path) -> None:
    app = BenchApp([folder])
    async with app.run_test(size=(80, 24)) as pilot:
        before, spoilt = app.theme, list[bool]()
        app.terminal.holder = Spoilt(spoilt)
        await pilot.press("t")
        assert app.theme == app.store.session.colours != before
        await pilot.press("ctrl+l")
        assert spoilt == [True], "what the terminal shows counts for nothing"
        app.terminal.holder = None
        await pilot.press("ctrl+l")
        assert spoilt == [True]


class Spoilt:
    """A driver that is told to forget what its terminal shows."""

    def __init__(self, told: list[bool]) -> None:
        self.told = told

    def forget(self) -> None:
        self.told.append(True)

    def suspend(self) -> bool:
        return False
