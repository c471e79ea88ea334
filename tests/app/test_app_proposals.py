"""What should I change? by keys: search, look, take, undo, leave; and keys while a long search runs."""

import asyncio
import math
import threading
import time
from collections.abc import Callable, Iterator
from dataclasses import replace
from itertools import combinations, pairwise
from pathlib import Path

import pytest
from textual import events
from textual.pilot import Pilot

from cogwright.app.controllers import seeker
from cogwright.app.controllers.seeker import BEATEN, Found
from cogwright.app.main import BenchApp
from cogwright.app.state.wishes import first_limits
from cogwright.core.parts.bin import Bin, CassettePart, CogPart, RingPart
from cogwright.core.proposing import plan
from cogwright.core.proposing.goal import Goal
from cogwright.core.proposing.plan import Plan, PlanProgress
from cogwright.core.proposing.proposal import Proposal
from cogwright.present.lines import Look, Role, plain, width
from cogwright.present.panels.proposal_reasons import brief_lines
from cogwright.present.panels.search_words import SearchState, nothing_words
from support import make

#: 13-26 in six cogs, badly spread. The most even is 13 15 17 20 23 26 (the table of test_even.py).
UNEVEN = """format = 1
name = "Yard 7 tourer"
[wheel]
rollout_mm = 2000
[crank]
rings = [30, 46]
[rear]
cogs = [13, 14, 15, 16, 18, 26]
"""
EVEN = (13, 15, 17, 20, 23, 26)
BIN = """format = 1
name = "drawer by the door"
[[rings]]
name = "ring 38"
teeth = 38
price = 20.0
count = 1
[[cogs]]
name = "cog 22"
teeth = 22
price = 5.0
count = 1
[[cogs]]
name = "cog 17"
teeth = 17
price = 3.0
count = 1
[[cogs]]
name = "cog 20"
teeth = 20
price = 4.0
count = 1
[[cogs]]
name = "cog 24"
teeth = 24
count = 1
"""


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A folder with one setup and no parts bin, and a state folder of its own."""
    monkeypatch.setenv("XDG_STATE_HOME", str(tmp_path / "state"))
    monkeypatch.setenv("LANG", "C.UTF-8")
    shelf = tmp_path / "shelf"
    shelf.mkdir()
    (shelf / "yard-7.toml").write_text(UNEVEN)
    return shelf


@pytest.fixture
def yard(folder: Path) -> Path:
    """The same with a parts bin."""
    (folder / "bins").mkdir()
    (folder / "bins" / "drawer.toml").write_text(BIN)
    return folder


def unevenness(teeth: tuple[int, ...]) -> tuple[float, float]:
    """The largest step, then the sum of the squared log steps."""
    steps = [b / a for a, b in pairwise(teeth)]
    return max(steps), sum(math.log(step) ** 2 for step in steps)


def cogs(app: BenchApp) -> tuple[int, ...]:
    return app.session.shown.rear.cogs


def screen(app: BenchApp) -> str:
    """The view above the drawer."""
    return "\n".join(plain(line) for line in app.laid.lines)


def drawer(app: BenchApp) -> str:
    """The title, head and rows of the drawer."""
    content = app.drawer.content
    assert content is not None
    return "\n".join([content.title, *map(plain, content.head), *(plain(c.shown) for c in content.choices)])


async def until(pilot: Pilot[int], holds: Callable[[], bool]) -> None:
    for _ in range(3000):
        if holds():
            await pilot.pause()
            return
        await asyncio.sleep(0.01)
    pytest.fail("it has not come about in half a minute")


async def search(app: BenchApp, pilot: Pilot[int], *keys: str) -> None:
    """Press the keys and wait for the list."""
    await pilot.press(*keys)
    await until(pilot, lambda: "look" not in drawer(app).partition("\n")[0])


async def test_a_proposal_shows_is_taken_and_undone_in_one_step(folder: Path) -> None:
    app = BenchApp([folder])
    async with app.run_test(size=(80, 24)) as pilot:
        bench = app.session.bench
        await search(app, pilot, "p", "e")
        assert cogs(app) == EVEN
        assert app.session.bench == bench
        assert "13  15  17  20  23 [26]" in screen(app)
        assert "30x23" in screen(app)
        await pilot.press("down")
        assert cogs(app) not in {EVEN, bench.rear.cogs}
        await pilot.press("up", "enter")
        assert not app.drawer.is_open
        assert app.session.preview is None
        assert app.session.bench.rear.cogs == EVEN
        assert "unsaved" in screen(app)
        await pilot.press("u")
        assert app.session.bench == bench
        assert not app.session.history.past


@pytest.mark.parametrize(("cells", "named"), [(80, True), (40, False)])
async def test_the_title_says_that_it_is_a_proposal_that_one_looks_at(
    folder: Path, cells: int, named: bool
) -> None:
    app = BenchApp([folder])
    async with app.run_test(size=(cells, 24)) as pilot:
        await pilot.press("up", "down", "down")
        assert "unsaved" in screen(app)
        await search(app, pilot, "p", "e")
        title = screen(app).partition("\n")[0]
        assert title.startswith(" looking at: even out")
        assert ("Yard 7 tourer" in title) is named
        assert "unsaved" not in title
        assert len(title) <= cells
        await pilot.press("q")
        assert "looking at" not in screen(app)
        assert "unsaved" in screen(app)


@pytest.mark.parametrize("leave", ["escape", "q"])
async def test_leaving_leaves_all_as_it_was(folder: Path, leave: str) -> None:
    app = BenchApp([folder])
    async with app.run_test(size=(80, 16)) as pilot:
        await pilot.press("left", "up", "u", "pagedown")
        before, seen = app.session, screen(app)
        assert before.message
        assert before.top
        await search(app, pilot, "p", "e")
        await pilot.press("down", "left")
        assert app.session.shown != before.bench
        await pilot.press(leave)
        assert not app.drawer.is_open
        assert replace(app.session, wishes=before.wishes) == before
        assert screen(app) == seen


async def test_the_last_choice_is_a_key_away(folder: Path) -> None:
    app = BenchApp([folder])
    async with app.run_test(size=(80, 24)) as pilot:
        await search(app, pilot, "p", "s")
        await pilot.press("q")
        await search(app, pilot, "p", "enter")
        assert "Single ring" in drawer(app)
        assert app.session.shown.crank.rings[1:] == ()


async def test_a_pinned_cog_stays_and_is_named(folder: Path) -> None:
    app = BenchApp([folder])
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("right", "right", "right", "right")
        assert app.session.cursor.teeth == 14
        assert 14 not in EVEN
        await pilot.press("p", "p")
        assert "pinned: 14" in drawer(app)
        await search(app, pilot, "e")
        assert "14 pinned" in drawer(app)
        assert all(14 in choice.value.cogs for choice in app.drawer.shown)
        await pilot.press("q", "p", "p")
        assert "pinned" not in drawer(app)


async def test_out_of_the_bin_or_out_of_all_tooth_counts(yard: Path) -> None:
    app = BenchApp([yard])
    async with app.run_test(size=(80, 24)) as pilot:
        await search(app, pilot, "p", "e")
        inner = combinations((14, 15, 16, 17, 18, 20, 22, 24), 4)
        assert cogs(app) == min(((13, *four, 26) for four in inner), key=unevenness)
        assert "drawer by the door" in drawer(app)
        await search(app, pilot, "a")
        assert cogs(app) == EVEN
        assert "all tooth counts" in drawer(app)


async def test_nothing_to_improve_is_said_in_words(folder: Path) -> None:
    (folder / "yard-7.toml").write_text(UNEVEN.replace("13, 14, 15, 16, 18, 26", ", ".join(map(str, EVEN))))
    app = BenchApp([folder])
    async with app.run_test(size=(80, 24)) as pilot:
        await search(app, pilot, "p", "e")
        assert nothing_words("even", "all tooth counts") in " ".join(drawer(app).split())
        await pilot.press("enter", "w", "down")
        assert app.session.shown == app.session.bench
        await pilot.press("q")
        assert not app.drawer.is_open


async def test_all_that_is_to_be_said_of_a_proposal(folder: Path) -> None:
    app = BenchApp([folder])
    async with app.run_test(size=(80, 24)) as pilot:
        await search(app, pilot, "p", "e")
        await pilot.press("down", "w")
        looked_at = cogs(app)
        # 26/18 = 1.444
        assert "falls from 44.4 % (18 to 26)" in drawer(app)
        await pilot.press("q")
        assert "found" in drawer(app)
        assert cogs(app) == looked_at
        assert app.drawer.index == 1


async def test_the_ring_that_serves_best_on_the_chosen_course_is_marked(folder: Path) -> None:
    """Up 5 km at 12 %, where the smallest ring grinds least."""
    (folder / "courses").mkdir()
    (folder / "courses" / "hills.csv").write_text("distance_m,height_m\n0,100\n5000,700\n")
    app = BenchApp([folder])
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("g", "enter")
        await search(app, pilot, "p", "s")
        assert "on hills" in drawer(app)
        best = [one.value.rings for one in app.drawer.shown if "best on course" in one.value.marks]
        assert best == [min(one.value.rings for one in app.drawer.shown)]


async def test_the_list_fits_a_screen_of_another_width(folder: Path) -> None:
    app = BenchApp([folder])
    async with app.run_test(size=(56, 24)) as pilot:
        await search(app, pilot, "p", "s")
        await pilot.press("down", "down")
        looked_at = app.session.shown
        assert "keeps bottom" not in drawer(app)
        await pilot.resize_terminal(120, 36)
        assert "keeps bottom" in drawer(app)
        assert app.drawer.index == 2
        assert app.session.shown == looked_at
        await pilot.resize_terminal(40, 12)
        assert all(width(choice.shown) <= 37 for choice in app.drawer.shown)


async def test_a_plan_without_a_bin_says_what_is_missing(folder: Path) -> None:
    app = BenchApp([folder])
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("p", "l")
        assert "parts bin" in screen(app)
        assert not app.drawer.is_open


async def test_limits_are_typed_kept_and_held(yard: Path) -> None:
    app = BenchApp([yard])
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("p", "l")
        # 30/26 * 2 m = 2.3077 m, rounded away from it; 0.9 * 46/13 * 2 m = 6.369 m
        assert "2.31 m" in drawer(app)
        assert "6.36 m" in drawer(app)
        assert "15 %" in drawer(app)
        assert "left out for want of a price: cog 24" in drawer(app)
        await pilot.press("up", "enter", *"4.5x", "enter")
        assert "no limit" in screen(app)
        await pilot.press("backspace", "enter")
        assert "4.5 EUR" in drawer(app)
        await pilot.press(
            "home", "enter", *["backspace"] * 4, "enter", "down", "enter", "escape", "down", "enter"
        )
        await pilot.press(*["backspace"] * 2, *"50", "enter")
        assert app.session.wishes.limits == Goal(None, 6.36, 4.5, 50.0)
        await search(app, pilot, "l")
        assert len(app.drawer.shown) > 1
        assert all(one.value.cost <= 4.5 and one.value.high_m >= 6.36 for one in app.drawer.shown)
        await pilot.press("l")
        assert "4.5 EUR" in drawer(app)
        assert app.session.preview is None


async def test_when_nothing_meets_the_limits_the_nearest_miss_comes(yard: Path) -> None:
    app = BenchApp([yard])
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("p", "l", "l")
        await until(pilot, lambda: "nearest miss" in drawer(app))
        assert "meets all limits" in drawer(app)
        assert any(app.drawer.shown[0].value.fits or app.drawer.shown[0].value.reasons)


class Gate:
    """Lets a plan go on one step at a time, and counts them."""

    def __init__(self) -> None:
        self.open = threading.Semaphore(0)
        self.steps = 0
        self.ended = threading.Event()

    def through(self, steps: Iterator[PlanProgress]) -> Iterator[PlanProgress]:
        try:
            for step in steps:
                assert self.open.acquire(timeout=10)
                self.steps += 1
                yield step
        finally:
            self.ended.set()


@pytest.fixture
def gate(monkeypatch: pytest.MonkeyPatch) -> Iterator[Gate]:
    """Plans in small steps, each shown, each waiting for the test."""
    held, steps = Gate(), Plan.progress
    monkeypatch.setattr(plan, "PAIRS_A_STEP", 6)
    monkeypatch.setattr(seeker, "EVERY_S", 0.0)
    monkeypatch.setattr(seeker, "_SHARE", 0.0)
    monkeypatch.setattr(Plan, "progress", lambda self: held.through(steps(self)))
    yield held
    held.open.release(10_000)


async def begin(app: BenchApp, pilot: Pilot[int], gate: Gate) -> None:
    """Start a plan without limits, and let it go on until something is listed."""
    await pilot.press("p")
    wishes = replace(app.session.wishes, limits=Goal())
    app.session = replace(app.session, wishes=wishes)
    await pilot.press("l", "l")
    while not app.drawer.shown:
        await step(app, pilot, gate)


async def step(app: BenchApp, pilot: Pilot[int], gate: Gate) -> None:
    before = app.drawer.content
    gate.open.release()
    await until(pilot, lambda: app.drawer.content is not before)


async def test_keys_count_and_previews_show_while_a_search_waits(yard: Path, gate: Gate) -> None:
    app = BenchApp([yard])
    async with app.run_test(size=(80, 24)) as pilot:
        await begin(app, pilot, gate)
        while len(app.drawer.shown) < 3:
            await step(app, pilot, gate)
        assert "looked at" in drawer(app)
        assert app.session.shown == app.drawer.shown[0].value.setup
        await pilot.press("down", "down")
        chosen = app.drawer.shown[2].value.setup
        assert app.session.shown == chosen
        while "looked at" in drawer(app):
            await step(app, pilot, gate)
            assert app.session.shown == chosen
            assert app.drawer.shown[app.drawer.index].value.setup == chosen
        gate.open.release(1000)
        result = Plan(app.session.bench, searches_stock(app)).result()
        assert gate.ended.is_set()
        listed = [one.value.setup for one in app.drawer.shown if BEATEN not in one.value.marks]
        assert listed == [one.setup for one in result.proposals()]


def searches_stock(app: BenchApp) -> object:
    from cogwright.core.proposing.bin_choices import choices_for

    assert app.session.stock is not None
    return choices_for(app.session.bench, app.session.stock)


async def test_what_is_found_while_the_app_ends_does_no_harm(
    yard: Path, gate: Gate, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The screen is taken down before the search notices: what it hands over then is for nobody."""
    seekers = []
    take = seeker.Seeker._take
    monkeypatch.setattr(seeker.Seeker, "_take", lambda self, found: (seekers.append(self), take(self, found)))
    app = BenchApp([yard])
    async with app.run_test(size=(80, 24)) as pilot:
        await begin(app, pilot, gate)
        await step(app, pilot, gate)
        assert seekers
        found = seekers[0]._found
        gate.open.release(1000)
    seekers[0]._take(found)
    app.draw()


