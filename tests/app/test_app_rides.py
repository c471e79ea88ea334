"""Recorded rides by keys: chosen, added up, taken out, and read in a thread that leaves the keys free."""

import shutil
from pathlib import Path
from threading import Event, Thread, current_thread, main_thread
from typing import Any

import pytest
from screens import is_open, text, words
from textual.events import Paste
from textual.pilot import Pilot

from cogwright.app.controllers import courses
from cogwright.app.controllers.reading import SMALL
from cogwright.app.main import BenchApp
from cogwright.app.state import rides as asked_of_rides
from cogwright.app.views import RIDES
from cogwright.core.riding.course import Course
from cogwright.core.riding.evidence import evidence
from cogwright.core.riding.evidence.evidence import evidence_of
from cogwright.core.riding.evidence.on_bench import OnBench, on_bench
from cogwright.store.courses import read_course
from cogwright.store.documents import read_setup
from cogwright.store.tracks.read import read_ride
from cogwright.store.tracks.stream import ReadProgress
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


@pytest.mark.long(cases=0)
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


@pytest.mark.long(cases=0)
async def test_what_a_ride_says_is_worked_out_off_the_screens_loop(
    app: BenchApp, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The view that shows it finds it done, the bench included."""
    by: list[Thread] = []

    def noted(*given: Any) -> OnBench:
        by.append(current_thread())
        return on_bench(*given)

    monkeypatch.setattr(evidence, "on_bench", noted)
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("G", "enter")
        await rest(app, pilot)
        assert "On the bench" in text(app)
    assert len(by) == 1
    assert by[0] is not main_thread()


@pytest.mark.long(cases=0)
async def test_long_rides_are_gone_through_while_keys_go_on(
    app: BenchApp, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Two edits meanwhile: the view says so, and has what was said before; the last bench is answered."""
    go_on, by = Event(), list[Thread]()

    def held(*given: Any) -> OnBench:
        by.append(current_thread())
        assert go_on.wait(30.0)
        return on_bench(*given)

    monkeypatch.setattr(evidence, "on_bench", held)
    monkeypatch.setattr(asked_of_rides, "MANY_MOMENTS", 10)
    go_on.set()
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("G", "enter", "q")
        await until_said(app, pilot)
        assert "being gone through" not in words(app)
        before = app.store.session.evidence
        go_on.clear()
        await pilot.press("down", "down")
        await pilot.pause()
        assert "being gone through" in words(app)
        assert app.store.session.evidence is before
        go_on.set()
        await until_said(app, pilot)
        after = app.store.session.evidence
        assert after is not None
        assert after.bench is not None
        assert after.bench.setup == app.store.session.bench
        assert "being gone through" not in words(app)
    assert main_thread() not in by


async def until_said(app: BenchApp, pilot: Pilot[None]) -> None:
    """Wait for what the thread works out, and for what it works out after that."""
    for _ in range(20):
        await rest(app, pilot)
        if app.store.session.rides and not app.store.session.rides_are_behind:
            break
    await pilot.pause()


async def pasted(app: BenchApp, pilot: Pilot[None], path: Path) -> None:
    """A path in the list that walks folders, taken."""
    app.post_message(Paste(str(path)))
    await pilot.pause()
    await pilot.press("enter")
    await rest(app, pilot)


@pytest.mark.long(cases=0)
async def test_a_ride_from_elsewhere_stands_in_the_list_too(app: BenchApp, tmp_path: Path) -> None:
    """Known by its content, whatever it is called; the mark stays, and another Enter looks for one more."""
    other = tmp_path / "sunday.txt"
    shutil.copy(ROOT / "setups" / "rides" / "long-rigg.csv", other)
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("G", "end", "up", "enter")
        assert "a path can be typed" in text(app)
        await pasted(app, pilot, other)
        assert [ride.file for ride in app.store.session.rides] == [str(other)]
        assert "sunday.txt" in text(app)
        await pilot.press("enter")
        await pasted(app, pilot, other)
        assert "sunday.txt is in already." in words(app)
        await pilot.press("up", "enter")
        assert app.store.session.rides == ()


@pytest.mark.long(cases=0)
async def test_a_path_that_leads_to_no_ride_says_so(app: BenchApp, tmp_path: Path) -> None:
    wrong = tmp_path / "wrong.gpx"
    wrong.write_text("<!DOCTYPE gpx [<!ENTITY a 'b'>]><gpx/>")
    async with app.run_test(size=(80, 24)) as pilot:
        for path, said in ((wrong, "cannot be read"), (tmp_path / "none.gpx", "no such file")):
            await pilot.press("G", "end", "up", "enter")
            await pasted(app, pilot, path)
            assert said in words(app)
            await pilot.press("escape", "escape")
        assert app.store.session.rides == ()


@pytest.mark.long(cases=0)
async def test_a_missing_folder_of_rides_is_named_and_made(app: BenchApp, tmp_path: Path) -> None:
    folder = tmp_path / "setups" / "rides"
    elsewhere = folder.rename(tmp_path / "recorded")
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("G")
        assert f"Thereisnofolder{folder}yet." in words(app).replace(" ", "")
        await pilot.press("m")
        assert folder.is_dir()
        await pilot.press("G")
        assert "There is no recorded ride in" in words(app)
        await pilot.press("f")
        await pasted(app, pilot, elsewhere / "crook")
        assert [Path(ride.file).parent for ride in app.store.session.rides] == [elsewhere]
        await pilot.press("G")
        assert "crook-hause.csv" in text(app)


@pytest.mark.long(cases=0)
async def test_no_rides_again(app: BenchApp) -> None:
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("G", "enter")
        await rest(app, pilot)
        assert app.store.session.rides
        await pilot.press("end", "enter")
        await pilot.pause()
        assert app.store.session.rides == ()


@pytest.mark.long(cases=0)
async def test_keys_go_on_while_a_large_course_is_read(
    app: BenchApp, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Its reading is held up until another view has been looked at and a second course has been refused."""
    go_on = Event()

    def slow(path: Path, progress: ReadProgress) -> Course:
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


@pytest.mark.long(cases=0)
async def test_a_course_that_is_being_read_does_not_keep_the_program(
    app: BenchApp, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Left meanwhile: reading ends at its next word of progress, and nothing is handed over."""
    go_on, ended = Event(), Event()

    def slow(_: Path, progress: ReadProgress) -> Course:
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
