"""Limits to the last hundredth, and how far a search says that it is."""

from dataclasses import replace

import pytest
from test_plan import demo

from bikes import DRAWERS
from cogwright.core.proposing.bin_choices import cassette_choice
from cogwright.core.proposing.goal import Goal, held_to
from cogwright.core.proposing.ladder import CassettePiece, most_even
from cogwright.core.proposing.plan import Plan
from cogwright.core.proposing.proposal import Proposal
from cogwright.core.proposing.space import count_variants
from cogwright.store.bins import read_bin
from support import make

ONE = Proposal("even", make([40], [10, 12]), "one", cost=20.0)


@pytest.mark.parametrize(
    ("goal", "meets"),
    [
        (Goal(jump_at_most_pct=20.0), True),  # 12/10 is 20 %
        (Goal(jump_at_most_pct=19.9), False),
        (Goal(jump_at_most_pct=20.1), True),
        (Goal(cost_at_most=20.0), True),
        (Goal(cost_at_most=19.9), False),
        (Goal(low_at_most_m=ONE.low_m), True),
        (Goal(low_at_most_m=ONE.low_m - 0.01), False),
        (Goal(high_at_least_m=ONE.high_m), True),
        (Goal(high_at_least_m=ONE.high_m + 0.01), False),
    ],
)
def test_a_limit_is_kept_up_to_itself(goal: Goal, meets: bool) -> None:
    assert pytest.approx(20.0) == ONE.worst_step_pct
    (held,) = held_to(goal, [ONE])
    assert held.meets is meets
    assert any(reason.startswith("misses a limit: ") for reason in held.reasons) is not meets


def test_what_has_no_price_may_miss_the_cost() -> None:
    (held,) = held_to(Goal(cost_at_most=100.0), [replace(ONE, cost=None)])
    assert not held.meets
    assert "a part has no price" in held.reasons[0]


def test_those_that_keep_the_limits_come_first_and_keep_their_order() -> None:
    dear, cheap, free = (replace(ONE, title=f"{cost}", cost=float(cost)) for cost in (30, 20, 0))
    held = held_to(Goal(cost_at_most=25.0), [dear, cheap, free])
    assert [one.title for one in held] == ["20", "0", "30"]


@pytest.mark.long(cases=0)
def test_a_plan_counts_up_to_all_that_there_is_to_look_at() -> None:
    """Sets of rings by cassettes with their swaps by derailleurs, shifters and drivers."""
    setup, stock = demo("yard-1-two-rings"), read_bin(DRAWERS).value
    seen = list(Plan(setup, stock).progress())
    done = [progress.done for progress in seen]
    assert done == sorted(done)
    assert done[0] == 0
    offered = sum(count_variants(cassette_choice(part), stock.cogs) for part in stock.cassettes)
    # Beside the bike's own one derailleur and one shifter at least.
    assert done[-1] == seen[-1].total > offered * 2 * 2
    *_, before, last = done
    assert before > 0.5 * last  # the last steps before the end are near it
    assert [progress.finished for progress in seen] == [at == last for at in done]


def test_of_two_ways_to_begin_the_more_even_one_is_taken() -> None:
    """Pieces by hand: 11 alone and then 13, or 11 with 12 riveted to it; with 15 both have three cogs.

    11-13-15 has steps 18.2 and 15.4 %, 11-12-15 has 9.1 and 25 %: the first is more even.
    """
    loose = [CassettePiece((n,)) for n in (11, 13, 15)]
    for pieces in ([*loose, CassettePiece((11, 12))], [CassettePiece((11, 12)), *loose]):
        ladder = most_even(pieces, (11, 15), 3)
        assert ladder is not None
        assert ladder.cogs == (11, 13, 15)


def test_of_two_with_the_same_largest_step_the_one_with_less_squares_is_taken() -> None:
    """10-20 is the largest step of both (100 %): then 20-24-30 beats 20-21-30, and begins with a carrier.

    Squares of the logs: ln 1.2 and ln 1.25 against ln 1.05 and ln 1.4286, 0.083 against 0.130.
    """
    even, odd = CassettePiece((10, 20, 24)), CassettePiece((10, 20, 21))
    for pieces in ([even, odd], [odd, even]):
        ladder = most_even([*pieces, CassettePiece((30,))], (10, 30), 4)
        assert ladder is not None
        assert ladder.cogs == (10, 20, 24, 30)
