"""Rides of a few moments, worked out by hand: what each counts for, and each limit on both sides."""

import math
from array import array
from collections.abc import Sequence

import pytest

from cogwright.core.gears.gears import gears_of
from cogwright.core.riding.evidence import gear_found
from cogwright.core.riding.evidence.gear_found import (
    COASTING,
    NO_CADENCE,
    NO_GEAR,
    STANDING,
    Ridden,
    _back_date,
    _bridge,
    _error2,
    _Finder,
    _lasts,
    _runs,
    _state,
    _ways,
    alike,
)
from cogwright.core.riding.evidence.on_bench import on_bench, speeds_of
from cogwright.core.riding.evidence.use import _grade, _shifts, together, use_of
from cogwright.core.riding.recording import Moment, Recorder, Recording
from cogwright.core.setup.model import Rider
from support import make

BIKE = make((40,), (10, 16, 20, 32), rollout_mm=2000)  # 2.5, 4, 5 and 8 m
GEARS = gears_of(BIKE)
RIDER = Rider(cadence_rpm=(60.0, 85.0, 105.0))


def ride(
    found: Sequence[int],
    rpms: Sequence[float],
    lasts: Sequence[float] | None = None,
    heights: Sequence[float] | None = None,
    wheel: float = 0.0,
) -> Ridden:
    """A second a moment and 10 m on from each, but for the last; speeds are those of gear and cadence."""
    many = len(found)
    speeds = [
        GEARS[state].development_m * rpm / 60.0 * (1.0 + wheel)
        if state >= 0
        else 0.0
        if state == STANDING
        else 5.0
        for state, rpm in zip(found, rpms, strict=True)
    ]
    metres = [10.0 * at for at in range(many)]
    of = Recording("r", "", list(map(float, range(many))), metres, heights or [0.0] * many, speeds, rpms)
    ways = [10.0] * (many - 1) + [0.0]
    return Ridden(of, GEARS, found, lasts or [1.0] * (many - 1) + [0.0], ways, wheel, rpms)


def test_what_moments_add_up_to() -> None:
    """Two seconds in 4 m, one coasted, one without a gear, one unknown, one stood, 3 s in 8 m."""
    found = [1, 1, COASTING, NO_GEAR, NO_CADENCE, STANDING, 3, 0]
    use = use_of(ride(found, [80, 80, 0, 50, 0, 0, 90, 0], [1, 1, 1, 1, 1, 1, 3, 0]), RIDER)
    assert (use.seconds, use.metres) == (9.0, 70.0)
    assert (use.pedalled_s, use.coasted_s, use.other_s, use.unknown_s) == (6.0, 1.0, 1.0, 1.0)
    assert list(use.times.values()) == [0.0, 2.0, 0.0, 3.0]
    assert list(use.ways.values()) == [0.0, 20.0, 0.0, 10.0]
    assert use.never == (GEARS[0], GEARS[2])
    assert use.shifts == 2
    assert use.shifts_a_km == pytest.approx(2000.0 / 70.0)
    assert use.cadences == {0: 0.0, 80: 2.0, 90: 3.0}
    assert use.rides == ("r",)


def test_a_ride_that_goes_nowhere_has_no_shifts_a_kilometre() -> None:
    assert use_of(ride([0], [80.0]), RIDER).shifts_a_km == 0.0
    far = use_of(ride([0, 1], [80.0, 80.0]), RIDER)
    assert far.metres == 10.0
    assert far.shifts_a_km == 100.0


def test_shifts_are_between_moments_in_gears() -> None:
    assert _shifts([0, COASTING, 0, NO_GEAR, 1, 1, STANDING, 0]) == 2


def test_speeds_are_in_classes_of_5_km_h_and_leave_out_standing() -> None:
    """2.5 m at 80 rpm are 12 km/h, 4 m at 125/3 rpm are 10, and 5 m/s 18."""
    use = use_of(ride([0, 1, COASTING, STANDING, 0], [80.0, 125 / 3, 0, 0, 80.0]), RIDER)
    assert use.speeds == {10: 2.0, 15: 1.0}


