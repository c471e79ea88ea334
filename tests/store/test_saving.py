"""Saves: whole or not at all, the last version kept, and nothing of another program's overwritten."""

import errno
import os
import random
import resource
import signal
import time
from collections.abc import Callable
from pathlib import Path

import pytest

from cogwright.core.common.errors import CogwrightError
from cogwright.core.setup.differences import differences
from cogwright.core.setup.model import Setup
from cogwright.store import atomic, saving
from cogwright.store.documents import parse, read_setup, to_toml
from cogwright.store.files import StoreError
from cogwright.store.paths import path_in
from cogwright.store.saving import (
    AlreadyThere,
    ChangedOnDisk,
    backup_of,
    delete,
    first_of,
    undelete,
    write_setup,
)
from cogwright.store.shelf import has_changed
from support import ended, forked, long_run, make

SETUP = make([30, 46], [11, 13, 15, 17, 19, 21, 24, 28], chain={"links": 110})
OTHER = make([30, 46], [11, 13, 15, 17, 19, 21, 24, 30], chain={"links": 112})


@pytest.fixture
def path(tmp_path: Path) -> Path:
    """A saved setup without comments."""
    write_setup(tmp_path / "a.toml", SETUP)
    return tmp_path / "a.toml"


def files(folder: Path) -> list[str]:
    return sorted(os.listdir(folder))


def test_a_save_keeps_the_version_before_and_nothing_else(path: Path) -> None:
    before = path.read_bytes()
    saved = write_setup(path, OTHER, read_setup(path).stamp)
    assert read_setup(path) == saved
    assert saved.value == OTHER
    assert backup_of(path).read_bytes() == before
    assert files(path.parent) == ["a.toml", "a.toml.orig", "a.toml~"]


def test_saving_the_same_again_keeps_the_backup(path: Path) -> None:
    saved = write_setup(path, OTHER, read_setup(path).stamp)
    write_setup(path, OTHER, saved.stamp)
    assert parse(backup_of(path).read_text(), Setup) == SETUP


def test_mode_and_link_are_kept(path: Path) -> None:
    path.chmod(0o640)
    (path.parent / "other").mkdir()
    link = path.parent / "other" / "link.toml"
    link.symlink_to("../a.toml")
    write_setup(link, OTHER, read_setup(link).stamp)
    assert link.is_symlink()
    assert read_setup(path).value == OTHER
    assert path.stat().st_mode & 0o777 == 0o640
    assert files(link.parent) == ["link.toml"]


def test_a_mode_that_the_umask_forbids_new_files_is_kept(path: Path) -> None:
    path.chmod(0o664)
    before = os.umask(0o077)
    try:
        write_setup(path, OTHER, read_setup(path).stamp)
    finally:
        os.umask(before)
    assert path.stat().st_mode & 0o777 == 0o664


def test_a_new_file_takes_no_name_that_is_taken(path: Path) -> None:
    with pytest.raises(AlreadyThere, match="there already; choose another name"):
        write_setup(path, OTHER)
    assert read_setup(path).value == SETUP


def test_a_file_that_has_changed_is_not_overwritten(path: Path) -> None:
    read = read_setup(path)
    assert not has_changed(path, read.stamp)
    path.write_text(to_toml(OTHER))
    assert has_changed(path, read.stamp)
    with pytest.raises(ChangedOnDisk) as caught:
        write_setup(path, SETUP, read.stamp)
    assert caught.value.setup == OTHER
    assert caught.value.setup is not None
    assert differences(SETUP, caught.value.setup) == ("cog 28 to 30", "chain.links: 112, was 110")
    assert read_setup(path).value == OTHER
    write_setup(path, SETUP, caught.value.stamp)  # asked, and wanted
    assert read_setup(path).value == SETUP
    assert parse(backup_of(path).read_text(), Setup) == OTHER


@pytest.mark.parametrize("content", [b"format = 1\n[", b"\xff", b""])
def test_a_file_that_became_unreadable_is_a_change_with_its_problems(content: bytes, path: Path) -> None:
    read = read_setup(path)
    path.write_bytes(content)
    with pytest.raises(ChangedOnDisk) as caught:
        write_setup(path, SETUP, read.stamp)
    assert caught.value.setup is None
    assert caught.value.problems
    write_setup(path, SETUP, caught.value.stamp)
    assert backup_of(path).read_bytes() == content


