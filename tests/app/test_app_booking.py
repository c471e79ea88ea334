"""The work of the order booked by keys: parts on the bench, an entry in the log, one step of undo, saved."""

import datetime
from pathlib import Path
from shutil import copy, copytree

import pytest
from screens import text

from cogwright.app.main import BenchApp
from cogwright.core.setup.model import Setup
from cogwright.store.documents import read_setup
from support import ROOT


@pytest.fixture
def yard(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """The first trial and the bike as it came in, with the bin, and a state folder of its own."""
    monkeypatch.setenv("XDG_STATE_HOME", str(tmp_path / "state"))
    shelf = tmp_path / "shelf"
    copytree(ROOT / "setups" / "bins", shelf / "bins")
    for name in ("yard-1-first-trial.toml", "yard-1-two-rings.toml"):
        copy(ROOT / "setups" / name, shelf)
    return shelf


def bench(app: BenchApp) -> Setup:
    return app.store.session.bench


async def test_booked_work_is_in_the_log_undone_and_saved(yard: Path) -> None:
    file = yard / "yard-1-first-trial.toml"
    app = BenchApp([file])
    async with app.run_test(size=(80, 24)) as pilot:
        before, days = bench(app), {datetime.date.today()}
        await pilot.press("6", "L")
        assert "Into the log of today:" in text(app)
        await pilot.press(*"many", "enter")
        assert "'many' is not a number" in text(app)
        await pilot.press(*["backspace"] * 4, *"8200", "enter")
        days.add(datetime.date.today())
        (entry,) = bench(app).log
        assert entry.date in days
        assert entry.km == 8200
        assert "ring 36" in entry.what
        assert "new chain" in entry.what
        sheet = app.store.session.order_sheet
        assert sheet is not None
        assert bench(app).chain.links == sheet.after.chain.links != before.chain.links
        await pilot.press("L", "enter")
        assert "is in the log of today already" in text(app)
        await pilot.press("u")
        assert bench(app) == before
        await pilot.press("r", "s")
        kept = bench(app)
    assert read_setup(file).value.log == kept.log == (entry,)


async def test_without_a_change_there_is_nothing_to_book(yard: Path) -> None:
    app = BenchApp([yard / "yard-1-two-rings.toml"])
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("6", "L")
        assert "There is no work to book" in text(app)
        assert bench(app).log == ()


@pytest.mark.long(cases=0)
async def test_without_a_bin_the_work_is_logged_and_no_stock_is_spoken_of_as_taken(yard: Path) -> None:
    (yard / "bins" / "hollin-yard.toml").unlink()
    app = BenchApp([yard / "yard-1-first-trial.toml"])
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("6", "L")
        assert "No parts bin: nothing is counted out of stock." in text(app)
        await pilot.press("enter")
        assert "The work is booked; u takes it back." in text(app)
        assert len(bench(app).log) == 1
        await pilot.press("u")
        assert bench(app).log == ()
