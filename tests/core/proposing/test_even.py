"""Even out: against outside tables, against brute force, and against paths in a graph."""

import math
import random
from fractions import Fraction
from itertools import combinations, pairwise
from typing import Any

import networkx as nx
import pytest

from bikes import bike, drawer
from cogwright.core.common.errors import CogwrightError
from cogwright.core.parts.bin import Bin, CassettePart, CogPart
from cogwright.core.proposing.bin_choices import cassette_choice, pool_for
from cogwright.core.proposing.choices import CassetteChoice
from cogwright.core.proposing.even import even_out
from cogwright.core.proposing.even_words import steps_words
from cogwright.core.proposing.ladder import (
    CassettePiece,
    Ladder,
    closest_where_fast,
    most_even,
    unevenness,
    worst_ratio,
)
from cogwright.core.proposing.pool import Pool, pieces_on
from cogwright.core.setup.history import History
from cogwright.core.setup.model import Limits, Setup
from cogwright.core.study import study
from support import long_run


def a_setup(
    cogs: list[int],
    carriers: list[list[int]] | None = None,
    rings: list[int] | None = None,
    family: str | None = None,
) -> Setup:
    return Setup.model_validate(
        {
            "name": "Yard 1",
            "wheel": {"size": "40-622"},
            "crank": {"rings": tuple(rings or [40])},
            "rear": {"cogs": tuple(cogs), "carriers": tuple(map(tuple, carriers or [])), "family": family},
        }
    )


def free(low: int, high: int) -> list[CassettePiece]:
    return [CassettePiece((n,)) for n in range(low, high + 1)]


def worst(cogs: tuple[int, ...]) -> Fraction:
    return max(Fraction(b, a) for a, b in pairwise(cogs))


def squares(cogs: tuple[int, ...]) -> float:
    return math.fsum(math.log(b / a) ** 2 for a, b in pairwise(cogs))


# Smallest largest step, all cogs free, ends fixed: values that three exact methods, none of them this
# program's, agree on. The middle column is not published anywhere that we know of.
TABLE = [
    (11, 28, 8, Fraction(7, 6)),
    (11, 28, 9, Fraction(22, 19)),
    (11, 28, 10, Fraction(8, 7)),
    (11, 28, 11, Fraction(17, 15)),
    (11, 32, 8, Fraction(32, 27)),
    (11, 32, 9, Fraction(7, 6)),
    (11, 32, 10, Fraction(22, 19)),
    (14, 28, 5, Fraction(17, 14)),
    (13, 26, 6, Fraction(20, 17)),
    (10, 52, 12, Fraction(19, 16)),
]


@pytest.mark.parametrize(("low", "high", "count", "expected"), TABLE)
def test_smallest_largest_step(low: int, high: int, count: int, expected: Fraction) -> None:
    found = most_even(free(low, high), (low, high), count)
    assert found is not None
    assert len(found.cogs) == count
    assert (found.cogs[0], found.cogs[-1]) == (low, high)
    assert worst(found.cogs) == expected


@pytest.mark.parametrize("cogs", [(14, 17, 20, 24, 28), (13, 15, 17, 20, 23, 26)])
def test_cassettes_of_the_table(cogs: tuple[int, ...]) -> None:
    found = most_even(free(cogs[0], cogs[-1]), (cogs[0], cogs[-1]), len(cogs))
    assert found is not None
    assert found.cogs == cogs


def test_criteria_disagree_and_the_largest_step_comes_first() -> None:
    """10-52 in 12 cogs: least squares alone leaves a largest step of 1.2, above 19/16 (check values)."""
    ours = most_even(free(10, 52), (10, 52), 12)
    assert ours is not None
    gentler = (10, 12, 14, 16, 18, 21, 24, 28, 33, 39, 45, 52)
    assert worst(gentler) == Fraction(6, 5)
    assert squares(gentler) < squares(ours.cogs)
    assert worst(ours.cogs) < worst(gentler)


def test_a_carrier_over_the_smallest_largest_step_is_not_taken_for_its_smaller_sum() -> None:
    """10 and 12 riveted: a step of 6/5 inside the part, on an even sum that is the smaller one."""
    found = most_even([*free(10, 52), CassettePiece((10, 12))], (10, 52), 12)
    assert found is not None
    assert worst(found.cogs) == Fraction(19, 16)


