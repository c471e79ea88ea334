"""The rules of moving one by one: what the legs do at each limit, forces and energies by hand."""

import math
from typing import Any

import pytest

from cogwright.core.riding.efforts import Effort
from cogwright.core.riding.legs import Legs, Motion, Mover, Road, SpeedLimits
from cogwright.core.riding.motion import _growth, _Ride, _Step, _way, move
from cogwright.core.setup.model import Rider

LIMITS = {"grind": 3.0, "spin": 10.0, "least": 2.0, "downhill": 14.0, "hold": False}
LEVEL = Road(1000.0, 0.0, 4.0, 0.2)  # 4 N of rolling; 0.2 kg/m of air


def mover(
    power: float = 200.0, short: float = 300.0, seconds: float = 60.0, wind: float = 0.0, **limits: Any
) -> Mover:
    """100 kg, and a drive that loses 4 %."""
    efforts = Effort(power, 60.0, math.inf), Effort(short, 50.0, seconds)
    return Mover(
        Rider(power_w=power, walk_kmh=5.4), *efforts, 100.0, 0.96, wind, SpeedLimits(**(LIMITS | limits))
    )


def ride(road: Road = LEVEL, speed: float = 5.0, **who: Any) -> _Ride:
    """A ride that is about to go over a piece of road."""
    of = _Ride(mover(**who), speed, 1)
    of.piece, of.road = 0, road
    of.cap = of._cap()
    return of


def falling(newton: float) -> Road:
    """A road that pushes by so much at standstill, with air of 0.2 kg/m."""
    return Road(1000.0, -0.05, -newton, 0.2)


def way(speed: float, road: Road, wind: float = 0.0) -> float:
    """What holds back: road, air, and the bearings of both wheels (91 + 8.7 v in mW)."""
    return road.force + road.drag * (speed + wind) * abs(speed + wind) + 0.091 + 0.0087 * speed


@pytest.mark.parametrize("wind", [0.0, 3.0, -8.0])
@pytest.mark.parametrize("power", [0.0, 200.0])
def test_the_force_that_is_left_and_how_it_changes_with_the_energy(wind: float, power: float) -> None:
    of = ride(wind=wind)
    assert of._force(5.0, power) == pytest.approx(0.96 * power / 5.0 - way(5.0, LEVEL, wind))
    near = 1e-5
    energy = 0.5 * 100.0 * ((5.0 + near) ** 2 - (5.0 - near) ** 2)
    slope = (of._force(5.0 + near, power) - of._force(5.0 - near, power)) / energy
    assert of._slope(5.0, power) == pytest.approx(slope, rel=1e-6)
    assert of._energy(5.0) == 1250.0


@pytest.mark.parametrize(
    ("grade", "hold", "cap"),
    [
        (0.0, False, math.inf),
        (0.01, False, math.inf),
        (-0.01, False, 14.0),
        (0.0, True, 10.0),
        (-0.01, True, 10.0),
    ],
)
def test_the_most_that_is_ridden(grade: float, hold: bool, cap: float) -> None:
    assert ride(Road(10.0, grade, 0.0, 0.2), hold=hold).cap == cap
    assert ride(Road(10.0, -0.01, 0.0, 0.2), hold=True, downhill=8.0).cap == 8.0


def test_nobody_begins_slower_than_the_least_that_is_ridden() -> None:
    assert _Ride(mover(), 1.0, 1).v == 2.0
    assert _Ride(mover(), 3.0, 1).v == 3.0


