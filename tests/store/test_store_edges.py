"""Files, names, locks and texts at their edges: where a system or a neighbour does what it rarely does."""

import errno
import io
import os
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from cogwright.core.common.errors import InputError
from cogwright.core.parts.bin import Bin
from cogwright.store import bin_updates, course_csv, demo, drafts, locks, private
from cogwright.store.bin_updates import change_bin, lost_by_changing
from cogwright.store.bins import read_bin
from cogwright.store.documents import parse, read_setup, to_toml
from cogwright.store.drafts import Drafts, pending
from cogwright.store.exports import write_export, write_over
from cogwright.store.files import StoreError, pieces, read_bytes
from cogwright.store.paths import numbered, safe_name
from cogwright.store.saving import first_of, write_setup
from cogwright.store.toml_edit import edited
from support import make, parse_csv

SETUP = make([30, 46], [11, 13, 15, 17, 19, 21, 24, 28])
OTHER = make([30, 46], [11, 13, 15, 17, 19, 21, 24, 30])


def once(real: Callable[..., Any], first: object) -> Callable[..., Any]:
    """A call that answers so, or raises so, the first time, and then as it always does."""
    left = [first]

    def call(*args: object, **more: object) -> Any:
        if not left:
            return real(*args, **more)
        answer = left.pop()
        if isinstance(answer, BaseException):
            raise answer
        return answer

    return call


# Bins


@pytest.fixture
def bin_file(tmp_path: Path) -> Path:
    """A bin whose rings stand in braces, with a comment."""
    rings = '[ { name = "ring 38", teeth = 38 }, { name = "ring 40", teeth = 40 } ]  # from the fair'
    (tmp_path / "bin.toml").write_text(f'format = 1\nname = "Drawer"\nrings = {rings}\n')
    return tmp_path / "bin.toml"


def without_the_first(stock: Bin) -> Bin:
    return stock.model_copy(update={"rings": stock.rings[1:]})


def test_parts_in_braces_are_taken_out_and_the_comment_stays(bin_file: Path) -> None:
    assert lost_by_changing(bin_file, without_the_first) == ()
    change_bin(bin_file, without_the_first)
    assert (
        bin_file.read_text().splitlines()[2]
        == 'rings = [ { name = "ring 40", teeth = 40 } ]  # from the fair'
    )


def test_what_a_change_would_lose_is_told_before(bin_file: Path) -> None:
    bin_file.write_text(bin_file.read_text() + "\n" * 2100)
    assert any("from the fair" in one for one in lost_by_changing(bin_file, without_the_first))
    with pytest.raises(StoreError, match="was not changed"):
        lost_by_changing(bin_file.with_name("none.toml"), without_the_first)


