"""Chains and belts without a derailleur: distances against SciPy's roots, pairs against all there are."""

import math
from itertools import product

import pytest

from cogwright.core.chain.axle import AxleFit, _pair, axle_of, movement_mm, right_pairs, stay_for
from cogwright.core.chain.belt import BeltFigures, belt_of, belt_teeth, centres_for, pulley_radius
from cogwright.core.chain.length import exact_pitches, pitch_radius
from cogwright.core.chain.slack import chain_of
from cogwright.core.drive.fixed import pairs_near
from cogwright.core.drive.pairs import BOTH, StayPair, _all_right, pairs_for, stay_pairs
from scipys import brentq
from support import make


@pytest.mark.parametrize(("ring", "cog"), [(42, 17), (17, 42), (20, 20), (53, 11)])
@pytest.mark.parametrize("stay", [300.0, 405.5, 460.0, 1200.0])
def test_a_stay_is_where_the_chain_is_taut(ring: int, cog: int, stay: float) -> None:
    pitches = exact_pitches(ring, cog, stay)
    assert stay_for(ring, cog, pitches) == pytest.approx(stay, abs=1e-9)
    assert stay_for(ring, cog, pitches) == pytest.approx(
        brentq(lambda mm: exact_pitches(ring, cog, mm) - pitches, 250.0, 2000.0), abs=1e-6
    )


def test_no_stay_is_so_short_that_the_sprockets_touch() -> None:
    touching = pitch_radius(42) + pitch_radius(17)
    assert stay_for(42, 17, 20.0) == pytest.approx(touching, rel=2e-9)
    assert stay_for(42, 17, 20.0) > touching


@pytest.mark.parametrize(("ring", "cog"), [(42, 17), (17, 42), (20, 20)])
def test_the_slack_strand_makes_a_triangle(ring: int, cog: int) -> None:
    """Its middle goes up and down until both halves are straight: by Pythagoras, both ways."""
    stay, pitches = 430.0, exact_pitches(ring, cog, 430.0) + 0.4
    strand = math.sqrt(430.0**2 - (pitch_radius(ring) - pitch_radius(cog)) ** 2)
    half = (strand + 0.4 * 12.7) / 2.0
    assert movement_mm(ring, cog, stay, pitches) == pytest.approx(
        2.0 * math.sqrt(half**2 - (strand / 2) ** 2)
    )
    assert movement_mm(ring, cog, stay, pitches - 0.4) == pytest.approx(0.0, abs=1e-3)
    assert movement_mm(ring, cog, stay, pitches - 0.5) == 0.0


@pytest.mark.parametrize(
    ("ring", "cog", "stay"), [(42, 17, 405.0), (46, 16, 412.3), (8, 9, 400.0), (30, 30, 200.0)]
)
def test_right_pairs_are_the_five_nearest_of_all(ring: int, cog: int, stay: float) -> None:
    """Six rings and four cogs to each side, from 6 teeth on, that have room; up to 20 mm of movement."""
    found = []
    for front, back in product(range(max(6, ring - 6), ring + 7), range(max(6, cog - 4), cog + 5)):
        if pitch_radius(front) + pitch_radius(back) < stay:
            links = 2 * math.ceil(exact_pitches(front, back, stay) / 2 - 1e-9)
            if movement_mm(front, back, stay, links) <= 20.0:
                found.append(
                    (abs(math.log(front / back) - math.log(ring / cog)), abs(front - ring), front, back)
                )
    expected = {(front, back) for *_, front, back in sorted(found)[:5]}
    told = right_pairs(ring, cog, stay)
    assert {(pair.ring, pair.cog) for pair in told} == expected
    off = [abs(math.log(pair.ring / pair.cog * cog / ring)) for pair in told]
    assert off == sorted(off)
    for pair in told:
        assert pair == _pair(pair.ring, pair.cog, stay)
        assert pair.pitches % 2 == 0
        assert 0.0 <= pair.pitches - exact_pitches(pair.ring, pair.cog, stay) < 2.0


def test_right_pairs_are_found_as_far_as_they_are_looked_for() -> None:
    """On stays with few of them: every pair that is right within six rings and four cogs, and none beyond."""
    reached = set()
    for tenth in range(4000, 4130, 3):
        told = {(pair.ring, pair.cog) for pair in right_pairs(42, 17, tenth / 10.0)}
        every = {
            (ring, cog)
            for ring, cog in product(range(30, 55), range(8, 27))
            if _pair(ring, cog, tenth / 10.0).movement_mm <= 20.0
        }
        near = {(ring, cog) for ring, cog in every if abs(ring - 42) <= 6 and abs(cog - 17) <= 4}
        assert told <= near
        assert len(told) == min(5, len(near))
        reached |= {(ring - 42, cog - 17) for ring, cog in told}
    assert {ring for ring, _ in reached} == set(range(-6, 7))
    assert {cog for _, cog in reached} == set(range(-4, 5))


