"""Taking the picture along."""

import base64
from pathlib import Path

import pytest

from cogwright.app.main import BenchApp
from cogwright.store.documents import to_toml
from forking import run_bench
from ptyterm import Term
from support import ROOT, make


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A folder with one setup, which is the working directory too."""
    monkeypatch.setenv("XDG_STATE_HOME", str(tmp_path / "state"))
    monkeypatch.setenv("LANG", "C.UTF-8")
    shelf = tmp_path / "shelf"
    shelf.mkdir()
    (shelf / "a.toml").write_text(to_toml(make([30, 46], [11, 13, 15, 17, 19, 21, 24])))
    monkeypatch.chdir(shelf)
    return shelf


async def test_the_whole_view_goes_to_a_new_file_each_time(folder: Path) -> None:
    app = BenchApp([folder])
    async with app.run_test(size=(80, 12)) as pilot:  # too low for all gears: the file has them all
        for _ in range(2):
            await pilot.press("e", "enter")
            await pilot.pause()
        assert "Written to" in app.store.session.message
    first, second = (folder / name for name in ("test-bike-gears.txt", "test-bike-gears-2.txt"))
    assert first.read_text() == second.read_text()
    assert all(f" {ring}x{cog} " in first.read_text() for ring in (30, 46) for cog in (11, 24))


async def test_the_chart_goes_to_a_drawing_of_shapes_and_text(folder: Path) -> None:
    app = BenchApp([folder])
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("e", "down", "down", "enter")
        await pilot.pause()
        assert "Written to" in app.store.session.message
    text = (folder / "test-bike.svg").read_text()
    assert text.startswith("<svg")
    assert text.count("<rect") > 14  # a bar a gear at the least
    assert "30\u00d724" in text
    assert "\u2588" not in text


@pytest.mark.long(cases=0)
async def test_a_folder_that_cannot_be_written_says_so(folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def refuse(*_: object, **__: object) -> None:
        raise PermissionError(13, "Permission denied")

    app = BenchApp([folder])
    async with app.run_test(size=(80, 24)) as pilot:
        monkeypatch.setattr(Path, "open", refuse)
        await pilot.press("e", "enter")
        await pilot.pause()
        assert "Not written" in app.store.session.message


@pytest.mark.long(cases=0)
def test_the_clipboard_gets_the_text_by_osc_52(folder: Path) -> None:
    env = {"PYTHONPATH": str(ROOT / "src"), "XDG_STATE_HOME": str(folder.parent / "state")}
    with Term(["cogwright", str(folder)], env=env, forks=run_bench) as term:
        term.wait_for("30x24 \u2588")
        term.key("e\x1b[B\r")
        term.wait_for("clipboard (OSC 52)")
        term.wait_for("lines sent")
        sent = term.output.split(b"\x1b]52;c;")[1].split(b"\x07")[0]
    assert "46x11" in base64.b64decode(sent).decode()
