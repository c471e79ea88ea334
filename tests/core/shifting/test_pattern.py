"""Half-step, alternating and crossover: recognised on bikes that riders wrote of, and ridden as they say."""

import pytest

from cogwright.core.setup.model import Setup
from cogwright.core.shifting.pattern import interleaved, pattern_name
from cogwright.core.shifting.shift_order import shift_order_of
from cogwright.core.study import study
from cogwright.present.lines import Look, plain
from cogwright.present.report.card import card_text
from cogwright.present.views.shift_words import change_words
from cogwright.present.views.shifting import shifting_lines
from support import make

#: A (a public forum of riders, 2009): 50-46-30 with 14-28 is a half-step with a small ring for mountains.
HALF = make((30, 46, 50), (14, 17, 20, 24, 28))
#: P: one step and a half between the rings; 52/40 is 1.3, two cogs are about 1.19 apart.
TURNS = make((40, 52), (14, 17, 20, 24, 28))


@pytest.mark.parametrize(
    ("rings", "cogs", "name"),
    [
        ((47, 52), (14, 17, 20, 24, 28), "half-step"),  # the project's check value
        ((53, 57), (12, 14, 16, 18, 21, 24, 28, 32), "half-step"),  # A: a rider's own page on his bike
        ((42, 54), (13, 14, 15, 16, 17, 18), "crossover"),  # A: the racers' way, in the same forum
        ((40, 52), (14, 17, 20, 24, 28), "alternating"),
        ((34, 50), (11, 12, 13, 14, 15, 17, 19, 21, 23, 25, 28), "crossover"),
        ((28, 38, 48), (11, 13, 15, 17, 20, 23, 26, 30), "crossover"),
        ((40,), (11, 13, 15), "one range"),
        ((40, 52), (17,), "crossover"),
    ],
)
def test_patterns_have_the_names_that_riders_give_them(
    rings: tuple[int, ...], cogs: tuple[int, ...], name: str
) -> None:
    assert pattern_name(make(rings, cogs)) == name


def test_a_hub_gear_is_no_half_step() -> None:
    """The rings are half a step apart, but the range in the hub is changed like a ring."""
    setup = make((47, 52), (14, 17, 20, 24, 28), rear={"hub_ratios": [0.75, 1.0, 1.333]})
    assert pattern_name(setup) == "crossover"
    assert pattern_name(make((47,), (17,), rear={"hub_ratios": [0.75, 1.0, 1.333]})) == "one range"


def all_by_turns(setup: Setup) -> list[str]:
    """Every gear of the two large rings and the small ring's easier ones in order, but what is left out."""
    out = {gear.label for gear in shift_order_of(study(setup)).left_out}
    pairs = [(ring, cog) for ring in setup.crank.rings for cog in setup.rear.cogs]
    pairs = [(ring, cog) for ring, cog in pairs if f"{ring}x{cog}" not in out]
    large = setup.crank.rings[-2:]
    least = min(ring / cog for ring, cog in pairs if ring in large)
    ridden = [(ring, cog) for ring, cog in pairs if ring in large or ring / cog < least]
    return [f"{ring}x{cog}" for ring, cog in sorted(ridden, key=lambda pair: pair[0] / pair[1])]


@pytest.mark.parametrize("setup", [HALF, TURNS, make((47, 52), (14, 17, 20, 24, 28))])
def test_interleaved_rings_are_ridden_through_every_gear(setup: Setup) -> None:
    assert [gear.label for gear in shift_order_of(study(setup)).gears] == all_by_turns(setup)


def test_the_step_between_is_half_a_click() -> None:
    """A (the same forum): from 50x20 to 50x17 are 17.6 %; to 46x17 by both shifters 8.2 % (by hand)."""
    moves = {move.gear.label: move for move in shift_order_of(study(HALF)).moves}
    assert (moves["46x17"].front, moves["46x17"].rear_clicks) == (-1, 1)
    assert moves["46x17"].step_pct == pytest.approx(8.2, abs=0.05)
    whole = next(step for step in study(HALF).rear_steps if step.harder.label == "50x17")
    assert whole.step_pct == pytest.approx(17.6, abs=0.05)


def test_the_small_ring_of_a_half_step_is_crossed_to_once() -> None:
    order = shift_order_of(study(HALF))
    assert [(before.label, move.gear.label) for before, move in order.crossings] == [("30x20", "46x28")]
    assert interleaved(HALF) == order.interleaved


def card(setup: Setup) -> list[str]:
    return [row.strip("|+- ") for row in card_text(study(setup)).splitlines()]


def test_the_card_of_a_half_step_has_the_rings_of_each_cog() -> None:
    rows = card(make((47, 52), (14, 17, 20, 24, 28)))
    at = rows.index("cog 28: 47")
    assert rows[at : at + 5] == [
        "cog 28: 47",
        "cog 24: 47 52",
        "cog 20: 47 52",
        "cog 17: 47 52",
        "cog 14: 52",
    ]
    said = " ".join(rows)
    assert "Half-step: on each cog ring 47, then ring 52; to the next cog" in said
    assert "to the next cog front down, rear 1 click harder." in said
    assert "Coming down: front up, rear 1 click easier." in said
    assert "**" not in said


def test_the_card_of_a_half_step_with_a_third_ring_crosses_to_it() -> None:
    rows = card(HALF)
    assert rows.index("ring 30: 28 24 20") < rows.index("** front up, rear 2 clicks easier **")
    assert rows.index("** front up, rear 2 clicks easier **") < rows.index("cog 24: 46 50")


def test_the_card_of_alternating_rings_says_each_shift() -> None:
    """By hand: 40x20 is 2.00, 52x24 2.17, 40x17 2.35, 52x20 2.60; 40x14 is crossed."""
    rows = card(TURNS)
    at = rows.index("52x24 front up, rear 1 click easier")
    assert rows[at + 1 : at + 4] == [
        "40x17 front down, rear 2 clicks harder",
        "52x20 front up, rear 1 click easier",
        "52x17 rear 1 click harder",
    ]


def test_view_and_card_say_the_same_of_the_pattern() -> None:
    for setup in (HALF, TURNS):
        order = shift_order_of(study(setup))
        view = " ".join(" ".join(plain(row).split()) for row in shifting_lines(study(setup), Look(100)))
        assert change_words(order)[0] in view
        assert change_words(order)[0].split(".")[0] in " ".join(card(setup))