async def test_a_search_is_cancelled_at_any_time(yard: Path, gate: Gate) -> None:
    app = BenchApp([yard])
    async with app.run_test(size=(80, 24)) as pilot:
        before = app.session
        await begin(app, pilot, gate)
        await pilot.press("q")
        assert not app.drawer.is_open
        assert app.session.shown == before.bench
        done = gate.steps
        gate.open.release(1000)
        assert await asyncio.to_thread(gate.ended.wait, 5)
        assert gate.steps <= done + 1
        await pilot.pause()
        assert not app.drawer.is_open
        assert app.session.preview is None


async def test_the_screen_never_stalls_while_a_plan_runs(yard: Path) -> None:
    """A plan of some minutes on one core: a key is answered at once, and so is the one that leaves."""
    parts = Bin(
        name="big",
        rings=tuple(RingPart(name=f"r{n}", teeth=n, price=n / 2) for n in range(28, 60)),
        cogs=tuple(CogPart(name=f"c{n}", teeth=n, price=n / 9) for n in range(10, 60)),
        cassettes=tuple(
            CassettePart(name=f"k{n}", cogs=(11, 13, 15, 18, 22, 25, 29, 33, 36, n), price=float(n))
            for n in range(38, 60)
        ),
    )
    app = BenchApp([yard])
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("p")
        wishes = replace(app.session.wishes, limits=Goal())
        app.session = replace(app.session, stock=parts, wishes=wishes)
        await pilot.press("l", "l")
        await until(pilot, lambda: "looked at" in drawer(app) and len(app.drawer.shown) > 1)
        waits = [await key_to_screen(app, key) for key in ["down", "up"] * 10]
        assert "looked at" in drawer(app)
        assert await key_to_screen(app, "escape") < 5.0
        assert not app.drawer.is_open
        left = time.perf_counter()
    assert time.perf_counter() - left < 10.0
    assert sorted(waits)[len(waits) // 2] < 1.0


async def key_to_screen(app: BenchApp, key: str) -> float:
    """Seconds from a key to a drawing of another setup. The pilot would wait until the processor rests."""
    began, shown, laid = time.perf_counter(), app.session.shown, app.laid
    app.post_message(events.Key(key, None))
    while app.session.shown == shown or app.laid is laid:
        await asyncio.sleep(0.001)
        assert time.perf_counter() - began < 20.0
    return time.perf_counter() - began


def test_what_is_looked_at_stays_though_something_beats_it() -> None:
    few, other, best = (Proposal("plan", make(rings, (11, 13)), "") for rings in ((30,), (34,), (38,)))
    sought = SearchState("plan", "drawer")
    seen = Found(sought, (few, other), 1)
    assert Found(sought, (best, few, other)).after(seen).at == 2
    beaten = Found(sought, (best,)).after(seen)
    assert [one.setup for one in beaten.proposals] == [best.setup, other.setup]
    assert beaten.chosen is not None
    assert beaten.chosen.marks == (BEATEN,)


def test_limits_to_begin_with_are_kept_by_the_baseline_itself() -> None:
    for ring in range(24, 53):
        setup = make((ring,), (11, 13, 17), rollout_mm=2105)
        goal, low, high = first_limits(setup, None), ring / 17 * 2.105, ring / 11 * 2.105
        assert goal.low_at_most_m is not None
        assert goal.high_at_least_m is not None
        assert low <= goal.low_at_most_m < low + 0.01
        assert 0.9 * high - 0.01 < goal.high_at_least_m <= 0.9 * high


@pytest.mark.parametrize("room", [1, 2, 3, 5])
def test_what_does_not_fit_comes_first_and_what_is_left_out_is_counted(room: int) -> None:
    one = Proposal(
        "plan",
        make((30,), (11, 13)),
        "a title",
        fits=("ring 30",),
        problems=("capacity: 41 teeth, over 37",),
        reasons=("a first reason " * 6, "a second"),
        notes=("cut the chain to 108 pitches",),
    )
    lines = brief_lines(one, Look(width=60, height=room))
    assert len(lines) == min(room, 5)
    assert "does not fit: capacity" in plain(lines[0])
    assert lines[0][1].role is Role.PROBLEM
    assert room >= 5 or f"w: {5 - room} more" in plain(lines[-1])
