"""What a chain leaves over, just at each limit: on stays that take a round number of pitches."""

import math

import pytest

from cogwright.core.chain.axle import stay_for
from cogwright.core.chain.left_out import (
    UNREACHABLE,
    crossed_by_practice,
    crossed_pairs,
    left_out,
    unreachable,
)
from cogwright.core.chain.length import Room, even_up, exact_pitches, pitch_radius, textbook_pitches
from cogwright.core.chain.line import chainline_of, line_before, worst
from cogwright.core.chain.slack import ChainFigures, ChainState, chain_of
from cogwright.core.gears.gears import gears_of
from cogwright.core.setup.model import Setup
from support import make

#: On this stay 46x34 takes 108 pitches.
STAY = stay_for(46, 34, 108.0)


def bike(
    links: int | None,
    stay: float = STAY,
    tolerance: float = 0.0,
    capacity: int | None = None,
    growth: float = 0.0,
) -> Setup:
    frame = {"chainstay_mm": stay, "chainstay_tolerance_mm": tolerance, "suspension_growth_mm": growth}
    cage = {} if capacity is None else {"capacity": capacity}
    return make(
        (30, 46), (11, 34), frame=frame, chain={"links": links} if links else {}, rear_derailleur=cage
    )


def of(links: int | None, stay: float = STAY, **more: float) -> ChainFigures:
    return chain_of(bike(links, stay, **more))  # type: ignore[arg-type]


def state(chain: ChainFigures, ring: int, cog: int) -> ChainState:
    return next(gear.state for gear in chain.per_gear if (gear.ring, gear.cog) == (ring, cog))


@pytest.mark.parametrize(
    ("links", "room", "short_by", "over_by", "pair"),
    [
        (107, Room.NOT_ROUND, 3, 0, ChainState.SHORT), (108, Room.UNDER_ONE, 2, 0, ChainState.TIGHT),
        (109, Room.UNDER_TWO, 1, 0, ChainState.TIGHT),
        (110, Room.AMPLE, 0, 0, ChainState.FITS), (111, Room.AMPLE, 0, 1, ChainState.FITS),
        (None, None, 0, 0, ChainState.UNKNOWN),
    ],
)  # fmt: skip
def test_what_a_chain_leaves_on_the_largest_pair(
    links: int | None, room: Room | None, short_by: int, over_by: int, pair: ChainState
) -> None:
    found = of(links)
    assert found.needed_pitches == pytest.approx(108.0)
    assert (found.room, found.short_by, found.over_by, found.fit_pitches) == (room, short_by, over_by, 110)
    assert state(found, 46, 34) is pair
    assert (found.room or Room.AMPLE).tears is (room in {Room.NOT_ROUND, Room.UNDER_ONE})
    assert found.spare == (None if links is None else pytest.approx(links - 108.0))


@pytest.mark.parametrize(("shorter", "room"), [(0.01, Room.UNDER_TWO), (-0.01, Room.AMPLE)])
def test_two_pitches_are_two_within_what_the_stay_is_good_to(shorter: float, room: Room) -> None:
    """A mm more of the stay takes some 2 / 12.7 pitches more."""
    longer = exact_pitches(46, 34, STAY + 1.0) - 108.0
    stay = stay_for(46, 34, 108.0 + longer + shorter)
    found = of(110, stay, tolerance=1.0)
    assert found.doubt_pitches == pytest.approx(
        exact_pitches(46, 34, stay + 1.0) - exact_pitches(46, 34, stay)
    )
    assert found.room is room
    assert state(found, 46, 34) is (ChainState.TIGHT if room is Room.UNDER_TWO else ChainState.FITS)


def test_a_stay_that_grows_is_judged_at_its_longest_and_slack_at_its_shortest() -> None:
    grown = of(112, STAY - 10.0, growth=10.0)
    assert grown.needed_pitches == pytest.approx(108.0)
    gear = next(g for g in grown.per_gear if (g.ring, g.cog) == (46, 34))
    assert gear.slack == pytest.approx(4.0)
    assert gear.at_rest == pytest.approx(112 - exact_pitches(46, 34, STAY - 10.0))
    assert gear.label == "46x34"


