"""What goes wrong in the middle of a save: what is said stands on the disk, and nothing stays behind."""

import errno
import os
import stat
from collections.abc import Callable
from pathlib import Path

import pytest
from test_private import as_nobody, as_root, shared

from cogwright.store import atomic
from cogwright.store.documents import read_setup
from cogwright.store.exports import write_export
from cogwright.store.files import StoreError
from cogwright.store.saving import HardLinked, backup_of, delete, undelete, write_setup
from support import make

__all__ = ["shared"]
SETUP = make([30, 46], [11, 13, 15, 17, 19, 21, 24, 28], chain={"links": 110})
OTHER = make([30, 46], [11, 13, 15, 17, 19, 21, 24, 30], chain={"links": 112})


@pytest.fixture
def path(tmp_path: Path) -> Path:
    """A saved setup."""
    write_setup(tmp_path / "a.toml", SETUP)
    return tmp_path / "a.toml"


def files(folder: Path) -> list[str]:
    return sorted(os.listdir(folder))


def failing(
    real: Callable[..., object], when: Callable[..., bool], code: int = errno.EIO
) -> Callable[..., object]:
    """A call of the system that fails when it is asked for certain things."""

    def call(*args: object, **more: object) -> object:
        if when(*args):
            raise OSError(code, os.strerror(code))
        return real(*args, **more)

    return call


def is_folder(handle: int) -> bool:
    return stat.S_ISDIR(os.fstat(handle).st_mode)


UNSURE = "the disk did not confirm it (Input/output error), so after a power cut the version before may stand"


