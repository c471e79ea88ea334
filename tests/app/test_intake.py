"""A bike is typed in as a mechanic types it: a new one, the one on the bench, the fact that a check lacks."""

from pathlib import Path
from shutil import copytree

import pytest
from screens import is_open, listed, rows, text, words
from textual import events
from textual.pilot import Pilot

from cogwright.app.main import BenchApp
from cogwright.core.fit.check import Status
from cogwright.core.setup.intake import INTAKE
from support import ROOT, called

SIZE = (80, 24)
#: A two-ring bike, all that is asked of it, field by field; None where Enter takes what stands there.
#: Its cassette lies in the demo's bin, which has one of these ends.
COMPLETE = (
    None, "40-622", "30 46", "11-36", None, "440", "112", "36", None, "39", "46", "16", None, "110", None,
)  # fmt: skip


@pytest.fixture
def empty(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A folder with nothing in it, and a state folder of its own."""
    monkeypatch.setenv("XDG_STATE_HOME", str(tmp_path / "state"))
    folder = tmp_path / "mine"
    folder.mkdir()
    return folder


@pytest.fixture
def yard(empty: Path) -> Path:
    """The demo."""
    return Path(copytree(ROOT / "setups", empty / "setups"))


async def typed(app: BenchApp, pilot: Pilot[int], *keys: str) -> int:
    """Keys, each counted; a word stands for its letters."""
    count = 0
    for key in keys:
        single = key in {"enter", "escape", "up", "down", "f10", "tab", "left", "right"}
        for one in [key] if single else key:
            app.post_message(events.Key(one, one if len(one) == 1 else None))
            count += 1
    await pilot.pause()
    return count


async def test_a_complete_two_ring_bike_takes_at_most_60_keys(yard: Path) -> None:
    app = BenchApp([yard])
    async with app.run_test(size=SIZE) as pilot:
        keys = await typed(app, pilot, "n", "e")
        for answer in COMPLETE:
            keys += await typed(app, pilot, *([answer] if answer else []), "enter")
        keys += await typed(app, pilot, "escape")
        bench = app.store.session.bench
        assert not is_open(app)
        assert (bench.wheel.size, bench.crank.rings, bench.rear.clicks) == ("40-622", (30, 46), 10)
        assert bench.rear.cogs == (11, 13, 15, 17, 19, 21, 24, 28, 32, 36)
        assert (bench.frame.chainstay_mm, bench.chain.links) == (440, 112)
        assert (bench.rear_derailleur.largest_cog, bench.rear_derailleur.capacity) == (36, 39)
        assert (bench.front_derailleur.largest_ring, bench.front_derailleur.difference) == (46, 16)
        assert bench.crank.bolt_circle_mm == 110
        assert keys <= 60


@pytest.mark.long(cases=0)
async def test_the_same_bike_in_an_empty_folder_with_every_cog_typed(empty: Path) -> None:
    app = BenchApp([empty])
    cogs = "11 13 15 17 19 21 24 28"
    async with app.run_test(size=SIZE) as pilot:
        keys = await typed(app, pilot, "n")
        for answer in (None, "40-622", "30 46", cogs, None, "440", "110", "32", None, "37"):
            keys += await typed(app, pilot, *([answer] if answer else []), "enter")
        assert app.store.session.bench.rear.cogs == (11, 13, 15, 17, 19, 21, 24, 28)
        assert app.store.session.bench.rear.clicks == 8
        assert keys <= 60


@pytest.mark.long(cases=0)
async def test_wheel_and_teeth_are_an_example_until_they_are_answered(empty: Path) -> None:
    app = BenchApp([empty])
    async with app.run_test(size=SIZE) as pilot:
        await typed(app, pilot, "n")
        assert text(app).count("  example") == 4  # name, tyre, rings, cogs
        await typed(app, pilot, "down", "enter")
        assert text(app).count("  example") == 3
        assert app.store.session.bench.wheel.size == "37-622"


@pytest.mark.long(cases=0)
async def test_a_tyre_by_its_name_and_one_that_can_be_several(empty: Path) -> None:
    app = BenchApp([empty])
    async with app.run_test(size=SIZE) as pilot:
        await typed(app, pilot, "n", "down", "700x32C", "enter")
        assert app.store.session.bench.wheel.size == "32-622"
        await typed(app, pilot, "up", "28 inch", "enter")
        assert "Which one does the tyre's side say?" in text(app)
        assert "40-635" in text(app)
        await typed(app, pilot, "down", "down", "enter")
        assert app.store.session.bench.wheel.size == "40-635"
        assert "▸ rings" in text(app)  # the question answered, the form goes on
        await typed(app, pilot, "up", "31 inch", "enter")
        assert "no tyre size known here" in words(app)
        assert "40-622 (700C, 28 and 29 inch)" in words(app)
        assert app.store.session.bench.wheel.size == "40-635"


@pytest.mark.long(cases=0)
async def test_ends_of_a_cassette_are_matched_and_never_guessed(yard: Path, empty: Path) -> None:
    app = BenchApp([yard])
    async with app.run_test(size=SIZE) as pilot:
        await typed(app, pilot, "n", "e", "down", "down", "down", "11-31", "enter")
        assert "No cassette 11-31 is in the bin or on the shelf" in words(app)
        assert "▸ cogs" in text(app)


@pytest.mark.long(cases=1)
@pytest.mark.parametrize(
    ("field", "wrong"), [("chain.links", "7"), ("frame.chainstay_mm", "43.5"), ("rear.clicks", "x")]
)
async def test_a_field_is_checked_as_it_is_left_in_the_words_of_check(
    empty: Path, field: str, wrong: str
) -> None:
    """What `check` says of the file with that value stands on the screen too."""
    down = [asked.key for asked in INTAKE].index(field)
    table, key = field.split(".")
    value = wrong if wrong[0].isdigit() else f'"{wrong}"'
    tables = {"wheel": 'size = "40-622"', "crank": "rings = [30, 46]", "rear": "cogs = [11, 13]"}
    tables[table] = f"{tables.get(table, '')}\n{key} = {value}"
    (empty / "bad.toml").write_text(
        'format = 1\nname = "Bad"\n' + "\n".join(f"[{name}]\n{body}" for name, body in tables.items())
    )
    says = called("check", empty / "bad.toml").stderr.strip().partition(f"{field}: ")[2]
    assert says
    (empty / "bad.toml").unlink()
    app = BenchApp([empty])
    async with app.run_test(size=(110, 30)) as pilot:
        await typed(app, pilot, "n", *["down"] * down, wrong, "down")
        assert f"{says}." in words(app)
        assert f"▸ {INTAKE[down].label}" in text(app)


async def test_the_form_opens_for_the_bike_on_the_bench_and_one_undo_takes_an_answer_back(yard: Path) -> None:
    app = BenchApp([yard / "yard-1-two-rings.toml"])
    async with app.run_test(size=SIZE) as pilot:
        before = app.store.session.bench
        await typed(app, pilot, "F", *["down"] * 6, "114", "enter", "escape")
        assert app.store.session.bench.chain.links == 114
        await typed(app, pilot, "u")
        assert app.store.session.bench == before


@pytest.mark.long(cases=0)
async def test_moving_through_the_form_changes_nothing(yard: Path) -> None:
    app = BenchApp([yard / "yard-1-two-rings.toml"])
    async with app.run_test(size=SIZE) as pilot:
        await typed(app, pilot, "F", *["down"] * 20, *["up"] * 20, "escape")
        assert app.store.session.history.past == ()


@pytest.mark.long(cases=0)
async def test_enter_on_an_unknown_of_the_fit_view_opens_the_form_at_what_is_missing(empty: Path) -> None:
    (empty / "few.toml").write_text(
        'format = 1\nname = "Few facts"\n[wheel]\nsize = "40-622"\n[crank]\nrings = [30, 46]\n'
        "[rear]\ncogs = [11, 13, 15, 17, 19, 21, 24, 28]\n"
    )
    app = BenchApp([empty])
    async with app.run_test(size=SIZE) as pilot:
        await typed(app, pilot, "3")
        unknown = [check for check in app.store.session.study.fit if check.status is Status.UNKNOWN]
        (marked,) = [row for row in rows(app) if row.startswith("▸?")]
        assert unknown[0].check in marked
        await typed(app, pilot, "j")
        (marked,) = [row for row in rows(app) if row.startswith("▸?")]
        assert unknown[1].check in marked
        await typed(app, pilot, "enter")
        (row,) = [row for row in rows(app) if row.startswith(" ▸ ")]
        assert INTAKE_LABELS.get(unknown[1].lacks[0], unknown[1].lacks[0]) in row
        assert app.store.session.view == 3


INTAKE_LABELS = {asked.key: asked.label for asked in INTAKE}


async def test_facts_are_set_one_after_another_without_leaving(empty: Path) -> None:
    (empty / "few.toml").write_text(
        'format = 1\nname = "Few facts"\n[wheel]\nsize = "40-622"\n[crank]\nrings = [30, 46]\n'
        "[rear]\ncogs = [11, 13, 15, 17, 19, 21, 24, 28]\n"
    )
    app = BenchApp([empty])
    async with app.run_test(size=SIZE) as pilot:
        await typed(app, pilot, "3", "enter", "435", "enter")
        assert app.store.session.bench.frame.chainstay_mm == 435
        asked = app.store.session.open
        assert asked is not None
        await typed(app, pilot, "112", "enter")
        assert app.store.session.bench.chain.links == 112


@pytest.mark.long(cases=0)
async def test_what_was_typed_and_not_taken_is_said(yard: Path) -> None:
    app = BenchApp([yard])
    async with app.run_test(size=SIZE) as pilot:
        await typed(app, pilot, "F", *["down"] * 6, "99", "escape")
        assert not is_open(app)
        assert "Not taken: '99'" in words(app)


@pytest.mark.long(cases=0)
@pytest.mark.parametrize(
    "written", ["12 14 16 18", "12-14-16-18", "12,14,16,18", "12/14/16/18", "[12, 14, 16, 18]"]
)
async def test_a_cassette_can_be_typed_where_one_is_put_on_in_an_empty_folder_too(
    empty: Path, written: str
) -> None:
    app = BenchApp([empty])
    async with app.run_test(size=SIZE) as pilot:
        await typed(app, pilot, "escape", "c", written)
        assert app.store.session.shown.rear.cogs == (12, 14, 16, 18)
        await typed(app, pilot, "enter")
        assert app.store.session.bench.rear.cogs == (12, 14, 16, 18)


@pytest.mark.long(cases=0)
async def test_ends_that_can_mean_several_cassettes_list_them(yard: Path) -> None:
    app = BenchApp([yard])
    async with app.run_test(size=(80, 40)) as pilot:
        await typed(app, pilot, "c", "11-34")
        assert {one.part.cogs[-1] for one in listed(app)} == {34}  # type: ignore[attr-defined]
        await typed(app, pilot, "escape", "c", "11-31")
        assert "no such cassette in the bin or on the shelf" in text(app)
        assert app.store.session.shown == app.store.session.bench
