"""Fixed and single drives: skid patches by turning the wheel, even wear by counting, pairs on a stay."""

from fractions import Fraction
from itertools import product
from math import gcd, log, pi, sin

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bikes import check
from cogwright.core.chain.axle import MOST_MOVEMENT_MM
from cogwright.core.chain.length import exact_pitches
from cogwright.core.drive.fixed import common_factor, pairs_near, skid_patches
from cogwright.core.drive.pairs import USUAL_COGS, USUAL_RINGS, pairs_for, stay_pairs
from cogwright.core.fit.check import Status
from cogwright.core.setup.model import Setup
from cogwright.core.study import study
from cogwright.present.lines import Look, plain
from cogwright.present.views.fit import fit_lines
from support import LONG, make


def turned(ring: int, cog: int, half_turns: bool) -> int:
    """Places of the tyre that touch the road, counted by turning the cranks until they come round again."""
    step = Fraction(ring, cog) / (2 if half_turns else 1)
    places, now = set(), Fraction(0)
    while now % 1 not in places:
        places.add(now % 1)
        now += step
    return len(places)


@pytest.mark.parametrize(
    ("ring", "cog", "one", "either"),
    [
        (48, 18, 3, 3),  # A: 48x18 has 3, 48x17 has 17 (a city cycling magazine, no. 9)
        (48, 17, 17, 17),
        (44, 16, 4, 8),  # by the rule with its proof: 11/4, 3/1, 42/17
        (48, 16, 1, 2),
        (42, 17, 17, 17),
    ],
)
def test_patches_as_printed_and_as_proved(ring: int, cog: int, one: int, either: int) -> None:
    found = skid_patches(ring, cog)
    assert (found.one_foot, found.either_foot) == (one, either)


def test_patches_of_every_pair_by_turning_the_wheel() -> None:
    for ring, cog in product(range(30, 60), range(9, 26)):
        found = skid_patches(ring, cog)
        assert found.one_foot == turned(ring, cog, half_turns=False), (ring, cog)
        assert found.either_foot == turned(ring, cog, half_turns=True), (ring, cog)


@given(st.integers(6, 130), st.integers(6, 130))
def test_common_factor_is_what_one_foot_leaves_out(ring: int, cog: int) -> None:
    """Teeth of the cog that stand on top with one foot down, counted over as many turns as it has teeth."""
    met = {turn * ring % cog for turn in range(cog)}
    assert cog // common_factor(ring, cog) == len(met)
    assert common_factor(ring, cog) == max(n for n in range(1, 131) if ring % n == 0 and cog % n == 0)


def right_pairs(
    rings: range, cogs: range, stay: float, half: bool, travel: float = 0.0
) -> set[tuple[int, int, int, str]]:
    """Every pair with every number of links; the movement by Pythagoras on the slack strand.

    An axle that goes back stands where the chain moves least, out of places a tenth of a mm apart.
    """
    stays = [stay + i / 10 for i in range(round(10 * travel) + 1)]

    def movement(ring: int, cog: int, links: float) -> float:
        return min(at(back, ring, cog, links) for back in stays if exact_pitches(ring, cog, back) <= links)

    def at(stay: float, ring: int, cog: int, links: float) -> float:
        spare = (links - exact_pitches(ring, cog, stay)) * 12.7
        big, small = (12.7 / (2 * sin(pi / z)) for z in (ring, cog))
        strand = (stay**2 - (big - small) ** 2) ** 0.5
        return float(((strand + spare) ** 2 - strand**2) ** 0.5)

    right = set()
    for ring, cog in product(rings, cogs):
        for links in range(60, 140, 1 if half else 2):
            straight = exact_pitches(ring, cog, stay)
            new = links >= straight and movement(ring, cog, links) <= MOST_MOVEMENT_MM
            worn = links * 1.005 >= straight and movement(ring, cog, links * 1.005) <= MOST_MOVEMENT_MM
            if new or worn:
                right.add((ring, cog, links, "new and worn" if new and worn else "new" if new else "worn"))
    return right


@pytest.mark.long(cases=2)
@pytest.mark.parametrize("half", [False, True])
@pytest.mark.parametrize("stay", [385.0, 405.0, 430.0])
def test_pairs_on_a_stay_by_brute_force(stay: float, half: bool) -> None:
    """Every pair near 46x17 with every number of links."""
    right = right_pairs(range(40, 53), range(13, 22), stay, half)
    found = [(p.ring, p.cog, p.links, p.mark) for p in stay_pairs(46, 17, stay, half)]
    assert set(found) <= right
    assert len(found) == min(len(right), 8)


