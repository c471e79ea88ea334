"""Unsaved work of earlier sessions: offered, taken, turned down, whatever became of its file."""

import errno
import json
import shutil
from datetime import datetime
from pathlib import Path

import pytest
from screens import is_open, words
from test_app_files import SETUP, SIZE, by_another, drafts, keys, path, state

from cogwright.app.main import BenchApp
from cogwright.app.safety.drafts import work_of
from cogwright.core.setup.model import Setup
from cogwright.store import drafts as store_drafts
from cogwright.store.documents import read_setup, to_toml
from cogwright.store.drafts import Draft, Drafts, pending
from support import make

__all__ = ["path"]
EDITED = make([30, 46], [11, 13, 15, 17, 19, 21, 25])


def died(path: Path, *work: tuple[Path | None, Setup]) -> None:
    """A session ended with this work unsaved."""
    session = Drafts(state(path))
    for file, setup in work:
        there = read_setup(file).stamp if file is not None and file.exists() else None
        session.put(file, setup, there)
    session.close()


async def test_work_is_taken_back_and_undo_shows_the_file(path: Path) -> None:
    died(path, (path, EDITED))
    app = BenchApp([path.parent])
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("x")  # a key that came too soon does not count
        assert "Work on a.toml of" in words(app)
        assert "cog 24 to 25" in words(app)
        assert "Leave it, and it is offered again next time." in words(app)
        assert "Esc F10 back" in words(app)
        await pilot.press("q")
        assert app.store.session.bench == SETUP
    assert drafts(path) == [EDITED]
    app = BenchApp([path.parent])
    async with app.run_test(size=SIZE) as pilot:
        await pilot.pause()
        await pilot.press("t")
        assert "Taken back, not saved yet: s saves, u shows what was there" in words(app)
        await pilot.press("u")
        assert app.store.session.bench == SETUP
        await pilot.press("r", "s")
        assert read_setup(path).value == EDITED
    assert drafts(path) == []


@pytest.mark.long(cases=0)
async def test_taken_work_is_a_draft_again_until_it_is_saved(path: Path) -> None:
    died(path, (path, EDITED))
    app = BenchApp([path.parent])
    async with app.run_test(size=SIZE) as pilot:
        await pilot.pause()
        await pilot.press("t")
        (mine,) = state(path).glob("*.draft")
        assert json.loads(mine.read_text())["digest"] == read_setup(path).stamp.digest
        app.exit(1)  # as a signal does
    assert drafts(path) == [EDITED]


@pytest.mark.long(cases=0)
async def test_saving_taken_work_asks_when_the_file_has_changed_since(path: Path) -> None:
    died(path, (path, EDITED))
    by_another(path)
    app = BenchApp([path.parent])
    async with app.run_test(size=SIZE) as pilot:
        await pilot.pause()
        assert "The file has changed since: saving will ask" in words(app)
        assert "ring 44 to 46" in words(app)
        await pilot.press("t", "s")
        assert "The file has changed" in words(app)
        assert keys(app) == {"w", "S", "l"}
        await pilot.press("w")
    assert read_setup(path).value == EDITED


@pytest.mark.long(cases=0)
async def test_several_are_offered_one_after_another(path: Path) -> None:
    other = path.with_name("b.toml")
    other.write_text(to_toml(SETUP))
    died(path, (path, EDITED), (other, EDITED), (None, EDITED))
    app = BenchApp([path.parent])
    async with app.run_test(size=SIZE) as pilot:
        await pilot.pause()
        assert "not saved yet" in words(app)
        assert "There are 2 more" in words(app)
        await pilot.press("d")
        assert "Work on b.toml" in words(app)
        assert "There is 1 more" in words(app)
        await pilot.press("t")
        assert not is_open(app)
        assert "1 more will be offered when this is saved" in words(app)
        await pilot.press("s")
        assert "Saved b.toml" in words(app)
        assert "Work on a.toml" in words(app)
        await pilot.press("d")
        assert "Discarded" in words(app)
        assert not is_open(app)
    assert read_setup(other).value == EDITED
    assert read_setup(path).value == SETUP
    assert drafts(path) == []


