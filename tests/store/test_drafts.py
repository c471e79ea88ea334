"""Drafts: work that was not saved is offered again, to the right one, once."""

import os
import shutil
import signal
import time
from collections.abc import Callable
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from cogwright.core.setup.model import Setup
from cogwright.store import private
from cogwright.store.documents import read_setup, to_toml
from cogwright.store.drafts import Draft, Drafts, drop, pending
from cogwright.store.files import StoreError
from cogwright.store.saving import write_setup
from strategies import setups
from support import ended, forked, long_run, make

SETUP = make([30, 46], [11, 13, 15, 17, 19, 21, 24, 28])
EDITED = make([30, 46], [11, 13, 15, 17, 19, 21, 24, 30])


@pytest.fixture
def state(tmp_path: Path) -> Path:
    """A state folder of the test's own; it does not exist yet."""
    return tmp_path / "state" / "drafts"


def die_after(state: Path, file: Path | None, *edits: Setup) -> None:
    """Another session puts drafts and is killed right after the last."""

    def session() -> None:
        drafts = Drafts(state)
        for edit in edits:
            drafts.put(file, edit, read_setup(file).stamp if file else None)
        os.kill(os.getpid(), signal.SIGKILL)

    assert ended(forked(session)) == signal.SIGKILL


@pytest.fixture
def path(tmp_path: Path) -> Path:
    """A saved setup."""
    write_setup(tmp_path / "a.toml", SETUP)
    return tmp_path / "a.toml"


def test_kill_9_right_after_an_edit_loses_nothing(state: Path, path: Path) -> None:
    die_after(state, path, SETUP, EDITED)
    (draft,) = pending(state).drafts
    assert (draft.file, draft.setup) == (path, EDITED)
    assert draft.changes() == ("cog 28 to 30",)
    assert not draft.file_has_changed()
    assert timedelta(0) <= datetime.now(UTC) - draft.time < timedelta(seconds=30)


def test_a_file_that_changed_meanwhile_is_said(state: Path, path: Path) -> None:
    die_after(state, path, EDITED)
    write_setup(path, SETUP.model_copy(update={"name": "Yard 9"}), read_setup(path).stamp)
    (draft,) = pending(state).drafts
    assert draft.file_has_changed()
    assert draft.changes() == ("name: Test bike, was Yard 9", "cog 28 to 30")
    path.write_text("")
    assert pending(state).drafts[0].changes() == ("the file cannot be read: the file is empty",)


def test_a_draft_that_was_turned_down_is_gone(state: Path, path: Path) -> None:
    die_after(state, path, EDITED)
    drop(pending(state).drafts[0])
    assert pending(state).drafts == ()
    assert os.listdir(state) == []


def test_what_was_saved_or_given_up_is_not_offered(state: Path, path: Path) -> None:
    die_after(state, path, SETUP)  # what the file says anyway: killed between the save and the discard
    assert pending(state).drafts == ()
    drafts = Drafts(state)
    drafts.put(path, EDITED)
    drafts.discard(path)
    drafts.close()
    assert pending(state).drafts == ()
    assert os.listdir(state) == []


def test_two_live_sessions_do_not_see_each_others_drafts(state: Path, path: Path) -> None:
    ours = Drafts(state)
    ours.put(path, EDITED)
    assert pending(state).drafts == ()
    assert in_another_process(lambda: pending(state).drafts == ())
    ours.close()  # it ends, and leaves the work to the next one
    assert [draft.setup for draft in pending(state).drafts] == [EDITED]


def in_another_process(holds: Callable[[], bool]) -> bool:
    return ended(forked(lambda: os._exit(0 if holds() else 1))) == 0


def test_one_draft_a_file_and_only_those_of_the_folder(state: Path, path: Path, tmp_path: Path) -> None:
    (tmp_path / "elsewhere").mkdir()
    other = tmp_path / "elsewhere" / "b.toml"
    write_setup(other, SETUP)
    for file in (path, other, None):
        die_after(state, file, EDITED)
        time.sleep(0.002)
    assert [draft.file for draft in pending(state).drafts] == [None, other, path]
    assert [draft.file for draft in pending(state, path.parent).drafts] == [None, path]
    link = tmp_path / "link"
    link.symlink_to(tmp_path / "elsewhere")
    assert [draft.file for draft in pending(state, link).drafts] == [None, other]
    assert pending(state).drafts[0].changes() == ("not saved yet",)


BROKEN = {
    "empty": b"",
    "cut off": b'{"format": 1, "file": ',
    "no text": b"\xff\x00",
    "nothing in it": b"{}",
    "a list": b"[]",
    "wrong types": b'{"file": 3, "setup": "x"}',
    "deep": b"[" * 100_000,
    "long number": b"9" * 5000,
}