def test_better_pairs_by_brute_force() -> None:
    """All pairs within 3 teeth of ring and 2 of cog that share nothing, nearest in ratio first."""
    for ring, cog in ((48, 16), (45, 15), (44, 20), (60, 20)):
        near = [
            (abs(log(r / c / (ring / cog))), abs(r - ring), f"{r}x{c}")
            for r, c in product(range(ring - 3, ring + 4), range(cog - 2, cog + 3))
            if not any(r % n == c % n == 0 for n in range(2, c + 1))
        ]
        wanted = [name for *_, name in sorted(near)[:3]]
        assert list(pairs_near(ring, cog, lambda r, c: common_factor(r, c) == 1)) == wanted
        assert (
            f"{wanted[0]}, {wanted[1]} or {wanted[2]} would wear all"
            in check(fixed(ring, cog), "even wear").say
        )


def test_a_half_link_is_spoken_of_only_where_nothing_else_is_right() -> None:
    def text(**more: object) -> str:
        return " ".join(" ".join(map(plain, fit_lines(study(fixed(48, 16, **more)), Look(100)))).split())

    assert stay_pairs(48, 16, 405.0) == ()
    assert "No pair nearby is right" in text()
    assert "With a half link in the chain these are: pair links" in text()
    (only,) = stay_pairs(48, 16, 405.0, half_link=True)
    assert f"{only.ring}x{only.cog} {only.links} {only.mark}" in text()
    assert stay_pairs(48, 16, 430.0)
    assert "With a half link" not in text(frame={"chainstay_mm": 430.0})


@pytest.mark.long(cases=1)
@pytest.mark.parametrize("half", [False, True])
def test_pairs_for_a_development_by_brute_force(half: bool) -> None:
    """Out of the teeth at hand all that are right, the nearest to 2.5 turns of the wheel a turn first."""
    right = right_pairs(range(29, 49), range(12, 23), 430.0, half)
    found = pairs_for(2.5, 430.0, [*range(48, 28, -1), 40], range(12, 23), half)
    assert {(p.ring, p.cog, p.links, p.mark) for p in found} == right
    assert right
    assert len(found) == len(right), "each once, however often its teeth are at hand"
    ratios = [Fraction(p.ring, p.cog) / Fraction(5, 2) for p in found]
    offs = [max(ratio, 1 / ratio) for ratio in ratios]
    assert offs == sorted(offs)


@pytest.mark.long(cases=0)
def test_an_axle_that_goes_back_takes_up_chain_by_brute_force() -> None:
    """On 12 mm of way nearly every pair has its chain; none that is right without it is lost."""
    rings, cogs = range(38, 48 if LONG else 41), range(15, 21)
    right = right_pairs(rings, cogs, 430.0, half=False, travel=12.0)
    found = pairs_for(2.5, 430.0, rings, cogs, travel_mm=12.0)
    assert {(p.ring, p.cog, p.links, p.mark) for p in found} == right
    assert {one[:3] for one in right_pairs(rings, cogs, 430.0, half=False)} <= {one[:3] for one in right}
    assert len({(p.ring, p.cog) for p in found}) > 0.8 * len(rings) * len(cogs)


def test_without_teeth_at_hand_the_usual_ones_are_tried() -> None:
    found = pairs_for(2.7, 405.0, half_link=True)
    assert {p.ring for p in found} <= set(USUAL_RINGS)
    assert {p.cog for p in found} <= set(USUAL_COGS)
    assert found


def fixed(ring: int = 47, cog: int = 17, **more: object) -> Setup:
    rear = {"fixed": True} | dict(more.pop("rear", {}))  # type: ignore[call-overload]
    frame = {"chainstay_mm": 405.0, "axle_travel_mm": 15.0} | dict(more.pop("frame", {}))  # type: ignore[call-overload]
    return make((ring,), (cog,), size="28-622", rear=rear, frame=frame, chain={"links": 98}, **more)


