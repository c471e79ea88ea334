"""What actions answer where there is little to act on, and lists row by row: by keys, without a screen."""

import shutil
from collections.abc import Callable
from pathlib import Path

import pytest
from without_app import Alone, begun, keys, seen, store, yard

from cogwright.app.controllers.proposal_list import keep_chosen
from cogwright.app.controllers.proposals import turn_all_counts
from cogwright.app.controllers.registry import CONTROLLERS
from cogwright.app.layout import frame_of
from cogwright.app.pointing import BenchPointing, DrawerPointing
from cogwright.app.router import text_typed
from cogwright.app.state.candidates import Candidates
from cogwright.app.state.opened import ActionSearch, Drilling, Form, PickList, Question, Typed
from cogwright.app.state.store import SessionStore
from cogwright.core.parts.bin import Bin
from cogwright.core.setup.edits import SetField
from cogwright.core.setup.model import Setup
from cogwright.present.cursor import Cursor
from cogwright.present.lines import Look, plain
from cogwright.present.views.shifting import shifting_lines
from cogwright.store.bins import read_bin, save_bin
from cogwright.store.documents import read_setup, to_toml
from cogwright.store.files import StoreError
from support import make

__all__ = ["store", "yard"]
BIN = "bins/hollin-yard.toml"


def alone(folder: Path, setup: Setup) -> SessionStore:
    """The session of a setup in a folder where nothing else is."""
    folder.mkdir(parents=True, exist_ok=True)
    (folder / "alone.toml").write_text(to_toml(setup))
    return begun(folder / "alone.toml")


def down_to(store: SessionStore, words: str) -> None:
    """The mark of the open list on the first row that has these words."""
    frame = frame_of(store.session)
    assert frame.drawer is not None
    rows = ["".join(span.text for span in row) for row in frame.drawer.rows]
    at = next(at for at, row in enumerate(rows) if words in row)
    of = store.session.open
    assert isinstance(of, PickList)
    keys(store, *["down" if at > of.at else "up"] * abs(at - of.at))


def anew(store: SessionStore) -> SessionStore:
    """On a copy of the bench, which has no file."""
    keys(store, "n", "c")
    assert store.session.document is None
    return store


# Where there is no file, no baseline, no bin, no row


@pytest.mark.parametrize("key", ["D", "R"])
def test_a_bench_without_a_file_has_none_to_delete_or_read(store: SessionStore, key: str) -> None:
    keys(anew(store), key)
    assert store.session.message == "This bench has no file yet."
    assert store.session.open is None


def test_a_bench_without_a_file_is_compared_with_itself_and_others_but_not_with_a_file(
    store: SessionStore,
) -> None:
    keys(anew(store), "b")
    assert "the bench as it stands" in seen(store)
    assert "this file, as saved" not in seen(store)


def test_the_bike_as_it_came_in_is_a_baseline_once_it_has_been_saved_over(yard: Path) -> None:
    file = yard / "yard-4-town.toml"
    first = read_setup(file).value
    store = begun(file)
    keys(store, "tab", "up", "s", "w", "b")
    down_to(store, "this file, as it came in")
    keys(store, "enter")
    assert store.session.baseline is not None
    assert store.session.baseline.setup == first
    assert store.session.bench != first


def test_a_damaged_file_is_no_baseline_and_its_errors_are_shown(store: SessionStore, yard: Path) -> None:
    (yard / "aa-broken.toml").write_text("format = 1\nname = 3\n")
    before = store.session.baseline
    keys(store, "b", *"elsewhere", "enter")
    down_to(store, "aa-broken")
    keys(store, "enter")
    assert "name" in seen(store)
    assert store.session.baseline == before


def test_without_a_baseline_there_is_no_handout_no_order_and_no_story(tmp_path: Path) -> None:
    store = alone(tmp_path / "one", make((42,), (13, 17, 21)))
    store.replace(store.session.working(baseline=None))
    keys(store, "H")
    assert store.session.message.startswith(
        "A hand-out tells of a change: set what the bench is compared with"
    )
    keys(store, "M")
    assert store.session.message == "Set a baseline first (b): there is no order without one."
    keys(store, "8", "end")
    assert store.session.open is None


def test_a_handout_that_is_read_says_so_when_its_baseline_is_taken_away(store: SessionStore) -> None:
    keys(store, "down", "H", "enter")
    assert "What changes on your bike" in seen(store)
    store.replace(store.session.working(baseline=None))
    assert "set what the bench is compared with first" in seen(store)


