"""Files under the running bench: changed, gone, commented, deleted, on a full disk; nothing is lost."""

import errno
import json
import os
import shutil
from pathlib import Path

import pytest
from screens import is_open, words
from textual.pilot import Pilot

from cogwright.app import interaction
from cogwright.app.main import BenchApp
from cogwright.app.safety.file_watch import Watch
from cogwright.app.state.opened import Question
from cogwright.core.setup.model import Setup
from cogwright.store import saving, toml_edit
from cogwright.store.documents import parse, read_setup, to_toml
from cogwright.store.saving import write_setup
from support import make

SETUP = make([30, 46], [11, 13, 15, 17, 19, 21, 24])
#: What somebody else makes of it meanwhile.
OTHER = make([30, 44], [11, 13, 15, 17, 19, 21, 24])
NOTE = "# measured on the stand\n"
SIZE = (80, 24)


@pytest.fixture
def path(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """The one setup of a folder; the state folder is the test's own.

    Saves go straight over it: what is asked of a bike as it came in has tests of its own.
    """
    monkeypatch.setattr("cogwright.app.controllers.saving._as_it_came_in", lambda _: False)
    for name in ("XDG_STATE_HOME", "XDG_CONFIG_HOME"):
        monkeypatch.setenv(name, str(tmp_path / "state"))
    monkeypatch.setenv("LANG", "C.UTF-8")
    (tmp_path / "shelf").mkdir()
    (tmp_path / "shelf" / "a.toml").write_text(to_toml(SETUP))
    return tmp_path / "shelf" / "a.toml"


def keys(app: BenchApp) -> set[str]:
    """The keys that answer the question that is asked."""
    asked = app.store.session.open
    return {answer.key for answer in asked.answers} if isinstance(asked, Question) else set()


def state(path: Path) -> Path:
    """Where the drafts of the test are."""
    return path.parents[1] / "state" / "cogwright" / "drafts"


def drafts(path: Path) -> list[Setup]:
    """The unsaved work that is kept, of this session and of others."""
    return [parse(json.loads(draft.read_text())["setup"], Setup) for draft in state(path).glob("*.draft")]


def by_another(path: Path, setup: Setup = OTHER) -> None:
    """Another program saves the file."""
    write_setup(path, setup, read_setup(path).stamp)


async def conflict(app: BenchApp, pilot: Pilot[int], path: Path) -> None:
    """Largest cog 24 to 25 here, large ring 46 to 44 by another program, then a save here."""
    await pilot.press("up")
    by_another(path)
    await pilot.press("s")
    assert "The file has changed" in words(app)
    assert "a.toml was changed by another program since it was read" in words(app)
    assert "ring 44 to 46" in words(app)
    assert "cog 24 to 25" in words(app)
    assert keys(app) == {"w", "S", "l"}


async def test_a_save_over_a_changed_file_asks_and_can_be_left(path: Path) -> None:
    app = BenchApp([path.parent])
    async with app.run_test(size=SIZE) as pilot:
        await conflict(app, pilot, path)
        await pilot.press("q")
        assert read_setup(path).value == OTHER
        assert app.store.session.unsaved
        await pilot.press("s", "w")
        assert read_setup(path).value == app.store.session.bench
        assert "a.toml~" in words(app)
        assert not app.store.session.unsaved
    assert read_setup(path).value.rear.cogs[-1] == 25
    assert "44" in path.with_name("a.toml~").read_text()


@pytest.mark.long(cases=0)
async def test_the_other_version_can_be_loaded_and_undo_has_mine_still(path: Path) -> None:
    app = BenchApp([path.parent])
    async with app.run_test(size=SIZE) as pilot:
        await conflict(app, pilot, path)
        await pilot.press("l")
        assert app.store.session.bench == OTHER
        assert not app.store.session.unsaved
        assert "u brings back what stood here" in words(app)
        await pilot.press("u")
        assert app.store.session.bench.rear.cogs[-1] == 25
        assert app.store.session.bench.crank.rings[-1] == 46
        await pilot.press("s")
        assert not is_open(app)
        assert read_setup(path).value == app.store.session.bench


@pytest.mark.long(cases=0)
async def test_mine_can_go_under_another_name(path: Path) -> None:
    app = BenchApp([path.parent])
    async with app.run_test(size=SIZE) as pilot:
        await conflict(app, pilot, path)
        await pilot.press("S", "ctrl+u", *"../b", "enter")
        assert "no slash: setups stay in their folder" in words(app)
        await pilot.press("ctrl+u", *"a", "enter")
        assert "a.toml is there already; choose another name" in words(app)
        await pilot.press("ctrl+u", *"mine", "enter")
        assert "Saved as mine.toml" in words(app)
    assert read_setup(path).value == OTHER
    assert read_setup(path.with_name("mine.toml")).value.rear.cogs[-1] == 25
    assert drafts(path) == []


@pytest.mark.long(cases=0)
async def test_a_changed_file_that_is_not_edited_here_is_read_again(path: Path) -> None:
    app = BenchApp([path.parent])
    async with app.run_test(size=SIZE) as pilot:
        watch = Watch(app.store)
        watch.look()
        assert app.store.session.message == ""
        by_another(path)
        watch.look()
        await pilot.pause()
        assert app.store.session.bench == OTHER
        assert not app.store.session.unsaved
        assert "a.toml was changed elsewhere and read again" in words(app)
        await pilot.press("u")
        assert app.store.session.bench == SETUP
        path.write_text("format = 1\n[")
        watch.look()
        await pilot.pause()
        assert "R reads it, saving asks" in words(app)
        assert app.store.session.bench == SETUP
        await pilot.press("R")
        assert "a.toml cannot be read" in words(app)
        assert "line 2: not valid TOML" in words(app)
        await pilot.press("q")
        assert app.store.session.bench == SETUP


@pytest.mark.long(cases=0)
async def test_reading_again_after_saving_reads_what_was_saved(path: Path) -> None:
    """Not the file as it was when the question was put, which the save has replaced."""
    app = BenchApp([path.parent])
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("up", "R")
        assert is_open(app)
        await pilot.press("s")
        assert "Read again." in words(app)
        assert app.store.session.bench.rear.cogs[-1] == 25
        assert not app.store.session.unsaved
    assert read_setup(path).value.rear.cogs[-1] == 25


@pytest.mark.long(cases=0)
async def test_opening_the_benchs_own_file_after_saving_opens_what_was_saved(path: Path) -> None:
    app = BenchApp([path.parent])
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("up", "o", "enter")
        assert is_open(app)
        await pilot.press("s")
        assert app.store.session.bench.rear.cogs[-1] == 25
        assert not app.store.session.unsaved


@pytest.mark.long(cases=0)
async def test_a_version_that_cannot_be_read_leaves_the_bench_as_the_only_copy(path: Path) -> None:
    app = BenchApp([path.parent])
    async with app.run_test(size=SIZE) as pilot:
        path.write_text("format = 1\n[")
        Watch(app.store).look()
        await pilot.pause()
        assert "cannot be read now: line 2" in words(app)
        assert "unsaved" in words(app)
        await pilot.press("s")
        assert "line 2: not valid TOML" in words(app)
        assert keys(app) == {"w", "S"}
        await pilot.press("w")
    assert read_setup(path).value == SETUP
    assert path.with_name("a.toml~").read_text() == "format = 1\n["


@pytest.mark.parametrize("answer", ["s", "d"])
async def test_leaving_with_an_answer_leaves_no_draft(path: Path, answer: str) -> None:
    """After the answer nothing is drawn any more; the next start would offer what is saved, or given up."""
    app = BenchApp([path.parent])
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("up")
        await pilot.pause()
        assert len(drafts(path)) == 1
        await pilot.press("q", answer)
    assert read_setup(path).value.rear.cogs[-1] == (25 if answer == "s" else 24)
    assert drafts(path) == []


async def test_a_vanished_file_is_written_again_after_asking(path: Path) -> None:
    app = BenchApp([path.parent])
    async with app.run_test(size=SIZE) as pilot:
        await pilot.pause()
        watch = Watch(app.store)
        path.rename(path.with_name("away"))
        watch.look()
        await pilot.pause()
        assert "a.toml is gone from its folder" in words(app)
        assert "unsaved" in words(app)
        assert drafts(path) == [SETUP]
        path.with_name("away").rename(path)
        watch.look()
        await pilot.pause()
        assert "a.toml is there again" in words(app)
        assert not app.store.session.unsaved
        path.unlink()
        watch.look()
        await pilot.press("q")
        assert "the bench alone has it" in words(app)
        await pilot.press("s")
        assert "The file is gone" in words(app)
        assert keys(app) == {"w", "S"}
        await pilot.press("w")
    assert app.return_code == 0
    assert read_setup(path).value == SETUP
    assert drafts(path) == []


@pytest.mark.long(cases=0)
async def test_a_vanished_folder_is_said_everywhere_and_the_work_stays(path: Path) -> None:
    app = BenchApp([path.parent])
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("up")
        shutil.rmtree(path.parent)
        for key, said in (
            ("s", "its folder is gone; make the folder again"),
            ("o", "there is no such file"),
            ("R", "there is no such file"),
            ("D", "Delete a.toml?"),
        ):
            await pilot.press(key)
            assert said in words(app), key
            await pilot.press("escape")
        for key in "bcin6":
            await pilot.press(key, "escape")
        assert app.store.session.bench.rear.cogs[-1] == 25
        path.parent.mkdir()
        await pilot.press("s", "w")
    assert read_setup(path).value.rear.cogs[-1] == 25


async def test_a_save_keeps_comments_and_what_is_taken_back_stands_as_it_stood(path: Path) -> None:
    original = NOTE + path.read_text().replace("rings =", "# worn\nrings   =")
    path.write_text(original)
    app = BenchApp([path.parent])
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("s")
        assert "Nothing to save" in words(app)
        assert path.read_text() == original
        await pilot.press("up", "s")
        assert "Saved a.toml; the version before is a.toml~." in words(app)
        assert path.read_text() == original.replace("24]", "25]")
        await pilot.press("u", "s")
        assert "Saved a.toml" in words(app)
    assert path.read_text() == original
    assert sorted(os.listdir(path.parent)) == ["a.toml", "a.toml.orig", "a.toml~"]


@pytest.mark.long(cases=0)
async def test_a_copy_under_another_name_keeps_comments_too(path: Path) -> None:
    path.write_text(NOTE + path.read_text())
    app = BenchApp([path.parent])
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("up", "S", "ctrl+u", *"b", "enter")
    assert path.with_name("b.toml").read_text() == path.read_text().replace("24]", "25]")


@pytest.mark.long(cases=0)
async def test_comments_that_cannot_be_kept_are_asked_about_before(
    path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Where the text cannot be edited: simulated, for no such file is known."""
    path.write_text(NOTE + path.read_text())
    monkeypatch.setattr(toml_edit, "_in_place", lambda *args: None)
    app = BenchApp([path.parent])
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("up", "s")
        assert "This save cannot keep what stands below" in words(app)
        assert NOTE.strip() in words(app)
        assert "stays beside it as a.toml~" in words(app)
        await pilot.press("q")
        assert read_setup(path).value == SETUP
        await pilot.press("s", "s")
        assert "Saved a.toml; the version before is a.toml~." in words(app)
    assert path.with_name("a.toml~").read_text().startswith(NOTE)


@pytest.mark.long(cases=0)
async def test_comments_of_another_program_are_kept_too(path: Path) -> None:
    app = BenchApp([path.parent])
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("up")
        path.write_text(NOTE + to_toml(OTHER))
        await pilot.press("s", "w")
    assert path.read_text().startswith(NOTE)
    assert path.with_name("a.toml~").read_text() == NOTE + to_toml(OTHER)


@pytest.mark.long(cases=0)
async def test_a_version_that_cannot_be_read_is_said_to_be_written_anew(path: Path) -> None:
    app = BenchApp([path.parent])
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("up")
        path.write_text(NOTE + "[")
        await pilot.press("s")
        assert "A save over it writes it anew; what is there now stays as a.toml~" in words(app)
        await pilot.press("w")
    assert path.with_name("a.toml~").read_text() == NOTE + "["


@pytest.mark.long(cases=0)
async def test_a_file_of_several_names_is_asked_about(path: Path) -> None:
    os.link(path, path.with_name("other-name"))
    app = BenchApp([path.parent])
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("up", "s")
        assert "has 1 more name on the disk" in words(app)
        assert keys(app) == {"w", "S"}
        await pilot.press("q")
        assert read_setup(path).value == SETUP
        await pilot.press("s", "w")
        assert "Saved a.toml" in words(app)
    assert read_setup(path).value != SETUP
    assert read_setup(path.with_name("other-name")).value == SETUP


@pytest.mark.long(cases=0)
async def test_a_save_that_the_disk_did_not_confirm_says_so(
    path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def fail(handle: int) -> None:
        if os.path.isdir(f"/proc/self/fd/{handle}"):
            raise OSError(errno.EIO, "Input/output error")

    app = BenchApp([path.parent])
    async with app.run_test(size=SIZE) as pilot:
        monkeypatch.setattr(os, "fsync", fail)
        await pilot.press("up", "s")
        assert "Saved a.toml; the disk did not confirm it" in words(app)
        assert not app.store.session.unsaved
    assert read_setup(path).value != SETUP


async def test_undo_brings_a_deleted_file_back_and_save_makes_it_anew(path: Path) -> None:
    text = NOTE + path.read_text()
    path.write_text(text)
    app = BenchApp([path.parent])
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("up", "D")
        assert "kept as a.toml~" in words(app)
        await pilot.press("f8")
        assert not path.exists()
        assert "u brings it back, s saves it anew" in words(app)
        await pilot.press("up", "u")
        assert not path.exists()
        await pilot.press("u")
        assert path.read_text() == text
        assert "a.toml is back" in words(app)
        assert app.store.session.bench.rear.cogs[-1] == 25
        await pilot.press("D", "f8", "s")
        assert "File name" in words(app)
        await pilot.press("enter")
        assert "Saved as a.toml" in words(app)
        assert read_setup(path).value.rear.cogs[-1] == 25
        await pilot.press("D", "f8")
        by = path.with_name("b.toml")
        by.write_text(to_toml(OTHER))
        by.rename(path)
        await pilot.press("u")
        assert "a.toml is there already; the deleted one is a.toml~ still" in words(app)
        assert read_setup(path).value == OTHER


@pytest.mark.long(cases=0)
async def test_the_file_is_looked_at_by_itself(path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(interaction, "WATCH_S", 0.02)
    app = BenchApp([path.parent])
    async with app.run_test(size=SIZE) as pilot:
        await pilot.pause()
        by_another(path)
        for _ in range(500):
            await pilot.pause(0.02)
            if app.store.session.bench == OTHER:
                break
        assert app.store.session.bench == OTHER


@pytest.mark.long(cases=0)
async def test_a_file_that_another_program_changed_is_not_deleted(path: Path) -> None:
    app = BenchApp([path.parent])
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("D")
        by_another(path)
        await pilot.press("f8")
        assert "Not deleted: a.toml was changed by another program" in words(app)
    assert read_setup(path).value == OTHER


@pytest.mark.long(cases=1)
@pytest.mark.parametrize(
    ("code", "said"),
    [
        (errno.ENOSPC, "the disk is full; free some space and save again"),
        (errno.EROFS, "the disk is read-only; save under a folder that you can write to"),
        (errno.EACCES, "no permission to use it; ask its owner"),
    ],
)
async def test_a_save_that_fails_says_why_in_full_and_the_bench_keeps_the_work(
    code: int, said: str, path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    app = BenchApp([path.parent])
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("up")
        with monkeypatch.context() as broken:
            broken.setattr(saving.os, "replace", failing(code))
            await pilot.press("s")
            assert said in words(app)
            assert "The bench still has your work" in words(app)
            assert "Unsaved work" not in words(app)
            await pilot.press("D", "f8")
            assert "Not deleted" in words(app)
        assert read_setup(path).value == SETUP
        await pilot.press("s")
    assert read_setup(path).value.rear.cogs[-1] == 25


def failing(code: int) -> object:
    def fail(*args: object, **more: object) -> None:
        raise OSError(code, os.strerror(code))

    return fail


@pytest.mark.long(cases=0)
async def test_what_else_a_folder_may_hold_stops_nothing(path: Path) -> None:
    os.mkfifo(path.with_name("pipe.toml"))
    path.with_name("zero.toml").symlink_to("/dev/zero")
    path.with_name("loop.toml").symlink_to("loop.toml")
    with open(path.with_name("huge.toml"), "wb") as huge:
        huge.truncate(1_000_000_000)
    for folder in ("bins", "courses"):
        (path.parent / folder).mkdir()
        os.mkfifo(path.parent / folder / "pipe.toml")
    app = BenchApp([path.parent])
    async with app.run_test(size=(100, 30)) as pilot:
        await pilot.press("o")
        seen = words(app)
        for said in (
            "this is a pipe",
            "this is a device",
            "links lead in a circle",
            "too large: 1,000,000 kB",
        ):
            assert said in seen
        await pilot.press(*"pipe", "enter")
        assert "pipe.toml cannot be read" in words(app)
        await pilot.press("escape")
        for key in "ic6b4":
            await pilot.press(key, "escape")
        await pilot.press("up", "s")
    assert read_setup(path).value.rear.cogs[-1] == 25


@pytest.mark.long(cases=0)
async def test_all_problems_of_a_file_can_be_read_line_by_line(path: Path) -> None:
    path.with_name("bad.toml").write_text("".join(f"key{n} = {n}\n" for n in range(30)))
    app = BenchApp([path.parent])
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("o", *"bad", "enter")
        seen = words(app)
        assert "bad.toml cannot be read" in seen
        assert str(path.parent) not in seen
        assert "line 1: key0: unknown key" in seen
        assert " of " in seen
        await pilot.press(*["down"] * 12)
        assert "line 1: key0: unknown key" not in words(app)
        await pilot.press("end")
        assert "line 30: key29: unknown key" in words(app)
        await pilot.press("home")
        assert words(app) == seen


@pytest.mark.long(cases=0)
async def test_a_link_stays_and_the_message_names_the_backup_of_its_file(path: Path) -> None:
    real = path.parents[1] / "real.toml"
    path.rename(real)
    path.symlink_to(real)
    app = BenchApp([path.parent])
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("up", "s")
        assert "Saved a.toml; the version before is real.toml~." in words(app)
    assert path.is_symlink()
    assert read_setup(real).value.rear.cogs[-1] == 25
