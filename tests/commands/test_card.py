"""The Shifting view, the pocket card and the drill."""

import random
import re

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from cogwright.core.common.safe_text import cells
from cogwright.core.setup.model import Setup
from cogwright.core.shifting.drill import Drill, drill_of
from cogwright.core.shifting.shift_order import shift_order_of
from cogwright.core.study import study
from cogwright.present.lines import ASCII, Look, plain, width
from cogwright.present.report.card import WIDTH, card_text
from cogwright.present.views.shifting import drill_page, shifting_lines, shifting_page
from strategies import setups
from support import ROOT, called, long_run, make

DOUBLE = make((34, 50), (11, 12, 13, 14, 15, 17, 19, 21, 23, 25, 28))


def said(bench: Setup, look: Look | None = None) -> str:
    return "\n".join(map(plain, shifting_lines(study(bench), look or Look())))


def drilled(bench: Setup, seed: int = 0) -> Drill:
    of = study(bench)
    found = drill_of(shift_order_of(of), of.gears, seed)
    assert found is not None
    return found


def test_a_double_says_where_to_change_and_what_to_make_up() -> None:
    """50 over 34 is 47 %; 34x17 to 50x23 is 50 * 17 / (23 * 34) = 8.7 % (by hand), three cogs back."""
    text = said(DOUBLE)
    assert "15 gears from easiest to hardest, 1 double shift." in text
    assert "In 34x17: front up, rear 3 clicks easier, to 50x23." in text
    assert "Coming down: front down," in text
    row = next(r for r in text.splitlines() if r.split()[1:2] == ["50x23"])
    assert "+8.7" in row
    assert row.endswith("double shift")
    assert "Leave out 50x28, 50x25, 34x12, 34x11: chain crossed (common practice)." in text


def test_measured_chainlines_replace_the_rule_of_thumb() -> None:
    """With chainstay and chainline the angle decides: only what is over the limit is left out."""
    bench = make(
        (34, 50),
        (11, 12, 13, 14, 15, 17, 19, 21, 23, 25, 28),
        crank={"chainline_mm": 43.5},
        frame={"chainstay_mm": 410},
    )
    assert "common practice)" not in said(bench)
    assert "Leave out" in said(bench)
    wide = bench.model_copy(update={"limits": bench.limits.model_copy(update={"chain_angle_deg": 9.0})})
    assert "Leave out" not in said(wide)


def test_gears_beyond_the_chain_are_left_out_with_the_reason() -> None:
    short = make((34, 50), (11, 15, 21, 28, 34), frame={"chainstay_mm": 410}, chain={"links": 100})
    assert re.search(r"Leave out .*50x34.*: the chain is too short for it", said(short).replace("\n", ""))


def test_the_summary_and_the_changes_stay_in_sight() -> None:
    head = [plain(row) for row in shifting_page(study(DOUBLE), Look()).head]
    assert len(head) == 4
    assert head[-1].split() == ["gear", "m", "step", "%", "shift"]


@pytest.mark.long
@settings(max_examples=long_run(60))
@given(setups)
def test_any_setup_has_a_view_a_card_and_perhaps_a_drill(bench: Setup) -> None:
    of = study(bench)
    for look in (Look(40, glyphs=ASCII), Look(100)):
        assert max(map(width, shifting_lines(of, look))) <= look.width
    card = card_text(of)
    assert {cells(row) for row in card.splitlines()} == {WIDTH}
    drill = drill_of(shift_order_of(of), of.gears)
    assert (drill is None) == (len(shift_order_of(of).gears) == 1)
    if drill:
        assert max(map(width, drill_page(drill.answer(), Look(40)).rows)) <= 40


def test_the_card_holds_the_whole_order() -> None:
    """Its numbers, read back, are the order's cogs; the change stands between the rings."""
    card = card_text(study(DOUBLE))
    assert "| ring 34: 28 25 23 21 19 17" in card
    assert "** front up, rear 3 clicks easier **" in card
    assert "| ring 50: 23 21 19 17 15 14 13 12 11" in card
    assert "from 50x23 front down, rear 3 clicks" in card
    assert card.isascii()


