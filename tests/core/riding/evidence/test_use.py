"""What rides say of gears: sums, stretches, and the same ride on other gears, by brute force."""

import math

import pytest

from cogwright.core.gears.gears import gears_of
from cogwright.core.riding.evidence.evidence import evidence_of
from cogwright.core.riding.evidence.gear_found import ridden_of
from cogwright.core.riding.evidence.on_bench import on_bench, speeds_of
from cogwright.core.riding.recording import Moment, Recorder, Recording
from cogwright.core.setup.model import Rider
from support import make
from synthetic import Second, Sensors, random_ride, recorded

BIKE = make((40,), (10, 16, 20, 32), rollout_mm=2000)  # 2.5, 4, 5 and 8 m
GEARS = gears_of(BIKE)


def plan(*parts: tuple[int, float, int], grade: float = 0.0) -> Recording:
    """A ride of parts of (gear, rpm, seconds); a cadence of 0 coasts at 18 km/h."""
    found, at, way = Recorder(), 0, 0.0
    for gear, rpm, seconds in parts:
        for _ in range(seconds):
            speed = GEARS[gear].development_m * rpm / 60 if rpm else 5.0
            found.add(Moment(seconds=float(at), speed=speed, rpm=rpm, height_m=grade * way))
            at, way = at + 1, way + speed
    return found.recording("planned", "")


def test_times_ways_and_cadences_are_those_of_the_plan() -> None:
    """By hand: 120 s at 80 rpm in 5 m are 800 m; 50 s at 50 rpm are under 60 rpm, 30 s at 110 over 105."""
    use = evidence_of([plan((2, 80, 100), (0, 50, 50), (3, 110, 30), (2, 80, 20), (2, 0, 40))], BIKE).use
    times = {gear.cog: spent for gear, spent in use.times.items()}
    assert times == pytest.approx({32: 50.0, 20: 0.0, 16: 120.0, 10: 30.0}, abs=1.0)
    assert [gear.cog for gear in use.never] == [20]
    ways = {gear.cog: way for gear, way in use.ways.items()}
    assert ways[16] == pytest.approx(120 * 5 * 80 / 60, rel=0.02)
    assert ways[32] == pytest.approx(50 * 2.5 * 50 / 60, rel=0.05)
    assert use.below_s == pytest.approx(50.0, abs=1.0)
    assert use.above_s == pytest.approx(30.0, abs=1.0)
    assert use.coasted_s == pytest.approx(39.0, abs=1.0)
    assert use.cadences == pytest.approx({50: 50.0, 80: 120.0, 110: 30.0}, abs=1.1)
    assert use.shifts == 3
    assert use.shifts_a_km == pytest.approx(3000 / use.metres)


def test_times_add_up() -> None:
    """Every moment is in a gear, without one, coasted, or standing."""
    ride = random_ride(GEARS, 4, 3000, (10, 40))
    of = evidence_of([recorded(ride, Sensors(drops=0.02))], BIKE)
    use = of.use
    in_gears = math.fsum(use.times.values())
    assert in_gears + use.other_s == pytest.approx(use.pedalled_s)
    assert use.pedalled_s + use.coasted_s + use.unknown_s == pytest.approx(use.seconds)
    assert math.fsum(use.cadences.values()) == pytest.approx(in_gears)
    assert math.fsum(use.speeds.values()) == pytest.approx(use.seconds)
    assert math.fsum(use.ways.values()) <= use.metres


def test_several_rides_add_up() -> None:
    rides = [recorded(random_ride(GEARS, seed, 900, (10, 40)), Sensors()) for seed in range(3)]
    alone = [evidence_of([ride], BIKE, BIKE) for ride in rides]
    all_of = evidence_of(rides, BIKE, BIKE)
    for gear in GEARS:
        assert all_of.use.times[gear] == pytest.approx(sum(one.use.times[gear] for one in alone))
    for name in ("seconds", "metres", "pedalled_s", "below_s", "above_s"):
        total = sum(getattr(one.use, name) for one in alone)
        assert getattr(all_of.use, name) == pytest.approx(total)
    assert all_of.bench is not None
    assert all_of.bench.below_s == pytest.approx(sum(one.bench.below_s for one in alone if one.bench))
    assert len(all_of.use.rides) == 3


def test_where_it_was_ground() -> None:
    """60 s at 45 rpm in 2.5 m up 12 %, after 200 m: place, time, cadence and grade by hand."""
    use = evidence_of([plan((2, 60, 40), (0, 45, 60), (2, 80, 60), grade=0.12)], BIKE).use
    [spell] = use.grinding
    assert spell.start_m == pytest.approx(200.0, abs=6.0)
    assert spell.end_m == pytest.approx(200 + 60 * 2.5 * 45 / 60, abs=6.0)
    assert spell.seconds == pytest.approx(60.0, abs=1.0)
    assert spell.rpm == pytest.approx(45.0)
    assert spell.grade == pytest.approx(0.12, rel=0.02)
    assert spell.gear.cog == 32
    assert use.spinning == ()