@pytest.mark.parametrize(
    ("way", "ending", "begins"),
    [("HTML", ".html", "<!doctype html>"), ("Markdown", ".md", "# "), ("plain text", ".txt", "")],
)
def test_a_handout_is_written_in_three_ways(
    store: SessionStore, yard: Path, way: str, ending: str, begins: str
) -> None:
    keys(store, "down", "H")
    assert "a page to print or mail" in seen(store)
    down_to(store, way)
    keys(store, "enter")
    (file,) = yard.glob(f"*-hand-out{ending}")
    assert file.name in store.session.message
    text = file.read_text()
    assert text.lower().startswith(begins)
    assert "What changes on your bike" in text


def test_a_handout_that_cannot_be_written_says_why(store: SessionStore, yard: Path) -> None:
    keys(store, "down", "H", "end")
    shutil.rmtree(yard)
    keys(store, "enter")
    assert store.session.message.startswith("Not written:")


def test_one_gear_is_no_drill(tmp_path: Path) -> None:
    store = alone(tmp_path / "one", make((42,), (17,)))
    keys(store, "d")
    assert store.session.message == "With one gear there is nothing to drill."
    assert store.session.open is None


def test_a_hub_gear_is_drilled_by_its_own_keys(tmp_path: Path) -> None:
    """Page up is a click harder, which is what is called for in the easiest of three."""
    store = alone(tmp_path / "hub", make((42,), (19,), rear={"hub_ratios": [0.7, 1, 1.4]}))
    keys(store, "d", "pageup", "enter")
    of = store.session.open
    assert isinstance(of, Drilling)
    assert (of.drill.good, of.drill.asked) == (1, 1)
    assert "Right" in seen(store)


def test_view_and_drill_ride_the_gears_of_the_chain_on_order(yard: Path) -> None:
    """36x45 wants the new chain; against the bench itself none is on order, and the gear is left out."""
    store = begun(yard / "yard-1-first-trial.toml")
    keys(store, "5")
    assert "36x45: only with the new chain on; never with the old one." in seen(store)
    assert "torn off on 36x45" in seen(store), "the alarm stays over it"
    keys(store, "d")
    drilling = store.session.open
    assert isinstance(drilling, Drilling)
    assert drilling.drill.gear.label == "36x45"
    keys(store, "f10", "5")
    store.replace(store.session.working(baseline=None))
    assert "Leave out 36x45" in " ".join(plain(row) for row in shifting_lines(store.session.study, Look(80)))
    keys(store, "d")
    drilling = store.session.open
    assert isinstance(drilling, Drilling)
    assert drilling.drill.gear.label == "36x36"


def test_an_empty_shelf_says_how_to_fill_it(tmp_path: Path) -> None:
    store = alone(tmp_path / "one", make((42,), (17,)))
    (tmp_path / "one" / "alone.toml").unlink()
    keys(store, "o")
    assert "No setup in" in store.session.message
    assert store.session.open is None


def test_a_setup_that_is_damaged_by_now_is_not_put_on(store: SessionStore, yard: Path) -> None:
    before = store.session.bench
    keys(store, "o")
    for file in yard.glob("*.toml"):
        file.write_text("format = 1\nname = 3\n")
    keys(store, "down", "enter")
    assert store.session.bench == before
    assert "name" in seen(store)


# Teeth, names and facts that are refused


def test_several_tooth_counts_are_none_for_one_sprocket(store: SessionStore) -> None:
    before = store.session.bench
    keys(store, "enter", *"11-13-15", "enter")
    assert store.session.message == "that is 3 tooth counts for one sprocket: c puts a whole cassette on."
    assert store.session.bench == before


def test_an_odd_tooth_count_that_is_confirmed_can_still_be_refused(store: SessionStore) -> None:
    """70 teeth on a cog are asked about; a list with them for one cog is refused after the yes."""
    keys(store, "enter", *"70-71", "enter")
    assert isinstance(store.session.open, Question)
    keys(store, "y")
    assert "2 tooth counts for one sprocket" in store.session.message


def test_a_name_of_blanks_is_no_name(store: SessionStore) -> None:
    name = store.session.bench.name
    keys(store, "N", " ", "enter")
    assert store.session.bench.name == name
    assert store.session.message


# Candidates