@pytest.mark.long(cases=4)
@pytest.mark.parametrize("content", BROKEN.values(), ids=BROKEN)
def test_a_broken_draft_is_noted_once_and_hides_no_other(content: bytes, state: Path, path: Path) -> None:
    die_after(state, path, EDITED)
    (state / "0-0-0.draft").write_bytes(content)
    found = pending(state)
    assert [draft.setup for draft in found.drafts] == [EDITED]
    assert "a draft of unsaved work cannot be read; it is kept there" in str(found.notes[0])
    assert pending(state).notes == ()


def test_pipes_folders_and_strangers_in_the_state_folder_do_no_harm(state: Path, path: Path) -> None:
    die_after(state, path, EDITED)
    os.mkfifo(state / "1-1-1.draft")
    os.mkfifo(state / "2-2.lock")
    (state / "3-3-3.draft").mkdir()
    (state / "loop.lock").symlink_to("loop.lock")
    (state / "strange").write_text("x")
    assert [draft.setup for draft in pending(state).drafts] == [EDITED]


def test_a_state_folder_that_cannot_be_used_is_a_clear_error(path: Path, tmp_path: Path) -> None:
    (tmp_path / "file").touch()
    broken = Drafts(tmp_path / "file" / "drafts")
    assert "Unsaved work cannot be kept in" in broken.failing
    assert "file is a file, not a folder; move it away" in broken.failing
    with pytest.raises(StoreError, match=r"Unsaved work cannot be kept in .*file is a file, not a folder"):
        broken.put(path, EDITED)
    assert pending(tmp_path / "file" / "drafts").drafts == ()
    (tmp_path / "file").unlink()
    broken.put(path, EDITED)  # mended meanwhile
    assert broken.failing == ""
    broken.close()
    assert [draft.setup for draft in pending(tmp_path / "file" / "drafts").drafts] == [EDITED]


def test_a_state_folder_that_was_cleared_away_is_made_again_with_its_lock(state: Path, path: Path) -> None:
    ours = Drafts(state)
    shutil.rmtree(state.parent)
    ours.put(path, EDITED)
    assert ours.failing == ""
    assert in_another_process(lambda: pending(state).drafts == ())  # it is still known to live
    ours.close()
    assert [draft.setup for draft in pending(state).drafts] == [EDITED]


def test_a_full_disk_is_said_and_the_draft_before_stays(
    state: Path, path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    drafts = Drafts(state)
    drafts.put(path, EDITED)

    def full(*args: object, **more: object) -> None:
        raise OSError(28, "simulated")

    for call in ("open", "write", "close", "replace"):
        with monkeypatch.context() as broken:
            broken.setattr(private.os, call, full)
            with pytest.raises(StoreError, match="the disk is full; free some space"):
                drafts.put(path, SETUP)
        assert [name for name in os.listdir(state) if name.endswith(".tmp")] == []
    drafts.close()
    assert [draft.setup for draft in pending(state).drafts] == [EDITED]


def test_a_draft_is_cheap_enough_for_every_edit(state: Path, path: Path) -> None:
    """Hardly dearer than writing a file at all."""
    drafts = Drafts(state)
    text = to_toml(EDITED)
    put = median_s(lambda: drafts.put(path, EDITED))
    assert put < 10 * median_s(lambda: path.with_name("plain").write_text(text)) + 0.01


def median_s(work: Callable[[], object]) -> float:
    taken = []
    for _ in range(50):
        begun = time.perf_counter()
        work()
        taken.append(time.perf_counter() - begun)
    return sorted(taken)[len(taken) // 2]


@pytest.mark.long
@given(
    setup=setups,
    name=st.binary(min_size=1, max_size=20).filter(lambda raw: b"/" not in raw and b"\0" not in raw),
)
@settings(max_examples=long_run(60))
def test_any_setup_of_any_file_name_comes_back(
    setup: Setup, name: bytes, tmp_path_factory: pytest.TempPathFactory
) -> None:
    state = tmp_path_factory.mktemp("state")
    file = state / os.fsdecode(b"x" + name)
    drafts = Drafts(state)
    drafts.put(file, setup)
    drafts.close()
    (draft,) = pending(state).drafts
    assert isinstance(draft, Draft)
    assert (draft.file, draft.setup) == (file, setup)


def test_what_a_killed_session_left_half_written_is_swept_up(state: Path, path: Path) -> None:
    die_after(state, path, EDITED)
    for name, age in (("old.tmp", 3600), ("new.tmp", 0)):
        (state / name).write_text("half a dra")
        os.utime(state / name, (time.time() - age, time.time() - age))
    assert len(pending(state).drafts) == 1
    assert sorted(name for name in os.listdir(state) if name.endswith(".tmp")) == ["new.tmp"]


def test_a_draft_that_cannot_be_removed_is_not_said_to_be_gone(
    state: Path, path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def fail(*args: object, **more: object) -> None:
        raise PermissionError("simulated")

    die_after(state, path, EDITED)
    (draft,) = pending(state).drafts
    with monkeypatch.context() as broken:
        broken.setattr(Path, "unlink", fail)
        assert not drop(draft)
    assert drop(draft)
    assert pending(state).drafts == ()