def test_of_equal_cassettes_the_one_with_fewer_new_parts_and_smaller_cogs() -> None:
    """12 16 24 and 12 18 24 have the same two steps, 4/3 and 3/2."""
    ends = [CassettePiece((12,), new=False), CassettePiece((24,), new=False)]
    for new, cog in (({16}, 18), ({18}, 16), ({16, 18}, 16), (set(), 16)):
        found = most_even([*ends, *(CassettePiece((n,), n in new) for n in (16, 18))], (12, 24), 3)
        assert found is not None
        assert found.cogs == (12, cog, 24)


def test_preferred_numbers() -> None:
    """ISO 3, R5 and R10: 10 to 40 (63) teeth in equal ratios of about 1.58 (1.26), rounded to teeth.

    The series' own rounded terms (10 16 25 40; 10 12.5 16 20 25 31.5 40) are what an even ladder is, so
    the most even one lies within a tooth of each term.
    """
    for terms in [
        (10, 16, 25, 40),
        (10, 16, 25, 40, 63),
        (20, 25, 31.5, 40),
        (10, 12.5, 16, 20, 25, 31.5, 40),
    ]:
        low, high = int(terms[0]), int(terms[-1])
        found = most_even(free(low, high), (low, high), len(terms))
        assert found is not None
        assert all(abs(cog - term) <= 1 for cog, term in zip(found.cogs, terms, strict=True))


def brute(parts: list[CassettePiece], ends: tuple[int, int], count: int, pins: set[int], new: int | None):
    """Best (largest step, sum of squares) over every set of parts there is."""
    best = None
    for size in range(1, count + 1):
        for chosen in combinations(parts, size):
            cogs = [n for part in sorted(chosen, key=lambda p: p.cogs) for n in part.cogs]
            ok = (
                len(cogs) == count
                and cogs == sorted(set(cogs))
                and (cogs[0], cogs[-1]) == ends
                and pins <= set(cogs)
                and (new is None or sum(p.new for p in chosen) <= new)
            )
            if ok:
                key = (
                    max((Fraction(b, a) for a, b in pairwise(cogs)), default=Fraction(1)),
                    squares(tuple(cogs)),
                )
                if best is None or key[0] < best[0] or (key[0] == best[0] and key[1] < best[1] - 1e-12):
                    best = key
    return best


def test_brute_force_over_every_small_cassette() -> None:
    """All ends within 11-22 and all counts: each cassette there is has been looked at."""
    for low, high in combinations(range(11, 23), 2):
        for count in range(2, min(high - low + 1, 7) + 1):
            found = most_even(free(low, high), (low, high), count)
            inner = combinations(range(low + 1, high), count - 2)
            best = min(
                ((worst(c), squares(c)) for c in ((low, *i, high) for i in inner)),
                key=lambda key: (key[0], round(key[1], 12)),
            )
            assert found is not None
            assert worst(found.cogs) == best[0]
            assert squares(found.cogs) == pytest.approx(best[1], abs=1e-12)


def random_case(seed: int) -> tuple[list[CassettePiece], tuple[int, int], int, set[int], int | None]:
    """Loose cogs old and new with a carrier or two, a number of cogs, pins and a limit on new parts."""
    rng = random.Random(seed)
    loose = sorted(rng.sample(range(10, 34), rng.randint(6, 10)))
    parts = [CassettePiece((n,), new=rng.random() < 0.5) for n in loose]
    for _ in range(rng.randint(0, 3)):
        parts.append(
            CassettePiece(tuple(sorted(rng.sample(range(12, 36), rng.randint(2, 3)))), new=rng.random() < 0.5)
        )
    parts = list({part.cogs: part for part in parts}.values())
    teeth = sorted({n for part in parts for n in part.cogs})
    ends = (teeth[0], rng.choice(teeth[-4:]))
    pins = set(rng.sample([n for n in teeth if ends[0] <= n <= ends[1]], rng.randint(0, 2)))
    return parts, ends, rng.randint(3, 7), pins, rng.choice([None, 1, 2])


def test_brute_force_with_carriers_pins_and_few_new_parts() -> None:
    possible = 0
    for seed in range(250):
        parts, ends, count, pins, new = random_case(seed)
        found = most_even(parts, ends, count, sorted(pins), new)
        best = brute(parts, ends, count, pins, new)
        assert (found is None) == (best is None), seed
        if found is not None and best is not None:
            possible += 1
            assert worst(found.cogs) == best[0], seed
            assert squares(found.cogs) == pytest.approx(best[1], abs=1e-12), seed
            assert pins <= set(found.cogs)
            assert new is None or sum(part.new for part in found.pieces) <= new
    assert possible > 60, "the cases must not be empty ones"


