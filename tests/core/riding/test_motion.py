"""Motion with inertia: against SciPy's integration, a simulation in small steps of time, and energy."""

import math
from bisect import bisect_right
from collections.abc import Callable

import numpy as np
import pytest

from cogwright.core.riding.course import Course, Piece, from_pieces, from_points
from cogwright.core.riding.course_ride import CourseRide, on_course
from cogwright.core.riding.legs import Legs
from cogwright.core.setup.model import Crank, Rear, Rider, Setup, Wheel
from cogwright.core.study import study
from scipys import brentq, solve_ivp

WHEEL, EFFICIENCY, AIR = 2.1, 0.976, 1.225


def bike(rings: tuple[int, ...], cogs: tuple[int, ...], **rider: object) -> Setup:
    """A setup on a wheel of 2.1 m."""
    return Setup(
        name="Yard 7",
        wheel=Wheel(rollout_mm=2100),
        crank=Crank(rings=rings),
        rear=Rear(cogs=cogs),
        rider=Rider(**rider),  # type: ignore[arg-type]
    )


WIDE = bike((24, 36, 60), (11, 13, 15, 17, 20, 24, 28, 34), descent_kmh=150.0)


def ride_on(setup: Setup, course: Course) -> CourseRide:
    return on_course(study(setup), course).bench


def mass(rider: Rider) -> float:
    return rider.mass_kg + rider.bike_kg + rider.load_kg


def push(speed: float, power: float, slope: float, rider: Rider) -> float:
    """What is left to go faster, N: Martin's equation as it is printed, written anew; slope as an angle."""
    lift = mass(rider) * 9.80665 * (math.sin(slope) + rider.crr * math.cos(slope))
    air = speed + rider.headwind_kmh / 3.6
    drag = 0.5 * AIR * rider.cda_m2 * air * abs(air)
    return power * EFFICIENCY / speed - lift - drag - 0.091 - 0.0087 * speed


def steady(grade: float, power: float, rider: Rider) -> float:
    slope = math.atan(grade)
    return float(brentq(lambda v: push(v, power, slope, rider), 0.01, 100.0))


def by_scipy(height: Callable[[float], float], length: float, rider: Rider, begun: float) -> float:
    """Time in s over a smooth road (heights by distance on the map, m) with 190 W, begun at a speed."""

    def change(_t: float, y: np.ndarray) -> list[float]:
        at, speed = y
        slope = math.atan((height(at + 0.01) - height(at - 0.01)) / 0.02)
        return [speed * math.cos(slope), push(speed, 190.0, slope, rider) / mass(rider)]

    def ended(_t: float, y: np.ndarray) -> float:
        return float(y[0]) - length

    ended.terminal = True  # type: ignore[attr-defined]
    done = solve_ivp(change, (0.0, 1e5), [0.0, begun], events=ended, rtol=1e-8, atol=1e-8, max_step=5.0)
    return float(done.t_events[0][0])


def rollers(x: float) -> float:
    """6 m up and down every 300 m."""
    return 3.0 * (1.0 - math.cos(2.0 * math.pi * x / 300.0))


def sampled(height: Callable[[float], float], length: float, every: float = 10.0) -> Course:
    count = round(length / every)
    return from_points("road", [(every * i, height(every * i)) for i in range(count + 1)])


@pytest.mark.long(cases=1)
@pytest.mark.parametrize("every", [5.0, 10.0, 20.0])
def test_rollers_take_as_long_as_by_scipy_with_inertia(every: float) -> None:
    """The equation of motion by solve_ivp; a rider without inertia would be a tenth off."""
    ride = ride_on(WIDE, sampled(rollers, 6000.0, every))
    expected = by_scipy(rollers, 6000.0, WIDE.rider, ride.motion.speeds[0])
    assert ride.motion.speeds[0] == pytest.approx(
        steady(ride.course.pieces[0].grade, 190.0, WIDE.rider), rel=1e-4
    )
    assert ride.spent_s(Legs.PEDAL, Legs.GRIND) == pytest.approx(ride.total_s)
    assert ride.total_s == pytest.approx(expected, rel=0.005)
    still = sum(p.length_m / steady(p.grade, 190.0, WIDE.rider) for p in ride.course.pieces)
    assert abs(still / expected - 1.0) > 0.05


