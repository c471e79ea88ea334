"""Gears found from rides whose gears are known, through sensors with their rounding, lag and drop-outs."""

import math
import random
from array import array

import pytest

from cogwright.core.gears.gears import Gear, gears_of
from cogwright.core.riding.evidence import gear_found
from cogwright.core.riding.evidence.evidence import ridden_on
from cogwright.core.riding.evidence.gear_found import (
    ALIKE_PCT,
    COASTING,
    NO_CADENCE,
    NO_GEAR,
    STANDING,
    alike,
    ridden_of,
)
from cogwright.core.riding.recording import Moment, Recorder, Recording
from cogwright.store.documents import read_setup
from support import ROOT, long_run, make
from synthetic import LATE, Second, Sensors, random_ride, recorded

#: Bikes of which no two gears are so close that moments cannot tell them apart, and bikes with such gears.
PLAIN = ["yard-3-fell", "yard-1-two-rings", "yard-4-town", "yard-9-veteran", "yard-1-first-trial"]
TWINS = ["yard-2-camping", "yard-7-pass"]


def gears_named(name: str) -> tuple[Gear, ...]:
    return gears_of(read_setup(ROOT / "setups" / f"{name}.toml").value)


def shares(ride: list[Second], recording: Recording, gears: tuple[Gear, ...]) -> tuple[float, float]:
    """Share of the pedalled seconds in the right gear, and in one that is alike to it."""
    found = ridden_of(recording, gears).found
    right = like = total = 0
    for now, at in zip(ride, found, strict=True):
        if now.pedalled:
            total += 1
            told = gears[at] if at >= 0 else None
            right += told == now.gear
            like += told not in {now.gear, None} and near(told, now.gear)
    return right / total, like / total


def near(a: Gear | None, b: Gear) -> bool:
    return a is not None and abs(math.log(a.development_m / b.development_m)) < math.log(1 + ALIKE_PCT / 100)


@pytest.mark.long(cases=2)
@pytest.mark.parametrize("name", PLAIN)
@pytest.mark.parametrize("late", ["always", "after shifts", "as a mean"])
def test_pedalled_seconds_are_in_the_right_gear(name: str, late: str) -> None:
    """At least 97 % with cadence in whole rpm, speed in tenths of km/h, a second of lag, 1 % of drop-outs."""
    gears = gears_named(name)
    for seed in range(long_run(10)):
        for between in ((20.0, 60.0), (8.0, 30.0)):
            ride = random_ride(gears, seed, 1200, between)
            right, _ = shares(ride, recorded(ride, Sensors(late, drops=0.01), seed), gears)
            assert right >= 0.97, (seed, between, right)


@pytest.mark.long(cases=1)
@pytest.mark.parametrize("name", PLAIN[:2])
def test_a_sensor_that_is_never_late_costs_a_second_a_shift(name: str) -> None:
    """A shift a minute: what is taken off for the lag of common sensors is too much, and still 97 %."""
    gears = gears_named(name)
    ride = random_ride(gears, 3, 1800, (40.0, 80.0))
    assert shares(ride, recorded(ride, Sensors("never")), gears)[0] >= 0.97


@pytest.mark.long(cases=1)
@pytest.mark.parametrize("name", TWINS)
@pytest.mark.parametrize("late", LATE)
def test_misses_are_between_gears_that_are_alike(name: str, late: str) -> None:
    """What is not in the right gear is in one that moments cannot tell from it, but for 3 %."""
    gears = gears_named(name)
    for seed in range(long_run(10)):
        ride = random_ride(gears, seed, 1200, (30.0, 80.0))
        right, like = shares(ride, recorded(ride, Sensors(late, drops=0.01), seed), gears)
        assert right + like >= 0.97
    pairs = alike(gears)
    assert pairs
    assert all(near(a, b) for a, b in pairs)


@pytest.mark.parametrize("name", PLAIN)
def test_bikes_whose_gears_can_be_told_name_no_pairs(name: str) -> None:
    assert alike(gears_named(name)) == ()