def threshold(teeth: list[int], ends: tuple[int, int], count: int) -> Fraction | None:
    """The smallest largest step by graph: the lowest threshold that leaves a path of `count` cogs."""
    ratios = sorted({Fraction(b, a) for a, b in combinations(teeth, 2)})
    low, high = -1, len(ratios)
    while high - low > 1:
        middle = (low + high) // 2
        graph = nx.DiGraph(
            ((level, a), (level + 1, b))
            for level in range(count - 1)
            for a, b in combinations(teeth, 2)
            if Fraction(b, a) <= ratios[middle]
        )
        start, goal = (0, ends[0]), (count - 1, ends[1])
        there = start in graph and goal in graph and nx.has_path(graph, start, goal)
        low, high = (low, middle) if there else (middle, high)
    return ratios[high] if high < len(ratios) else None


@pytest.mark.long
def test_threshold_path_by_networkx() -> None:
    rng = random.Random(20)
    for _ in range(long_run(150)):
        teeth = sorted(rng.sample(range(9, 53), rng.randint(5, 14)))
        count = rng.randint(3, len(teeth))
        found = most_even([CassettePiece((n,)) for n in teeth], (teeth[0], teeth[-1]), count)
        expected = threshold(teeth, (teeth[0], teeth[-1]), count)
        assert (worst(found.cogs) if found else None) == expected


def test_float_ratios_compare_as_fractions() -> None:
    """Any two ratios of tooth counts 6-130 lie in the order of their fractions, and equal when those are."""
    exact = sorted((Fraction(b, a), b / a) for a in range(6, 131) for b in range(a + 1, 131))
    for (one, first), (other, second) in pairwise(exact):
        assert (one == other) == (first == second)
        assert first <= second


def test_same_steps_in_another_order_tie_and_fast_gears_get_the_small_one() -> None:
    assert unevenness((12, 16, 24)) == unevenness((12, 18, 24))
    found = most_even([CassettePiece((n,)) for n in (12, 16, 18, 24)], (12, 24), 3)
    assert found == Ladder((CassettePiece((12,)), CassettePiece((16,)), CassettePiece((24,))))


def test_one_cog_and_none() -> None:
    alone = most_even([CassettePiece((16,))], (16, 16), 1)
    assert alone is not None
    assert worst_ratio(alone.cogs) == 1.0
    assert most_even([CassettePiece((16,))], (16, 18), 2) is None


def test_proposals_even_out_a_bad_cassette() -> None:
    bad = a_setup([11, 12, 13, 14, 15, 17, 24, 28])
    found = even_out(bad)
    assert [p.kind for p in found] == ["cassette", "two-swaps", "one-swap"]
    assert found[0].cogs == (11, 12, 14, 16, 18, 21, 24, 28)
    assert [len(p.swaps) for p in found] == [3, 2, 1]
    steps = [p.worst_step_pct for p in found]
    assert steps == sorted(steps)
    assert all(p.cost is None for p in found)
    assert all((p.low_m, p.high_m) == (found[0].low_m, found[0].high_m) for p in found)
    assert found[0].lost is not None
    assert found[0].lost.range_pct == pytest.approx(0.0)


@pytest.mark.long
@pytest.mark.parametrize("new", [1, 2])
def test_swaps_are_the_best_there_are(new: int) -> None:
    """Every single swap and every pair of swaps of random cassettes, tried one by one."""
    rng = random.Random(new)
    kind = {1: "one-swap", 2: "two-swaps"}[new]
    for _ in range(long_run(40, 20)):
        cogs = tuple(sorted(rng.sample(range(11, 27), 7)))
        others = [n for n in range(cogs[0], cogs[-1]) if n not in cogs]
        trials = [cogs]
        for many in range(1, new + 1):
            for out in combinations(cogs[1:-1], many):
                for into in combinations(others, many):
                    trials.append(tuple(sorted({*cogs, *into} - set(out))))
        best = min((worst(c), round(squares(c), 12)) for c in trials)
        found = {p.kind: p for p in even_out(a_setup(list(cogs)))}
        if kind in found:
            assert (worst(found[kind].cogs), round(squares(found[kind].cogs), 12)) == best
        else:
            assert best[1] >= round(min([squares(cogs), *(squares(p.cogs) for p in found.values())]), 12)


