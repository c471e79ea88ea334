"""The parts bin in the app: prices, counts and parts typed in a form, and what its file keeps."""

from pathlib import Path
from shutil import copytree

import pytest
from screens import is_open, text, words

from cogwright.app.main import BenchApp
from cogwright.store.bins import read_bin
from support import ROOT

SIZE = (100, 30)


@pytest.fixture
def yard(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """The demo, with a comment in its bin, and a state folder of its own."""
    monkeypatch.setenv("XDG_STATE_HOME", str(tmp_path / "state"))
    shelf = Path(copytree(ROOT / "setups", tmp_path / "shelf"))
    bin_file = shelf / "bins" / "hollin-yard.toml"
    bin_file.write_text("# ours since the flood\n" + bin_file.read_text())
    return shelf


@pytest.mark.long(cases=0)
async def test_a_price_and_a_count_are_changed_in_the_file_whose_comment_stays(yard: Path) -> None:
    file = yard / "bins" / "hollin-yard.toml"
    before = read_bin(file).value
    app = BenchApp([yard])
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("I", *"cog 22", "enter")
        assert "Loose cog in the bin" in text(app)
        await pilot.press("down", "down")  # name and teeth, which it needs, come first
        assert "▸ price" in text(app)
        await pilot.press(*"6,75", "enter")
        assert "In the bin: loose cog 22." in words(app)
        await pilot.press("escape", "escape")
        assert not is_open(app)
    after = read_bin(file).value
    changed = [(a, b) for a, b in zip(before.cogs, after.cogs, strict=True) if a != b]
    assert [(a.name, b.price) for a, b in changed] == [("loose cog 22", 6.75)]
    assert after.model_copy(update={"cogs": before.cogs}) == before
    assert file.read_text().startswith("# ours since the flood\n")
    assert app.store.session.stock == after


@pytest.mark.long(cases=0)
async def test_a_part_is_put_in_once_it_has_what_it_needs(yard: Path) -> None:
    file = yard / "bins" / "hollin-yard.toml"
    count = len(read_bin(file).value.rings)
    app = BenchApp([yard])
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("I", "f7", "enter")
        assert "Ring to put in" in text(app)
        await pilot.press(*"ring 37", "enter")
        assert len(read_bin(file).value.rings) == count
        await pilot.press(*"3", "enter")
        assert "6 to 130" in words(app)
        await pilot.press("ctrl+u", *"37", "enter")
        rings = read_bin(file).value.rings
        assert len(rings) == count + 1
        assert (rings[-1].name, rings[-1].teeth, rings[-1].price) == ("ring 37", 37, None)
        await pilot.press(*"12", "enter")
        assert read_bin(file).value.rings[-1].price == 12


@pytest.mark.long(cases=0)
async def test_a_part_that_lacks_something_is_not_in_the_bin_and_that_is_said(yard: Path) -> None:
    file = yard / "bins" / "hollin-yard.toml"
    before = file.read_bytes()
    app = BenchApp([yard])
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("I", "f7", "enter", *"ring 37", "enter", "escape")
        assert "Not put into the bin: it needs teeth." in words(app)
    assert file.read_bytes() == before


@pytest.mark.long(cases=0)
async def test_a_part_is_taken_out_by_a_key_that_no_text_holds(yard: Path) -> None:
    file = yard / "bins" / "hollin-yard.toml"
    app = BenchApp([yard])
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("I", *"cog 22", "f8")
        assert "Take loose cog 22 out of Hollin Yard drawers?" in words(app)
        await pilot.press("f8")
        assert "Taken out: loose cog 22." in words(app)
    assert "loose cog 22" not in {part.name for part in read_bin(file).value.parts}
    assert "cog 22" in (yard / "bins" / "hollin-yard.toml~").read_text()


@pytest.mark.long(cases=0)
async def test_a_bin_that_somebody_else_has_changed_is_read_again_and_not_written_over(yard: Path) -> None:
    file = yard / "bins" / "hollin-yard.toml"
    app = BenchApp([yard])
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("I", *"cog 22", "enter")
        file.write_text(file.read_text().replace("Hollin Yard drawers", "Other drawers"))
        theirs = file.read_bytes()
        await pilot.press("end", "s", "enter")
        assert "was changed elsewhere and is read again" in words(app)
    assert file.read_bytes() == theirs


@pytest.mark.long(cases=0)
async def test_an_empty_bin_is_made_where_there_is_none(yard: Path) -> None:
    (yard / "bins" / "hollin-yard.toml").unlink()
    (yard / "bins").rmdir()
    app = BenchApp([yard])
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("B", "n")
        assert read_bin(yard / "bins" / "parts.toml").value.name == "Parts bin"
        await pilot.press("I", "f7", "down", "enter", *"cog 9", "enter", *"9", "enter", "escape", "escape")
    assert [part.name for part in read_bin(yard / "bins" / "parts.toml").value.parts] == ["cog 9"]
