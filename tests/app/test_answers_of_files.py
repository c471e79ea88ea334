"""What the app says where files and folders are other than it thought: by keys, without a screen."""

import os
import shutil
from pathlib import Path

import pytest
from without_app import begun, keys, seen, store, yard

from cogwright.app.controllers.starting import offer_start
from cogwright.app.safety.file_watch import Watch
from cogwright.app.state.opened import PickList, Question, TextEntry
from cogwright.app.state.store import SessionStore
from cogwright.store.bins import read_bin
from cogwright.store.documents import to_toml
from support import make

__all__ = ["store", "yard"]
BIN = "bins/hollin-yard.toml"


@pytest.fixture
def bare(tmp_path: Path) -> SessionStore:
    """A setup in a folder where nothing else is."""
    (tmp_path / "bare").mkdir()
    (tmp_path / "bare" / "alone.toml").write_text(to_toml(make((42,), (13, 17, 21))))
    return begun(tmp_path / "bare" / "alone.toml")


# The bin


def test_a_bin_elsewhere_is_walked_to_and_a_damaged_one_is_not_taken(store: SessionStore, yard: Path) -> None:
    keys(store, "B", "end", "enter")
    assert "A parts bin" in seen(store)
    (yard / BIN).write_text("format = 1\nname = 3\n")
    keys(store, *"hollin", "enter")
    assert store.session.stock is None
    assert "name" in seen(store)


def test_a_damaged_bin_is_listed_with_its_error_and_enter_takes_nothing(
    store: SessionStore, yard: Path
) -> None:
    (yard / BIN).write_text("format = 1\nname = 3\n")
    keys(store, "B")
    assert "! " in seen(store)
    keys(store, "enter")
    assert store.session.stock is None


def test_an_empty_bin_is_made_on_request(bare: SessionStore) -> None:
    keys(bare, "B", "n")
    assert bare.session.message.startswith("Made ")
    file = bare.session.folder / "bins" / "parts.toml"
    assert read_bin(file).value == bare.session.stock
    assert [*read_bin(file).value.parts] == []


@pytest.mark.parametrize("key", ["n", "m"])
def test_a_folder_that_cannot_be_made_is_said(bare: SessionStore, key: str) -> None:
    """A file has its name by now."""
    keys(bare, "B")
    (bare.session.folder / "bins").write_text("a file")
    keys(bare, key)
    assert bare.session.stock is None
    assert "bins" in bare.session.message
    assert not bare.session.message.startswith("Made")


def test_what_a_change_of_the_bin_would_lose_is_asked_first(store: SessionStore, yard: Path) -> None:
    """A file too long to be edited in place, with a comment in it."""
    file = yard / BIN
    file.write_text("# from the fair\n" + "\n" * 2100 + file.read_text())
    before = file.read_bytes()
    keys(store, "I", "f8", "f8")
    assert "This cannot be kept in the bin's file" in seen(store)
    assert file.read_bytes() == before
    keys(store, "s")
    assert store.session.message.startswith("Taken out")
    assert "from the fair" not in file.read_text()
    assert file.with_name(f"{file.name}~").read_bytes() == before


def test_what_would_be_lost_is_not_lost_where_the_bin_goes_meanwhile(store: SessionStore, yard: Path) -> None:
    file = yard / BIN
    file.write_text("# from the fair\n" + "\n" * 2100 + file.read_text())
    keys(store, "I", "f8", "f8")
    file.unlink()
    keys(store, "s")
    assert "hollin-yard.toml" in store.session.message
    assert not file.exists()


def test_a_bin_that_is_gone_is_not_written(store: SessionStore, yard: Path) -> None:
    keys(store, "I", "f8")
    (yard / BIN).unlink()
    keys(store, "f8")
    assert "hollin-yard.toml" in store.session.message
    assert not (yard / BIN).exists()


def test_the_same_answer_again_writes_nothing(store: SessionStore, yard: Path) -> None:
    before = (yard / BIN).stat().st_mtime_ns, (yard / BIN).read_bytes()
    keys(store, "I", "enter", "enter", "enter")
    assert before == ((yard / BIN).stat().st_mtime_ns, (yard / BIN).read_bytes())