def test_a_bin_that_others_keep_changing_is_given_up(bin_file: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(bin_updates, "_TRIES", 3)
    turns = list[int]()

    def meanwhile(stock: Bin) -> Bin:
        turns.append(1)
        bin_file.write_text(bin_file.read_text() + f"# {len(turns)}\n")
        return without_the_first(stock)

    with pytest.raises(StoreError, match="other programs keep changing it"):
        change_bin(bin_file, meanwhile)
    assert len(turns) == 3
    assert len(read_bin(bin_file).value.rings) == 2


# Texts that are edited


def test_an_entry_after_a_last_line_without_an_end_stands_on_lines_of_its_own() -> None:
    text = 'format = 1\nname = "Drawer"\n[[rings]]\nname = "ring 38"\nteeth = 38'
    stock = parse(text, Bin)
    more = parse(f'{text}\n[[rings]]\nname = "ring 40"\nteeth = 40\n', Bin)
    assert edited(text, more).text.splitlines() == [
        *text.splitlines(), "", "[[rings]]", 'name = "ring 40"', "teeth = 40",
    ]  # fmt: skip
    assert edited(text, stock).text == text


def test_a_first_entry_stands_before_the_others() -> None:
    rings = ['[[rings]]\nname = "ring 38"\nteeth = 38\n', '[[rings]]\nname = "ring 40"\nteeth = 40\n']
    head = 'format = 1\nname = "Drawer"\n'
    both = parse(f"{head}{rings[0]}{rings[1]}", Bin)
    text = edited(f"{head}{rings[1]}", both).text
    assert parse(text, Bin) == both
    assert text.index("ring 38") < text.index("ring 40")


def test_a_key_after_a_last_line_without_an_end_stands_on_a_line_of_its_own() -> None:
    text = to_toml(SETUP).rstrip("\n")
    after = parse(f"{text}\nclicks = 8\n", type(SETUP)) if text.splitlines()[-1].startswith("cogs") else None
    assert after is not None, "cogs stand last"
    assert edited(text, after).text.splitlines() == [*text.splitlines(), "clicks = 8"]


def test_a_key_of_many_parts_is_refused_before_it_is_read() -> None:
    with pytest.raises(InputError, match="too many parts") as told:
        parse(f"format = 1\n{'.'.join('a' * 400)} = 1\n", type(SETUP))
    assert told.value.problems[0].line == 2


def test_twenty_broken_lines_are_enough() -> None:
    text = "".join(f"key{n} = \n" for n in range(50))
    with pytest.raises(InputError) as told:
        parse(text, type(SETUP))
    assert 20 <= len(told.value.problems) < 50


def test_a_list_that_is_too_short_says_how_many_it_takes() -> None:
    with pytest.raises(InputError) as told:
        parse(to_toml(SETUP) + "\n[rider]\ncadence_rpm = [60, 85]\n", type(SETUP))
    assert "give 3" in str(told.value)


# Files and names


def test_a_file_that_grows_while_it_is_read_is_refused_at_the_limit(tmp_path: Path) -> None:
    (tmp_path / "long").write_bytes(b"x" * 300_000)
    with io.FileIO(tmp_path / "long") as file, pytest.raises(InputError):
        list(pieces(file, tmp_path / "long", 200_000))


def test_a_file_that_cannot_be_read_on_is_an_error(tmp_path: Path) -> None:
    handle = os.open(tmp_path / "out", os.O_WRONLY | os.O_CREAT)
    with io.FileIO(handle, "r") as file, pytest.raises(InputError):
        list(pieces(file, tmp_path / "out", 10))


def test_a_name_that_this_system_cannot_write_is_refused(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(os, "fsencode", once(os.fsencode, UnicodeEncodeError("latin-1", "漢", 0, 1, "no")))
    with pytest.raises(StoreError, match="cannot be seen"):
        safe_name("漢")


def test_names_are_numbered_from_two(tmp_path: Path) -> None:
    names = []
    for _ in range(3):
        names.append(numbered(tmp_path / "ride.txt").name)
        (tmp_path / names[-1]).touch()
    assert names == ["ride.txt", "ride-2.txt", "ride-3.txt"]
    assert write_export("ride.txt", "x", tmp_path).name == "ride-4.txt"


def test_what_may_not_be_written_over_is_not(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    (tmp_path / "a.svg").write_text("before")
    monkeypatch.setattr(os, "access", lambda *_, **__: False)
    with pytest.raises(StoreError, match="Not written"):
        write_over(tmp_path / "a.svg", "after")
    monkeypatch.undo()
    monkeypatch.setattr("cogwright.store.atomic.only_owner_may_replace", lambda _: True)
    with pytest.raises(StoreError, match="nobody but its owner"):
        write_over(tmp_path / "a.svg", "after")
    assert (tmp_path / "a.svg").read_text() == "before"
    assert os.listdir(tmp_path) == ["a.svg"]


def test_a_first_version_that_cannot_be_read_does_not_keep_a_save_from_happening(tmp_path: Path) -> None:
    write_setup(tmp_path / "a.toml", SETUP)
    first_of(tmp_path / "a.toml").mkdir()
    there = read_setup(tmp_path / "a.toml")
    write_setup(tmp_path / "a.toml", OTHER, over=there.stamp)
    assert read_setup(tmp_path / "a.toml").value == OTHER


# Locks and drafts


def test_an_error_of_a_lock_that_is_none_of_the_known_ones_is_raised(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(locks, "lock_descriptor", once(locks.lock_descriptor, OSError(errno.EIO, "broken")))
    with (tmp_path / "lock").open("w") as file, pytest.raises(OSError, match="broken"):
        locks.try_lock(file.fileno())


def test_a_private_file_whose_mode_cannot_be_set_is_closed(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(private, "set_mode", once(private.set_mode, PermissionError(errno.EPERM, "no")))
    before = len(os.listdir("/proc/self/fd"))
    with pytest.raises(PermissionError):
        private.new_private(tmp_path / "mine")
    assert len(os.listdir("/proc/self/fd")) == before


def test_a_lock_that_another_session_took_for_a_left_one_is_made_again(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(drafts, "try_lock", once(drafts.try_lock, False))
    session = Drafts(tmp_path / "drafts")
    session.put(None, SETUP)
    assert session.failing == ""
    assert pending(tmp_path / "drafts").drafts == (), "it lives"
    session.close()
    assert [draft.setup for draft in pending(tmp_path / "drafts").drafts] == [SETUP]


def test_a_lock_that_fails_says_why_no_drafts_are_kept(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(drafts, "try_lock", once(drafts.try_lock, OSError(errno.EIO, "broken")))
    session = Drafts(tmp_path / "drafts")
    assert session.failing
    session.retry()
    assert session.failing == ""
    session.retry()
    assert session.failing == ""
    session.close()


def test_a_session_whose_lock_is_gone_or_cannot_be_tried_is_judged_on_the_safe_side(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Gone: its work is offered. It cannot be told: its work is left alone."""
    session = Drafts(tmp_path / "drafts")
    session.put(None, SETUP)
    (lock,) = (tmp_path / "drafts").glob("*.lock")
    session.close()
    os.close(private.new_private(lock))
    monkeypatch.setattr(drafts, "_is_free", once(drafts._is_free, OSError(errno.EIO, "broken")))
    assert pending(tmp_path / "drafts").drafts == ()
    names = os.listdir(tmp_path / "drafts")
    lock.unlink(missing_ok=True)
    monkeypatch.setattr(os, "listdir", once(os.listdir, names))
    assert [draft.setup for draft in pending(tmp_path / "drafts").drafts] == [SETUP]


def test_without_a_folder_there_are_no_drafts(tmp_path: Path) -> None:
    (tmp_path / "file").touch()
    assert pending(tmp_path / "file").drafts == ()


def test_work_on_a_file_that_is_gone_counts_as_work_on_another_file(tmp_path: Path) -> None:
    file = tmp_path / "a.toml"
    write_setup(file, SETUP)
    session = Drafts(tmp_path / "drafts")
    session.put(file, OTHER, read_bytes(file)[1])
    session.close()
    (draft,) = pending(tmp_path / "drafts").drafts
    assert not draft.file_has_changed()
    file.unlink()
    assert draft.file_has_changed()


# The demo


def test_the_demo_in_the_package_comes_first_without_what_an_editor_left(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    packed = tmp_path / "package" / "demo"
    packed.mkdir(parents=True)
    for name in ("a.toml", "a.toml~", ".a.toml.swp"):
        (packed / name).write_text(name)
    monkeypatch.setattr(demo, "files", lambda _: tmp_path / "package")
    assert demo.lay_out(tmp_path / "laid") == 1
    assert os.listdir(tmp_path / "laid") == ["a.toml"]
    assert demo.lay_out(tmp_path / "laid") == 0, "what stands there is left"


def test_a_demo_that_did_not_come_along_is_said(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(demo, "files", lambda _: tmp_path)
    monkeypatch.setattr(demo, "__file__", str(tmp_path / "a" / "b" / "c" / "demo.py"))
    with pytest.raises(InputError, match="did not come with this program"):
        demo.demo()


def test_a_demo_that_cannot_be_written_is_said(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(Path, "open", once(Path.open, OSError(errno.ENOSPC, "No space left on device")))
    with pytest.raises(StoreError, match="laid"):
        demo.lay_out(tmp_path / "laid")


# Courses


def test_a_course_longer_than_any_or_of_more_points_than_any_is_refused(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    with pytest.raises(InputError, match="0 to 5,000 km"):
        parse_csv("0,100\n6000000,200\n")
    monkeypatch.setattr(course_csv, "MOST_POINTS", 3)
    with pytest.raises(InputError, match="more than 3 points"):
        parse_csv("".join(f"{100 * n},100\n" for n in range(5)))
