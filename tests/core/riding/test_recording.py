"""What a recorder's rows come to, worked out by hand."""

import math
from collections.abc import Sequence

import pytest

from cogwright.core.riding import recording as module
from cogwright.core.riding.recording import (
    EARTH_M,
    Moment,
    Place,
    Recorder,
    Recording,
    _along,
    _by_speed,
    _not_falling,
    _speeds,
    _stop,
    apart,
)

NAN = math.nan
#: A degree of latitude in m, and of longitude at the equator.
DEGREE = math.pi * EARTH_M / 180.0


def of(*moments: Moment) -> Recording:
    found = Recorder()
    for moment in moments:
        found.add(moment)
    assert len(found) == len(moments)
    return found.recording("x", "x.csv")


def same(found: Sequence[float], expected: Sequence[float]) -> bool:
    return list(map(str, found)) == list(map(str, map(float, expected)))


def test_distances_on_a_sphere() -> None:
    """A degree either way at the equator; at 60 degrees north half of it; the pole is 90 of them away."""
    assert apart(Place(0, 0), Place(1, 0)) == pytest.approx(DEGREE)
    assert apart(Place(0, 5), Place(0, 6)) == pytest.approx(DEGREE)
    assert apart(Place(60, 0), Place(60, 0.01)) == pytest.approx(0.01 * DEGREE / 2, rel=1e-6)
    assert apart(Place(0, 0), Place(90, 0)) == pytest.approx(90 * DEGREE)
    assert apart(Place(0, 0), Place(0, 180)) == pytest.approx(180 * DEGREE)
    assert apart(Place(30, 10), Place(40, 30)) == apart(Place(40, 30), Place(30, 10))


def test_what_is_known_of_a_recording() -> None:
    both = of(Moment(0.0, speed=1.0, rpm=5.0, height_m=2.0), Moment(1.0, speed=NAN, height_m=3.0))
    assert (both.timed, both.has_cadence, both.has_speed, both.has_heights) == (True,) * 4
    none = of(Moment(0.0, rpm=0.0), Moment(NAN, height_m=3.0))
    assert (none.timed, none.has_cadence, none.has_speed, none.has_heights) == (False,) * 4
    assert of(Moment(0.0), Moment(1.0), Moment(NAN)).timed
    assert of(Moment(0.0, rpm=0.5)).has_cadence, "any over 0"
    assert of(Moment(0.0, speed=0.0), Moment(1.0, speed=0.0)).has_speed
    assert of().length_m == 0.0


def test_the_road_goes_from_the_first_height_to_the_last() -> None:
    rows = [Moment(metres=m, height_m=h) for m, h in ((0, NAN), (10, 5), (20, NAN), (35, 7), (50, NAN))]
    told = of(*rows)
    assert list(told.road()) == [(0.0, 5.0), (25.0, 7.0)]
    assert (told.road_m, told.length_m) == (25.0, 50.0)
    assert of(*rows[:1], *rows[2:3]).road_m == 0.0
    assert of(Moment(metres=3.0, height_m=1.0), Moment(metres=9.0, height_m=1.0)).road_m == 6.0


def test_times_count_from_the_first_that_is_known() -> None:
    assert same(of(Moment(NAN), Moment(100.0), Moment(103.0)).seconds, [NAN, 0, 3])
    assert same(of(Moment(NAN)).seconds, [NAN])


def test_ways_are_as_recorded_else_between_places_else_by_speed() -> None:
    """Three rows; what most of them have is taken."""
    east = [Place(0.0, 0.001 * at) for at in range(3)]
    metres = [Moment(float(at), east[at], metres=50.0 * at, speed=7.0) for at in range(3)]
    assert list(of(*metres).metres) == [0.0, 50.0, 100.0]
    assert list(of(*metres).speeds) == [7.0] * 3
    few = [row if at == 1 else row._replace(metres=NAN) for at, row in enumerate(metres)]
    assert list(of(*few).metres) == pytest.approx([0.0, 0.001 * DEGREE, 0.002 * DEGREE])
    placeless = [row._replace(metres=NAN, place=None) for row in metres]
    assert list(of(*placeless).metres) == [0.0, 7.0, 14.0]