@pytest.mark.long(cases=0)
@pytest.mark.parametrize("over", [-0.02, 0.015, 0.025])
def test_speeds_of_another_wheel_are_allowed_for(over: float) -> None:
    """A sensor set to a wheel 2 % too small or too large, and how much it is off is found."""
    gears = gears_named("yard-3-fell")
    ride = random_ride(gears, 5, 1800, (20.0, 60.0))
    off = [Second(now.speed * (1 + over), now.gear, now.pedalled) for now in ride]
    told = recorded(ride, Sensors("always"))
    speeds = recorded(off, Sensors("always")).speeds
    moved = Recording("x", "", told.seconds, told.metres, told.heights_m, speeds, told.rpms)
    assert shares(ride, moved, gears)[0] >= 0.97
    assert ridden_of(moved, gears).wheel == pytest.approx(over, abs=0.003)


def rows(*moments: tuple[float, float, float]) -> Recording:
    """A recording of (s, km/h, rpm)."""
    found = Recorder()
    for second, speed, rpm in moments:
        found.add(Moment(seconds=second, speed=speed / 3.6, rpm=rpm))
    return found.recording("x", "")


GEARS = gears_of(make((40,), (10, 16, 20, 32), rollout_mm=2000))  # 2.5, 4, 5 and 8 m


def test_a_second_that_is_told_twice_lasts_once() -> None:
    """Eleven rows from 0 to 9 s, the fifth second twice: 9 s in all, and the last row lasts nothing."""
    moments = [(float(s), 24.0, 80.0) for s in (0, 1, 2, 3, 4, 5, 5, 6, 7, 8, 9)]
    ridden = ridden_of(rows(*moments), GEARS)
    assert math.fsum(ridden.lasts) == 9.0
    assert ridden.lasts[-1] == 0.0


def test_coasting_standing_and_slack_pedals_are_no_gears() -> None:
    """5 m at 80 rpm is 24 km/h; then legs at rest, legs turning with nothing on them, no cadence, a stop."""
    steady = [(float(s), 24.0, 80.0) for s in range(30)]
    coast = [(30.0 + s, 24.0, 0.0) for s in range(10)]
    slack = [(40.0 + s, 24.0, 30.0) for s in range(10)]
    blind = [(50.0 + s, 24.0, math.nan) for s in range(10)]
    still = [(60.0 + s, 0.0, 0.0) for s in range(10)]
    found = ridden_of(rows(*steady, *coast, *slack, *blind, *still), GEARS).found
    middles = {part: found[part + 5] for part in (0, 30, 40, 50, 60)}
    assert middles == {0: 2, 30: COASTING, 40: NO_GEAR, 50: NO_CADENCE, 60: STANDING}
    assert max(COASTING, NO_GEAR, NO_CADENCE, STANDING) < 0, "gears are counted from 0"


def test_a_short_drop_out_is_bridged_and_a_long_one_is_not() -> None:
    """Three seconds without a cadence between two of one gear are ridden in it; eight are not known."""
    for gap, told in ((3, 2), (8, NO_CADENCE)):
        moments = [(float(s), 24.0, math.nan if 20 <= s < 20 + gap else 80.0) for s in range(60)]
        assert ridden_of(rows(*moments), GEARS).found[22] == told


def test_a_cadence_that_drops_to_nothing_for_a_second_is_bridged() -> None:
    moments = [(float(s), 24.0, 0.0 if s == 20 else 80.0) for s in range(60)]
    assert ridden_of(rows(*moments), GEARS).found[20] == 2


@pytest.mark.long(cases=0)
def test_a_very_long_run_is_looked_at_in_parts(monkeypatch: pytest.MonkeyPatch) -> None:
    """Parts of two minutes: the gears at their ends are found as well."""
    gears = gears_named("yard-3-fell")
    ride = random_ride(gears, 8, 1800, (20.0, 60.0))
    monkeypatch.setattr(gear_found, "LONGEST", 120)
    assert shares(ride, recorded(ride, Sensors("always")), gears)[0] >= 0.97


