"""Unsaved work is its owner's alone: modes, owners, planted links; and where it is kept on which system."""

import os
import stat
import tempfile
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

from cogwright.core.common.errors import CogwrightError
from cogwright.store import paths, private
from cogwright.store.drafts import Drafts, pending
from cogwright.store.files import StoreError
from cogwright.store.paths import settings_file, state_folder, state_folders
from cogwright.store.private import private_folder, write_private
from support import ended, forked, make

EDITED = make([30, 46], [11, 13, 15, 17, 19, 21, 24, 30])
NOBODY = 65534
as_root = pytest.mark.skipif(not hasattr(os, "geteuid") or os.geteuid() != 0, reason="needs another user")


def mode(path: Path) -> int:
    return stat.S_IMODE(os.lstat(path).st_mode)


@pytest.fixture
def state(tmp_path: Path) -> Path:
    return tmp_path / "home" / ".local" / "state" / "cogwright" / "drafts"


@pytest.fixture(params=[0o000, 0o022, 0o077, 0o277, 0o777], ids=oct)
def umask(request: pytest.FixtureRequest) -> Iterator[None]:
    before = os.umask(request.param)
    yield
    os.umask(before)


@pytest.mark.usefixtures("umask")
def test_modes_do_not_depend_on_the_umask(state: Path) -> None:
    drafts = Drafts(state)
    drafts.put(None, EDITED)
    assert drafts.failing == ""
    assert [mode(folder) for folder in (state, *state.parents[:4])] == [0o700] * 5
    kept = [mode(state / name) for name in os.listdir(state)]
    assert kept == [0o600, 0o600]  # the draft and the lock
    drafts.close()
    assert [draft.setup for draft in pending(state).drafts] == [EDITED]


def test_folders_of_an_older_version_are_made_private(state: Path) -> None:
    state.mkdir(parents=True)
    state.chmod(0o777)
    state.parent.chmod(0o755)
    Drafts(state).put(None, EDITED)
    assert (mode(state), mode(state.parent)) == (0o700, 0o700)
    assert mode(state.parents[1]) == mode(state.parents[2])  # what is not the program's own is left alone


@pytest.mark.parametrize("level", [0, 1], ids=["drafts", "cogwright"])
def test_a_planted_link_is_refused(level: int, state: Path, tmp_path: Path) -> None:
    (tmp_path / "elsewhere" / "drafts").mkdir(parents=True)
    planted = (state, state.parent)[level]
    planted.parent.mkdir(parents=True)
    planted.symlink_to(tmp_path / "elsewhere")
    drafts = Drafts(state)
    assert f"{planted} is a link, not a folder; move it away" in drafts.failing
    with pytest.raises(StoreError, match="is a link"):
        drafts.put(None, EDITED)
    assert list((tmp_path / "elsewhere").rglob("*")) == [tmp_path / "elsewhere" / "drafts"]
    if level == 0:
        assert pending(state).drafts == ()


def test_a_link_planted_while_it_runs_is_refused(state: Path, tmp_path: Path) -> None:
    drafts = Drafts(state)
    state.rename(tmp_path / "moved")
    state.symlink_to(tmp_path / "moved")
    with pytest.raises(StoreError, match="is a link"):
        drafts.put(None, EDITED)
    assert not list((tmp_path / "moved").glob("*.draft"))


def test_a_link_in_the_place_of_a_file_is_replaced_not_followed(tmp_path: Path) -> None:
    private_folder(tmp_path / "own")
    (tmp_path / "victim").write_text("precious")
    (tmp_path / "own" / "last-crash.txt").symlink_to(tmp_path / "victim")
    write_private(tmp_path / "own" / "last-crash.txt", b"details")
    assert (tmp_path / "victim").read_text() == "precious"
    assert (tmp_path / "own" / "last-crash.txt").read_text() == "details"


def test_a_draft_that_is_a_link_is_not_offered(state: Path, tmp_path: Path) -> None:
    drafts = Drafts(state)
    drafts.put(None, EDITED)
    drafts.close()
    (kept,) = state.glob("*.draft")
    kept.rename(tmp_path / "other")
    kept.symlink_to(tmp_path / "other")
    assert pending(state) == pending(tmp_path / "nowhere")


def as_nobody(work: Callable[[], object]) -> str:
    """What some work says, done by another user, in a process of its own."""
    reader, writer = os.pipe()

    def said() -> None:
        os.setgid(NOBODY)
        os.setuid(NOBODY)
        try:
            text = str(work())
        except CogwrightError as error:
            text = str(error)
        os.write(writer, text.encode())

    pid = forked(said)
    os.close(writer)
    with os.fdopen(reader, "rb") as pipe:
        text = pipe.read().decode()
    ended(pid)
    return text