@pytest.mark.parametrize(("links", "hangs"), [(116, False), (118, True)])
def test_a_chain_hangs_where_a_cage_takes_up_a_pitch_less(links: int, hangs: bool) -> None:
    """A cage takes up half of its capacity and four more; with one of just 117 links it would be at that."""
    least = exact_pitches(30, 11, STAY)
    capacity = 2 * round(117 - least - 5.0)
    found = of(links, capacity=capacity)
    assert found.take_up == 4.0 + capacity / 2.0
    assert (state(found, 30, 11) is ChainState.SLACK) is hangs
    assert bool(found.hanging) is hangs
    assert found.cut_to == (110 if hangs else None)
    assert of(links).take_up is None
    assert of(links).cut_to == 110, "nobody can say that it does not hang"
    assert of(111).cut_to is None
    assert of(112).cut_to == 110


def test_without_a_stay_there_is_no_doubt_of_it() -> None:
    found = chain_of(make((30, 46), (11, 34), chain={"links": 110}))
    assert (found.doubt_pitches, found.room, found.short_by, found.spare) == (0.0, None, 0, None)


def test_pairs_come_easiest_first() -> None:
    assert [(g.ring, g.cog) for g in of(110).per_gear] == [(30, 34), (46, 34), (30, 11), (46, 11)]
    touching = make((60,), (50,), frame={"chainstay_mm": 200.0})
    assert chain_of(touching).clash is not None
    assert chain_of(touching).per_gear == ()
    assert (chain_of(touching).needed_pitches, chain_of(touching).textbook) == (None, None)
    assert of(110).clash is None


def test_lengths_of_the_handbook_and_even_ones() -> None:
    """2 x 430 / 12.7 + 40 + (12 / 2 pi)^2 x 12.7 / 430 are 107.825 pitches."""
    assert textbook_pitches(46, 34, 430.0) == pytest.approx(107.8245, abs=1e-3)
    assert exact_pitches(46, 34, 430.0) == pytest.approx(textbook_pitches(46, 34, 430.0), abs=0.01)
    assert exact_pitches(20, 20, 254.0) == pytest.approx(60.0)
    assert [even_up(p) for p in (107.9, 108.0, 108.0 + 1e-12, 108.001)] == [108, 108, 108, 110]
    assert pitch_radius(6) == pytest.approx(12.7), "a hexagon's side is its radius"
    half = make((46,), (34,), frame={"chainstay_mm": stay_for(46, 34, 106.4)}, chain={"half_link": True})
    assert (chain_of(half).fit_pitches, chain_of(half).least_pitches) == (107, pytest.approx(106.4))


def test_gears_that_are_left_out() -> None:
    """The chain is too short for 46x34; without a chainline the far pairs are crossed by practice."""
    setup = bike(107)
    assert unreachable(setup) == {(46, 34)}
    found = left_out(setup, gears_of(setup))
    assert {(g.ring, g.cog): why for g, why in found.items()} == {(46, 34): UNREACHABLE}
    many = make((30, 46), (11, 13, 15, 17, 19, 21, 24, 28, 34))
    crossed = {(30, 11), (30, 13), (46, 28), (46, 34)}
    assert crossed_by_practice(many) == crossed
    assert {(g.ring, g.cog) for g in left_out(many, gears_of(many))} == crossed
    for cogs, far in (((11, 13, 15, 17, 19, 21, 24, 28), 1), ((11, 13, 15, 17), 1), ((11, 13, 15), 0)):
        assert len(crossed_by_practice(make((30, 46), cogs))) == 2 * far
    assert crossed_pairs(make((46,), (11, 13, 15, 17))) == {}
    none = bike(80)
    assert left_out(none, gears_of(none)) == {}, "a mistake in the file: the chain reaches no gear"


LINE = {"crank": {"chainline_mm": 45.0, "ring_spacing_mm": 8.0}, "frame": {"chainstay_mm": 430.0}}


def lined(rings: tuple[int, ...] = (30, 46), **rear: object) -> Setup:
    return make(rings, (11, 20, 34), **LINE, rear={"cog_pitch_mm": 5.0, **rear})