def test_a_file_that_has_gone_is_a_change_and_can_be_saved_anew(path: Path) -> None:
    read = read_setup(path)
    path.unlink()
    with pytest.raises(ChangedOnDisk, match=r"a\.toml is gone since it was read") as caught:
        write_setup(path, SETUP, read.stamp)
    assert caught.value.stamp is None
    write_setup(path, SETUP, caught.value.stamp)
    assert read_setup(path).value == SETUP


def test_a_deletion_can_be_undone(path: Path) -> None:
    before = path.read_bytes()
    delete(path, read_setup(path).stamp)
    assert files(path.parent) == ["a.toml.orig", "a.toml~"]
    undelete(path)
    assert path.read_bytes() == before
    with pytest.raises(AlreadyThere):
        undelete(path)
    path.write_text("[")
    delete(path)
    assert files(path.parent) == ["a.toml.orig", "a.toml~"]


def test_what_could_not_be_read_again_is_not_saved(path: Path) -> None:
    bad = SETUP.model_copy(update={"crank": SETUP.crank.model_copy(update={"rings": (5,)})})
    with pytest.raises(StoreError, match=r"could not be read again: .*crank\.rings"):
        write_setup(path, bad, read_setup(path).stamp)
    assert read_setup(path).value == SETUP


CALLS = ["write", "fsync", "replace", "open"]