@pytest.fixture
def shared() -> Iterator[Path]:
    """A folder that every user can write to, and get to: pytest's own are closed to others."""
    with tempfile.TemporaryDirectory() as name:
        Path(name).chmod(0o755)
        shared = Path(name) / "shared"
        shared.mkdir()
        shared.chmod(0o777)
        yield shared


@as_root
def test_a_folder_of_somebody_else_is_refused(shared: Path) -> None:
    """Another user has made it first, and left it open: what is written there would be theirs to read."""
    made = shared / "cogwright"
    assert as_nobody(lambda: Drafts(made / "drafts").failing) == ""
    for folder in (made, made / "drafts"):
        folder.chmod(0o777)
    drafts = Drafts(made / "drafts")
    assert "cogwright belongs to somebody else" in drafts.failing
    with pytest.raises(StoreError, match="belongs to somebody else"):
        drafts.put(None, EDITED)
    assert mode(made) == 0o777


@as_root
def test_drafts_of_other_owners_are_not_offered(state: Path) -> None:
    for _ in range(2):
        drafts = Drafts(state)
        drafts.put(None, EDITED)
        drafts.close()
    theirs, _ = state.glob("*.draft")
    os.chown(theirs, NOBODY, NOBODY)
    (offered,) = pending(state).drafts
    assert offered.path != theirs
    assert theirs.exists()
    os.chown(state, NOBODY, NOBODY)
    assert pending(state).drafts == ()


def test_a_file_that_cannot_be_written_leaves_nothing(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def fail(*args: object, **more: object) -> None:
        raise OSError(5, "simulated")

    private_folder(tmp_path / "own")
    write_private(tmp_path / "own" / "a", b"before")
    for call in ("write", "replace", "close"):
        with monkeypatch.context() as broken:
            broken.setattr(private.os, call, fail)
            with pytest.raises(OSError, match="simulated"):
                write_private(tmp_path / "own" / "a", b"after")
        assert os.listdir(tmp_path / "own") == ["a"]
        assert (tmp_path / "own" / "a").read_bytes() == b"before"


def test_the_state_folder_follows_the_environment(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """As the XDG base directory specification has it (A): a relative path is ignored."""
    monkeypatch.setenv("HOME", str(tmp_path))
    monkeypatch.setenv("XDG_STATE_HOME", str(tmp_path / "xdg"))
    assert state_folders() == (tmp_path / "xdg" / "cogwright",)
    assert Drafts().folder == tmp_path / "xdg" / "cogwright" / "drafts"
    for value in ("relative", ""):
        monkeypatch.setenv("XDG_STATE_HOME", value)
        assert state_folder() == tmp_path / ".local" / "state" / "cogwright"
    monkeypatch.setenv("XDG_CONFIG_HOME", "relative")
    assert settings_file() == tmp_path / ".config" / "cogwright" / "settings.toml"
    monkeypatch.setenv("XDG_CONFIG_HOME", str(tmp_path / "conf"))
    assert settings_file() == tmp_path / "conf" / "cogwright" / "settings.toml"


def test_without_a_home_there_is_no_place_and_that_is_said(monkeypatch: pytest.MonkeyPatch) -> None:
    for name in ("XDG_STATE_HOME", "XDG_CONFIG_HOME"):
        monkeypatch.delenv(name, raising=False)
    monkeypatch.setattr(os.path, "expanduser", lambda path: path)
    monkeypatch.setattr(paths, "user_state_path", lambda *args, **more: Path("~/.local/state/cogwright"))
    assert "there is no home folder; set HOME to yours" in Drafts().failing
    assert not os.path.exists("~")


@pytest.fixture
def other_system(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A system that keeps state and settings elsewhere than this program did until now."""
    monkeypatch.setenv("HOME", str(tmp_path))
    for name in ("XDG_STATE_HOME", "XDG_CONFIG_HOME"):
        monkeypatch.delenv(name, raising=False)
    library = tmp_path / "Library" / "Application Support" / "cogwright"
    monkeypatch.setattr(paths, "user_state_path", lambda *args, **more: library)
    monkeypatch.setattr(paths, "user_config_path", lambda *args, **more: library)
    return library


def test_what_was_left_in_the_old_places_is_still_found(other_system: Path, tmp_path: Path) -> None:
    before = Drafts(tmp_path / ".local" / "state" / "cogwright" / "drafts")
    before.put(None, EDITED)
    before.close()
    now = Drafts()
    assert now.folder == other_system / "drafts"
    assert [draft.setup for draft in pending().drafts] == [EDITED]
    now.close()
    old = tmp_path / ".config" / "cogwright" / "settings.toml"
    assert settings_file() == other_system / "settings.toml"
    old.parent.mkdir(parents=True)
    old.write_text("format = 1\n")
    assert settings_file() == old
    (other_system / "settings.toml").write_text("format = 1\n")
    assert settings_file() == other_system / "settings.toml"