@pytest.mark.long(cases=1)
@pytest.mark.parametrize("wind", [-25.0, 25.0])
def test_rollers_with_wind_take_as_long_as_by_scipy(wind: float) -> None:
    rider = WIDE.rider.model_copy(update={"headwind_kmh": wind})
    ride = ride_on(WIDE.model_copy(update={"rider": rider}), sampled(rollers, 3000.0))
    expected = by_scipy(rollers, 3000.0, rider, ride.motion.speeds[0])
    assert ride.total_s == pytest.approx(expected, rel=0.005)


ROAD = from_pieces(
    "all sorts",
    [
        Piece(400.0, 0.0),
        Piece(700.0, -0.09),
        Piece(60.0, 0.12),
        Piece(300.0, 0.02),
        Piece(900.0, -0.035),
        Piece(500.0, 0.055),
        Piece(40.0, 0.18),
        Piece(260.0, -0.02),
        Piece(800.0, -0.05),
        Piece(500.0, 0.0),
    ],
    0.0,
)


def in_small_steps(course: Course, setup: Setup, spin: float, hold: bool) -> tuple[float, dict[str, float]]:
    """The rules written anew, in steps of 5 ms: pedal, roll where spun out, keep to 50 km/h."""
    rider, spent = setup.rider, dict.fromkeys(("pedal", "spin", "roll"), 0.0)
    edges, speed, at, step = (
        course.starts_m,
        steady(course.pieces[0].grade, rider.power_w, setup.rider),
        0.0,
        0.005,
    )
    cap = rider.descent_kmh / 3.6
    while at < edges[-1]:
        piece = course.pieces[min(bisect_right(edges, at) - 1, len(course.pieces) - 1)]
        slope = math.atan(piece.grade)
        most = min(cap if piece.grade < 0 else math.inf, spin if hold else math.inf)
        if speed > spin + 1e-9:
            force, legs = push(speed, 0.0, slope, rider), "roll"
            new = max(speed + force / mass(rider) * step, spin if force < 0 else 0.0)
        else:
            force, legs = push(speed, rider.power_w, slope, rider), "pedal"
            new = speed + force / mass(rider) * step
            if new > spin:
                coasting = push(spin, 0.0, slope, rider)
                new = spin if coasting <= 0 or hold else spin + coasting / mass(rider) * step
                legs = "spin" if coasting <= 0 or hold else "roll"
        if new > most:
            new = most
            legs = "spin" if hold and most == spin else "roll" if push(most, 0.0, slope, rider) >= 0 else legs
        at += 0.5 * (speed + new) * step
        speed = new
        spent[legs] += step
    return sum(spent.values()), spent


@pytest.mark.long(cases=1)
@pytest.mark.parametrize("hold", [False, True], ids=["rolls", "holds"])
@pytest.mark.parametrize(("rings", "cogs"), [((30,), (11, 15, 21, 30)), ((46, 30), (11, 15, 21, 30))])
def test_a_road_of_all_sorts_is_ridden_as_in_small_steps(
    rings: tuple[int, ...], cogs: tuple[int, ...], hold: bool
) -> None:
    """Times in all, pedalled, spun out and rolled, in sea-level air; no piece is so steep that one walks."""
    setup = bike(rings, cogs, hold_descents=hold, least_cadence_rpm=5.0, walk_kmh=1.0)
    total, spent = in_small_steps(ROAD, setup, max(rings) / 11 * WHEEL * 105 / 60, hold)
    ride = ride_on(setup, ROAD)
    assert ride.total_s == pytest.approx(total, rel=0.003)
    assert ride.spent_s(Legs.PEDAL, Legs.GRIND) == pytest.approx(spent["pedal"], abs=2.0)
    assert ride.rolling_s == pytest.approx(spent["roll"], abs=2.0)
    assert ride.spinning_s == pytest.approx(spent["spin"], abs=2.0)
    assert ride.rolling_s > 20.0 or hold