@pytest.mark.parametrize(
    ("rpm", "below", "above"), [(60.0, 0.0, 0.0), (59.9, 9.0, 0.0), (105.0, 0.0, 0.0), (105.1, 0.0, 9.0)]
)
def test_outside_is_under_the_low_cadence_and_over_the_high_one(
    rpm: float, below: float, above: float
) -> None:
    use = use_of(ride([1] * 10, [rpm] * 10), RIDER)
    assert (use.below_s, use.above_s) == (below, above)
    assert (len(use.grinding), len(use.spinning)) == (int(below > 0), int(above > 0))


def test_a_stretch_by_hand() -> None:
    """Six seconds at 50 rpm up 4 %, three in 4 m and four, of 40 rpm, in 5 m; the last lasts nothing."""
    found = [3, 1, 1, 2, 2, 2, 3, 3]
    rpms = [90.0, 50.0, 50.0, 40.0, 40.0, 40.0, 90.0, 90.0]
    heights = [0.0, 0.4, 0.8, 1.2, 1.6, 2.0, 2.4, 2.8]
    [spell] = use_of(ride(found, rpms, [1, 1, 1, 2, 1, 1, 1, 0], heights), RIDER).grinding
    assert (spell.ride, spell.start_m, spell.end_m, spell.seconds) == ("r", 10.0, 60.0, 6.0)
    assert spell.rpm == pytest.approx((2 * 50 + 4 * 40) / 6)
    assert spell.grade == pytest.approx(0.04)
    assert spell.gear == GEARS[2]


def test_stretches_are_told_from_5_s_on_and_together_within_50_m() -> None:
    low, well = 50.0, 90.0
    assert use_of(ride([1] * 6, [low] * 5 + [well]), RIDER).grinding[0].seconds == 5.0
    assert use_of(ride([1] * 6, [low] * 4 + [well] * 2), RIDER).grinding == ()
    for between, told in ((4, 1), (5, 2)):  # moments are 10 m apart: 50 m from one low moment to the next
        rpms = [low] * 6 + [well] * between + [low] * 6 + [well]
        spells = use_of(ride([1] * len(rpms), rpms), RIDER).grinding
        assert len(spells) == told
        assert sum(spell.seconds for spell in spells) == 12.0


def test_a_grade_needs_20_m_and_heights() -> None:
    def of(metres: float, *heights: float) -> Recording:
        return Recording("", "", [0.0, 1.0], [5.0, 5.0 + metres], heights, [1.0] * 2, [1.0] * 2)

    assert _grade(of(20.0, 3.0, 4.0), 0, 1) == pytest.approx(0.05)
    assert _grade(of(19.9, 3.0, 4.0), 0, 1) is None
    assert _grade(of(20.0, 3.0, math.nan), 0, 1) is None
    assert _grade(of(40.0, 4.0, 2.0), 0, 1) == pytest.approx(-0.05)


def test_a_cadence_of_nothing_in_a_gear_is_by_its_speed_and_the_wheel() -> None:
    """A sensor that is 10 % over: 5.6 m/s are 5.09 m/s, in 4 m 76.4 rpm."""
    of = ride([1, 1], [0.0, 0.0], wheel=0.1)
    recording = Recording("", "", [0.0, 1.0], [0.0, 5.0], [0.0, 0.0], [5.6, 5.6], [0.0, 0.0])
    moved = Ridden(recording, GEARS, of.found, of.lasts, of.ways, 0.1, of.rpms)
    assert use_of(moved, RIDER).cadences == {75: 1.0}


