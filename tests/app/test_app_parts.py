"""The parts bin and the order sheet by keys."""

from pathlib import Path
from shutil import copy, copytree

import pytest
from screens import text

from cogwright.app.main import BenchApp
from support import ROOT


@pytest.fixture
def yard(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """The two-ring bike of the demo with its parts bin, and a state folder of its own."""
    monkeypatch.setenv("XDG_STATE_HOME", str(tmp_path / "state"))
    monkeypatch.setenv("LANG", "C.UTF-8")
    shelf = tmp_path / "shelf"
    copytree(ROOT / "setups" / "bins", shelf / "bins")
    copy(ROOT / "setups" / "yard-1-two-rings.toml", shelf)
    return shelf


@pytest.mark.long(cases=0)
async def test_a_cassette_from_the_bin_says_why_not_and_can_be_picked(yard: Path) -> None:
    app = BenchApp([yard])
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("i", *"11-42")
        (row,) = [row for row in text(app).splitlines() if "11-42" in row and "EUR" in row]
        # 42x42 on 440 mm: 2 * 440 / 12.7 + 42 = 111.3 pitches, plus two to an even number 114; there are 108.
        assert row.rstrip().endswith("! no")
        assert "this chain is 6 links" in text(app)
        assert app.store.session.shown.rear.cogs[-1] == 42
        assert text(app).startswith(" looking at: cassette 11-42, 12 cogs ")
        await pilot.press("enter")
        assert "looking at" not in text(app)
        assert app.store.session.bench.rear.cogs[-1] == 42
        assert app.store.session.bench.rear.carriers == ((28, 32), (37, 42))
        assert "this chain is 6 links short" in text(app)
        await pilot.press("u")
        assert app.store.session.bench.rear.cogs[-1] == 30


@pytest.mark.long(cases=0)
async def test_leaving_the_bin_leaves_the_bench_as_it_was(yard: Path) -> None:
    app = BenchApp([yard])
    async with app.run_test(size=(80, 24)) as pilot:
        before = app.store.session.bench
        await pilot.press("i", *"cassette", "down", "escape")
        assert app.store.session.bench == app.store.session.shown == before
        assert "looking at" not in text(app)


@pytest.mark.long(cases=0)
async def test_what_is_on_the_bike_already_is_nothing_to_look_at(yard: Path) -> None:
    """A cog of 12 in the place of the cog of 12 changes nothing, and the title says nothing of it."""
    app = BenchApp([yard])
    async with app.run_test(size=(80, 24)) as pilot:
        while app.store.session.cursor.teeth != 12:
            await pilot.press("left")
        await pilot.press("i", *"cog 12")
        assert "looking at" not in text(app)


async def test_a_loose_cog_takes_the_place_of_the_chosen_one(yard: Path) -> None:
    app = BenchApp([yard])
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("left", "left", "left", "i", *"cog 22", "enter")
        assert 22 in app.store.session.bench.rear.cogs
        assert 21 not in app.store.session.bench.rear.cogs


async def test_the_order_view_prices_the_change_from_the_bin(yard: Path) -> None:
    app = BenchApp([yard])
    async with app.run_test(size=(80, 40)) as pilot:
        await pilot.press("6")
        assert "Nothing to order" in text(app)
        assert "Hollin Yard drawers" in text(app)
        await pilot.press("left", "left", "left", "i", *"cog 22", "enter", "6")
        shown = text(app)
        assert "Order sheet" in shown
        assert "Hollin Yard drawers" in shown
        assert "5.50" in shown
        assert "Look first" in shown


@pytest.mark.long(cases=0)
async def test_cassettes_of_the_bin_stand_among_those_of_the_setups(yard: Path) -> None:
    app = BenchApp([yard])
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("c", *"11-36", "enter")
        assert app.store.session.bench.rear.cogs == (11, 13, 15, 17, 19, 21, 24, 28, 32, 36)


@pytest.mark.long(cases=0)
async def test_without_a_bin_it_says_where_to_put_one(yard: Path) -> None:
    (yard / "bins" / "hollin-yard.toml").unlink()
    app = BenchApp([yard])
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("i")
        assert "There is no parts bin in" in text(app)
        assert "/bins" in text(app)
        await pilot.press("f10", "6")
        assert "Nothing to order" in text(app)


@pytest.mark.long(cases=0)
async def test_a_bin_with_a_mistake_says_which(yard: Path) -> None:
    bad = yard / "bins" / "hollin-yard.toml"
    bad.write_text(bad.read_text().replace("teeth = 28", "teeth = 2"))
    app = BenchApp([yard])
    async with app.run_test(size=(120, 24)) as pilot:
        await pilot.press("i")
        assert "teeth" in app.store.session.message
