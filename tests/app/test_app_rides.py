"""Recorded rides by keys: chosen, added up, taken out, and read in a thread that leaves the keys free."""

import shutil
from pathlib import Path
from threading import Event

import pytest
from screens import is_open, text, words
from textual.events import Paste
from textual.pilot import Pilot

from cogwright.app.controllers import courses
from cogwright.app.controllers.reading import SMALL
from cogwright.app.main import BenchApp
from cogwright.app.views import RIDES
from cogwright.core.riding.course import Course
from cogwright.core.riding.evidence.evidence import evidence_of
from cogwright.store.courses import read_course
from cogwright.store.documents import read_setup
from cogwright.store.tracks.read import read_ride
from cogwright.store.tracks.stream import Progress
from support import ROOT


@pytest.fixture
def app(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> BenchApp:
    """The app on a trial whose baseline has been ridden, a state folder of its own."""
    monkeypatch.setenv("XDG_STATE_HOME", str(tmp_path / "state"))
    monkeypatch.setenv("LANG", "C.UTF-8")
    shutil.copytree(ROOT / "setups", tmp_path / "setups")
    return BenchApp([tmp_path / "setups" / "yard-1-first-trial.toml"])


async def rest(app: BenchApp, pilot: Pilot[None]) -> None:
    """Wait for the thread that reads, and for what it hands over."""
    await app.workers.wait_for_complete()
    await pilot.pause()


async def test_rides_are_taken_in_added_up_and_taken_out(app: BenchApp, tmp_path: Path) -> None:
    async with app.run_test(size=(80, 40)) as pilot:
        await pilot.press("G")
        await pilot.pause()
        assert app.store.session.view == RIDES
        assert "No ride yet" in text(app)
        await pilot.press("enter")
        await rest(app, pilot)
        assert "13.4 km in" in text(app)
        await pilot.press("down", "enter")
        await rest(app, pilot)
        assert len(app.store.session.rides) == 2
        assert "2 rides: 31." in text(app)
        await pilot.press("enter", "q")
        await pilot.pause()
        assert not is_open(app)
        assert [ride.name for ride in app.store.session.rides] == ["crook-hause"]
        bike = read_setup(tmp_path / "setups" / "yard-1-two-rings.toml").value
        ride = read_ride(tmp_path / "setups" / "rides" / "crook-hause.csv")
        never = ", ".join(gear.label for gear in evidence_of([ride], bike).use.never)
        assert f"never used: {never}" in words(app)


async def test_the_bench_answers_as_it_is_changed(app: BenchApp) -> None:
    """Two teeth less on the largest cog: the same ride turns the easiest gear slower."""
    async with app.run_test(size=(80, 40)) as pilot:
        await pilot.press("G", "enter")
        await rest(app, pilot)
        before = app.store.session.evidence
        await pilot.press("q", "down", "down")
        after = app.store.session.evidence
        assert before is not None
        assert after is not None
        assert before.bench is not None
        assert after.bench is not None
        assert before.use is after.use or before.use.times == after.use.times
        assert before.bench.setup != after.bench.setup


async def test_a_path_can_be_typed_and_what_is_no_ride_says_so(app: BenchApp, tmp_path: Path) -> None:
    other = tmp_path / "elsewhere.csv"
    shutil.copy(ROOT / "setups" / "rides" / "long-rigg.csv", other)
    wrong = tmp_path / "wrong.gpx"
    wrong.write_text("<!DOCTYPE gpx [<!ENTITY a 'b'>]><gpx/>")
    async with app.run_test(size=(80, 24)) as pilot:
        for name, said in ((str(wrong), "cannot be read"), (f"{wrong}x", "no such file")):
            await pilot.press("G", "end", "up", "enter")
            app.post_message(Paste(name))
            await pilot.pause()
            await pilot.press("enter")
            await rest(app, pilot)
            assert said in words(app)
            await pilot.press("escape", "escape")
        assert app.store.session.rides == ()


async def test_no_rides_again(app: BenchApp) -> None:
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("G", "enter")
        await rest(app, pilot)
        assert app.store.session.rides
        await pilot.press("end", "enter")
        await pilot.pause()
        assert app.store.session.rides == ()


async def test_keys_go_on_while_a_large_course_is_read(
    app: BenchApp, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Its reading is held up until another view has been looked at and a second course has been refused."""
    go_on = Event()

    def slow(path: Path, progress: Progress) -> Course:
        assert go_on.wait(30.0)
        progress(0.5)
        return read_course(path, progress)

    monkeypatch.setattr(courses, "read_course", slow)
    text_of = (ROOT / "setups" / "courses" / "long-rigg.gpx").read_text()
    (tmp_path / "setups" / "courses" / "aaa.gpx").write_text(text_of + " " * SMALL)
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("g", "enter", "2")
        assert app.store.session.view == 2
        assert app.store.session.reading == "aaa.gpx"
        await pilot.press("g", "enter")
        await pilot.pause()
        assert "aaa.gpx is still being read." in words(app)
        go_on.set()
        await rest(app, pilot)
        assert app.store.session.course is not None
        assert app.store.session.course.name == "Long Rigg, recorded"
        assert app.store.session.reading == ""


async def test_a_course_that_is_being_read_does_not_keep_the_program(
    app: BenchApp, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Left meanwhile: reading ends at its next word of progress, and nothing is handed over."""
    go_on, ended = Event(), Event()

    def slow(_: Path, progress: Progress) -> Course:
        assert go_on.wait(30.0)
        try:
            while True:
                progress(0.5)
        finally:
            ended.set()

    monkeypatch.setattr(courses, "read_course", slow)
    (tmp_path / "setups" / "courses" / "aaa.gpx").write_text(" " * (SMALL + 1))
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("g", "enter")
        app.workers.cancel_all()
        go_on.set()
        assert ended.wait(30.0)
        await pilot.pause()
        assert app.store.session.course is None