@pytest.mark.parametrize(
    ("ring", "cog", "patches", "wear"),
    [
        (47, 17, Status.OK, Status.OK),
        (48, 16, Status.CAUTION, Status.CAUTION),
        (48, 18, Status.CAUTION, Status.CAUTION),
        (45, 20, Status.CAUTION, Status.CAUTION),  # 9/4
        (44, 18, Status.OK, Status.OK),  # 22/9, a factor of 2
    ],
)
def test_checks_of_a_fixed_pair(ring: int, cog: int, patches: Status, wear: Status) -> None:
    setup = fixed(ring, cog)
    assert check(setup, "skid patches").status is patches
    assert check(setup, "even wear").status is wear
    assert check(setup, "even wear").figure == gcd(ring, cog)
    assert check(setup, "fixed drive").status is Status.OK


def test_limits_of_the_setups_own() -> None:
    setup = fixed(48, 18, limits={"skid_patches": 3, "common_factor": 6})
    for name in ("skid patches", "even wear"):
        found = check(setup, name)
        assert (found.status, found.default) == (Status.OK, False)


def names(setup: Setup) -> set[str]:
    return {one.check for one in study(setup).fit}


def test_a_freewheel_has_no_patches_and_a_bike_that_does_not_say_no_lines() -> None:
    assert {"skid patches", "fixed drive"}.isdisjoint(names(fixed(rear={"fixed": False})))
    assert "even wear" in names(fixed(rear={"fixed": False}))
    unsaid = make((47,), (17,), frame={"chainstay_mm": 405.0}, chain={"links": 98})
    assert {"skid patches", "fixed drive", "even wear", "tensioner"}.isdisjoint(names(unsaid))


def test_nothing_that_gives_way_holds_the_chain_of_a_fixed_wheel() -> None:
    found = check(fixed(frame={"tensioner_links": 3.0}), "fixed drive")
    assert (found.status, found.figure) == (Status.PROBLEM, 1)
    assert "tears it off" in found.say
    both = make((40, 50), (17,), rear={"fixed": True}, frame={"tensioner_links": 3.0})
    assert check(both, "fixed drive").figure == 2


@pytest.mark.parametrize(
    ("takes", "links", "status"),
    [(3.0, 98, Status.OK), (2.0, 98, Status.PROBLEM), (3.0, 94, Status.PROBLEM), (5.0, 100, Status.OK)],
)
def test_a_tensioner_takes_up_what_is_over_the_straight_way(takes: float, links: int, status: Status) -> None:
    facts = {"frame": {"chainstay_mm": 405.0, "tensioner_links": takes}, "chain": {"links": links}}
    setup = make((44,), (18,), **facts)
    found = check(setup, "tensioner")
    assert found.figure == pytest.approx(links - exact_pitches(44, 18, 405.0))
    assert found.status is status
    assert found.bar == (max(found.figure, 0.0), takes), "a chain too short uses nothing of it"
    assert "axle travel" not in names(setup), "the axle need not move"


def test_with_a_half_link_an_odd_number_is_no_caution() -> None:
    facts = {"frame": {"chainstay_mm": 405.0, "axle_travel_mm": 15.0}}
    odd = make((44,), (18,), chain={"links": 97}, **facts)
    assert "half link" in check(odd, "chain length").say
    assert check(odd, "chain length").status is Status.CAUTION
    with_one = make((44,), (18,), chain={"links": 97, "half_link": True}, **facts)
    assert check(with_one, "chain length").status is Status.OK
    needed = study(with_one).chain.needed_pitches
    assert needed is not None
    assert study(with_one).chain.fit_pitches == int(needed) + 1


def test_a_shared_factor_says_how_many_places_take_the_push() -> None:
    """48 and 18 share 6, so that the same 3 of the cog's 18 teeth do; 48 and 17 share none."""
    found = check(make([48], [18], rear={"fixed": False}), "even wear")
    assert (found.status, found.figure) == (Status.CAUTION, 6)
    assert "on the same 3 places of the cog" in found.say
    assert check(make([48], [17], rear={"fixed": False}), "even wear").status is Status.OK


def test_a_limit_of_the_setups_own_is_not_called_common_practice() -> None:
    ours = check(make([48], [16], rear={"fixed": True}), "skid patches")
    own = check(make([48], [16], rear={"fixed": True}, limits={"skid_patches": 5}), "skid patches")
    assert (ours.status, own.status) == (Status.CAUTION, Status.CAUTION)
    assert (ours.default, own.default) == (True, False)
    assert "common practice" in ours.say
    assert "common practice" not in own.say