@pytest.mark.parametrize(
    ("speed", "road", "limits", "legs", "steady"),
    [
        (5.0, LEVEL, {}, Legs.PEDAL, False),
        # spun out: rolls where that is faster, else holds the cadence
        (10.0, falling(40.0), {}, Legs.ROLL, False),
        (10.0, falling(10.0), {}, Legs.SPIN, True),
        (11.0, falling(10.0), {}, Legs.ROLL, False),
        (10.0, LEVEL, {}, Legs.PEDAL, False),  # too little power to be spun out
        # at just the force that is left: half a newton more or less
        (10.0, falling(1.5), {}, Legs.SPIN, True),
        (10.0, falling(0.5), {}, Legs.PEDAL, False),
        (10.0, falling(20.7), {}, Legs.ROLL, False),
        (10.0, falling(20.1), {}, Legs.SPIN, True),
        (8.0, falling(13.4), {"downhill": 8.0}, Legs.ROLL, True),
        (8.0, falling(12.9), {"downhill": 8.0}, Legs.PEDAL, True),
        # at the most that is liked
        (14.0, falling(60.0), {}, Legs.ROLL, True),
        (14.0, falling(38.0), {}, Legs.ROLL, False),  # rolls slower: down to the cadence
        (8.0, falling(40.0), {"downhill": 8.0}, Legs.ROLL, True),
        (8.0, falling(5.0), {"downhill": 8.0}, Legs.PEDAL, True),  # eases off
        (10.0, falling(15.0), {"downhill": 10.0}, Legs.SPIN, True),
        (10.0, falling(60.0), {"downhill": 10.0}, Legs.ROLL, True),
        # whoever holds the cadence on descents brakes for it
        (10.0, falling(60.0), {"hold": True}, Legs.SPIN, True),
        (10.0, falling(10.0), {"hold": True}, Legs.SPIN, True),
        (8.0, falling(60.0), {"hold": True, "downhill": 8.0}, Legs.ROLL, True),
        (8.0, falling(5.0), {"hold": True, "downhill": 8.0}, Legs.PEDAL, True),
    ],
)
def test_what_the_legs_do_next(
    speed: float, road: Road, limits: dict[str, Any], legs: Legs, steady: bool
) -> None:
    of = ride(road, speed, **limits)
    step = of._next()
    assert (step.legs, step.steady) == (legs, steady)
    if legs is Legs.ROLL:
        assert step.power_w == 0.0
    if legs is Legs.PEDAL and not steady:
        assert (step.power_w, step.low, step.high) == (200.0, 2.0, min(10.0, of.cap))


def test_rolling_ends_at_the_cadence_or_at_the_most_that_is_liked() -> None:
    """From above down to the high cadence; from there up without a lower end."""
    assert ride(falling(10.0), 11.0)._next() == _Step(Legs.ROLL, 0.0, 10.0, 14.0)
    assert ride(falling(38.0), 14.0)._next() == _Step(Legs.ROLL, 0.0, 10.0, 14.0)
    assert ride(falling(40.0), 10.0)._next() == _Step(Legs.ROLL, 0.0, 0.0, 14.0)


@pytest.mark.parametrize(
    ("newton", "power", "short", "legs"),
    [
        (90.0, 200.0, 300.0, Legs.PEDAL),  # 192 W are 96 N at 2 m/s
        (100.0, 200.0, 300.0, Legs.STAND),  # 288 W are 144 N
        (94.6, 200.0, 300.0, Legs.PEDAL),  # of which 0.9 N are air and bearings
        (95.2, 200.0, 300.0, Legs.STAND),
        (142.6, 200.0, 300.0, Legs.STAND),
        (143.2, 200.0, 300.0, Legs.WALK),
        (150.0, 200.0, 300.0, Legs.WALK),
    ],
)
def test_at_the_least_speed_the_rider_stands_up_or_gets_off(
    newton: float, power: float, short: float, legs: Legs
) -> None:
    of = ride(Road(1000.0, 0.1, newton, 0.2), 2.0, power=power, short=short)
    step = of._next()
    assert step.legs is legs
    assert (of.walks, of.stands) == (legs is Legs.WALK, legs is Legs.STAND)
    assert step.power_w == {Legs.PEDAL: power, Legs.STAND: short, Legs.WALK: 0.0}[legs]
    assert of.braked_j == (200.0 if legs is Legs.WALK else 0.0), "what it held at 2 m/s is lost"
    if legs is not Legs.WALK:
        assert (step.low, step.high) == (2.0, 10.0)
    faster = ride(Road(1000.0, 0.1, newton, 0.2), 2.1, power=power, short=short)
    assert faster._next().legs is Legs.PEDAL, "not before it is as slow as that"