def test_nothing_to_better() -> None:
    assert even_out(a_setup([11, 12, 14, 16, 18, 21, 24, 28])) == ()
    assert even_out(a_setup([16])) == ()


def test_riveted_cogs_leave_together_or_stay() -> None:
    riveted = a_setup([11, 12, 13, 14, 15, 17, 24, 28], [[17, 24, 28]])
    for proposal in even_out(riveted):
        if proposal.kind != "cassette":
            assert {17, 24, 28} <= set(proposal.cogs)
            assert proposal.setup.rear.carriers == ((17, 24, 28),)
    whole = even_out(riveted)[0]
    assert whole.setup.rear.carriers == ()


def test_a_pinned_cog_stays_and_takes_its_carrier_along() -> None:
    bad = a_setup([11, 12, 13, 14, 15, 17, 24, 28], [[24, 28]])
    for proposal in even_out(bad, pins=[13]):
        assert 13 in proposal.cogs
    for proposal in even_out(bad, pins=[24]):
        assert proposal.setup.rear.carriers == ((24, 28),)
    long = a_setup([11, 12, 13, 14, 15, 17, 24, 28], [[15, 17, 24]])
    assert not any({15, 17, 24} <= set(proposal.cogs) for proposal in even_out(long)[:1])
    for proposal in even_out(long, pins=[17]):
        assert proposal.setup.rear.carriers == ((15, 17, 24),)
    with pytest.raises(CogwrightError, match=r"no cog of 19 teeth .* 11 12 13"):
        even_out(bad, pins=[19])


def test_out_of_stock_with_prices() -> None:
    bad = a_setup([11, 12, 13, 14, 15, 17, 24, 28])
    stock = drawer(
        cogs=[{"teeth": n, "price": 5.0, "count": 1} for n in (16, 19, 21)],
        carriers=[{"cogs": [18, 21], "price": 6.0, "count": 1}],
    )
    found = even_out(bad, pool=pool_for(bad, stock), stock=stock)
    assert found[0].cogs == (11, 12, 14, 16, 18, 21, 24, 28) or worst(found[0].cogs) > Fraction(7, 6)
    for proposal in found:
        assert set(proposal.cogs) <= {11, 12, 13, 14, 15, 17, 24, 28, 16, 18, 19, 21}
        assert proposal.cost is not None
        assert proposal.cost == sum(part.price or 0.0 for part in proposal.parts) > 0
        assert proposal.fits
    single = next(p for p in found if p.kind == "one-swap")
    assert single.cost in (5.0, 6.0)


def a_bin(*cogs: CogPart, cassettes: tuple[CassettePart, ...] = ()) -> Bin:
    return Bin(name="Drawers", cogs=cogs, cassettes=cassettes)


def test_cogs_of_another_spacing_stay_in_the_drawer_and_of_two_alike_the_cheaper_comes() -> None:
    bad = a_setup([13, 14, 15, 16, 18, 26], family="even pull")
    cogs = [
        CogPart(name="odd 20", teeth=20, family="odd pull", price=1.0, count=1),
        CogPart(name="even 22, dear", teeth=22, family="even pull", price=9.0, count=1),
        CogPart(name="any 22", teeth=22, price=4.0, count=1),
        CogPart(name="even 22, no price", teeth=22, family="even pull", count=1),
        CogPart(name="even 17", teeth=17, family="even pull", price=3.0, count=1),
    ]
    for order in (cogs, cogs[::-1]):
        stock = a_bin(*order)
        pool = pool_for(bad, stock)
        assert {part.cogs for part in pool.pieces if part.new} == {(17,), (22,)}
        best = even_out(bad, pool=pool, stock=stock)[0]
        assert best.fits[-1] == "any 22"
    anything = pool_for(a_setup([13, 14, 15, 16, 18, 26]), a_bin(*cogs))
    assert {part.cogs for part in anything.pieces if part.new} == {(17,), (20,), (22,)}


def test_a_whole_cassette_of_another_spacing_or_count_is_not_proposed() -> None:
    bad = a_setup([13, 14, 15, 16, 18, 26], family="even pull")
    best = (13, 15, 17, 20, 23, 26)
    others = [
        ("odd pull", best, False),
        ("even pull", best, True),
        (None, best, True),
        ("even pull", (13, 15, 17, 20, 23, 27), True),
        ("even pull", (13, 15, 17, 19, 21, 23, 26), False),
    ]
    for family, cogs, goes in others:
        whole = CassetteChoice(cogs, (), "whole", family)
        found = even_out(bad, pool=Pool(pieces_on(bad)), cassettes=[whole])
        assert [p.cogs for p in found] == ([cogs] if goes else [])


