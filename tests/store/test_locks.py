"""Savers take turns on every system, and where there are no locks nothing is worse than that."""

import errno
import os
import threading
import time
from pathlib import Path

import pytest

from cogwright.core.common.errors import InputError
from cogwright.store import locks
from cogwright.store.documents import read_setup
from cogwright.store.drafts import Drafts, pending
from cogwright.store.locks import folder_lock
from cogwright.store.saving import write_setup
from support import make

SETUP = make([30, 46], [11, 13, 15, 17])


@pytest.fixture(params=["folder", "file"])
def way(request: pytest.FixtureRequest, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> str:
    """A lock on the folder itself, or as on a system that cannot open folders."""
    monkeypatch.setenv("XDG_STATE_HOME", str(tmp_path / "state"))
    monkeypatch.setattr(locks, "_WAIT_S", 0.2)
    if request.param == "file":
        monkeypatch.delattr(os, "O_DIRECTORY")
    return str(request.param)


def test_a_second_saver_waits_its_turn(way: str, tmp_path: Path) -> None:
    folder = tmp_path / "shelf"
    folder.mkdir()
    order: list[str] = []

    def second() -> None:
        with folder_lock(folder) as lock:
            order.append("second")
            assert lock.held

    with folder_lock(folder) as lock:
        assert lock.held
        assert (lock.handle is None) == (way == "file")
        thread = threading.Thread(target=second)
        thread.start()
        time.sleep(0.05)
        order.append("first")
    thread.join()
    assert order == ["first", "second"]
    assert os.listdir(folder) == []  # no file of ours is left in it


def test_whoever_waits_too_long_is_told(way: str, tmp_path: Path) -> None:
    said = "another program is saving in this folder"
    with folder_lock(tmp_path), pytest.raises(InputError, match=said), folder_lock(tmp_path):
        raise AssertionError("there was no lock")
    with folder_lock(tmp_path) as lock:  # and it is free again
        assert lock.held


@pytest.mark.long(cases=0)
def test_a_lock_by_a_file_lets_nobody_in_by_another_path(tmp_path: Path, way: str) -> None:
    (tmp_path / "shelf").mkdir()
    (tmp_path / "link").symlink_to("shelf")
    with folder_lock(tmp_path / "shelf"), pytest.raises(InputError), folder_lock(tmp_path / "link"):
        pass


@pytest.mark.parametrize("code", [errno.ENOSYS, errno.ENOTSUP, errno.ENOLCK, errno.EBADF])
def test_where_there_are_no_locks_everything_still_works(
    code: int, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def unsupported(handle: int, blocking: bool) -> bool:
        raise OSError(code, os.strerror(code))

    monkeypatch.setattr(locks, "lock_descriptor", unsupported)
    saved = write_setup(tmp_path / "a.toml", SETUP)
    assert read_setup(tmp_path / "a.toml") == saved
    drafts = Drafts(tmp_path / "state" / "drafts")
    drafts.put(None, SETUP)
    assert drafts.failing == ""
    assert [draft.setup for draft in pending(tmp_path / "state" / "drafts").drafts] == [SETUP]


def test_without_a_state_folder_a_save_needs_no_lock(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    (tmp_path / "state").write_text("a file")
    monkeypatch.setenv("XDG_STATE_HOME", str(tmp_path / "state"))
    monkeypatch.delattr(os, "O_DIRECTORY")
    with folder_lock(tmp_path) as lock:
        assert lock == (None, False)
    assert write_setup(tmp_path / "a.toml", SETUP).value == SETUP
    with pytest.raises(FileNotFoundError), folder_lock(tmp_path / "gone"):
        pass