def test_a_booking_is_not_undone_in_a_bin_that_is_gone(yard: Path) -> None:
    store = begun(yard / "yard-1-second-trial.toml")
    keys(store, "6", "L", "enter")
    assert store.session.message.startswith("The work is booked")
    bench = store.session.bench
    (yard / BIN).unlink()
    keys(store, "u")
    assert store.session.message.startswith("Not undone: ")
    assert store.session.bench == bench


# Folders and files


def test_a_folder_that_is_gone_is_not_opened(store: SessionStore, yard: Path) -> None:
    before = store.session.bench
    keys(store, "E")
    of = store.session.open
    assert isinstance(of, PickList)
    (yard / "yard-1-two-rings.toml").rename(yard.parent / "one.toml")
    shutil.rmtree(yard)
    keys(store, "up", "enter")
    assert store.session.bench == before
    assert store.session.message


def test_the_demo_is_not_laid_out_where_it_cannot_be(tmp_path: Path) -> None:
    """A file stands where its folder would be."""
    empty = tmp_path / "empty"
    empty.mkdir()
    store = begun(empty)
    offer_start(store)
    assert isinstance(store.session.open, Question)
    (empty / "cogwright-demo").write_text("a file")
    keys(store, "d")
    assert store.session.document is None
    assert "cogwright-demo" in store.session.message


def test_a_new_name_that_cannot_be_saved_under_is_said_and_can_be_changed(
    store: SessionStore, yard: Path
) -> None:
    keys(store, "down", "S")
    shutil.rmtree(yard)
    keys(store, *"other", "enter")
    assert store.session.open is not None, "the name is still there to be changed"
    assert "other.toml" in store.session.message
    assert store.session.edited


def test_a_bike_with_a_name_of_its_own_keeps_it_in_a_new_file(store: SessionStore) -> None:
    keys(store, "N", *"Winter", "enter", "S")
    entry = store.session.open
    assert isinstance(entry, TextEntry)
    assert entry.typed.text == "winter"


def test_reading_again_a_file_that_went_while_asked_leaves_the_bench(store: SessionStore, yard: Path) -> None:
    keys(store, "down", "R")
    assert isinstance(store.session.open, Question)
    bench = store.session.bench
    (yard / "yard-1-two-rings.toml").unlink()
    keys(store, "d")
    assert store.session.bench == bench
    assert store.session.message


def test_a_ride_that_is_gone_is_not_read(store: SessionStore, yard: Path) -> None:
    keys(store, "G")
    shutil.rmtree(yard / "rides")
    keys(store, "enter")
    assert store.session.rides == ()
    assert store.session.message


@pytest.mark.long(cases=0)
def test_a_plan_serves_the_rides_that_are_read(store: SessionStore) -> None:
    keys(store, "G", "enter", "f10", "p", "l", "l")
    assert store.session.rides
    keys(store, "w")
    assert "no gear has a liked cadence for" in seen(store)


# The watch on the file


def test_the_watch_looks_neither_without_a_file_nor_while_something_is_asked(
    store: SessionStore, yard: Path
) -> None:
    watch, file = Watch(store), yard / "yard-1-two-rings.toml"
    keys(store, "D")
    file.unlink()
    watch.look()
    assert not store.session.work.alone
    keys(store, "f10")
    watch.look()
    assert store.session.work.alone
    assert "is gone from its folder" in store.session.message
    keys(store, "n", "c", "d")
    assert store.session.document is None
    before = store.session
    watch.look()
    assert store.session is before


def test_a_file_that_was_only_touched_is_the_same(store: SessionStore, yard: Path) -> None:
    file = yard / "yard-1-two-rings.toml"
    os.utime(file, (1, 1))
    before = store.session.work.history
    Watch(store).look()
    assert store.session.work.history == before
    assert store.session.message == ""
    assert store.session.document is not None
    assert store.session.document.stamp.mtime_ns == 10**9


def test_a_file_that_is_gone_twice_is_said_once(store: SessionStore, yard: Path) -> None:
    watch = Watch(store)
    (yard / "yard-1-two-rings.toml").unlink()
    watch.look()
    store.say("")
    watch.look()
    assert store.session.message == ""