def test_what_more_parts_do_not_better_is_marked_as_the_best_of_all() -> None:
    """13 14 26 to 13 18 26 (18/13, 26/18: the most even three cogs, tried by hand) takes one cog."""
    (only,) = even_out(a_setup([13, 14, 26]))
    assert only.cogs == (13, 18, 26)
    assert only.marks == ("best single swap", "best two swaps", "best of these ends")
    assert only.reasons[-1] == "no more even 13-26 with 3 cogs can be made from the common tooth counts"
    bad = even_out(a_setup([11, 12, 13, 14, 15, 17, 24, 28]))
    assert [p.marks for p in bad] == [("best of these ends",), ("best two swaps",), ("best single swap",)]


def test_taken_as_one_edit_and_undone() -> None:
    bad = a_setup([11, 12, 13, 14, 15, 17, 24, 28])
    history = History(bad)
    taken = history.do(even_out(bad)[0].edit())
    assert taken.now.rear.cogs == (11, 12, 14, 16, 18, 21, 24, 28)
    assert taken.undo().now == bad
    assert len(taken.past) == 1


def far(cogs: tuple[int, ...]) -> float:
    """Squares of the log steps, each by the speed at its middle: one over the teeth there."""
    return sum(math.log(b / a) ** 2 / math.sqrt(a * b) for a, b in pairwise(cogs))


@pytest.mark.long(cases=2)
@pytest.mark.parametrize(("low", "high", "count"), [(11, 28, 8), (11, 34, 9), (12, 25, 7), (11, 25, 10)])
def test_closer_where_fast_is_that_of_every_cassette_tried(low: int, high: int, count: int) -> None:
    """Brute force over every cassette of these ends without a step over a quarter."""
    most = 5 / 4
    every = ((low, *inner, high) for inner in combinations(range(low + 1, high), count - 2))
    best = min((cogs for cogs in every if max(b / a for a, b in pairwise(cogs)) <= most), key=far)
    found = closest_where_fast(free(low, high), (low, high), count, (), most)
    assert found is not None
    assert far(found.cogs) == pytest.approx(far(best), rel=1e-9)


def test_closer_where_fast_is_a_third_way_and_has_no_larger_step_than_now() -> None:
    bad = a_setup([11, 13, 15, 17, 19, 23, 27, 34])
    found = {p.kind: p for p in even_out(bad)}
    fast, even = found["closer-fast"], found["cassette"]
    assert fast.marks == ("closer where fast",)
    assert fast.worst_step_pct <= 100 * (34 / 27 - 1) + 1e-9
    assert far(fast.cogs) < min(far(even.cogs), far(bad.rear.cogs))
    assert fast.worst_step_pct > even.worst_step_pct


def test_a_whole_cassette_with_other_ends_is_proposed_with_what_it_loses() -> None:
    bad = a_setup([11, 12, 13, 14, 15, 17, 24, 28])
    stock = drawer(
        cassettes=[
            {"name": "even", "cogs": [11, 12, 14, 16, 18, 20, 22, 25], "price": 30.0, "count": 1},
            {"name": "worse", "cogs": [11, 12, 13, 14, 15, 16, 18, 30], "price": 3.0, "count": 1},
        ]
    )
    whole = [cassette_choice(part) for part in stock.cassettes]
    found = even_out(bad, pool=pool_for(bad, stock), cassettes=whole, stock=stock)
    (one,) = [p for p in found if p.kind == "whole-cassette"]
    assert (one.title, one.cost, one.marks) == ("even", 30.0, ("other ends",))
    # 28 to 25 at the low end: 12 % harder.
    assert one.lost is not None
    assert one.lost.low_pct == pytest.approx(12.0)
    assert even_out(bad, pool=pool_for(bad, stock), cassettes=whole, stock=stock, pins=[13]) == ()