def test_candidates_are_listed_looked_at_dropped_and_saved_one_by_one(
    store: SessionStore, yard: Path
) -> None:
    keys(store, "C", "down", "C", "down", "C")
    bench = store.session.bench
    keys(store, "A")
    shown = seen(store)
    for letter in "ABC":
        assert f"{letter} " in shown
    assert shown.count("not saved") == 3
    first = store.session.work.candidates.kept[0].setup
    keys(store, "up", "up")
    assert store.session.shown == first
    assert store.session.bench == bench, "it is only looked at"
    keys(store, "x")
    assert store.session.message.startswith("Candidate A dropped")
    assert [one.letter for one in store.session.work.candidates.kept] == ["B", "C"]
    assert store.session.shown == bench
    files = len([*yard.glob("*.toml")])
    keys(store, "A", "up", "s")
    assert store.session.message.startswith("Saved B as")
    assert len([*yard.glob("*.toml")]) == files + 1
    keys(store, "A")
    assert "saved as" in seen(store)
    keys(store, "f10")
    assert store.session.shown == bench


def test_a_candidate_goes_onto_the_bench_from_the_list(store: SessionStore) -> None:
    keys(store, "C", "down", "C", "A", "up", "enter")
    first, second = (one.setup for one in store.session.work.candidates.kept)
    assert store.session.bench == first
    keys(store, "A", "enter")
    assert store.session.message.startswith("On the bench: candidate A")
    keys(store, "u")
    assert store.session.bench == second


def test_without_candidates_there_is_no_list_and_none_to_go_to(store: SessionStore) -> None:
    for key in ("A", "right_parenthesis", "left_parenthesis"):
        store.say("")
        keys(store, key)
        assert "C" in store.session.message
        assert store.session.open is None


def test_a_candidate_that_cannot_be_saved_is_kept(store: SessionStore, yard: Path) -> None:
    keys(store, "down", "C", "A")
    shutil.rmtree(yard)
    keys(store, "s")
    assert "Candidate A is still kept here." in store.session.message
    assert [one.saved_as for one in store.session.work.candidates.kept] == [""]


# The climb, pairs, limits, proposals


def test_left_and_right_change_the_effort_of_a_climb(store: SessionStore) -> None:
    keys(store, "h")
    down_to(store, "effort")
    assert store.session.climb is not None
    before = store.session.climb.briefly
    keys(store, "right")
    assert store.session.climb.briefly is not before
    keys(store, "left")
    assert store.session.climb.briefly is before


def test_a_figure_of_a_climb_must_be_a_number(store: SessionStore) -> None:
    keys(store, "h", "enter", "x", "enter")
    assert store.session.message.startswith("Type a number from")
    assert store.session.climb is not None
    assert store.session.climb.grade_pct == 10.0


def test_kits_for_a_climb_want_a_bin(tmp_path: Path) -> None:
    store = alone(tmp_path / "one", make((30, 42), (13, 17, 21)))
    keys(store, "h")
    down_to(store, "look for kits")
    keys(store, "enter")
    assert store.session.message.startswith("Kits come out of a parts bin")


@pytest.mark.long(cases=0)
def test_the_plan_is_searched_from_its_last_row_too(store: SessionStore) -> None:
    keys(store, "p", "l", "end")
    assert "search within these limits" in seen(store)
    keys(store, "enter")
    assert "Plan: " in seen(store)
    assert "that nothing beats" in seen(store)


@pytest.mark.long(cases=0)
def test_the_proposal_that_all_stays_says_so(store: SessionStore) -> None:
    keys(store, "p", "l", "l", "enter")
    assert store.session.message == "The bench stays as it is: that is what this proposal says."
    assert not store.session.history.past


@pytest.mark.long(cases=0)
def test_a_proposal_with_something_to_mind_says_it_as_it_goes_on(store: SessionStore) -> None:
    keys(store, "p", "l", "l", "down")
    of = store.session.open
    assert isinstance(of, PickList)
    one = of.shown[of.at]
    assert one.notes
    keys(store, "enter")
    assert store.session.message == f"On the bench: {one.title}. Mind: {'; '.join(one.notes)}."
    assert store.session.bench == one.setup


@pytest.mark.long(cases=0)
def test_a_proposal_that_does_not_fit_says_why_as_it_goes_on(store: SessionStore) -> None:
    """36 teeth for a derailleur that takes 34."""
    keys(store, "p", "s")
    of = store.session.open
    assert isinstance(of, PickList)
    at = next(at for at, one in enumerate(of.shown) if one.problems)
    keys(store, *["down"] * at, "enter")
    assert (
        "It does not fit: largest cog: 36 teeth where the rear derailleur takes 34" in store.session.message
    )
    assert store.session.bench.rear.cogs[-1] == 36