def test_the_rider_whose_cadences_judge_is_the_benchs() -> None:
    slow = BIKE.model_copy(update={"rider": Rider(cadence_rpm=(40.0, 60.0, 80.0))})
    ride = plan((2, 50, 100), (2, 90, 50))
    assert evidence_of([ride], BIKE).use.below_s == pytest.approx(100.0, abs=1.0)
    judged = evidence_of([ride], BIKE, slow).use
    assert judged.below_s == 0.0
    assert judged.above_s == pytest.approx(50.0, abs=1.0)


def test_on_the_bench_no_second_is_without_a_gear_that_serves_it() -> None:
    """Brute force over the pedalled seconds: those that no gear turns at 60 to 105 rpm."""
    bench = make((34,), (11, 13, 15, 18, 21, 24), rollout_mm=2100)
    ride = ridden_of(recorded(random_ride(GEARS, 9, 2400, (10, 40)), Sensors()), GEARS)
    found = on_bench([ride], bench, bench.rider)
    lasts = speeds = 0.0
    for at, state in enumerate(ride.found):
        if state >= 0:
            speed = ride.recording.speeds[at] / (1 + ride.wheel)
            turned = [60 * speed / gear.development_m for gear in gears_of(bench)]
            lasts += 0.0 if any(60 <= rpm <= 105 for rpm in turned) else ride.lasts[at]
            speeds += ride.lasts[at]
    assert found.without_s == pytest.approx(lasts)
    assert found.pedalled_s == pytest.approx(speeds)
    assert found.without_s > 0.0
    assert found.below_s + found.above_s >= found.without_s - 1e-6
    assert found.below_s + found.above_s <= found.without_s + 0.03 * found.pedalled_s, "shifted in time"
    assert math.fsum(found.cadences.values()) == pytest.approx(found.pedalled_s)


def test_on_the_bike_that_was_ridden_the_bench_is_no_worse() -> None:
    """Its own gears, chosen for the liked cadence, leave no more time outside of it than the rider did."""
    ride = plan((3, 40, 100), (2, 80, 100), (0, 120, 60))
    of = evidence_of([ride], BIKE, BIKE)
    assert of.bench is not None
    assert of.bench.below_s + of.bench.above_s < of.use.below_s + of.use.above_s


def test_a_wider_bench_leaves_less_without_a_gear() -> None:
    ride = plan((0, 45, 200), (2, 80, 300), (3, 120, 100))
    wide, narrow = (
        make((40,), (8, 10, 16, 20, 32, 44), rollout_mm=2000),
        make((40,), (16, 20), rollout_mm=2000),
    )
    outs = [evidence_of([ride], BIKE, bench).bench for bench in (wide, narrow)]
    assert outs[0] is not None
    assert outs[1] is not None
    assert outs[0].without_s == 0.0
    assert outs[1].without_s == pytest.approx(300.0, abs=10.0)


def test_speeds_alone_where_no_cadence_is_known() -> None:
    found = Recorder()
    for second in range(120):
        found.add(Moment(seconds=float(second), speed=7.0))
    use = evidence_of([found.recording("x", "")], BIKE).use
    assert not use.has_cadence
    assert use.pedalled_s == 0.0
    assert use.speeds == {25: 119.0}
    assert use.unknown_s == 119.0


def test_speeds_pedalled_are_counted_by_the_tenth() -> None:
    """18.0 and 24.0 km/h: what a plan is ranked by."""
    ride = ridden_of(plan((2, 60, 50), (2, 80, 70)), GEARS)
    assert {round(3.6 * v, 1): s for v, s in speeds_of([ride]).items()} == pytest.approx(
        {18.0: 50.0, 24.0: 69.0}
    )


def test_a_second_is_what_its_gear_says() -> None:
    assert Second(5.0, GEARS[2], True).rpm == 60.0


def test_time_pedalled_without_a_gear_counts_as_pedalled() -> None:
    """60 s in 5 m, 40 s in 3.2 m a turn, 20 % from the nearest gear, and 20 s in 5 m: 119 s to the last."""
    found = Recorder()
    for second in range(120):
        between = 60 <= second < 100
        metres, rpm = (3.2, 60.0) if between else (5.0, 80.0)
        found.add(Moment(seconds=float(second), speed=metres * rpm / 60, rpm=rpm, height_m=0.0))
    use = evidence_of([found.recording("x", "")], BIKE).use
    assert use.other_s == pytest.approx(40.0, abs=2.0)
    assert use.pedalled_s == pytest.approx(119.0)


def test_a_cadence_that_drops_out_for_a_moment_is_that_of_speed_and_gear() -> None:
    """5 m at 84 rpm are 7 m/s; two rows without a cadence count in the class from 80 like the rest."""
    found = Recorder()
    for second in range(100):
        found.add(Moment(seconds=float(second), speed=7.0, rpm=math.nan if second in (50, 51) else 84.0))
    assert evidence_of([found.recording("x", "")], BIKE).use.cadences == {80: 99.0}