@pytest.mark.parametrize(
    ("cassette", "goes"),
    [
        ({"cogs": [11, 12, 14, 16, 18, 21, 24, 28]}, True),
        ({"cogs": [10, 12, 14, 16, 18, 21, 24, 28]}, False),  # under the freehub's 11
        ({"cogs": [11, 12, 14, 16, 18, 21, 24, 28], "driver": "step"}, False),  # another driver
        ({"cogs": [11, 12, 14, 16, 18, 20, 22, 24, 28]}, False),  # nine cogs, eight clicks
        ({"cogs": [12, 14, 16, 18, 20, 23, 26, 30]}, False),  # over the derailleur's 28
    ],
)
def test_what_freehub_clicks_and_derailleur_do_not_take_is_not_proposed(
    cassette: dict[str, Any], goes: bool
) -> None:
    own = (11, 12, 13, 14, 15, 17, 24, 28)
    facts = {"clicks": 8, "carriers": None, "driver": "spline", "family": None}
    cage = {"largest_cog": 28, "capacity": 29, "family": None}
    bad = bike((34, 46), own, rear=facts, rear_derailleur=cage, shifters={"family": None})
    stock = drawer(cassettes=[{**cassette, "price": 9.0, "count": 1}])
    whole = [cassette_choice(part) for part in stock.cassettes]
    found = even_out(bad, pool=Pool(pieces_on(bad)), cassettes=whole, stock=stock)
    assert bool(found) is goes


def test_what_breaks_a_race_limit_that_was_kept_is_not_proposed() -> None:
    """46x13 on a measured 2.100 m goes 7.43 m, 46x12 8.05 m: a limit of 7.93 m lies between."""
    own = a_setup([13, 14, 15, 17, 23, 28])
    race = Setup.model_validate(
        own.model_dump()
        | {"wheel": {"rollout_mm": 2100.0}, "crank": {"rings": (46,)}, "limits": {"rollout_m": 7.93}}
    )
    whole = [CassetteChoice((low, 15, 17, 20, 24, 28), (), "whole") for low in (12, 13)]
    found = even_out(race, pool=Pool(pieces_on(race)), cassettes=whole)
    assert {p.cogs[0] for p in found} == {13}


def test_common_tooth_counts_come_before_rare_ones() -> None:
    """28 to 46 in five cogs: common are 30 32 34 36 38 40 42 44 46; with 41 it is more even."""
    bad = a_setup([28, 30, 32, 34, 46])
    found = even_out(bad)
    rare = ["rare" in p.marks for p in found]
    assert rare == sorted(rare)
    assert any(rare)
    for one, odd in zip(found, rare, strict=True):
        unusual = {n for n in one.cogs if n > 28 and n % 2}
        assert bool(unusual) is odd
        assert any("hard to come by" in note for note in one.notes) is odd
    # The most even of all, by hand 28 32 36 41 46 (32/28 = 14.3 %), wants a 41; with a 40 it is 15 % (46/40).
    assert found[0].worst_step_pct == pytest.approx(100 * (46 / 40 - 1))
    assert min(p.worst_step_pct for p in found if "rare" in p.marks) == pytest.approx(100 * (32 / 28 - 1))


def test_a_jump_more_is_said_before_anything_else() -> None:
    """Worked by hand: two wide steps in the place of one, and both stand out of what lies around them."""
    have, more = (20, 21, 22, 23, 24, 36), (20, 24, 28, 31, 33, 36)
    (said,) = steps_words(have, more, Limits(), ())
    # 36/24 is 50 %, the only one over 15 %. Then 24/20 20 %, 28/24 16.7, 31/28 10.7, 33/31 6.5, 36/33 9.1: 20
    # is 1.46 times the median of 16.7 and 10.7, and 16.7 is 1.56 times that of 20, 10.7 and 6.5.
    assert said.startswith(
        "the worse first: 1 jump more (2, was 1) and 1 wide step more (2, was 1), but the largest step falls"
        " from 50.0 % (24 to 36) to 20.0 % (20 to 24)"
    )
    _, better = steps_words(more, have, Limits(), ())
    assert better == "jumps 1 (was 2), steps over 15 % 1 (was 2)"


@pytest.mark.long
def test_every_proposal_with_more_jumps_or_wide_steps_says_so_first() -> None:
    rng = random.Random(3)
    seen = 0
    for _ in range(long_run(60)):
        cogs = sorted(rng.sample(range(11, 40), 7))
        setup = a_setup(cogs)
        before = study(setup).summary
        for one in even_out(setup):
            after = study(one.setup).summary
            worse = after.jumps > before.jumps or after.standing_out > before.standing_out
            assert one.reasons[0].startswith("the worse first: ") is worse
            seen += worse
    assert seen
