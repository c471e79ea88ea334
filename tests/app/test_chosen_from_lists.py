"""What is chosen from lists and typed into lines: what stands there, and what taking it does."""

from pathlib import Path
from shutil import copytree

import pytest
from screens import is_open, text, words
from textual import events

from cogwright.app.main import BenchApp
from support import ROOT


@pytest.fixture
def yard(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setenv("XDG_STATE_HOME", str(tmp_path / "state"))
    copytree(ROOT / "setups", tmp_path / "setups")
    return tmp_path / "setups"


@pytest.mark.long(cases=0)
async def test_b_opens_the_list_of_bins_and_another_one_can_be_taken(yard: Path) -> None:
    bins = yard / "bins"
    other = (bins / "hollin-yard.toml").read_text().replace("Hollin Yard drawers", "The second drawers")
    (bins / "second.toml").write_text(other)
    app = BenchApp([yard / "yard-1-two-rings.toml"])
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("B")
        assert is_open(app)
        assert "The second drawers" in text(app)
        assert "Hollin Yard drawers" in text(app)
        await pilot.press("down", "enter", "6")
        assert app.store.session.stock is not None
        assert app.store.session.stock.name == "The second drawers"
        assert "The second drawers" in text(app)


async def test_the_file_as_saved_is_in_the_list_and_is_the_saved_one(yard: Path) -> None:
    """After an edit and another baseline: the bench as saved has the ring that the bench has no more."""
    app = BenchApp([yard / "yard-1-two-rings.toml"])
    async with app.run_test(size=(80, 24)) as pilot:
        saved = app.store.session.bench
        await pilot.press("up", "b")
        assert "this file, as saved" in text(app)
        await pilot.press(*"no baseline", "enter")
        assert app.store.session.baseline is None
        await pilot.press("b", *"as saved", "enter")
        assert app.store.session.baseline is not None
        assert app.store.session.baseline.setup == saved != app.store.session.bench


@pytest.mark.long(cases=0)
async def test_a_baseline_elsewhere_is_taken_by_its_path(yard: Path, tmp_path: Path) -> None:
    (tmp_path / "elsewhere").mkdir()
    far = tmp_path / "elsewhere" / "far.toml"
    far.write_text(
        (yard / "yard-7-pass.toml").read_text().replace('name = "', 'name = "Far away, ', 1), encoding="utf-8"
    )
    app = BenchApp([yard / "yard-1-two-rings.toml"])
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("b", *"elsewhere", "enter")
        before = app.store.session.baseline
        app.post_message(events.Paste(str(tmp_path / "nothing.toml")))
        await pilot.press("enter")
        assert "nothing.toml" in words(app).replace(" ", "")
        assert app.store.session.baseline == before
        await pilot.press("ctrl+u")
        app.post_message(events.Paste(str(far)))
        await pilot.press("enter")
        assert app.store.session.baseline is not None
        assert app.store.session.baseline.name.startswith("Far away, ")
        assert "Baseline: Far away, " in words(app)


@pytest.mark.long(cases=0)
async def test_a_ring_of_110_teeth_is_asked_about(yard: Path) -> None:
    """Nobody makes one, and 11 was meant for a cog; 46 is put on at once, and the answer is the user's."""
    app = BenchApp([yard / "yard-1-two-rings.toml"])
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("tab")
        before = app.store.session.bench
        await pilot.press("enter", *"110", "enter")
        assert "A ring of 110 teeth is unusual" in words(app)
        assert app.store.session.bench == before
        await pilot.press("q")
        assert (is_open(app), app.store.session.bench) == (False, before)
        await pilot.press("enter", *"110", "enter", "y")
        assert 110 in app.store.session.bench.crank.rings
        await pilot.press("u", "enter", *"46", "enter")
        assert not is_open(app)
        assert 46 in app.store.session.bench.crank.rings
        await pilot.press("a", "ctrl+u", *"110", "enter")
        assert "A ring of 110 teeth is unusual" in words(app)