@pytest.mark.parametrize(
    ("move", "travel", "reachable"),
    [(0.0, 10.0, True), (10.0, 10.0, True), (10.1, 10.0, False), (-0.05, 10.0, True), (-0.06, 10.0, False),
     (5.0, None, None)],
)  # fmt: skip
def test_an_axle_goes_back_as_far_as_its_travel(
    move: float, travel: float | None, reachable: bool | None
) -> None:
    assert AxleFit(98, move, travel, ()).reachable is reachable


def test_the_axle_of_a_bike() -> None:
    """With the chain that is on it, else with the one that would be cut; none with a derailleur."""
    facts = {"chainstay_mm": 430.0, "axle_travel_mm": 15.0}
    for links, pitches in ((None, 98), (100, 100)):
        of = axle_of(chain_of(make((42,), (17,), frame=facts, chain={"links": links} if links else {})))
        assert of is not None
        assert (of.pitches, of.travel_mm) == (pitches, 15.0)
        assert of.move_mm == pytest.approx(stay_for(42, 17, pitches) - 430.0)
        assert of.nearby == right_pairs(42, 17, 430.0)
    assert axle_of(chain_of(make((42,), (17, 19), frame=facts))) is None
    assert axle_of(chain_of(make((42,), (17,)))) is None


@pytest.mark.parametrize(("front", "rear"), [(50, 24), (24, 50), (46, 46)])
def test_a_belt_on_its_pulleys(front: int, rear: int) -> None:
    """Strands and arcs: the belt leaves both circles at a right angle to the radii."""
    r1, r2 = (11.0 * teeth / (2 * math.pi) for teeth in (front, rear))
    assert pulley_radius(front, 11.0) == pytest.approx(r1)
    strand = math.sqrt(430.0**2 - (r1 - r2) ** 2)
    turn = math.pi + 2 * math.asin((r1 - r2) / 430.0)
    expected = (2 * strand + r1 * turn + r2 * (2 * math.pi - turn)) / 11.0
    assert belt_teeth(front, rear, 430.0, 11.0) == pytest.approx(expected)
    assert centres_for(front, rear, expected, 11.0) == pytest.approx(430.0, abs=1e-9)
    touching = r1 + r2
    with pytest.raises(ValueError, match="side by side"):
        belt_teeth(front, rear, touching, 11.0)
    belt_teeth(front, rear, touching * 1.0001, 11.0)
    least = belt_teeth(front, rear, touching * (1 + 1e-9), 11.0)
    assert centres_for(front, rear, least + 1e-6, 11.0) == pytest.approx(touching, rel=1e-6)
    with pytest.raises(ValueError, match="do not go round"):
        centres_for(front, rear, least - 0.01, 11.0)


def belt(travel: float | None = 8.0, **facts: object) -> BeltFigures:
    found = belt_of(
        make((50,), (24,), belt={"teeth": 115, "pitch_mm": 11.0, **facts},
             frame={"chainstay_mm": 430.0} | ({} if travel is None else {"axle_travel_mm": travel}))
    )  # fmt: skip
    assert found is not None
    return found


def test_belts_with_which_the_axle_stays_within_its_way() -> None:
    """Tooth by tooth: from where it stands, less 0.05 mm, to the end of its way."""
    for travel in (0.0, 5.0, 8.0, 30.0):
        of = belt(travel)
        expected = tuple(t for t in range(90, 150) if -0.05 <= centres_for(50, 24, t, 11.0) - 430.0 <= travel)
        assert of.right == expected
    assert len(belt(30.0).right) > 3
    assert belt(None).right == ()
    assert belt().taken == pytest.approx(belt_teeth(50, 24, 430.0, 11.0))
    assert belt().move_mm(118) == pytest.approx(centres_for(50, 24, 118, 11.0) - 430.0)
    assert belt().move_mm(60) is None
    assert belt().alone
    assert belt_of(make((50,), (24,))) is None


def test_a_belt_whose_axle_stands_just_where_it_must_is_right() -> None:
    stay = centres_for(50, 24, 116, 11.0)
    for off, right in ((0.04, True), (0.06, False)):
        of = belt_of(make((50,), (24,), belt={"teeth": 116, "pitch_mm": 11.0},
                          frame={"chainstay_mm": stay + off, "axle_travel_mm": 2.0}))  # fmt: skip
        assert of is not None
        assert (116 in of.right) is right
        far = belt_of(make((50,), (24,), belt={"teeth": 116, "pitch_mm": 11.0},
                           frame={"chainstay_mm": stay - 2.0 + off - 0.05,
                           "axle_travel_mm": 2.0}))  # fmt: skip
        assert far is not None
        assert (116 in far.right) is not right


def movement(ring: int, cog: int, stays: tuple[float, float], links: float) -> float:
    """With the axle as far back as the chain lets it."""
    taut = stay_for(ring, cog, links)
    return movement_mm(ring, cog, min(max(taut, stays[0]), stays[1]), links)