@pytest.mark.parametrize(("rested", "stands"), [(60.0, True), (20.0, True), (19.9, False), (0.0, False)])
def test_a_short_effort_is_begun_with_a_third_of_its_time(rested: float, stands: bool) -> None:
    of = ride(Road(1000.0, 0.1, 100.0, 0.2), 2.0)
    of.rested_s = rested
    assert of._stands(True) is stands
    assert of._stands(False) is False, "nor where it is not needed"


def test_a_short_effort_goes_on_to_its_last_second() -> None:
    of = ride(Road(1000.0, 0.1, 100.0, 0.2), 2.0)
    of.stands, of.rested_s = True, 0.1
    assert of._stands(True)
    assert of._stands(False)
    of.rested_s = 0.0
    assert not of._stands(False)


def test_a_piece_that_the_sustained_effort_holds_is_begun_sitting() -> None:
    """At 2 m/s 96 N: on 90 N the rider gets on and puts in what 2 m/s hold; on 100 N they go on walking."""
    for newton, on in ((90.0, True), (100.0, False)):
        of = ride(Road(10.0, 0.1, newton, 0.2), 2.0)
        of.walks = of.stands = True
        of._begin()
        assert (of.walks, of.stands) == (not on, not on)
        assert of.pedalled_j == (200.0 if on else 0.0)
    sits = ride(Road(10.0, 0.1, 90.0, 0.2), 2.0)
    sits._begin()
    assert sits.pedalled_j == 0.0


def test_a_faster_rider_brakes_to_what_is_liked() -> None:
    """From 20 to 14 m/s 100 kg lose 10.2 kJ."""
    of = ride(falling(10.0), 20.0)
    of._begin()
    assert (of.v, of.braked_j) == (14.0, 50.0 * (400.0 - 196.0))
    slower = ride(falling(10.0), 13.0)
    slower._begin()
    assert (slower.v, slower.braked_j) == (13.0, 0.0)


def ended(of: _Ride) -> tuple[float, float, float]:
    return of.seconds[0], of.pedalled_j, of.braked_j


def test_holding_a_speed_by_legs_and_by_brakes() -> None:
    """At 5 m/s the level holds back by some 9 N, which legs make up for; a fall that pushes wants brakes."""
    of = ride()
    assert of._hold(Legs.SPIN, 100.0) == 100.0
    assert ended(of) == pytest.approx((20.0, 100.0 * way(5.0, LEVEL) / 0.96, 0.0))
    down = ride(falling(20.0))
    down._hold(Legs.ROLL, 50.0)
    assert ended(down) == pytest.approx((10.0, 0.0, -50.0 * way(5.0, falling(20.0))))
    tired = ride()
    tired.rested_s = 4.0
    assert tired._hold(Legs.STAND, 100.0) == pytest.approx(20.0), "4 s of 5 m/s"
    assert tired.rested_s == 0.0


def test_walking_is_at_its_pace() -> None:
    of = ride()
    assert of._walk(30.0) == 30.0
    assert of.seconds[0] == pytest.approx(30.0 / 1.5)
    assert of.pedalled_m[0] == 0.0


def test_time_is_recovered_second_by_second_up_to_all_of_it() -> None:
    of = ride()
    of.rested_s = 10.0
    of._pass(Legs.PEDAL, 50.0, 20.0)
    assert of.rested_s == 30.0
    of._pass(Legs.STAND, 50.0, 25.0)
    assert of.rested_s == 5.0
    of._pass(Legs.ROLL, 50.0, 100.0)
    assert of.rested_s == 60.0
    assert of.spent[Legs.STAND] == [25.0]
    assert of.seconds == [145.0]
    assert of.pedalled_m == [100.0]
    assert [(run.legs, run.start_m, run.end_m) for run in of.runs] == [
        (Legs.PEDAL, 0.0, 50.0), (Legs.STAND, 50.0, 100.0), (Legs.ROLL, 100.0, 150.0),
    ]  # fmt: skip
    of._pass(Legs.ROLL, 10.0, 1.0)
    assert of.runs[-1].end_m == 160.0