@pytest.mark.parametrize(
    ("bench", "row"),
    [
        (make((40,), (11, 13, 15)), "| ring 40: 15 13 11"),
        (make((42,), (19,), rear={"hub_ratios": [0.7, 1, 1.4]}), "| 42x19 hub 1 2 3"),
        (make((44,), (18,)), "| one gear, nothing to shift"),
    ],
)
def test_short_cards(bench: Setup, row: str) -> None:
    """A single ring, a hub gear and a single speed have theirs too."""
    card = card_text(study(bench))
    assert row in card
    assert len(card.splitlines()) <= 6


def test_card_from_the_command_line() -> None:
    for name in ("yard-2-camping", "yard-4-town", "yard-8-folder"):
        done = called("card", ROOT / "setups" / f"{name}.toml")
        assert (done.returncode, done.stderr) == (0, "")
        over, edge, card = done.stdout.partition("+--")
        assert {len(row) for row in (edge + card).splitlines()} == {WIDTH}
        assert max(map(len, over.splitlines())) <= WIDTH
    done = called("card", "no-such.toml")
    assert done.returncode == 1
    assert "no-such.toml" in done.stderr


def test_drill_keeps_score() -> None:
    """From 34x28 the first call is harder: one click is right; the same again on a wrong call is not."""
    drill = drilled(DOUBLE)
    assert (drill.gear.label, drill.call) == ("34x28", "harder")
    drill = drill.shift(rear=1).answer()
    assert (drill.good, drill.asked, drill.streak, drill.gear.label) == (1, 1, 1, "34x25")
    wrong = drill.shift(rear=3).answer()
    assert (wrong.good, wrong.asked, wrong.streak, wrong.best) == (1, 2, 0, 1)
    assert wrong.last is not None
    assert not wrong.last.good
    assert wrong.gear == wrong.last.right.gear


def test_drill_takes_keys_back_and_knows_the_ends_of_the_shifters() -> None:
    drill = drilled(DOUBLE)
    assert drill.shift(rear=1).shift(rear=1).shift(rear=-1).answer().good == 1
    assert drill.shift(rear=5).clear().shift(rear=1).answer().good == 1
    beyond = drill.shift(front=2).answer()
    assert beyond.last is not None
    assert beyond.last.reached is None
    assert beyond.good == 0


def test_another_gear_that_is_as_good_counts() -> None:
    """34x17 and 50x25 are the same development (2.000), so either answers a call for it."""
    bench = make(
        (34, 50),
        (13, 15, 17, 19, 21, 25, 28),
        limits={"chain_angle_deg": 9.0},
        crank={"chainline_mm": 43.5},
        frame={"chainstay_mm": 410},
    )
    drill = drilled(bench)
    while drill.right.gear.label not in {"34x17", "50x25"}:
        right = drill.right
        drill = drill.shift(right.front, right.rear_clicks).answer()
    other = {"34x17": "50x25", "50x25": "34x17"}[drill.right.gear.label]
    gear = next(g for g in drill.gears if g.label == other)
    move = drill.levers.move(drill.gear, gear)
    assert drill.shift(move.front, move.rear_clicks).answer().good == drill.good + 1


@pytest.mark.long
@settings(max_examples=long_run(40))
@given(st.integers(0, 10_000), st.integers(0, 2))
def test_a_perfect_rider_is_never_wrong_and_sees_both_calls(seed: int, which: int) -> None:
    """Giving the shift that is called for is right every time; calls never lead past an end."""
    bench = [
        DOUBLE,
        make((42,), (19,), rear={"hub_ratios": [0.7, 1, 1.4]}),
        make((50,), (11, 15, 20, 28), rear={"hub_ratios": [0.733, 1, 1.364]}),
    ][which]
    drill, calls = drilled(bench, seed), set()
    for _ in range(60):
        calls.add(drill.call)
        move = drill.right
        drill = drill.shift(move.front, move.rear_clicks, move.hub_clicks).answer()
    assert drill.good == drill.asked == drill.best == 60
    assert calls == {"easier", "harder"}


