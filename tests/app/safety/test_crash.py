"""What the app says of an error of its own when keeping the work, or the details of the error, fails too."""

import signal
from collections.abc import Callable
from pathlib import Path
from shutil import copytree

import pytest

from cogwright.app.main import BenchApp
from cogwright.app.safety.crash import LOG, Stopping
from cogwright.app.safety.signals import guard
from cogwright.core.setup.edits import SetTeeth
from cogwright.options import Options
from support import ROOT


class Fails(Stopping):
    """Its work cannot be kept."""

    def keep_work(self) -> str:
        raise ValueError("the work\x1b[31m is broken too")

    def go_wrong(self) -> None:
        raise RuntimeError("on purpose")


async def goes_wrong(app: Fails) -> None:
    async with app.run_test() as pilot:
        app.call_later(app.go_wrong)
        await pilot.pause()


async def test_work_that_cannot_be_kept_is_said_and_the_first_error_is_told(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setenv("XDG_STATE_HOME", str(tmp_path))
    with pytest.raises(RuntimeError, match="on purpose"):
        await goes_wrong(Fails())
    said = capsys.readouterr().err
    assert "Keeping unsaved work failed too: ValueError" in said
    assert "The error was: RuntimeError: on purpose" in said
    assert "\x1b" not in said
    (log,) = tmp_path.rglob(LOG)
    assert "on purpose" in log.read_text()


async def test_details_that_cannot_be_written_are_said_to_be(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """A file stands where the state folder would be."""
    (tmp_path / "state").write_text("a file")
    monkeypatch.setenv("XDG_STATE_HOME", str(tmp_path / "state"))
    with pytest.raises(RuntimeError, match="on purpose"):
        await goes_wrong(Fails())
    said = capsys.readouterr().err
    assert "The details could not be written to" in said
    assert "The error was: RuntimeError: on purpose" in said


class Plain(Fails):
    """It has no work to keep, and goes wrong twice."""

    def keep_work(self) -> str:
        return Stopping.keep_work(self)

    def go_wrong(self) -> None:
        self.call_later(super().go_wrong)
        super().go_wrong()


async def test_an_app_without_work_says_nothing_of_any_and_one_error_is_told(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setenv("XDG_STATE_HOME", str(tmp_path))
    with pytest.raises(RuntimeError, match="on purpose"):
        await goes_wrong(Plain())
    said = capsys.readouterr().err
    assert said.count("The error was: RuntimeError: on purpose") == 1
    assert "unsaved" not in said


def leave_with_an_error(save: Callable[[], None]) -> None:
    """After a signal, so to say, has had the work kept already."""
    with guard(Fails(), save) as ending:
        ending.keep()
        raise RuntimeError("on purpose")


def test_what_leaves_the_guard_keeps_the_work_once_and_gives_back_the_signals() -> None:
    kept, before = list[int](), signal.getsignal(signal.SIGTERM)
    with pytest.raises(RuntimeError, match="on purpose"):
        leave_with_an_error(lambda: kept.append(1))
    assert kept == [1]
    assert signal.getsignal(signal.SIGTERM) == before


def test_the_bench_says_what_became_of_its_work(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Before it runs no drafts are kept."""
    for name in ("XDG_STATE_HOME", "XDG_CONFIG_HOME"):
        monkeypatch.setenv(name, str(tmp_path / "state"))
    yard = Path(copytree(ROOT / "setups", tmp_path / "yard"))
    app = BenchApp([yard / "yard-1-two-rings.toml"], Options())
    assert app.keep_work() == "Nothing was unsaved."
    session = app.store.session
    app.action_act("undo")
    assert app.store.session is session, "nothing is done before the first frame has settled"
    app.store.replace(session.edit(SetTeeth("cog", 30, 29)))
    assert app.keep_work() == "Unsaved work could not be kept: its folder takes no more."
