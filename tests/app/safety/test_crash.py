"""What the app says of an error of its own when keeping the work, or the details of the error, fails too."""

from pathlib import Path
from shutil import copytree

import pytest

from cogwright.app.main import BenchApp
from cogwright.app.safety.crash import LOG, Stopping
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