def test_what_a_search_finds_after_its_list_is_left_goes_nowhere(store: SessionStore) -> None:
    host, late = store.host, list[Callable[[], None]]()
    assert isinstance(host, Alone)
    host.hand_over = late.append  # type: ignore[method-assign]
    keys(store, "p", "s", "f10")
    before = store.session
    assert late
    for found in late:
        found()
    assert store.session is before


def test_of_nothing_found_before_the_first_of_what_is_found_now_is_marked() -> None:
    assert keep_chosen((), 0, ()) == ((), 0)


def test_with_the_mark_on_a_ring_no_cog_can_be_pinned(store: SessionStore) -> None:
    keys(store, "p")
    assert "pin cog 30" in seen(store)
    keys(store, "f10", "tab", "p")
    assert "pin cog" not in seen(store)


def pair_list(tmp_path: Path, wanted: str, **more: object) -> SessionStore:
    stay = {"frame": {"chainstay_mm": 410.0}, **more}
    store = alone(tmp_path / "fixed", make((42,), (17,), **stay))
    keys(store, "h")
    down_to(store, "list pairs")
    keys(store, "enter", *wanted, "enter")
    return store


def test_pairs_are_listed_with_what_their_columns_mean_where_there_is_room(tmp_path: Path) -> None:
    store = pair_list(tmp_path, "5.4")
    assert "Pairs for 5.40 m" in seen(store)
    low = seen(store)
    store.change(room=Look(120, 40))
    assert len(seen(store)) > len(low)


def test_a_bin_without_a_pair_that_is_right_is_said_and_all_counts_have_one(tmp_path: Path) -> None:
    """42x17 alone on 415 mm: 65.35 + 29.5 + 0.48 = 95.34 links, two thirds of a link from an even number."""
    (tmp_path / "fixed" / "bins").mkdir(parents=True)
    save_bin(tmp_path / "fixed" / "bins" / "little.toml", Bin(name="Little"), None)
    store = alone(tmp_path / "fixed", make((42,), (17,), frame={"chainstay_mm": 415.0}))
    keys(store, "B", "enter", "h")
    down_to(store, "list pairs")
    keys(store, "enter", *"5.4", "enter")
    assert store.session.message == "No pair of the teeth at hand is right on this stay, new or worn."
    turn_all_counts(store)
    keys(store, "enter")
    assert "Pairs for 5.40 m" in seen(store)
    keys(store, "a")
    assert store.session.message == "No pair of the bin's teeth is right on this stay, new or worn."
    assert "Pairs for 5.40 m" in seen(store), "those of before stay"


# Export and help


def test_the_view_goes_to_the_clipboard(store: SessionStore) -> None:
    keys(store, "e")
    assert "to the clipboard (OSC 52)" in seen(store)
    down_to(store, "clipboard")
    keys(store, "enter")
    host = store.host
    assert isinstance(host, Alone)
    assert store.session.bench.name in host.copied
    assert store.session.message.startswith(f"{len(host.copied.splitlines())} lines sent")


def test_the_help_does_the_action_that_is_chosen(store: SessionStore) -> None:
    keys(store, "question_mark", *"rename the setup", "enter")
    assert "Name of the setup" in seen(store)


def test_a_word_of_the_help_does_nothing(store: SessionStore) -> None:
    keys(store, "question_mark", *"metres travelled", "enter")
    assert store.session.over == (), "the list is left"
    assert store.session.message == ""


# Cassettes by their ends, and the parts bin


def test_a_range_that_several_cassettes_have_is_asked_about(store: SessionStore, yard: Path) -> None:
    other = SetField("name", "Twin").apply(read_setup(yard / "yard-1-two-rings.toml").value)
    cogs = (11, 12, 14, 16, 18, 20, 22, 25, 28, 30)
    twin = other.model_copy(update={"rear": other.rear.model_copy(update={"cogs": cogs, "carriers": ()})})
    (yard / "twin.toml").write_text(to_toml(twin))
    keys(store, "f", *"rear.cogs", "enter", *"11-30", "enter")
    assert "Which cassette 11-30?" in seen(store)
    down_to(store, "Twin")
    keys(store, "enter")
    assert store.session.bench.rear.cogs == cogs
    assert isinstance(store.session.open, Form), "on to the next fact"


def test_the_parts_of_a_bin_want_a_bin(tmp_path: Path) -> None:
    store = alone(tmp_path / "one", make((42,), (17,)))
    keys(store, "I")
    assert "parts bin" in seen(store)