def test_a_drill_is_settled_by_its_seed_and_differs_by_it() -> None:
    def calls(seed: int) -> list[str]:
        drill, found = drilled(DOUBLE, seed), []
        for _ in range(30):
            found.append(drill.call)
            drill = drill.answer()
        return found

    assert calls(1) == calls(1)
    assert len({tuple(calls(seed)) for seed in random.Random(0).sample(range(1000), 5)}) > 1


def test_drill_page_asks_shows_the_keys_and_tells_the_right_answer() -> None:
    drill = drilled(DOUBLE).shift(rear=2)
    text = "\n".join(map(plain, drill_page(drill, Look(80, glyphs=ASCII)).rows))
    assert "In 34x28: next harder!" in text
    assert "rear 2 clicks harder" in text
    after = "\n".join(map(plain, drill_page(drill.answer(), Look(80, glyphs=ASCII)).rows))
    assert "x No, that leads to 34x23: 34x28 to 34x25 is rear 1 click harder." in after
    assert "0 of 1 right" in after


def test_a_half_step_is_ridden_through_every_gear() -> None:
    """52-47 with 14 17 20 24 28: ten gears, eight of them not crossed; by turns front and rear."""
    bench = make((47, 52), (14, 17, 20, 24, 28), limits={"jump_pct": 22})
    rows = said(bench).splitlines()
    start = next(at for at, row in enumerate(rows) if row.split()[:2] == ["1", "47x28"])
    every = [row.split()[1] for row in rows[start : start + 8]]
    assert every == ["47x28", "47x24", "52x24", "47x20", "52x20", "47x17", "52x17", "52x14"]
    assert "every distinct gear" not in said(bench)


def test_a_crossover_shows_the_order_through_every_gear_too() -> None:
    """34-50 with eleven cogs: the order passes over gears between others, the table does not."""
    rows = said(DOUBLE).splitlines()
    start = rows.index(" every distinct gear in order")
    every = [row.split()[1] for row in rows[start + 1 :]]
    assert len(every) > 15
    assert "every distinct gear" not in said(make((40,), (11, 13, 15)))


def test_double_shifts_are_marked_whole_at_80() -> None:
    """A hub gear behind a cassette has the longest words."""
    rows = said(make((50,), (11, 13, 15, 18, 21, 24, 28, 32), rear={"hub_ratios": [0.733, 1, 1.364]}))
    doubles = [row for row in rows.splitlines() if "hub 1 click harder, rear" in row and row[3:4].isdigit()]
    assert doubles
    assert all(row.endswith("  double") for row in doubles)


@pytest.mark.parametrize(
    ("bench", "words"),
    [
        (make((34, 50), (11, 13, 15, 28)), "Ease off the pedals for a front change."),
        (make((42,), (19,), rear={"hub_ratios": [0.7, 1, 1.4]}), "while the hub shifts"),
    ],
)
def test_easing_off_is_said_of_what_there_is(bench: Setup, words: str) -> None:
    assert words in said(bench)
    assert "Ease off" not in said(make((40,), (11, 13, 15)))


def test_the_drill_keeps_question_shift_and_score_on_a_low_screen() -> None:
    drill = drilled(DOUBLE).shift(rear=1).answer().shift(rear=1)
    low = [plain(row) for row in drill_page(drill, Look(40, 5)).rows]
    assert ["In " in low[0], "your shift" in low[1], "right" in low[2]] == [True] * 3
    assert "" not in low
    high = [plain(row) for row in drill_page(drill, Look(80, 20)).rows]
    assert "" in high
    assert {row for row in high if row} >= set(low[:3])