@pytest.mark.long(cases=1)
@pytest.mark.parametrize("hold", [False, True], ids=["rolls", "holds"])
def test_energy_balance(hold: bool) -> None:
    """Legs = gravity + rolling + air + bearings + brakes + what the speed at the end holds; sums by NumPy."""
    setup = bike((30,), (11, 13, 15, 18, 21, 25, 30, 36, 42), hold_descents=hold)
    course = sampled(lambda x: 120 + 40 * math.sin(x / 700) + 4 * math.sin(x / 60), 15_000.0, 2.0)
    ride = ride_on(setup, course)
    assert ride.spent_s(Legs.STAND, Legs.WALK) == 0.0
    rider, length = setup.rider, np.array([p.length_m for p in course.pieces])
    slope, height = np.arctan([p.grade for p in course.pieces]), np.array(course.heights_m)
    share = np.array([(1 - 0.0065 * h / 288.15) ** 4.2558797 for h in (height[1:] + height[:-1]) / 2])
    ends = np.array(ride.motion.speeds)
    speed2, speed = (ends[1:] ** 2 + ends[:-1] ** 2) / 2, (ends[1:] + ends[:-1]) / 2
    lost = mass(rider) * 9.80665 * rider.crr * np.cos(slope) + 0.091 + 0.0087 * speed
    lost += 0.5 * AIR * share * rider.cda_m2 * speed2
    stored = mass(rider) * (9.80665 * (height[-1] - height[0]) + 0.5 * (ends[-1] ** 2 - ends[0] ** 2))
    spent = float(np.sum(lost * length)) + stored + ride.motion.braked_j
    assert ride.motion.pedalled_j * EFFICIENCY == pytest.approx(spent, rel=1e-3)
    assert ride.motion.braked_j > 0.0


def test_a_descent_is_rolled_up_to_the_speed_that_is_liked() -> None:
    """9 % lets the default rider roll past 60 km/h: by Brent's method; they like 50 unless told otherwise."""
    fall = from_pieces("fall", [Piece(3000.0, -0.09)], 0.0)
    free = steady(-0.09, 1e-9, Rider())
    assert free > 60 / 3.6
    for liked, speed in ((50.0, 50 / 3.6), (30.0, 30 / 3.6), (150.0, free)):
        ride = ride_on(bike((30,), (11, 15, 21, 30), descent_kmh=liked), fall)
        assert ride.total_s == pytest.approx(3000.0 / speed, rel=0.01)  # the air grows denser on the way
        assert ride.rolling_s == ride.total_s


def test_a_smaller_top_gear_costs_little_where_descents_roll() -> None:
    """Braking to the top gear's 105 rpm on a fall of 6 % would cost more than twice what rolling costs."""
    fall = from_pieces("fall", [Piece(5000.0, -0.06)], 0.0)
    large, small = bike((50,), (11, 15, 30)), bike((34,), (13, 17, 30))
    lost = ride_on(small, fall).total_s - ride_on(large, fall).total_s
    holds = [setup.model_copy(update={"rider": Rider(hold_descents=True)}) for setup in (large, small)]
    held = ride_on(holds[1], fall).total_s - ride_on(holds[0], fall).total_s
    assert 0.0 <= lost < held / 2


def test_under_walking_pace_the_rider_gets_off() -> None:
    """25 % at 190 W would be ridden at 3 km/h (Brent); the short effort holds no 25 % either, so they walk.

    Walking lifts 86 kg with 190 W: 190 / (86 g sin(atan 0.25)) = 0.929 m/s.
    """
    setup = bike((24,), (11, 34))
    assert 3.6 * steady(0.25, 190.0, setup.rider) < 3.3
    ride = ride_on(
        setup, from_pieces("wall", [Piece(500.0, 0.0), Piece(400.0, 0.25), Piece(500.0, 0.0)], 0.0)
    )
    [walked] = ride.stretches(Legs.WALK)
    assert 505.0 < walked.start_m < 530.0, "the speed from the flat carries a little way"
    assert walked.end_m == pytest.approx(900.0)
    lifted = 190.0 / (86.0 * 9.80665 * math.sin(math.atan(0.25)))
    assert ride.walking_s == pytest.approx(walked.seconds)
    assert 370.0 / lifted < ride.walking_s < 400.0 / lifted
    assert ride.standing_s == 0.0


