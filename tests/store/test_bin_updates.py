"""Booking out of a parts bin, and facts typed into it: two sessions, undo, comments, a spoilt file."""

import multiprocessing
import shutil
from dataclasses import replace
from pathlib import Path

import pytest

from bikes import DRAWERS
from cogwright.core.common.errors import CogwrightError
from cogwright.core.parts.bin import Bin, CassettePart, RingPart
from cogwright.core.study import study
from cogwright.core.worksheet.build import order_sheet
from cogwright.core.worksheet.sheet import OrderSheet, Source
from cogwright.core.worksheet.stock import NotInStock, counted, from_stock, unknowns, with_fact
from cogwright.store.bin_updates import change_bin
from cogwright.store.bins import read_bin
from cogwright.store.documents import read_setup
from cogwright.store.files import StoreError
from support import ROOT, make

SETUPS = ROOT / "setups"
TEXT = """# the drawers
format = 1
name = "Drawer"

[[rings]]
name = "ring 40"   # the good one
teeth = 40
price = 10
count = 3
"""


@pytest.fixture
def path(tmp_path: Path) -> Path:
    (tmp_path / "bin.toml").write_text(TEXT)
    return tmp_path / "bin.toml"


def sheet(stock: Bin, name: str = "second-trial") -> OrderSheet:
    """The demo's order with this bin."""
    base, bench = (read_setup(SETUPS / f"yard-1-{n}.toml").value for n in ("two-rings", name))
    found = order_sheet(study(bench, base), stock)
    assert found is not None
    return found


def test_a_booking_counts_down_in_place_and_back_again(path: Path) -> None:
    (ring,) = read_bin(path).value.rings
    change_bin(path, lambda now: counted(now, [ring], -1))
    assert path.read_text() == TEXT.replace("count = 3", "count = 2")
    assert path.with_name("bin.toml~").read_text() == TEXT
    change_bin(path, lambda now: counted(now, [ring], 1))
    assert path.read_text() == TEXT


def test_more_than_there_is_cannot_be_booked_and_nothing_is_counted(path: Path) -> None:
    (ring,) = read_bin(path).value.rings
    with pytest.raises(NotInStock, match="Not in the bin any more: ring 40"):
        change_bin(path, lambda now: counted(now, [ring] * 4, -1))
    assert path.read_text() == TEXT


def test_a_session_with_an_old_bin_counts_from_what_is_there_now(path: Path) -> None:
    """Another session has had two and typed another price: one is left, and then none."""
    (ring,) = read_bin(path).value.rings
    path.write_text(TEXT.replace("count = 3", "count = 1").replace("price = 10", "price = 12.5"))
    after = change_bin(path, lambda now: counted(now, [ring], -1))
    assert (after.rings[0].count, after.rings[0].price) == (0, 12.5)
    with pytest.raises(NotInStock):
        change_bin(path, lambda now: counted(now, [ring], -1))


def _book(path: Path, times: int) -> None:
    (ring,) = read_bin(path).value.rings
    for _ in range(times):
        change_bin(path, lambda now: counted(now, [ring], -1))


def test_two_sessions_at_once_lose_no_piece(path: Path) -> None:
    """Two processes take 12 each of 30: 6 are left, whatever the order."""
    path.write_text(TEXT.replace("count = 3", "count = 30"))
    context = multiprocessing.get_context("fork")
    both = [context.Process(target=_book, args=(path, 12)) for _ in range(2)]
    for one in both:
        one.start()
    for one in both:
        one.join(60)
        assert one.exitcode == 0
    assert read_bin(path).value.rings[0].count == 6


def test_a_spoilt_bin_is_not_written(path: Path) -> None:
    path.write_text("name = 3")
    with pytest.raises(StoreError, match="The bin was not changed"):
        change_bin(path, lambda now: now)
    assert path.read_text() == "name = 3"


def test_a_typed_price_stays_with_its_part_and_the_comments(path: Path) -> None:
    path.write_text(TEXT.replace("price = 10\n", ""))
    found = order_sheet(study(make([40], [14, 21]), make([42], [14, 21])), read_bin(path).value)
    assert found is not None
    (price,) = [one for one in unknowns(found) if one.fact == "price"]
    after = change_bin(path, lambda now: with_fact(now, price, found.after, 11.5))
    assert after.rings[0].price == 11.5
    assert "# the good one" in path.read_text()
    assert "# the drawers" in path.read_text()


def test_parts_that_the_bin_lacks_are_put_in_and_found_there(tmp_path: Path) -> None:
    """An empty bin: every unknown price of the demo's change is typed, and then all is priced."""
    file = tmp_path / "empty.toml"
    file.write_text('format = 1\nname = "Empty"\n[labour]\nrate_per_hour = 60\n')
    first = sheet(read_bin(file).value)
    assert first.price is None
    while missing := [one for one in unknowns(sheet(read_bin(file).value)) if one.fact == "price"]:
        one = missing[0]
        change_bin(file, lambda now, one=one: with_fact(now, one, first.after, 7.0))  # type: ignore[misc]
    done = sheet(read_bin(file).value)
    assert done.price == pytest.approx(7.0 * len(done.on))
    assert [item.what for item in done.on] == [item.what for item in first.on]


def test_what_a_bin_cannot_describe_is_refused_in_words() -> None:
    stock = read_bin(DRAWERS).value
    of = next(iter(unknowns(sheet(Bin(name="Empty")))))
    odd = replace(of, item=replace(of.item, what="a thing", part=None))
    with pytest.raises(CogwrightError, match="write it into the bin's file"):
        with_fact(stock, odd, sheet(stock).after, 1.0)


def test_what_is_booked_is_what_the_order_takes_from_stock(tmp_path: Path) -> None:
    file = tmp_path / "b.toml"
    shutil.copy(DRAWERS, file)
    stock = read_bin(file).value
    parts = from_stock(sheet(stock))
    assert len(parts) == sum(item.source is Source.STOCK for item in sheet(stock).on)
    before = sum(part.count for part in stock.parts)
    after = change_bin(file, lambda now: counted(now, parts, -1))
    assert sum(part.count for part in after.parts) == before - len(parts)


def test_parts_of_one_name_are_told_apart_by_what_they_are() -> None:
    rings = (RingPart(name="r", teeth=38, count=1), RingPart(name="r", teeth=40, count=1))
    stock = Bin(name="b", rings=rings, cassettes=(CassettePart(name="r", cogs=(11, 28), count=1),))
    after = counted(stock, [rings[1]], -1)
    assert [ring.count for ring in after.rings] == [1, 0]
    assert after.cassettes[0].count == 1