def test_whoever_is_told_between_parts_can_end_the_search(monkeypatch: pytest.MonkeyPatch) -> None:
    """And what has been found once is not looked for again."""

    class Enough(Exception):
        pass

    def stop() -> None:
        raise Enough

    monkeypatch.setattr(gear_found, "LONGEST", 120)
    ride, told = recorded(random_ride(GEARS, 8, 600, (20.0, 60.0)), Sensors("always")), list[int]()
    bike = read_setup(ROOT / "setups" / "yard-3-fell.toml").value
    with pytest.raises(Enough):
        ridden_on([ride], bike, told=stop)
    ridden_on([ride], bike, told=lambda: told.append(1))
    assert len(told) > 3
    ridden_on([ride], bike, told=stop)


def test_a_pause_of_the_recorder_counts_for_seconds_only() -> None:
    """Moments an hour apart: the first of them counts for 5 s."""
    moments = [(float(s), 24.0, 80.0) for s in range(10)] + [(3600.0 + s, 24.0, 80.0) for s in range(10)]
    assert sum(ridden_of(rows(*moments), GEARS).lasts) == pytest.approx(9 + 5 + 9)


@pytest.mark.parametrize("every", [2.0, 4.0])
def test_a_recorder_that_writes_now_and_then(every: float) -> None:
    """Every 2 or 4 s: the times in the gears are those ridden, to within the seconds of the shifts."""
    rng, gear, moments, true = (
        random.Random(2),
        2,
        list[tuple[float, float, float]](),
        dict.fromkeys(range(4), 0.0),
    )
    for at in range(400):
        if at % 20 == 0:
            gear = rng.randrange(4)
        rpm = 80 + rng.randrange(-4, 5)
        moments.append((every * at, GEARS[gear].development_m * rpm * 0.06, float(rpm)))
        true[gear] += every
    found = ridden_of(rows(*moments), GEARS)
    for place in range(4):
        told = sum(lasts for state, lasts in zip(found.found, found.lasts, strict=True) if state == place)
        assert told == pytest.approx(true[place], abs=40.0)


def test_speeds_out_of_ways_are_those_of_the_seconds_on_both_sides() -> None:
    """A way of t squared: the mean speed from t - 2 to t + 2 s is 2 t, and from behind alone 2 t - 2."""
    found = Recorder()
    for second in range(40):
        found.add(Moment(seconds=float(second), metres=float(second**2)))
    speeds = found.recording("x", "").speeds
    assert [round(v, 3) for v in speeds[10:30]] == [2.0 * t for t in range(10, 30)]


def test_a_cadence_that_is_told_a_second_late_is_moved_to_when_it_was_turned() -> None:
    """The recorder is made to tell each cadence a second after; what is not late is left."""
    gears = gears_named("yard-3-fell")
    ride = random_ride(gears, 5, 900, (20.0, 60.0))
    now = recorded(ride, Sensors("never"))
    late = [math.nan, *now.rpms[:-1]]
    told = Recording("x", "", now.seconds, now.metres, now.heights_m, now.speeds, array("f", late))
    assert list(ridden_of(told, gears).rpms[:-1]) == list(now.rpms[:-1])
    assert list(ridden_of(now, gears).rpms) == list(now.rpms)


def test_rows_that_are_not_a_second_apart_say_nothing_of_a_lag() -> None:
    gears = gears_named("yard-3-fell")
    now = recorded(random_ride(gears, 5, 900, (20.0, 60.0)), Sensors("never"))
    late = array("f", [math.nan, *now.rpms[:-1]])
    spread = array("d", [5.0 * second for second in now.seconds])
    told = Recording("x", "", spread, now.metres, now.heights_m, now.speeds, late)
    assert list(ridden_of(told, gears).rpms[1:]) == list(late[1:])