def test_a_short_effort_ends_on_the_way_when_its_time_is_over() -> None:
    """Of 5 s from 5 to 7 m/s over 30 m only 2 are left: 12 m, to 5.8 m/s, with 300 W."""
    of = ride()
    of.rested_s = 2.0
    assert of._moved(_Step(Legs.STAND, 300.0), 30.0, 7.0) == pytest.approx(12.0)
    assert of.v == pytest.approx(5.8)
    assert ended(of) == pytest.approx((2.0, 600.0, 0.0))
    sits = ride()
    assert sits._moved(_Step(Legs.PEDAL, 200.0), 30.0, 7.0) == 30.0
    assert (sits.v, *ended(sits)) == pytest.approx((7.0, 5.0, 1000.0, 0.0))


@pytest.mark.parametrize(("speed", "legs"), [(3.0, Legs.PEDAL), (2.9, Legs.GRIND)])
def test_under_the_low_cadence_it_is_grinding(speed: float, legs: Legs) -> None:
    of = ride(speed=speed)
    of._moved(_Step(Legs.PEDAL, 200.0), 30.0, speed)
    assert of.runs[0].legs is legs
    stands = ride(speed=speed)
    stands._moved(_Step(Legs.STAND, 200.0), 3.0, speed)
    assert stands.runs[0].legs is Legs.STAND


def test_a_step_changes_the_energy_by_a_seventh_at_most_and_stops_at_a_limit() -> None:
    of = ride(speed=3.0)
    before = of._energy(3.0)
    of._accelerate(_Step(Legs.PEDAL, 200.0, 2.0, 10.0), 1000.0)
    assert of._energy(of.v) / before == pytest.approx(1.15, abs=0.01)
    limited = ride(speed=3.0)
    limited._accelerate(_Step(Legs.PEDAL, 200.0, 2.0, 3.1), 1000.0)
    assert limited.v == 3.1
    short = ride(speed=3.0)
    assert short._accelerate(_Step(Legs.PEDAL, 200.0, 2.0, 10.0), 0.5) == 0.5
    held = ride(speed=3.1)
    assert held._accelerate(_Step(Legs.PEDAL, 200.0, 2.0, 3.1), 40.0) == 40.0, "at its limit it goes on so"
    assert held.v == 3.1
    slows = ride(Road(1000.0, 0.2, 300.0, 0.2), 2.1)
    slows._accelerate(_Step(Legs.PEDAL, 200.0, 2.0, 10.0), 1000.0)
    assert slows.v == 2.0


def in_small_steps(road: Road, power: float, speed: float) -> tuple[float, float]:
    """Time and speed at the end by steps of 5 ms of Newton's law."""
    at = spent = 0.0
    while at < road.length_m:
        force = 0.96 * power / speed - way(speed, road)
        new = speed + force / 100.0 * 0.005
        at, spent, speed = at + 0.0025 * (speed + new), spent + 0.005, new
    return spent, speed


def test_a_start_up_to_the_steady_speed_takes_as_long_as_in_small_steps() -> None:
    motion: Motion = move([LEVEL._replace(length_m=400.0)], mover(), 2.5)
    seconds, speed = in_small_steps(LEVEL._replace(length_m=400.0), 200.0, 2.5)
    assert motion.seconds[0] == pytest.approx(seconds, rel=5e-3)
    assert motion.speeds == pytest.approx((2.5, speed), rel=5e-3)
    assert motion.pedalled_j == pytest.approx(200.0 * motion.seconds[0])
    assert motion.pedalled_m == pytest.approx((400.0,))


def test_growth_and_way_by_the_exponential_law() -> None:
    """E' = F + k E from F = 10 N, k = -0.5 / m: after 2 m 20 (1 - e^-1) J."""
    assert 10.0 * 2.0 * _growth(-1.0) == pytest.approx(20.0 * (1.0 - math.exp(-1.0)))
    assert _way(20.0 * (1.0 - math.exp(-1.0)), 10.0, -0.5) == pytest.approx(2.0)
    assert _way(20.0, 10.0, 0.0) == 2.0