@pytest.mark.long(cases=0)
@pytest.mark.parametrize("damage", ["gone", "unreadable"])
async def test_a_draft_whose_file_is_gone_or_spoilt_is_all_there_is(damage: str, path: Path) -> None:
    died(path, (path, EDITED))
    path.unlink()
    if damage == "unreadable":
        path.write_text("[")
    app = BenchApp([path.parent])
    async with app.run_test(size=SIZE) as pilot:
        await pilot.pause()
        said = {"gone": "The file is gone from", "unreadable": "the file cannot be read: not valid TOML"}
        assert said[damage] in words(app)
        await pilot.press("t")
        assert "s writes its file again" in words(app)
        assert app.store.session.unsaved
        await pilot.press("u")
        assert app.store.session.bench == EDITED
        await pilot.press("s")
        assert keys(app) == {"w", "S"}
        await pilot.press("w")
    assert read_setup(path).value == EDITED


@pytest.mark.long(cases=0)
async def test_a_draft_of_a_folder_that_is_gone_is_offered_anywhere(path: Path) -> None:
    away = path.parents[1] / "away" / "c.toml"
    away.parent.mkdir()
    away.write_text(to_toml(SETUP))
    died(path, (away, EDITED))
    assert pending(state(path), of=path.parent).drafts == ()
    shutil.rmtree(away.parent)
    app = BenchApp([path.parent])
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("x", "t", "s")
        assert "its folder is gone" in words(app)
        await pilot.press("S", "ctrl+u", *"c", "enter")
    assert read_setup(path.with_name("c.toml")).value == EDITED


@pytest.mark.long(cases=0)
@pytest.mark.parametrize(
    "content",
    [b"", b"{}", b"\xff", b'{"file": 3}', b"[" * 100_000],
    ids=["empty", "bare", "no text", "odd", "deep"],
)
async def test_a_draft_that_cannot_be_read_is_said_once_and_kept(content: bytes, path: Path) -> None:
    state(path).mkdir(parents=True)
    (state(path) / "1-a-b.draft").write_bytes(content)
    app = BenchApp([path.parent])
    async with app.run_test(size=SIZE) as pilot:
        await pilot.pause()
        assert "a draft of unsaved work cannot be read" in words(app)
        assert not is_open(app)
    assert (state(path) / "1-a-b.draft.unreadable").read_bytes() == content
    assert pending(state(path)).notes == ()


@pytest.mark.parametrize("time", ["0001-01-01T00:00:00+00:00", "9999-12-31T23:59:59+00:00", "soon", 7])
def test_a_draft_of_no_time_that_can_be_shown_is_none(time: object, path: Path) -> None:
    died(path, (path, EDITED))
    (draft,) = state(path).glob("*.draft")
    draft.write_text(json.dumps(json.loads(draft.read_text()) | {"time": time}))
    found = pending(state(path))
    assert found.drafts == ()
    assert len(found.notes) == 1


async def test_work_that_cannot_be_kept_is_said_once_and_kept_when_it_can(
    path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def full(*args: object) -> None:
        raise OSError(errno.ENOSPC, "simulated")

    app = BenchApp([path.parent])
    async with app.run_test(size=SIZE) as pilot:
        with monkeypatch.context() as broken:
            broken.setattr(store_drafts, "write_private", full)
            await pilot.press("up")
            assert "the disk is full; free some space and save again. Save it to its file soon" in words(app)
            assert "* unsaved ! unprotected" in words(app)
            await pilot.press("up")
            assert "the disk is full" not in words(app)
            assert "! unprotected" in words(app)
            assert "the disk is full" in app.drafts.failing
            app.drafts.retry()
            assert not app.drafts.has_all
        app.drafts.retry()  # as the clock does: no key is needed
        await pilot.pause()
        assert app.drafts.has_all
        assert app.drafts.failing == ""
        assert "unprotected" not in words(app)
        assert "Unsaved work is kept again." in words(app)
        app.exit(1)
    assert [setup.rear.cogs[-1] for setup in drafts(path)] == [26]


@pytest.mark.long(cases=0)
async def test_a_state_folder_that_cannot_be_used_is_said(path: Path) -> None:
    (path.parents[1] / "state").write_text("a file")
    app = BenchApp([path.parent])
    async with app.run_test(size=SIZE) as pilot:
        await pilot.pause()
        assert "Unsaved work cannot be kept in" in words(app)
        assert app.drafts.failing
        await pilot.press("up", "s")
    assert read_setup(path).value == EDITED


async def test_a_bench_leaves_one_draft_wherever_its_file_goes(path: Path) -> None:
    app = BenchApp([path.parent])
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("up", "D", "f8", "up")
        app.exit(1)
    assert [setup.rear.cogs[-1] for setup in drafts(path)] == [26]


def test_a_session_on_a_draft_without_a_file_has_none_either(path: Path) -> None:
    taken = work_of(Draft(path, None, EDITED, datetime.now(), None))
    assert taken.document is None
    assert taken.edited
    assert taken.bench == EDITED