def test_a_save_whose_folder_is_not_flushed_is_saved_and_says_what_is_not_certain(
    path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    stamp = read_setup(path).stamp
    monkeypatch.setattr(atomic.os, "fsync", failing(os.fsync, is_folder))
    saved = write_setup(path, OTHER, stamp)
    assert UNSURE in saved.doubt
    assert read_setup(path) == saved
    assert files(path.parent) == ["a.toml", "a.toml.orig", "a.toml~"]
    again = write_setup(path, OTHER, saved.stamp)  # without a change: it is flushed once more
    assert UNSURE in again.doubt
    monkeypatch.undo()
    assert write_setup(path, OTHER, again.stamp).doubt == ""


def test_deleting_and_bringing_back_say_the_same(path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    assert delete(path) == ""
    assert undelete(path) == ""
    monkeypatch.setattr(atomic.os, "fsync", failing(os.fsync, is_folder))
    assert UNSURE in delete(path)
    assert files(path.parent) == ["a.toml.orig", "a.toml~"]
    assert UNSURE in undelete(path)
    assert read_setup(path).value == SETUP


@pytest.mark.parametrize("code", [errno.EINVAL, errno.ENOTSUP, errno.EROFS])
def test_a_folder_that_cannot_be_flushed_at_all_is_no_doubt(
    code: int, path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    stamp = read_setup(path).stamp
    monkeypatch.setattr(atomic.os, "fsync", failing(os.fsync, is_folder, code))
    assert write_setup(path, OTHER, stamp).doubt == ""


def test_an_error_of_a_rename_that_happened_is_not_called_not_saved(
    path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """As a file server can answer when its first answer was lost."""
    stamp, replace = read_setup(path).stamp, os.replace

    def answered_late(old: Path, new: Path) -> None:
        replace(old, new)
        raise OSError(errno.EIO, "lost")

    monkeypatch.setattr(atomic.os, "replace", answered_late)
    assert write_setup(path, OTHER, stamp).value == OTHER
    assert read_setup(path).value == OTHER
    assert files(path.parent) == ["a.toml", "a.toml.orig", "a.toml~"]


@pytest.mark.parametrize("call", ["close", "fsync", "write", "replace", "fchmod"])
def test_no_temporary_file_stays_whatever_fails(
    call: str, path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    stamp, opened = read_setup(path).stamp, set()
    real_open, real = os.open, getattr(os, call)

    def noted_open(name: object, *args: object, **more: object) -> int:
        handle: int = real_open(name, *args, **more)  # type: ignore[arg-type]
        if str(name).endswith(".tmp"):
            opened.add(handle)
        return handle

    monkeypatch.setattr(atomic.os, "open", noted_open)
    monkeypatch.setattr(
        atomic.os, call, failing(real, lambda what, *rest: what in opened or call == "replace")
    )
    if call == "fchmod":  # file systems without modes: it was made with the right one
        write_setup(path, OTHER, stamp)
    else:
        with pytest.raises(StoreError, match=r"^Not saved: .*a\.toml: the disk reports an error"):
            write_setup(path, OTHER, stamp)
        assert read_setup(path).value == SETUP
    monkeypatch.undo()
    assert [name for name in files(path.parent) if name.endswith(".tmp")] == []


def test_a_temporary_file_that_cannot_be_removed_is_named(
    path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    stamp = read_setup(path).stamp
    monkeypatch.setattr(atomic.os, "replace", failing(os.replace, lambda *_: True))
    monkeypatch.setattr(atomic.os, "unlink", failing(os.unlink, lambda *_: True, errno.EPERM))
    with pytest.raises(StoreError) as caught:
        write_setup(path, OTHER, stamp)
    monkeypatch.undo()
    left = [name for name in files(path.parent) if name.endswith(".tmp")]
    assert left
    for name in left:
        assert f"the temporary file {name} stays beside it: remove it" in str(caught.value)
    assert read_setup(path).value == SETUP


def test_an_interrupt_in_the_middle_leaves_the_old_file_alone(
    path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    stamp = read_setup(path).stamp

    def interrupted(*args: object) -> None:
        raise KeyboardInterrupt

    for call in ("fsync", "replace"):
        with monkeypatch.context() as broken:
            broken.setattr(atomic.os, call, interrupted)
            with pytest.raises(KeyboardInterrupt):
                write_setup(path, OTHER, stamp)
        assert read_setup(path).value == SETUP
        assert [name for name in files(path.parent) if name.endswith(".tmp")] == []


def test_a_file_of_several_names_is_said_to_be_one_before_it_is_parted(path: Path) -> None:
    other = path.with_name("the-same.txt")
    os.link(path, other)
    stamp = read_setup(path).stamp
    with pytest.raises(HardLinked) as caught:
        write_setup(path, OTHER, stamp)
    assert caught.value.names == 1
    assert "Not saved: a.toml has 1 more name on the disk (hard links)" in str(caught.value)
    assert os.path.samefile(path, other)
    assert files(path.parent) == ["a.toml", "the-same.txt"]
    saved = write_setup(path, OTHER, stamp, part=True)
    assert read_setup(path).value == OTHER
    assert read_setup(other).value == SETUP
    assert not os.path.samefile(
        backup_of(path), other
    )  # who writes to the other name leaves the backup alone
    write_setup(path, SETUP, saved.stamp)  # it has one name now


def test_the_programs_own_second_name_is_no_hard_link(path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Killed between the backup and the rename: the file and its backup are two names of one."""
    stamp = read_setup(path).stamp
    os.link(path, backup_of(path))
    os.link(path, path.with_name(".cogwright-0123456789abcdef.tmp"))
    assert write_setup(path, OTHER, stamp).value == OTHER


@as_root
def test_a_folder_that_keeps_files_for_their_owners(shared: Path) -> None:
    """As /tmp does: a file of somebody else's can be written but not replaced, and nothing is left behind."""
    path = shared / "a.toml"
    stamp = write_setup(path, SETUP).stamp
    path.chmod(0o666)
    shared.chmod(0o1777)
    said = as_nobody(lambda: write_setup(path, OTHER, stamp))
    assert said.startswith("Not saved: ")
    assert "a.toml: its folder lets nobody but its owner replace it; save in a folder of yours" in said
    assert files(shared) == ["a.toml"]
    assert read_setup(path).value == SETUP


@as_root
def test_a_backup_of_somebody_else_in_such_a_folder(shared: Path) -> None:
    path = shared / "a.toml"
    stamp = write_setup(path, SETUP).stamp
    os.chown(path, 65534, 65534)
    backup_of(path).write_text("theirs")
    backup_of(path).chmod(0o666)
    shared.chmod(0o1777)
    said = as_nobody(lambda: write_setup(path, OTHER, stamp))
    assert "a.toml~: its folder lets nobody but its owner replace it" in said
    assert files(shared) == ["a.toml", "a.toml.orig", "a.toml~"]
    assert backup_of(path).read_text() == "theirs"


@as_root
def test_a_save_leaves_a_file_its_owner_and_its_mode(tmp_path: Path) -> None:
    path = tmp_path / "theirs.toml"
    stamp = write_setup(path, SETUP).stamp
    os.chown(path, 65534, 65534)
    path.chmod(0o640)
    write_setup(path, OTHER, stamp)
    status = path.stat()
    assert (status.st_uid, status.st_gid, status.st_mode & 0o777) == (65534, 65534, 0o640)


@as_root
def test_a_file_of_ones_own_in_such_a_folder_is_saved(shared: Path) -> None:
    shared.chmod(0o1777)

    def work() -> str:
        path = shared / "mine.toml"
        saved = write_setup(path, SETUP)
        return str(write_setup(path, OTHER, saved.stamp).value == OTHER)

    assert as_nobody(work) == "True"
    assert files(shared) == ["mine.toml", "mine.toml.orig", "mine.toml~"]


def test_an_export_that_fails_leaves_nothing(tmp_path: Path) -> None:
    with pytest.raises(StoreError, match="Not written"):
        write_export("a.txt", "half \udcff", tmp_path)
    assert files(tmp_path) == []
