"""Candidates, the bike as it came in, the chosen baseline, the Compare view and the hand-out, by keys."""

import json
import re
import shutil
from pathlib import Path

import pytest
from screens import text, words
from textual import events

from cogwright.app.main import BenchApp
from cogwright.app.state.opened import Question
from cogwright.options import Options
from cogwright.store.bins import read_bin
from cogwright.store.documents import read_setup
from support import ROOT, called, long_cases

SETUPS = ROOT / "setups"
SIZE = (80, 24)


@pytest.fixture
def yard(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """The demo's setups in a folder of the test's own, with a state folder of its own."""
    for name in ("XDG_STATE_HOME", "XDG_CONFIG_HOME"):
        monkeypatch.setenv(name, str(tmp_path / "state"))
    monkeypatch.setenv("LANG", "C.UTF-8")
    shutil.copytree(SETUPS, tmp_path / "yard")
    return tmp_path / "yard"


def somewhere(folder: Path, content: bytes) -> bool:
    """Whether any file of the folder has this content, to the byte."""
    return any(path.is_file() and path.read_bytes() == content for path in folder.iterdir())


#: Ways of saving a changed bench, each as keys; `n` is the suggestion, `w` writes over.
WAYS = {
    "asked, left alone": ["s", "down", "s"],
    "as a new file": ["s", "n", "enter", "down", "s"],
    "over it": ["s", "w", "down", "s", "down", "s"],
    "under another name": ["S", "z", "enter", "down", "s", "down", "s"],
    "over it, on leaving": ["q", "s", "w"],
    "deleted, then anew": ["D", "f8", "down", "s", "enter", "down", "s", "w", "down", "s"],
}


@pytest.mark.long(cases=1)
@pytest.mark.parametrize("name", long_cases(["yard-1-two-rings", "yard-4-town", "yard-1-first-trial"], 1))
@pytest.mark.parametrize("way", WAYS)
async def test_the_original_is_always_somewhere_on_the_disk(way: str, name: str, yard: Path) -> None:
    """A sprocket off, then every way of saving, twice: the bike as it came in is still there."""
    file = yard / f"{name}.toml"
    before = file.read_bytes()
    app = BenchApp([file], Options())
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("tab", "x", *WAYS[way])
    assert somewhere(yard, before), way


@pytest.mark.long(cases=1)
@pytest.mark.parametrize("name", long_cases(sorted(path.stem for path in SETUPS.glob("*.toml")), 2))
async def test_two_quick_saves_on_any_demo_bike_leave_the_original(name: str, yard: Path) -> None:
    before = (yard / f"{name}.toml").read_bytes()
    app = BenchApp([yard / f"{name}.toml"], Options())
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("tab", "x", "s", "down", "s")
    assert somewhere(yard, before)


@pytest.mark.long(cases=0)
async def test_a_new_file_gets_a_name_of_what_changed_and_names_the_old_one(yard: Path) -> None:
    app = BenchApp([yard / "yard-1-two-rings.toml"], Options())
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("tab", "left", "x", "s")
        asked = app.store.session.open
        assert isinstance(asked, Question)
        assert {answer.key for answer in asked.answers} == {"n", "w"}
        assert "yard-1-two-rings.toml is the bike as it came in" in words(app)
        await pilot.press("n")
        assert "Yard 1 tourer, two rings as it came in, 1x10, 42" in words(app)
        await pilot.press("enter")
        assert not app.store.session.unsaved
        path = app.store.session.path
        await pilot.press("up", "s")  # another save goes on in the new file, unasked
        assert app.store.session.open is None
    assert path is not None
    new = read_setup(path).value
    assert path.name == "yard-1-tourer-two-rings-as-it-came-in-1x10-42.toml"
    assert (new.baseline, new.baseline_name) == (
        "yard-1-two-rings.toml",
        "Yard 1 tourer, two rings as it came in",
    )
    report = json.loads(called("report", path, "--format", "json").stdout)
    assert report["comparison"]["baseline"] == "Yard 1 tourer, two rings as it came in"


@pytest.mark.long(cases=0)
async def test_the_question_is_whole_on_the_smallest_screen(yard: Path) -> None:
    """Also for a file whose name was made of what changed: no line of it has to be scrolled to."""
    file = yard / "yard-1-tourer-two-rings-as-it-came-in-1x10-42.toml"
    shutil.copy(yard / "yard-1-two-rings.toml", file)
    app = BenchApp([file], Options())
    async with app.run_test(size=(40, 12)) as pilot:
        await pilot.press("tab", "left", "x", "s")
        said = words(app)
    assert "is the bike as it came in, which the bench is compared with." in said
    assert "Written over, it stays too, with .orig after its name. n save as a new file" in said
    assert "w write over it" in said


@pytest.mark.long(cases=0)
async def test_another_name_for_a_changed_bike_names_the_old_one_too(yard: Path) -> None:
    """`S` suggests what was changed, and a copy of what was not changed is a copy and no more."""
    app = BenchApp([yard / "yard-1-two-rings.toml"], Options())
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("S")
        assert "yard-1-tourer-two-rings-as-it-came-in" in words(app)
        await pilot.press("ctrl+u", *"same", "enter")
        assert read_setup(yard / "same.toml").value.baseline is None
    app = BenchApp([yard / "yard-1-two-rings.toml"], Options())
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("tab", "left", "x", "S")
        assert "yard-1-tourer-two-rings-as-it-came-in-1x10-42" in words(app)
        await pilot.press("enter")
        assert not app.store.session.unsaved
        path = app.store.session.path
    assert path == yard / "yard-1-tourer-two-rings-as-it-came-in-1x10-42.toml"
    new = read_setup(path).value
    assert new.name == "Yard 1 tourer, two rings as it came in, 1x10, 42"
    assert (new.baseline, new.baseline_name) == (
        "yard-1-two-rings.toml",
        "Yard 1 tourer, two rings as it came in",
    )


@pytest.mark.long(cases=0)
async def test_a_chosen_baseline_is_kept_and_found_when_all_moves(yard: Path, tmp_path: Path) -> None:
    other = yard / "before" / "old.toml"
    other.parent.mkdir()
    shutil.copy(yard / "yard-9-veteran.toml", other)
    app = BenchApp([yard / "yard-7-pass.toml"], Options())
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("b", *"elsewhere", "enter")
        app.post_message(events.Paste(str(other)))
        await pilot.press("enter")
        assert "baseline: Yard 9, veteran with half-step rings" in words(app)
        assert app.store.session.unsaved
        await pilot.press("s")
        assert not app.store.session.unsaved
    saved = read_setup(yard / "yard-7-pass.toml").value
    assert (saved.baseline, saved.baseline_name) == (
        "before/old.toml",
        "Yard 9, veteran with half-step rings",
    )
    moved = shutil.move(str(yard), str(tmp_path / "elsewhere"))
    again = BenchApp([Path(moved) / "yard-7-pass.toml"], Options())
    async with again.run_test(size=SIZE):
        assert "baseline: Yard 9, veteran with half-step rings" in words(again)
    (Path(moved) / "before" / "old.toml").unlink()
    missing = BenchApp([Path(moved) / "yard-7-pass.toml"], Options())
    async with missing.run_test(size=SIZE):
        assert "Its baseline (last known as Yard 9, veteran with half-step rings) cannot be read" in words(
            missing
        )
        assert "there is no such file" in words(missing)


async def test_candidates_are_kept_gone_through_compared_and_saved(yard: Path) -> None:
    app = BenchApp([yard / "yard-1-two-rings.toml"], Options())
    async with app.run_test(size=(120, 36)) as pilot:
        await pilot.press("C", "down", "C", "down", "C", "C")
        kept = app.store.session.work.candidates.kept
        assert [one.letter for one in kept] == ["A", "B", "C"]
        assert "That is candidate C already." in words(app)
        await pilot.press("right_parenthesis")
        assert app.store.session.bench == kept[0].setup
        await pilot.press("left_parenthesis")
        assert app.store.session.bench == kept[2].setup
        await pilot.press("u", "8")
        shown = text(app)
        for letter in "ABC":
            assert f" {letter}  " in shown
        assert "largest step" in shown
        await pilot.press("end")
        assert "The change, step by step" in words(app)
        await pilot.press("A", "a")
        assert "Saved A as" in words(app)
        assert not app.store.session.work.candidates.unsaved
    files = sorted(yard.glob("yard-1-tourer-two-rings-as-it-came-in*.toml"))
    assert len(files) == 3
    assert {read_setup(file).value.baseline for file in files} == {"yard-1-two-rings.toml"}


@pytest.mark.long(cases=0)
async def test_candidates_survive_a_dropped_line(yard: Path) -> None:
    """The session ends without a word: the next one offers the bench with all that was kept beside it."""
    app = BenchApp([yard / "yard-1-two-rings.toml"], Options())
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("down", "C", "down", "C", "u", "u")
        kept = app.store.session.work.candidates.setups
        assert app.store.session.edited
        assert not app.store.session.work.bench_edited
        app.exit(1)  # as a signal does
    app.drafts.close()  # as the end of the process does
    again = BenchApp([yard / "yard-1-two-rings.toml"], Options())
    async with again.run_test(size=SIZE) as pilot:
        await pilot.pause()
        assert "2 candidates" in words(again)
        await pilot.press("t")
        assert again.store.session.work.candidates.setups == kept


@pytest.mark.long(cases=0)
async def test_leaving_asks_about_candidates_and_can_save_them(yard: Path) -> None:
    before = {path.name for path in yard.glob("*.toml")}
    app = BenchApp([yard / "yard-1-two-rings.toml"], Options())
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("down", "C", "u", "q")
        assert "candidate A: 11-29" in words(app)
        await pilot.press("s")
    assert len({path.name for path in yard.glob("*.toml")} - before) == 1


@pytest.mark.long(cases=0)
async def test_a_proposal_is_kept_without_being_taken_on(yard: Path) -> None:
    app = BenchApp([yard / "yard-1-first-trial.toml"], Options())
    async with app.run_test(size=SIZE) as pilot:
        bench = app.store.session.bench
        await pilot.press("p", "s")
        await app.workers.wait_for_complete()
        await pilot.pause()
        await pilot.press("C", "q")
        kept = app.store.session.work.candidates.kept
        assert len(kept) == 1
        assert kept[0].setup != bench
        assert app.store.session.bench == bench


@pytest.mark.long(cases=0)
async def test_six_are_abreast_at_120_columns_and_three_at_80(yard: Path) -> None:
    app = BenchApp([yard / "yard-1-two-rings.toml"], Options())
    async with app.run_test(size=(120, 36)) as pilot:
        await pilot.press("down", *["C", "down"] * 5, "C", "8")
        assert ["was", *"ABCDEF"] in [row.split() for row in text(app).splitlines()]
        await pilot.resize_terminal(80, 24)
        await pilot.pause()
        assert ["was", *"ABC"] in [row.split() for row in text(app).splitlines()]


@pytest.mark.long(cases=0)
async def test_a_seventh_is_refused_in_words(yard: Path) -> None:
    app = BenchApp([yard / "yard-1-two-rings.toml"], Options())
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press(*["C", "down"] * 6, "C")
        assert "6 candidates are kept already: A lists them, x there drops one." in words(app)
        assert len(app.store.session.work.candidates.kept) == 6


async def test_the_hand_out_is_read_here_and_written(yard: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(yard)
    app = BenchApp([yard / "yard-1-second-trial.toml"], Options())
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("H", "enter")
        assert "What changes on your bike" in words(app)
        await pilot.press("q", "H", "down", "enter")
        assert "Written to" in words(app)
    (page,) = yard.glob("*-hand-out.html")
    printed = called("handout", yard / "yard-1-second-trial.toml", "--format", "html").stdout
    body = printed[printed.index("<section>") :]
    assert page.read_text()[page.read_text().index("<section>") :] == body


async def test_the_view_has_the_figures_of_the_command(yard: Path) -> None:
    """The bench of a saved file stands in the view with what `compare` prints for that file."""
    app = BenchApp([yard / "yard-1-second-trial.toml"], Options())
    async with app.run_test(size=(120, 50)) as pilot:
        await pilot.press("8")
        shown = [" ".join(row.split()) for row in text(app).splitlines()]
    printed = called("compare", yard / "yard-1-second-trial.toml").stdout.splitlines()
    rows = [
        " ".join(row.split())
        for row in printed
        if row.startswith((" lowest", " highest", " total", " spins"))
    ]
    assert len(rows) == 4
    for row in rows:
        assert any(one.startswith(row) for one in shown), row


@pytest.mark.long(cases=0)
async def test_a_price_is_typed_in_place_and_kept_in_the_bin(yard: Path) -> None:
    stock = yard / "bins" / "hollin-yard.toml"
    stock.write_text(stock.read_text().replace("price = 28.0\n", "", 1))
    app = BenchApp([yard / "yard-1-second-trial.toml"], Options())
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("6", "M")
        assert "price" in words(app)
        await pilot.press(*"price ring", "enter", *"29", "enter")
        assert "Kept in hollin-yard.toml." in words(app)
        assert app.store.session.order_sheet is not None
        assert app.store.session.order_sheet.price is not None
    order = json.loads(called("order", yard / "yard-1-second-trial.toml", "--format", "json").stdout)
    assert {item["price"] for item in order["fit"] if item["what"].startswith("ring 40")} == {29.0}


@pytest.mark.long(cases=0)
async def test_parts_are_booked_out_logged_and_put_back_by_undo(yard: Path) -> None:
    stock = yard / "bins" / "hollin-yard.toml"
    before = stock.read_text()
    app = BenchApp([yard / "yard-1-second-trial.toml"], Options())
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("6", "L")
        assert "5 parts out of hollin-yard.toml; the work into the log." in words(app)
        assert "Out of stock: single ring 40, short ring bolts, rear derailleur, gear cable" in words(app)
        await pilot.press("escape", "L")
        assert stock.read_text() == before
        await pilot.press("enter")
        assert "The work is booked, 5 parts out of hollin-yard.toml; u takes it back." in words(app)
        booked = stock.read_text()
        assert booked != before
        assert app.store.session.bench.log[-1].what.startswith("cassette 11-42")
        assert app.store.session.stock == read_bin(stock).value
        await pilot.press("u")
        assert "5 parts put back into hollin-yard.toml" in words(app)
        assert stock.read_text() == before
        assert app.store.session.bench.log == ()
        await pilot.press("r")
        assert "5 parts booked out of hollin-yard.toml" in words(app)
        assert stock.read_text() == booked
        assert app.store.session.bench.log != ()
        await pilot.press("u")
        assert stock.read_text() == before


@pytest.mark.long(cases=0)
async def test_parts_that_another_session_has_had_are_not_booked_and_nothing_else_is(yard: Path) -> None:
    stock = yard / "bins" / "hollin-yard.toml"
    app = BenchApp([yard / "yard-1-second-trial.toml"], Options())
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("6", "L")
        stock.write_text(re.sub(r"count = \d+", "count = 0", stock.read_text()))
        theirs, bench = stock.read_text(), app.store.session.bench
        await pilot.press("enter")
        assert "Not in the bin any more" in words(app)
        assert app.store.session.bench == bench
        assert stock.read_text() == theirs


@pytest.mark.long(cases=0)
async def test_what_was_booked_is_not_counted_out_again_with_the_next_change(yard: Path) -> None:
    """The ring and cassette of the order are fitted; another cog later the same day takes no second ones."""
    stock = yard / "bins" / "hollin-yard.toml"
    app = BenchApp([yard / "yard-1-second-trial.toml"], Options())
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("6", "L", "enter")
        once = stock.read_text()
        await pilot.press(
            "F", "escape", "N", *"other", "enter", "f", *"chainstay", "enter", *"436", "enter", "f10"
        )
        await pilot.press("L")
        assert "Nothing of it lies in hollin-yard.toml; " in words(app)
        await pilot.press("escape")
        assert stock.read_text() == once