def test_angles_of_the_chain_by_hand() -> None:
    """Rings at 41 and 49 mm, cogs from the largest at 40, 45 and 50 mm: 46x34 is 9 mm across 430."""
    line = chainline_of(lined())
    found = {(a.ring, a.cog): a.offset_mm for a in line.angles}
    assert found == pytest.approx(
        {(30, 34): -1.0, (30, 20): 4.0, (30, 11): 9.0, (46, 34): -9.0, (46, 20): -4.0, (46, 11): 1.0}
    )
    assert [(a.ring, a.cog) for a in line.angles] == [
        (30, 34),
        (46, 34),
        (30, 20),
        (46, 20),
        (30, 11),
        (46, 11),
    ]
    far = worst(line.angles)
    assert far.degrees == pytest.approx(math.degrees(math.atan(9.0 / 430.0)))
    assert line.over == ()
    moved = chainline_of(lined(chainline_mm=45.0, spacer_mm=2.0))
    assert {a.offset_mm for a in moved.angles if (a.ring, a.cog) == (46, 34)} == {-7.0}
    assert moved.rear_mm == 47.0
    assert line.rear_mm == 45.0


@pytest.mark.parametrize(("limit", "over"), [(1.2, 0), (1.19, 2), (0.53, 4)])
def test_gears_over_the_limit_of_the_angle(limit: float, over: int) -> None:
    """9 mm are 1.199 degrees, 4 mm 0.533: on several rings to be avoided, on one they wear."""
    facts = {"limits": {"chain_angle_deg": limit}}
    line = chainline_of(make((30, 46), (11, 20, 34), **LINE, rear={"cog_pitch_mm": 5.0}, **facts))
    assert (len(line.over), len(line.avoid), len(line.wearing)) == (over, over, 0)
    assert [a.degrees for a in line.over] == sorted((a.degrees for a in line.over), reverse=True)
    alone = chainline_of(make((46,), (11, 20, 34), **LINE, rear={"cog_pitch_mm": 10.0}, **facts))
    assert (len(alone.avoid), len(alone.wearing)) == (0, 2)


def test_what_a_chainline_lacks_or_assumes() -> None:
    bare = make((30, 46), (11, 13))
    assert chainline_of(bare).missing == ("frame.chainstay_mm", "crank.chainline_mm", "rear.cog_pitch_mm")
    assert chainline_of(bare).angles == ()
    short = make((22, 32, 44), (11, 13, 15), rear={"cog_pitch_mm": [4.0]}, crank={"ring_spacing_mm": [8.0]})
    assert chainline_of(short).missing[2:] == (
        "rear.cog_pitch_mm with 2 figures (it has 1)", "crank.ring_spacing_mm with 2 figures (it has 1)",
    )  # fmt: skip
    assert len(chainline_of(lined()).assumed) == 2
    assert len(chainline_of(make((46,), (34,), **LINE)).assumed) == 2
    assert chainline_of(lined(chainline_mm=45.0)).assumed == ("limit 2.8 degrees",)
    five = make((30, 46), (11, 13, 15, 17, 19), frame={"chainstay_mm": 430.0}, crank={"chainline_mm": 45.0})
    assert chainline_of(five).assumed[1:3] == ("cogs 5.5 mm apart", "rings 7.5 mm apart")


def test_what_has_moved_rings_and_cogs() -> None:
    crank = {
        "chainline_mm": 45.0,
        "ring_spacing_mm": 8.0,
        "spacer_mm": 1.0,
        "bottom_bracket_mm": -2.5,
        "ring_offset_mm": 3.0,
    }
    now = chainline_of(
        make((30, 46), (11, 20), frame={"chainstay_mm": 430.0}, crank=crank, rear={"spacer_mm": 1.5})
    )
    assert now.front_mm == 46.5
    assert [mm for _, mm in now.moved] == [1.0, -2.5, 3.0, 1.5]
    assert (now.as_measured.front_mm, now.as_measured.rear_mm) == (45.0, 45.0)
    assert line_before(now, None) == now.as_measured
    plain = chainline_of(lined())
    assert plain.moved == ()
    assert line_before(plain, None) is None
    assert line_before(plain, now.setup) is not None
    assert line_before(now, now.setup) is None
    elsewhere = make((30, 46), (11, 20), crank={"chainline_mm": 47.0})
    assert line_before(plain, elsewhere) is None, "nothing was moved: they are two bikes"
