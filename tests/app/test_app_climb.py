"""Which gear for a hill, by keys: the form's answer, its figures, kits, limits typed as grades."""

import json
import shutil
from pathlib import Path

import pytest
from screens import is_open, words

from cogwright.app.main import BenchApp
from cogwright.core.riding.needed import Climb, answer_on, needed_for, top_development
from support import ROOT, called


@pytest.fixture
def app(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> BenchApp:
    """The app on a demo bike, a state folder of its own."""
    monkeypatch.setenv("XDG_STATE_HOME", str(tmp_path / "state"))
    monkeypatch.setenv("LANG", "C.UTF-8")
    shutil.copytree(ROOT / "setups", tmp_path / "setups")
    return BenchApp([tmp_path / "setups" / "yard-1-first-trial.toml"])


async def test_the_form_answers_as_its_figures_change(app: BenchApp) -> None:
    """10 % to begin with; two steps up are 12 %; 25 kg are typed; both efforts."""
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("h", "right", "right", "down", "enter", "ctrl+u", *"25", "enter")
        await pilot.pause()
        asked = app.store.session.climb
        assert asked == Climb(12.0, 25.0)
        found = answer_on(asked, app.store.session.bench)
        assert f"12 % with 25 kg of load at 60 rpm needs {found.needed.development_m:.2f} m" in words(app)
        assert f"leaves {found.easiest_rpm:.0f} rpm" in words(app)
        assert f"{found.needed.development_m:.2f} m for 12 % with 25 kg of load" in words(app)
        await pilot.press("down", "down", "enter")
        await pilot.pause()
        assert app.store.session.climb == Climb(12.0, 25.0, None, briefly=True)
        assert "3 minutes" in words(app)
        await pilot.press("end", "enter")
        assert app.store.session.climb is None
        assert not is_open(app)


@pytest.mark.long(cases=0)
async def test_figures_keep_to_their_bounds(app: BenchApp) -> None:
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("h", "enter", "ctrl+u", *"95", "enter")
        await pilot.pause()
        assert "Type a number from 0.5 to 60 %." in words(app)
        await pilot.press("escape", *["left"] * 12)
        assert app.store.session.climb == Climb(0.5)


@pytest.mark.long(cases=0)
async def test_kits_that_reach_it_are_looked_for_in_the_bin(app: BenchApp) -> None:
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("h", "down", "down", "down", "down", "enter")
        await pilot.pause()
        limits = app.store.session.request.limits
        assert limits is not None
        assert limits.low_at_most_m == needed_for(Climb(10.0), app.store.session.bench).development_m
        assert "Plan" in words(app)
        await pilot.press("q")


@pytest.mark.long(cases=0)
async def test_a_plan_takes_a_grade_and_a_top_speed_for_metres(app: BenchApp) -> None:
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("p", "l", "home", "enter", "ctrl+u", *"8 ", "percent_sign", "enter")
        await pilot.press("down", "enter", "ctrl+u", *"40 km", "slash", "h", "enter")
        await pilot.pause()
        limits, bench = app.store.session.request.limits, app.store.session.bench
        assert limits is not None
        assert limits.low_at_most_m == needed_for(Climb(8.0), bench).development_m
        assert limits.high_at_least_m == top_development(40.0, bench.rider)
        await pilot.press("escape")


@pytest.mark.long(cases=0)
async def test_a_single_speed_is_offered_the_pairs_of_the_command_line(app: BenchApp, tmp_path: Path) -> None:
    """Looked at on the bench, left, and taken as one step that undo takes back."""
    setups = tmp_path / "setups"
    bike, stock = setups / "yard-5-errand.toml", setups / "bins" / "hollin-yard.toml"
    asked = ("--pairs", "--development", "4.6", "--bin", stock, "--format", "json")
    pairs = json.loads(called("propose", bike, *asked).stdout)["pairs"]
    others = json.loads(called("propose", bike, *asked[:3], *asked[5:]).stdout)["pairs"]
    single = BenchApp([bike])
    async with single.run_test(size=(80, 24)) as pilot:
        await pilot.press("h", "end", "up", "enter", *"4.6", "enter")
        first, second = ((pair["ring"], pair["cog"]) for pair in pairs[:2])
        assert on_screen(single) == first
        await pilot.press("down")
        assert on_screen(single) == second
        await pilot.press("a")
        assert on_screen(single) == (others[0]["ring"], others[0]["cog"]), "out of all tooth counts"
        await pilot.press("a", "escape")
        assert on_screen(single) == (44, 18)
        await pilot.press("h", "end", "up", "enter", *"4.6", "enter", "enter")
        bench = single.store.session.bench
        assert (bench.crank.rings, bench.rear.cogs) == ((first[0],), (first[1],))
        assert f"{pairs[0]['links']} links of chain" in words(single)
        await pilot.press("u")
        assert on_screen(single) == (44, 18)
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("h")
        assert "tensioner" not in words(app), "a bike with a derailleur takes any pair"


def on_screen(app: BenchApp) -> tuple[int, int]:
    """The pair that the bench shows."""
    shown = app.store.session.shown
    return shown.crank.rings[0], shown.rear.cogs[0]


@pytest.mark.long(cases=0)
async def test_pairs_want_a_stay_and_a_number(tmp_path: Path, app: BenchApp) -> None:
    bike = tmp_path / "setups" / "yard-5-errand.toml"
    single = BenchApp([bike])
    async with single.run_test(size=(80, 24)) as pilot:
        await pilot.press("h", "end", "up", "enter", *"far", "enter")
        assert "Type a number from 0.1 to 30 m." in words(single)
    bare = tmp_path / "bare.toml"
    text = bike.read_text()
    bare.write_text(text[: text.index("[frame]")] + text[text.index("[chain]") :])
    app = BenchApp([bare])
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("h", "end", "up", "enter")
        assert "depends on the stay: F asks for it" in words(app)