@pytest.mark.long(cases=6)
@pytest.mark.parametrize("code", [errno.ENOSPC, errno.EDQUOT, errno.EIO, errno.EROFS])
@pytest.mark.parametrize("call", CALLS)
def test_a_failing_disk_leaves_the_old_file(
    call: str, code: int, path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    stamp = read_setup(path).stamp
    real = getattr(os, call)

    def fail(*args: object, **more: object) -> object:
        if call == "open" and not str(args[0]).endswith(".tmp"):
            return real(*args, **more)
        raise OSError(code, "simulated")

    monkeypatch.setattr(atomic.os, call, fail)
    with pytest.raises(StoreError, match=r"^Not saved: .*a\.toml: .*disk"):
        write_setup(path, OTHER, stamp)
    monkeypatch.undo()
    assert read_setup(path).value == SETUP
    assert [name for name in files(path.parent) if not name.endswith("~")] == ["a.toml"]


def test_a_disk_that_takes_half_leaves_the_old_file(path: Path) -> None:
    """The kernel itself stops the write in the middle: RLIMIT_FSIZE, in a child."""

    def save() -> str:
        resource.setrlimit(resource.RLIMIT_FSIZE, (60, 60))
        return said(lambda: write_setup(path, OTHER, read_setup(path).stamp))

    assert "the file would be larger than is allowed here" in in_child(save)
    assert read_setup(path).value == SETUP
    assert files(path.parent) == ["a.toml"]


def said(work: Callable[[], object]) -> str:
    """The text of the clean error that some work ends in; empty if it does not."""
    try:
        work()
    except CogwrightError as error:
        return str(error)
    return ""


def in_child(work: Callable[[], str]) -> str:
    """What some work returns when it is done in a process of its own."""
    reader, writer = os.pipe()
    pid = forked(lambda: os.write(writer, work().encode()))
    os.close(writer)
    assert ended(pid) == 0
    with os.fdopen(reader, "rb") as pipe:
        return pipe.read().decode()


def as_nobody(work: Callable[[], object]) -> str:
    """The error of some work done without root's rights."""

    def inside() -> str:
        if os.geteuid() == 0:
            os.setgid(65534)
            os.setuid(65534)
        return said(work)

    return in_child(inside)


def test_without_permission(tmp_path: Path) -> None:
    for folder in (tmp_path, *tmp_path.parents):
        if folder.owner() == "root" and folder != Path("/") and folder != Path("/tmp"):
            folder.chmod(0o755)
    path = tmp_path / "a.toml"
    stamp = write_setup(path, SETUP).stamp
    tmp_path.chmod(0o555)  # a folder that may not be written to
    assert "no permission" in as_nobody(lambda: write_setup(path, OTHER, stamp))
    assert "no permission" in as_nobody(lambda: write_setup(tmp_path / "b.toml", OTHER))
    assert "no permission" in as_nobody(lambda: delete(path, stamp))
    tmp_path.chmod(0o777)
    path.chmod(0o444)  # a file that may be replaced but not written: it is read-only for a reason
    assert "no permission" in as_nobody(lambda: write_setup(path, OTHER, stamp))
    path.chmod(0o000)
    assert "no permission" in as_nobody(lambda: read_setup(path))
    path.chmod(0o644)
    assert read_setup(path).value == SETUP
    assert files(tmp_path) == ["a.toml"]


def test_a_vanished_folder_and_a_folder_that_is_none(path: Path) -> None:
    for folder in (path.parent / "gone", path):
        with pytest.raises(StoreError, match=r"Not saved: .*b\.toml: its folder is gone; make"):
            write_setup(folder / "b.toml", SETUP)


@pytest.mark.parametrize("name", ["../b", "/tmp/b", "sub/b"])
def test_a_name_that_leaves_the_folder_is_refused(name: str, tmp_path: Path) -> None:
    with pytest.raises(StoreError, match="no slash: setups stay in their folder"):
        path_in(tmp_path, name)


def test_pipes_and_link_loops_are_not_written_through(tmp_path: Path) -> None:
    os.mkfifo(tmp_path / "pipe.toml")
    (tmp_path / "loop.toml").symlink_to("loop.toml")
    (tmp_path / "folder.toml").mkdir()
    for name, words in [("pipe", "a pipe"), ("loop", "in a circle"), ("folder", "a folder")]:
        with pytest.raises(StoreError, match=words):
            write_setup(tmp_path / f"{name}.toml", SETUP)
    assert files(tmp_path) == ["folder.toml", "loop.toml", "pipe.toml"]


def test_what_a_killed_save_left_is_swept_up(path: Path) -> None:
    litter = path.with_name(".cogwright-0123.tmp")
    litter.write_text("half a fi")
    os.utime(litter, (1, 1))
    write_setup(path, OTHER, read_setup(path).stamp)
    assert files(path.parent) == ["a.toml", "a.toml.orig", "a.toml~"]


def links(setup: Setup, count: int) -> Setup:
    return setup.model_copy(update={"chain": setup.chain.model_copy(update={"links": count})})


@pytest.mark.long
def test_many_savers_at_once_lose_nothing(path: Path) -> None:
    """Every process adds to one number as often as it is told, asking again after each conflict."""
    savers, times = 4, long_run(15, 2)
    write_setup(path, links(SETUP, 100), read_setup(path).stamp)
    pids = [forked(lambda: save_often(path, times)) for _ in range(savers)]
    assert [ended(pid) for pid in pids] == [0] * savers
    assert read_setup(path).value.chain.links == 100 + savers * times
    assert files(path.parent) == ["a.toml", "a.toml.orig", "a.toml~"]


def save_often(path: Path, times: int) -> None:
    done = 0
    while done < times:
        document = read_setup(path)
        try:
            write_setup(path, links(document.value, (document.value.chain.links or 0) + 1), document.stamp)
            done += 1
        except ChangedOnDisk:
            continue


KILLS = long_run(300)


@pytest.mark.long
def test_killed_at_any_moment_the_file_is_the_old_one_or_the_new_one(path: Path) -> None:
    """Saves in a loop until it is killed, over and over, each time at a random moment of some save."""
    rng = random.Random(7)
    last = 21
    for count in (20, last):
        write_setup(path, links(SETUP, count), read_setup(path).stamp)
    inside = 0
    for _ in range(KILLS):
        pid, saving_now = fork_endless_saver(path)
        assert os.read(saving_now, 1)
        time.sleep(rng.random() * 0.004)
        os.kill(pid, signal.SIGKILL)
        ended(pid)
        os.close(saving_now)
        now = whole(path)
        assert now != last  # it did save
        assert whole(backup_of(path)) in {now, before(now)}
        litter = list(path.parent.glob(".cogwright-*.tmp"))
        inside, last = inside + bool(litter), now
        for left in litter:
            left.unlink()
    assert inside > KILLS / 10  # it was killed in the middle of saves
    assert files(path.parent) == ["a.toml", "a.toml.orig", "a.toml~"]


def after(count: int) -> int:
    return count + 1 if count < 399 else 20


def before(count: int) -> int:
    return count - 1 if count > 20 else 399


def whole(path: Path) -> int:
    """The number in a file, after checking that it is what one save has written, to the last byte."""
    text = path.read_text()
    setup = parse(text, Setup)
    assert to_toml(setup) == text
    return setup.chain.links or 0


def fork_endless_saver(path: Path) -> tuple[int, int]:
    """The process, and a pipe that it writes to once it has saved."""
    reader, writer = os.pipe()

    def save_endlessly() -> None:
        # What is tried is the writing: a kill while the text is made up touches no file.
        saving._edited = lambda setup, model: (to_toml(setup), ())  # type: ignore[attr-defined]
        document = read_setup(path)
        while True:
            count = after(document.value.chain.links or 0)
            document = write_setup(path, links(SETUP, count), document.stamp)
            os.write(writer, b"!")

    pid = forked(save_endlessly)
    os.close(writer)
    return pid, reader


def test_the_order_of_flushes_and_renames(path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The content is on the disk before it takes the name over, and the name before the save is done."""
    done: list[str] = []
    stamp = read_setup(path).stamp
    fsync, replace = os.fsync, os.replace

    def noted_fsync(handle: int) -> None:
        done.append("flush folder" if os.path.isdir(f"/proc/self/fd/{handle}") else "flush file")
        fsync(handle)

    def noted_replace(old: Path, new: Path) -> None:
        done.append(f"rename to {new.name}")
        replace(old, new)

    monkeypatch.setattr(atomic.os, "fsync", noted_fsync)
    monkeypatch.setattr(atomic.os, "replace", noted_replace)
    write_setup(path, OTHER, stamp)
    first, rest = done[:3], done[3:]
    assert first == ["flush file", "flush file", "rename to a.toml.orig"]
    assert rest == ["rename to a.toml~", "rename to a.toml", "flush folder"]
    done.clear()
    write_setup(path, SETUP, read_setup(path).stamp)
    assert done == ["flush file", "rename to a.toml~", "rename to a.toml", "flush folder"]


def test_the_very_first_version_stays_for_good(path: Path) -> None:
    """Saved over twice, deleted, made anew and saved over again: the first version is there to the byte."""
    came_in = path.read_bytes()
    for setup in (OTHER, links(OTHER, 90), links(OTHER, 92)):
        write_setup(path, setup, read_setup(path).stamp)
    assert first_of(path).read_bytes() == came_in
    delete(path)
    write_setup(path, OTHER)
    write_setup(path, links(OTHER, 94), read_setup(path).stamp)
    assert first_of(path).read_bytes() == came_in
    assert read_setup(backup_of(path)).value == OTHER


def test_a_file_that_is_only_deleted_keeps_its_first_version_too(path: Path) -> None:
    came_in = path.read_bytes()
    delete(path)
    write_setup(path, OTHER)
    delete(path)
    assert first_of(path).read_bytes() == came_in


def test_a_first_version_that_cannot_be_kept_stops_the_save(
    path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """On a full disk the file stays as it is, and nothing is left behind."""
    before = path.read_bytes()

    def full(*_: object, **__: object) -> str:
        raise OSError(errno.ENOSPC, "full")

    monkeypatch.setattr(saving, "keep_as", full)
    with pytest.raises(StoreError, match="the disk is full"):
        write_setup(path, OTHER, read_setup(path).stamp)
    assert path.read_bytes() == before
    assert files(path.parent) == ["a.toml"]


@pytest.mark.parametrize("theirs", [b"--- a.toml\n+++ b.toml\n", b"\xff\xfe", b'title = "notes"\n', b""])
def test_what_another_program_left_under_that_name_stays(path: Path, theirs: bytes) -> None:
    """Saved over twice, the bike as it came in has a number, and both are there to the byte."""
    other, before = path.with_name("a.toml.orig"), path.read_bytes()
    other.write_bytes(theirs)
    assert first_of(path).name == "a.toml.orig-2"
    stamp = write_setup(path, make([30, 44], [11, 13]), read_setup(path).stamp).stamp
    write_setup(path, make([30, 42], [11, 13]), stamp)
    assert other.read_bytes() == theirs
    assert path.with_name("a.toml.orig-2").read_bytes() == before


def test_the_first_version_of_an_earlier_session_is_never_written_over(path: Path) -> None:
    first = path.with_name("a.toml.orig")
    first.write_bytes(b'format = 1\nname = "as it came in, last year"\n')
    kept = first.read_bytes()
    stamp = write_setup(path, make([30, 44], [11, 13]), read_setup(path).stamp).stamp
    write_setup(path, make([30, 42], [11, 13]), stamp)
    assert first.read_bytes() == kept
    assert not path.with_name("a.toml.orig-2").exists()