def test_under_the_least_cadence_the_rider_gets_off_however_fast_that_is() -> None:
    """A single speed of 44x18 (5.13 m a turn) at 40 rpm is 12.3 km/h: on 8 % one walks."""
    setup = bike((44,), (18,), short_power_w=190.0)
    held = steady(0.08, 190.0, setup.rider)
    assert 60 * held / (44 / 18 * WHEEL) < 40
    ride = ride_on(setup, from_pieces("hill", [Piece(2000.0, 0.08)], 0.0))
    assert ride.walking_s == ride.total_s == pytest.approx(2000.0 / (5.0 / 3.6))
    slower = ride_on(bike((44,), (18,), short_power_w=190.0, least_cadence_rpm=25.0), ride.course)
    assert slower.walking_s == 0.0
    assert slower.grinding_s == slower.total_s == pytest.approx(2000.0 / held, rel=1e-3)


def test_the_short_effort_carries_over_a_ramp_and_ends_when_its_time_is_over() -> None:
    """150 m of 16 % take 266 W some 60 s (Brent); 2 km of it take the three minutes, then walking."""
    setup = bike((24,), (11, 34))
    speed = steady(0.16, 266.0, setup.rider)
    short, long = (ride_on(setup, from_pieces("ramp", [Piece(m, 0.16)], 0.0)) for m in (150.0, 2000.0))
    assert short.walking_s == 0.0
    assert short.total_s == short.standing_s == pytest.approx(150.0 / speed, rel=0.05)
    assert long.standing_s == pytest.approx(180.0)
    ridden = 2000.0 - long.walking_s * min(5 / 3.6, 190.0 / (86 * 9.80665 * math.sin(math.atan(0.16))))
    assert 180.0 * speed * 0.95 < ridden < 180.0 * speed + 20.0


def test_never_slower_than_the_least_cadence() -> None:
    """Whatever the road, what is pedalled is at 40 rpm or more in the gear that is ridden."""
    setup = bike((34,), (11, 15, 21, 30))
    course = from_pieces("steps", [Piece(120.0, 0.01 * (i * 7 % 25)) for i in range(60)], 0.0)
    ride = ride_on(setup, course)
    assert ride.walking_s > 0.0
    for legs in (Legs.GRIND, Legs.STAND, Legs.PEDAL):
        for one in ride.stretches(legs):
            assert one.rpm >= 40.0 * (1 - 1e-6)


def test_walking_begins_where_it_costs_less() -> None:
    """Ardigo, Saibene and Minetti 2003 (abstract, grade A): over a critical slope of 13 to 15 % walking costs
    less than cycling, with a bicycle's mass to carry close to 20 %. With a gear low enough the default rider,
    at the sustained effort, gets off between the two; and is then no slower on foot."""
    setup = bike((20,), (34, 51), short_power_w=190.0, least_cadence_rpm=20.0)

    def walks(grade: float) -> bool:
        return ride_on(setup, from_pieces("hill", [Piece(1000.0, grade)], 0.0)).walking_s > 0.0

    off = next(g / 1000 for g in range(80, 300) if walks(g / 1000))
    assert 0.13 <= off <= 0.20
    for grade in (off + 0.005, 0.2, 0.3):
        on_foot = ride_on(setup, from_pieces("hill", [Piece(1000.0, grade)], 0.0)).total_s
        assert on_foot <= 1000.0 / steady(grade, 190.0, setup.rider)


def test_what_the_legs_do_adds_up() -> None:
    """Each moment is one thing: times and ways by what the legs do sum to those of each piece."""
    setup = bike((34,), (13, 17, 23, 28))
    course = from_pieces("steps", [Piece(150.0, 0.01 * (i * 7 % 31) - 0.12) for i in range(80)], 0.0)
    motion = ride_on(setup, course).motion
    for i, piece in enumerate(course.pieces):
        assert math.fsum(motion.by_legs[legs][i] for legs in Legs) == pytest.approx(motion.seconds[i])
        assert 0.0 <= motion.pedalled_m[i] <= piece.length_m * (1 + 1e-9)
    assert motion.runs[-1].end_m == pytest.approx(course.length_m)
    assert [run.end_m for run in motion.runs[:-1]] == [run.start_m for run in motion.runs[1:]]
    assert all(math.fsum(motion.by_legs[legs]) > 0.0 for legs in Legs)