def test_ways_that_fall_or_are_missing_stay_where_they_were() -> None:
    assert list(_not_falling([NAN, 5.0, 9.0, 7.0, NAN, 12.0])) == [0, 0, 4, 4, 4, 7]


def test_ways_by_speed_add_up_what_is_known() -> None:
    """From 0 s, 2 s unknown speed, 3 s at 4, an unknown time, 5 s at 6 m/s, back in time."""
    found = _by_speed([0.0, 2.0, 3.0, NAN, 5.0, 4.0], [9.0, NAN, 4.0, 5.0, 6.0, 6.0])
    assert list(found) == [0.0, 0.0, 4.0, 4.0, 16.0, 16.0]


def test_ways_between_places_pass_over_gaps() -> None:
    lats, lons = [0.0, NAN, 0.001, 0.001], [0.0, NAN, 0.0, 0.002]
    found = _along(lats, lons, [0.0, 1.0, 2.0, 3.0])
    assert list(found) == pytest.approx([0.0, 0.0, 0.001 * DEGREE, 0.003 * DEGREE], rel=1e-6)


def east(*metres: float) -> list[float]:
    return [m / DEGREE for m in metres]


@pytest.mark.parametrize(
    ("metres", "every", "end"),
    [
        ((0, 3, -3, 0, 500), 10.0, 4),  # 30 s within 10 m
        ((0, 3, -3, 0, 500), 9.9, 1),  # not as long as that
        ((0, 9.9, 500, 600, 700), 30.0, 2),
        ((0, 10.1, 500, 600, 700), 30.0, 1),
        ((0, 0, 40, 0, 0, 500), 10.0, 5),  # a single place that is off
        ((0, 0, 40, 40, 0, 0), 30.0, 2),  # two of them end it
        ((0, 8, 16, 24, 32), 30.0, 2),  # the middle is at 4 m, and 16 is 12 m from it
    ],
)
def test_who_stays_within_10_m_for_30_s_stands_still(
    metres: tuple[float, ...], every: float, end: int
) -> None:
    lons = east(*metres)
    assert _stop([0.0] * len(lons), lons, [every * at for at in range(len(lons))], 0) == end


def test_the_middle_of_a_stop_moves_with_its_places() -> None:
    """0, 9 and 13 m: their middle is at 7.3 m, so 17 m is near and 18 m is not."""
    for last, end in ((17.2, 4), (17.5, 3)):
        lons = east(0.0, 9.0, 13.0, last, 900.0)
        assert _stop([0.0] * 5, lons, [30.0 * at for at in range(5)], 0) == end
        assert _stop(lons, [0.0] * 5, [30.0 * at for at in range(5)], 0) == end


def test_a_stop_is_one_place_its_mean() -> None:
    """From 0 m on, 40 s around 101 m, then 200 m: 101 m and 99 m."""
    lons = east(0.0, 100.0, 103.0, 100.0, 101.0, 200.0)
    found = _along([0.0] * 6, lons, [0.0, 10.0, 20.0, 30.0, 40.0, 50.0])
    assert list(found) == pytest.approx([0.0, 101.0, 101.0, 101.0, 101.0, 200.0])


def test_speeds_are_over_two_seconds_on_both_sides() -> None:
    """Ways of 0, 1, 3, 6, 10 and 15 m, a second apart, then a pause of 9 s."""
    found = _speeds([0.0, 1.0, 2.0, 3.0, 4.0, 5.0, 14.0], [0.0, 1.0, 3.0, 6.0, 10.0, 15.0, 15.0])
    assert list(found)[:6] == pytest.approx([1.5, 2.0, 2.5, 14 / 4, 4.0, 4.5])
    assert math.isnan(found[6])
    assert math.isnan(_speeds([0.0], [0.0])[0])
    assert all(map(math.isnan, _speeds([NAN, NAN], [0.0, 5.0])))


def test_a_recorder_is_full_at_its_most(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(module, "MOST_MOMENTS", 2)
    found = Recorder()
    for full in (False, False, True):
        assert found.full is full
        found.add(Moment())