def test_a_cassette_is_put_into_the_bin_by_its_cogs(store: SessionStore, yard: Path) -> None:
    before = len(read_bin(yard / BIN).value.cassettes)
    keys(store, "I", "f7")
    down_to(store, "cassette")
    keys(store, "enter", *"nine", "enter", *"11-30", "enter")
    assert store.session.message == "11-30 are its ends alone: type all its cogs, such as 11 13 15."
    assert len(read_bin(yard / BIN).value.cassettes) == before
    keys(store, *["backspace"] * 5, *"11 13 15 17", "enter")
    after = read_bin(yard / BIN).value.cassettes
    assert len(after) == before + 1
    assert (after[-1].name, after[-1].cogs) == ("nine", (11, 13, 15, 17))


def test_an_order_of_which_all_is_known_has_nothing_to_type(yard: Path) -> None:
    store = begun(yard / "yard-1-second-trial.toml")
    keys(store, "6", "M")
    assert store.session.message == "Every price, mass and wait of this order is known."


@pytest.mark.parametrize("typed", ["x", "-3"])
def test_a_price_that_is_none_is_not_kept(yard: Path, typed: str) -> None:
    file = yard / BIN
    file.write_text(file.read_text().replace("price = 28.0\n", "", 1))
    before = file.read_bytes()
    store = begun(yard / "yard-1-second-trial.toml")
    keys(store, "6", "M", *"price ring", "enter", *typed, "enter")
    assert store.session.message
    assert "Kept" not in store.session.message
    assert file.read_bytes() == before


def test_a_price_for_a_bin_that_is_gone_is_not_kept(yard: Path) -> None:
    file = yard / BIN
    file.write_text(file.read_text().replace("price = 28.0\n", "", 1))
    store = begun(yard / "yard-1-second-trial.toml")
    keys(store, "6", "M", *"price ring", "enter")
    file.unlink()
    keys(store, *"29", "enter")
    assert "hollin-yard.toml" in store.session.message
    assert not file.exists()


# The mouse, and errors that are said


def test_a_click_on_a_row_of_a_form_goes_there_and_one_on_what_is_covered_does_nothing(
    store: SessionStore,
) -> None:
    done = list[str]()
    bench, drawer = BenchPointing(store, done.append), DrawerPointing(store, lambda key: keys(store, key))
    keys(store, "F")
    drawer.row(4)
    of = store.session.open
    assert isinstance(of, Form)
    assert of.at == 4
    before = store.session
    drawer.rows(2)
    bench.sprocket(Cursor("ring", 28))
    bench.action("undo")
    assert store.session is before
    keys(store, "f10", "question_mark", "f10", "D")
    before = store.session
    drawer.row(0)
    assert store.session is before, "a question has no rows"
    assert done == []


def test_a_key_that_means_nothing_in_a_form_does_nothing(store: SessionStore) -> None:
    keys(store, "F")
    before = store.session
    keys(store, "f5")
    assert store.session is before


def test_where_no_text_is_typed_a_text_goes_nowhere(store: SessionStore) -> None:
    before = store.session
    text_typed(store, Typed("abc", 3))
    assert store.session is before


def test_six_candidates_are_all(store: SessionStore) -> None:
    kept = Candidates()
    for teeth in range(13, 20):
        kept = kept.adding(make((42,), (12, teeth)))
    assert [one.letter for one in kept.kept] == [*"ABCDEF"]
    assert kept.adding(make((42,), (12, 13))) == kept, "it is there already"


def test_the_search_for_actions_can_be_left_before_its_screen_is_there(store: SessionStore) -> None:
    keys(store, "colon", "x")
    assert isinstance(store.session.open, ActionSearch)
    keys(store, "escape")
    assert store.session.over == ()


def test_no_sprocket_has_more_teeth_than_any(tmp_path: Path) -> None:
    store = alone(tmp_path / "one", make((130,), (17,)))
    keys(store, "tab", "up")
    assert store.session.message == "Sprockets here have 6 to 130 teeth."
    assert store.session.bench.crank.rings == (130,)


def test_an_error_that_an_action_does_not_expect_but_a_user_can_mend_is_said(
    store: SessionStore, monkeypatch: pytest.MonkeyPatch
) -> None:
    def fails(_: SessionStore) -> None:
        raise StoreError("The disk is full; make room")

    monkeypatch.setitem(CONTROLLERS, "undo", fails)
    keys(store, "u")
    assert store.session.message == "The disk is full; make room"
