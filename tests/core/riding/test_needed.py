"""The development that a climb asks for: roots by SciPy, arithmetic by hand, and the question turned back."""

import math

import pytest

from cogwright.core.gears.gears import gears_of
from cogwright.core.riding.efforts import short, sustained
from cogwright.core.riding.grades import steepest_pct
from cogwright.core.riding.needed import Climb, answer_on, needed_for, top_development
from cogwright.core.riding.resistance import resistance_of
from cogwright.core.setup.model import Rider, Setup
from scipys import brentq
from support import make

RIDER = Rider(mass_kg=75.0, bike_kg=13.0, power_w=200.0, crr=0.006, cda_m2=0.4, chain_efficiency=0.976)


def bike(rider: Rider = RIDER, rings: tuple[int, ...] = (36,)) -> Setup:
    return make(rings, (11, 14, 18, 24, 32, 45), rollout_mm=2200).model_copy(update={"rider": rider})


@pytest.mark.parametrize(("grade", "load"), [(6.0, 0.0), (12.0, 25.0), (20.0, 10.0)])
def test_speed_and_development_by_scipy(grade: float, load: float) -> None:
    """The equation of the road written out (Martin et al. 1998), its root by SciPy; air 1.225 at 15 C."""
    mass = 75.0 + 13.0 + load
    theta = math.atan(grade / 100.0)

    def left(v: float) -> float:
        gravity = mass * 9.80665 * (math.sin(theta) + 0.006 * math.cos(theta))
        return 200.0 * 0.976 - v * (gravity + 0.5 * 1.225 * 0.4 * v * v + 0.091 + 0.0087 * v)

    speed = brentq(left, 0.01, 30.0)
    found = needed_for(Climb(grade, load, 60.0), bike())
    assert found.speed == pytest.approx(speed, rel=1e-3)
    assert found.development_m == pytest.approx(speed, rel=1e-3), "at 60 rpm a turn takes a second"


def test_half_the_cadence_is_twice_the_development() -> None:
    low, high = (needed_for(Climb(10.0, 0.0, rpm), bike()).development_m for rpm in (80.0, 40.0))
    assert high == pytest.approx(2.0 * low)


def test_more_load_and_more_grade_need_lower_gears_and_more_power_a_higher_one() -> None:
    plain = needed_for(Climb(10.0, 0.0), bike()).development_m
    assert needed_for(Climb(10.0, 20.0), bike()).development_m < plain
    assert needed_for(Climb(12.0, 0.0), bike()).development_m < plain
    strong = bike(RIDER.model_copy(update={"power_w": 250.0}))
    assert needed_for(Climb(10.0, 0.0), strong).development_m > plain


@pytest.mark.parametrize("briefly", [False, True])
def test_the_question_turned_back(briefly: bool) -> None:
    """The steepest grade that a gear of the needed development holds is the grade that was asked about."""
    setup = bike()
    effort = short(setup.rider) if briefly else sustained(setup.rider)
    needed = needed_for(Climb(11.0, briefly=briefly), setup)
    gear = gears_of(setup)[0]._replace(development_m=needed.development_m)
    assert needed.rpm == effort.rpm
    assert steepest_pct(gear, effort, resistance_of(setup)) == pytest.approx(11.0)


def test_the_gear_is_the_hardest_that_is_low_enough() -> None:
    """By brute force over the gears."""
    setup = bike()
    for grade in (2.0, 4.0, 7.0, 9.0):
        found = answer_on(Climb(grade), setup)
        low = [g for g in gears_of(setup) if g.development_m <= found.needed.development_m]
        assert found.gear == max(low, key=lambda g: g.development_m, default=None)


def test_where_no_gear_is_low_enough_the_easiest_says_its_cadence() -> None:
    """36x45 of 2.2 m is 1.76 m a turn: at v m/s it leaves 60 v / 1.76 rpm, under the 60 asked for."""
    found = answer_on(Climb(15.0, 25.0, 60.0), bike())
    assert found.gear is None
    assert found.easiest_rpm == pytest.approx(60.0 * found.needed.speed / 1.76)
    assert found.easiest_rpm < 60.0


def test_gears_that_the_chain_does_not_reach_are_none() -> None:
    """A chain of 90 links on a stay of 430 mm does not go round 36x45."""
    setup = bike().model_copy(
        update={
            "frame": bike().frame.model_copy(update={"chainstay_mm": 430.0}),
            "chain": bike().chain.model_copy(update={"links": 100}),
        }
    )
    found = answer_on(Climb(8.0), setup)
    assert found.easiest.cog < 45


def test_walking_wins_where_riding_is_slower() -> None:
    """190 W lift 300 kg up 15 % at well under walking pace; 60 kg they do not."""
    heavy = bike(RIDER.model_copy(update={"load_kg": 150.0}))
    assert needed_for(Climb(15.0), heavy).walks
    assert not needed_for(Climb(5.0), bike()).walks


@pytest.mark.parametrize("speed", [0.0, -1.0, math.inf, math.nan])
def test_a_top_speed_is_above_nothing(speed: float) -> None:
    with pytest.raises(ValueError, match="above 0"):
        top_development(speed, RIDER)
