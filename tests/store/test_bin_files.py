"""A bin's file keeps what a person wrote in it: every line but those of the part that was changed."""

from pathlib import Path

import pytest

from cogwright.core.parts.bin import BeltPart, Bin, RingPart
from cogwright.core.parts.changed import priced, with_part, without_part
from cogwright.store.bins import lost_by_saving_bin, read_bin, save_bin
from support import ROOT

NEW = RingPart(name="ring 37", teeth=37, price=12.5)


@pytest.fixture
def file(tmp_path: Path) -> Path:
    """The demo's bin with comments in it."""
    text = (ROOT / "setups/bins/hollin-yard.toml").read_text()
    path = tmp_path / "drawers.toml"
    path.write_text(
        "# ours since the flood\n" + text.replace("[[cogs]]", "\n# loose\n[[cogs]]  # a drawer", 1)
    )
    return path


def lines_after(file: Path, changed: Bin) -> tuple[list[str], list[str]]:
    """The lines of the file before and after a save of that bin."""
    before = file.read_text().splitlines()
    stamp = read_bin(file).stamp
    assert lost_by_saving_bin(file, changed, stamp) == ()
    assert save_bin(file, changed, stamp).value == changed
    assert read_bin(file).value == changed
    return before, file.read_text().splitlines()


def test_a_price_changes_one_line(file: Path) -> None:
    stock = read_bin(file).value
    before, after = lines_after(file, priced(stock, stock.cogs[0], 9.75))
    differ = [(a, b) for a, b in zip(before, after, strict=True) if a != b]
    assert len(differ) == 1
    assert differ[0][1] == "price = 9.75"


def test_a_part_put_in_adds_its_lines_alone(file: Path) -> None:
    before, after = lines_after(file, with_part(read_bin(file).value, "rings", NEW))
    at = after.index('name = "ring 37"') - 1
    assert after[at : at + 4] == ["[[rings]]", 'name = "ring 37"', "price = 12.5", "teeth = 37"]
    assert [line for line in after if line not in after[at : at + 4] and line] == [
        line for line in before if line and line not in after[at : at + 4]
    ]
    assert "# loose" in after


def test_a_part_taken_out_takes_its_lines_and_leaves_the_comments(file: Path) -> None:
    stock = read_bin(file).value
    _, after = lines_after(file, without_part(stock, "rings", stock.rings[0]))
    assert after[0] == "# ours since the flood"
    assert "# loose" in after
    assert f'name = "{stock.rings[0].name}"' not in after


def test_a_first_part_of_its_kind(file: Path) -> None:
    stock = read_bin(file).value
    belt = BeltPart(name="belt 122", pitch_mm=11, teeth=122)
    bare = stock.model_copy(update={"belts": ()})
    lines_after(file, bare)
    _, after = lines_after(file, with_part(bare, "belts", belt))
    assert 'name = "belt 122"' in after
    assert "# loose" in after