def test_rides_together_are_sums_and_the_wheel_is_that_of_their_pedalled_time() -> None:
    """2 s of a wheel 1 % over and 6 s of one 3 % under: -2 %."""
    one = use_of(ride([1, 1, 0], [80.0] * 3, wheel=0.01), RIDER)
    other = use_of(ride([3] * 6 + [COASTING, STANDING], [110.0] * 8, wheel=-0.03), RIDER)
    both = together([one, other])
    assert both.wheel == pytest.approx((2 * 0.01 - 6 * 0.03) / 8)
    assert both.shifts == one.shifts + other.shifts == 1
    for name in ("seconds", "metres", "coasted_s", "other_s", "unknown_s", "above_s"):
        assert getattr(both, name) == getattr(one, name) + getattr(other, name)
    assert both.cadences == {80: 2.0, 110: 6.0}
    assert list(both.speeds) == sorted(both.speeds)
    assert list(both.ways.values()) == [0.0, 20.0, 0.0, 60.0]
    assert both.spinning == other.spinning != ()
    assert both.ridden == (*one.ridden, *other.ridden)
    assert together([use_of(ride([STANDING] * 2, [0.0] * 2), RIDER)]).wheel == 0.0


@pytest.mark.parametrize(
    ("speed", "rpm", "state"),
    [
        (0.79, 80.0, STANDING), (0.8, 80.0, 0), (5.0, 20.0, 0), (5.0, 19.9, COASTING),
        (5.0, math.nan, NO_CADENCE), (math.nan, 80.0, NO_CADENCE), (0.0, math.nan, STANDING),
    ],
)  # fmt: skip
def test_what_a_moment_is(speed: float, rpm: float, state: int) -> None:
    assert _state(speed, rpm) == state


def test_moments_count_up_to_the_next_but_for_5_s_at_most() -> None:
    assert list(_lasts([0.0, 1.0, 1.0, 0.5, 5.5, 11.0, math.nan, 12.0])) == [1, 0, 0, 5, 5, 0, 0, 0]
    assert list(_ways([0.0, 3.0, 2.0, 2.5])) == [3.0, 0.0, 0.5, 0.0]