def brute(
    rings: range, cogs: range, stays: tuple[float, float], half: bool
) -> dict[tuple[int, int, int], tuple[float | None, float]]:
    """All pairs and numbers of links that go on, new or 0.5 % longer, with up to 20 mm of movement."""
    found = {}
    for ring, cog, links in product(rings, cogs, range(60, 140)):
        if (links % 2 and not half) or pitch_radius(ring) + pitch_radius(cog) >= stays[0]:
            continue
        needed = exact_pitches(ring, cog, stays[0])
        if links * 1.005 < needed:
            continue
        new = movement(ring, cog, stays, links) if links >= needed else None
        old = movement(ring, cog, stays, links * 1.005)
        if old <= 20.0 or (new is not None and new <= 20.0):
            found[ring, cog, links] = (new, old)
    return found


@pytest.mark.parametrize(
    ("stays", "half"), [((405.0, 405.0), False), ((405.0, 405.0), True), ((400.0, 412.0), False)]
)
def test_pairs_on_a_stay_are_all_that_there_are(stays: tuple[float, float], half: bool) -> None:
    rings, cogs = range(40, 47), range(14, 19)
    told = {(p.ring, p.cog, p.links): p for p in _all_right(rings, cogs, stays, half)}
    expected = brute(rings, cogs, stays, half)
    assert set(told) == set(expected)
    for key, (new, old) in expected.items():
        pair = told[key]
        assert pair.worn_mm == pytest.approx(old, abs=1e-9)
        assert (pair.new_mm is None) is (new is None)
        assert new is None or pair.new_mm == pytest.approx(new, abs=1e-9)
        good = new is not None and new <= 20.0, old <= 20.0
        assert pair.mark == {(True, True): BOTH, (True, False): "new", (False, True): "worn"}[good]


def off(pair: StayPair, ratio: float) -> float:
    return round(abs(math.log(pair.ring / pair.cog / ratio)), 6)


def test_pairs_near_one_come_nearest_first_eight_of_them() -> None:
    told = stay_pairs(42, 16, 415.0, half_link=True)
    assert len(told) == 8
    every = _all_right(range(36, 49), range(12, 21), (415.0, 415.0), True)
    order = sorted(every, key=lambda p: (abs(math.log(p.ring / p.cog * 16 / 42)), abs(p.ring - 42), p.links))
    assert list(told) == order[:8]
    small = stay_pairs(8, 7, 415.0, half_link=True)
    assert all(pair.ring >= 6 and pair.cog >= 6 for pair in small)


def test_pairs_for_a_ratio_come_nearest_first_right_ones_then_large_ones() -> None:
    told = pairs_for(2.5, 420.0, range(30, 56), range(12, 23), half_link=True)
    keys = [(off(p, 2.5), p.mark != BOTH, -p.ring, p.links) for p in told]
    assert keys == sorted(keys)
    assert off(told[0], 2.5) == 0.0
    assert pairs_for(2.5, 420.0) == pairs_for(2.5, 420.0, range(28, 61), range(11, 25))
    assert {p.links % 2 for p in pairs_for(2.5, 420.0)} == {0}
    assert {p.links % 2 for p in told} == {0, 1}
    slides = pairs_for(2.5, 405.0, (40,), (16,), travel_mm=30.0)
    assert len(slides) > len(pairs_for(2.5, 405.0, (40,), (16,)))


def test_pairs_need_room_for_both() -> None:
    """45 and 45 teeth are 2 x 91 mm wide."""
    for stay, room in ((181.9, 0), (182.3, 1)):
        assert len({(p.ring, p.cog) for p in _all_right((45,), (45,), (stay, stay + 40.0), True)}) == room
    assert 2 * pitch_radius(45) == pytest.approx(182.06, abs=0.05)


def test_pairs_near_are_the_three_nearest_others() -> None:
    every = [(r, c) for r in range(45, 52) for c in range(14, 19) if (r, c) != (48, 16) and (r + c) % 2]
    every.sort(key=lambda p: (abs(math.log(p[0] / p[1] / 3.0)), abs(p[0] - 48)))
    told = pairs_near(48, 16, lambda ring, cog: (ring + cog) % 2 == 1)
    assert told == tuple(f"{r}x{c}" for r, c in every[:3])
    assert pairs_near(7, 6, lambda ring, cog: ring <= 6 or cog <= 6, 99) == tuple(
        name for name in pairs_near(7, 6, lambda ring, cog: True, 99) if "6" in name.split("x")
    )
    level = pairs_near(40, 40, lambda ring, cog: ring == cog, 99)
    assert level == ("39x39", "41x41", "38x38", "42x42"), "of equals the nearest in ring"
    assert min(int(name.split("x")[0]) for name in pairs_near(8, 7, lambda ring, cog: True, 99)) == 6
