"""What plans are ranked by: time without a gear of a liked cadence, by brute force and beside the view."""

import math
import random
from itertools import pairwise

import pytest

from cogwright.core.gears.gears import gears_of
from cogwright.core.proposing.proposal import Proposal
from cogwright.core.proposing.served import LEAST, Served, ranked_by
from cogwright.core.riding.course import Piece, from_pieces
from cogwright.core.riding.evidence.evidence import evidence_of, ridden_on
from cogwright.core.riding.resistance import resistance_of, speed_at_power
from cogwright.core.riding.wanted import wanted_speeds
from cogwright.core.setup.model import Rider, Setup
from support import make
from synthetic import Sensors, random_ride, recorded

RIDER = Rider(cadence_rpm=(60.0, 85.0, 105.0))
BIKE = make((28, 42), (11, 13, 15, 17, 20, 24, 30), rollout_mm=2200)
OTHERS = [
    make((34,), (11, 13, 15, 18, 22, 28, 36, 45), rollout_mm=2200),
    make((44,), (12, 14, 16, 18, 20), rollout_mm=2200),
    make((40,), (20,), rollout_mm=2200, rear={"hub_ratios": [0.6, 1.2, 2.4]}),
]


def test_time_outside_by_brute_force() -> None:
    """Random speeds and gears: every speed against every gear."""
    rng = random.Random(3)
    for _ in range(50):
        spent = [(rng.uniform(0.5, 20.0), rng.uniform(0.1, 9.0)) for _ in range(60)]
        gears = [rng.uniform(1.0, 10.0) for _ in range(rng.randrange(1, 9))]
        served = Served.of("a", spent)
        expected = sum(s for v, s in spent if not any(60 <= 60 * v / dev <= 105 for dev in gears))
        assert served.outside_s(gears, RIDER) == pytest.approx(expected)
        assert served.total_s == pytest.approx(sum(s for _, s in spent))


@pytest.mark.long(cases=1)
@pytest.mark.parametrize("other", OTHERS, ids=lambda one: str(one.crank.rings))
def test_it_is_the_time_without_a_gear_that_the_rides_view_tells(other: Setup) -> None:
    """Two ways to one figure, but for speeds in tenths of km/h: 1 % of the time."""
    rides = [recorded(random_ride(gears_of(BIKE), seed, 1200, (10, 40)), Sensors()) for seed in (1, 2)]
    served, bench = Served.on_rides(ridden_on(rides, BIKE)), evidence_of(rides, BIKE, other).bench
    assert bench is not None
    assert served.total_s == pytest.approx(bench.pedalled_s)
    assert served.outside_of(other) == pytest.approx(bench.without_s, abs=0.01 * bench.pedalled_s)


def test_a_course_asks_for_the_steady_speed_of_each_long_piece() -> None:
    """Up 6 % and along the level for 5 km each: two speeds at nearly all of the time; downhill it rolls."""
    course = from_pieces("a", [Piece(5000.0, 0.06), Piece(5000.0, 0.0), Piece(3000.0, -0.07)], 100.0)
    of = resistance_of(BIKE)
    up, level = (speed_at_power(BIKE.rider.power_w, grade, of) for grade in (0.06, 0.0))
    found = wanted_speeds(course, BIKE, BIKE.rider)
    assert found[0] == pytest.approx((up, 5000 / up), rel=0.02)
    assert found[1][0] == pytest.approx(level, rel=0.05), "the pass is crested slowly"
    assert sum(s for _, s in found[2:]) < 30.0


def test_proposals_are_ranked_by_it_and_those_that_miss_a_limit_come_last() -> None:
    served = Served.of("a", [(v / 10, 10.0) for v in range(10, 150)])
    proposals = [Proposal("plan", one, str(at), meets=at != 1) for at, one in enumerate(OTHERS)]
    ranked = ranked_by(served, proposals)
    assert [one.meets for one in ranked] == [True, True, False]
    times = [served.outside_of(one.setup) for one in ranked if one.meets]
    assert all(a <= b + 0.05 for a, b in pairwise(times))
    assert [LEAST in one.marks for one in ranked] == [True, False, False]
    first = served.outside_of(ranked[0].setup) / 60
    assert f"{first:.1f} of {served.total_s / 60:.0f} min" in ranked[0].reasons[0]


def test_equals_stay_in_their_order() -> None:
    served = Served.of("a", [(100.0, 1.0)])
    ranked = ranked_by(served, [Proposal("plan", one, str(at)) for at, one in enumerate(OTHERS)])
    assert [one.title for one in ranked] == ["0", "1", "2"]
    assert math.isclose(served.outside_of(OTHERS[0]), 1.0)