def test_runs_end_at_gaps_at_moments_without_a_gear_and_where_they_are_long(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    assert list(_runs([0, 0, -1, 0, -2, -2, 0, 0], list(range(8)))) == [(0, 2), (3, 4), (6, 8)]
    assert list(_runs([0, 0, 0, -1], [0.0, 5.0, 10.1, 11.0])) == [(0, 2), (2, 3)]
    assert list(_runs([-1, -1], [0.0, 1.0])) == []
    assert list(_runs([0, 0], [0.0, math.nan])) == [(0, 1), (1, 2)]
    monkeypatch.setattr(gear_found, "LONGEST", 3)
    assert list(_runs([0] * 7, list(range(7)))) == [(0, 3), (3, 6), (6, 7)]


def test_errors_of_a_development_add_up_as_squares() -> None:
    """Half a unit over root 3: 1 rpm of 80, 0.1 of 18 km/h; and 0.7 % of the wheel."""
    expected = (1 / 80) ** 2 / 12 + (0.1 / 18) ** 2 / 12 + 0.007**2
    assert _error2(5.0, 80.0) == pytest.approx(expected)


@pytest.mark.parametrize(("share", "named"), [(0.058, True), (-0.058, True), (0.062, False), (-0.062, False)])
def test_no_gear_is_near_that_is_6_percent_off(share: float, named: bool) -> None:
    finder = _Finder(GEARS, 0.0)
    assert finder._named(2, math.exp(share) * 5.0 * 80.0 / 60.0, 80.0) == (2 if named else NO_GEAR)


def test_of_the_slowest_moment_that_is_pedalled_that_is_three_errors() -> None:
    """0.8 m/s and 20 rpm are off by 1.9 %."""
    assert 0.05 < 3.0 * math.sqrt(_error2(0.8, 20.0)) < 0.06


def test_what_a_gear_costs_at_the_next_moment() -> None:
    """A shift at the rear costs 7, at the front 10: from the cheapest gear of the ring, or of all."""
    two = gears_of(make((30, 46), (11, 20), rollout_mm=2000))
    assert [(gear.ring, gear.cog) for gear in two] == [(30, 20), (46, 20), (30, 11), (46, 11)]
    finder = _Finder(two, 0.0)
    for costs, reached, came in (
        ([0.0, 50.0, 50.0, 50.0], [0.0, 10.0, 7.0, 10.0], [0, 0, 0, 0]),
        ([50.0, 50.0, 50.0, 0.0], [10.0, 7.0, 10.0, 0.0], [3, 3, 3, 3]),
        ([0.0, 6.0, 6.0, 2.0], [0.0, 6.0, 6.0, 2.0], [0, 1, 2, 3]),
        ([0.0, 20.0, 20.0, 1.0], [0.0, 8.0, 7.0, 1.0], [0, 3, 0, 3]),
        ([0.0, 20.0, 20.0, 4.0], [0.0, 10.0, 7.0, 4.0], [0, 0, 0, 3]),
    ):
        found, told = finder._reached(costs)
        assert told == reached
        assert list(found) == came


def test_a_gear_fits_by_its_squared_miss_over_the_error_and_no_worse_than_none() -> None:
    """Two errors off are half of four; whatever is far costs 9."""
    finder = _Finder(GEARS, 0.0)
    error = math.sqrt(_error2(5.0 * 80.0 / 60.0, 80.0))
    speed = 5.0 * math.exp(2.0 * error) * 80.0 / 60.0
    assert finder.misfit(2, speed, 80.0) == pytest.approx(2.0, rel=0.01)
    assert finder.misfit(0, speed, 80.0) == 9.0
    assert _Finder(GEARS, 0.02).misfit(2, 1.02 * 5.0 * 80.0 / 60.0, 80.0) == pytest.approx(0.0, abs=1e-9)


def test_a_gear_begins_a_second_before_it_was_told() -> None:
    """Told from the third second on; a moment between two gears is itself that of the shift."""
    finder = _Finder(GEARS, 0.0)

    def dated(found: list[int], metres: list[float], every: float = 1.0) -> list[int]:
        told, many = states(*found), [0.0] * len(found)
        seconds = [every * at for at in range(len(found))]
        speeds, rpms = [m * 80.0 / 60.0 for m in metres], [80.0] * len(found)
        _back_date(told, Recording("", "", seconds, many, many, speeds, rpms), finder)
        return list(told)

    assert dated([1, 1, 2, 2], [4.0, 4.0, 5.0, 5.0]) == [1, 2, 2, 2]
    assert dated([1, 1, 2, 2], [4.0, 4.0, 4.6, 5.0]) == [1, 1, 2, 2]
    assert dated([1, 1, 2, 2], [4.0, 4.0, 5.0, 5.0], every=1.6) == [1, 1, 2, 2]
    assert dated([1, 1, 2, 2], [4.0, 4.0, 5.0, 5.0], every=1.5) == [1, 2, 2, 2]
    assert dated([NO_GEAR, NO_GEAR, 2], [4.0, 4.5, 5.0]) == [NO_GEAR, 2, 2]
    assert dated([COASTING, 2], [4.0, 5.0]) == [COASTING, 2]
    assert dated([1, COASTING], [4.0, 4.0]) == [1, COASTING]


def states(*found: int) -> "array[int]":
    return array("h", found)


@pytest.mark.parametrize(
    ("found", "lasts", "bridged"),
    [
        ((1, NO_CADENCE, 1), (1, 1, 1), (1, 1, 1)),
        ((1, NO_CADENCE, 2), (1, 1, 1), (1, NO_CADENCE, 2)),
        ((NO_CADENCE, 1), (1, 1), (NO_CADENCE, 1)),
        ((0, NO_CADENCE, NO_CADENCE, 0), (1, 1, 3, 1), (0, 0, 0, 0)),  # 5 s from gear to gear
        ((0, NO_CADENCE, NO_CADENCE, 0), (1, 1, 3.1, 1), (0, NO_CADENCE, NO_CADENCE, 0)),
        ((1, COASTING, 1), (1, 1.5, 1), (1, 1, 1)),  # a single one: 2.5 s
        ((1, COASTING, 1), (1, 1.6, 1), (1, COASTING, 1)),
        ((1, COASTING, COASTING, 1), (0.5, 0.5, 0.5, 1), (1, COASTING, COASTING, 1)),
        ((1, NO_CADENCE, COASTING, 1), (1, 1, 1, 1), (1, 1, COASTING, 1)),
        ((1, STANDING, 1), (1, 1, 1), (1, STANDING, 1)),
        ((1, NO_CADENCE, STANDING, NO_CADENCE, 1), (1,) * 5, (1, NO_CADENCE, STANDING, NO_CADENCE, 1)),
        ((1, NO_GEAR, 1), (1, 1, 1), (1, 1, 1)),
    ],
)
def test_what_is_bridged_between_two_of_one_gear(
    found: tuple[int, ...], lasts: tuple[float, ...], bridged: tuple[int, ...]
) -> None:
    told = states(*found)
    _bridge(told, lasts)
    assert tuple(told) == bridged


@pytest.mark.parametrize(("ratio", "pairs"), [(1.0149, 1), (1.0151, 0)])
def test_gears_nearer_than_one_and_a_half_percent_are_alike(ratio: float, pairs: int) -> None:
    hub = gears_of(make((40,), (20,), rear={"hub_ratios": [1.0, ratio]}))
    found = alike(hub)
    assert len(found) == pairs
    assert found == ((hub[0], hub[1]),) * pairs


def test_on_the_bench_by_hand() -> None:
    """5 m/s and 2.5 m/s on gears of 4 and 2 m: 75 rpm, and 75; 10 m/s is spun out at 150, 1 m/s ground."""
    bench = make((40,), (20, 40), rollout_mm=2000)  # 2 and 4 m
    found = Recorder()
    for at, speed in enumerate([5.0] * 60 + [2.5] * 60 + [10.0] * 30 + [1.0] * 60):
        found.add(Moment(seconds=float(at), speed=speed, rpm=80.0, height_m=0.0))
    recording = found.recording("r", "")
    lasts = [1.0] * 209 + [0.0]
    ridden = Ridden(recording, GEARS, [1] * 210, lasts, [1.0] * 210, 0.0, recording.rpms)
    of = on_bench([ridden], bench, RIDER)
    assert of.pedalled_s == 209.0
    assert [gear.development_m for gear in of.times] == [2.0, 4.0]
    assert of.times[gears_of(bench)[1]] == pytest.approx(90.0)
    assert (of.above_s, of.below_s, of.without_s) == pytest.approx((30.0, 59.0, 89.0))
    assert of.cadences == pytest.approx({30: 59.0, 75: 120.0, 150: 30.0})
    assert list(of.cadences) == sorted(of.cadences)
    assert of.changes == 3
    assert of.left_out == {}
    twice = on_bench([ridden, ridden], bench, RIDER)
    assert (twice.changes, twice.pedalled_s) == (6, 418.0)


@pytest.mark.parametrize(("rpm", "without"), [(60.0, False), (59.9, True), (105.0, False), (105.1, True)])
def test_on_the_bench_a_gear_serves_at_the_cadences_that_are_liked(rpm: float, without: bool) -> None:
    """One gear of 4 m."""
    bench = make((40,), (20,), rollout_mm=2000)
    of = on_bench([ride([1] * 40, [rpm] * 40)], bench, RIDER)
    assert of.without_s == (39.0 if without else 0.0)
    assert of.below_s == (39.0 if rpm < 60.0 else 0.0)
    assert of.above_s == (39.0 if rpm > 105.0 else 0.0)


def test_on_the_bench_speeds_are_those_of_a_right_wheel() -> None:
    """A sensor 25 % over: 80 rpm in 4 m, told as 100."""
    bench = make((40,), (20,), rollout_mm=2000)
    of = on_bench([ride([1] * 40, [80.0] * 40, wheel=0.25)], bench, RIDER)
    assert of.cadences in ({80: 39.0}, {75: 39.0})
    [(speed, seconds)] = speeds_of([ride([1] * 3, [81.0] * 3, wheel=0.25)]).items()
    assert (3.6 * speed, seconds) == pytest.approx((19.4, 2.0)), "19.44 km/h by the tenth"


def test_on_the_bench_coasting_and_standing_count_for_nothing() -> None:
    bench = make((40,), (20,), rollout_mm=2000)
    of = on_bench([ride([COASTING, 1, STANDING, NO_GEAR, 1, 1], [0, 80, 0, 80, 80, 80])], bench, RIDER)
    assert of.pedalled_s == 2.0
    assert of.changes == 0
