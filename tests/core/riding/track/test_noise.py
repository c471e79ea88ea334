"""The noise of heights, spikes and the doubt of a climb, each at its limits and by hand."""

import math
import random
from itertools import accumulate
from statistics import median

import numpy as np
import pytest

from cogwright.core.riding.track.curves import MeasuredRoad
from cogwright.core.riding.track.moments import Moments, Point
from cogwright.core.riding.track.noise import _miss, cell_means, noise_of
from cogwright.core.riding.track.recorded import _doubt, despike, from_track, thin


def heights(seed: int, count: int, every: float) -> list[Point]:
    rng = random.Random(seed)
    return [(every * at + rng.uniform(0.0, 0.4 * every), rng.gauss(0.0, 1.0)) for at in range(count)]


def off_parabola(four: list[Point]) -> float:
    """By how much the third misses the parabola through the others, by numpy, in its own standard error."""
    at, height = four[2]
    others = [four[0], four[1], four[3]]
    powers = np.vander([x - at for x, _ in others], 3)
    shares = np.linalg.solve(powers.T, [0.0, 0.0, 1.0])
    return float(abs(height - shares @ [h for _, h in others]) / math.sqrt(1.0 + shares @ shares))


def of_fours(points: list[Point]) -> float:
    fours = [points[at : at + 4] for at in range(len(points) - 3)]
    return median(off_parabola(four) for four in fours) / 0.67449


@pytest.mark.parametrize("seed", range(4))
def test_a_miss_is_that_from_a_parabola(seed: int) -> None:
    four = heights(seed, 4, 10.0)
    assert _miss(*four) == pytest.approx(off_parabola(four))


def test_noise_is_that_of_points_or_of_what_means_keep_of_it() -> None:
    """The most of: the points; means of 10 m, and of 20 m, by the root of how many a mean has."""
    seen = set()
    for seed in range(12):
        points = heights(seed, 60, 6.0)
        found = [of_fours(points)]
        for size in (10.0, 20.0):
            cells = cell_means(points, size)
            found.append(of_fours(cells) * math.sqrt(60 / len(cells)))
        assert noise_of(points) == pytest.approx(max(found))
        seen.add(found.index(max(found)))
    assert seen == {0, 1, 2}


def test_eight_fours_tell_the_noise_and_seven_do_not() -> None:
    points = [(50.0 * at, float(at % 3)) for at in range(11)]
    assert noise_of(points) is not None
    assert noise_of(points[:-1]) is None


@pytest.mark.parametrize(("gap", "told"), [(60.0, True), (61.0, False)])
def test_fours_longer_than_200_m_tell_nothing(gap: float, told: bool) -> None:
    """Gaps of 70, 70 and 60 m by turns: any three of them are 200 m."""
    ways = accumulate([0.0, *(3 * (70.0, 70.0, gap)), 70.0, 70.0])
    points = [(x, float(at % 3)) for at, x in enumerate(ways)]
    assert (noise_of(points) is not None) is told


def spiked(*heights: float, every: float = 10.0) -> list[float]:
    points = [(every * at, height) for at, height in enumerate(heights)]
    assert [x for x, _ in despike(points)] == [x for x, _ in points]
    return [height for _, height in despike(points)]


@pytest.mark.parametrize("sign", [1.0, -1.0])
def test_a_spike_stands_off_both_sides_by_more_than_8_m(sign: float) -> None:
    for off, left in ((8.0, 8.0), (8.1, 0.0)):
        assert spiked(0, 0, sign * off, 0, 0) == [0, 0, sign * left, 0, 0]
    assert spiked(0, 0, sign * 30, sign * 25, sign * 25)[2] == sign * 30, "near to one side"
    assert spiked(0, 0, sign * 30, sign * 10, sign * 12)[2] == (6.0 if sign > 0.0 else -5.0)


@pytest.mark.parametrize("sign", [1.0, -1.0])
def test_one_side_that_is_low_in_part_makes_no_spike_of_a_hill(sign: float) -> None:
    """After it the middle is 28 m; and heights below the sea are heights like others."""
    for at, of in (
        (2, (0, 0, 30, 28, 28, 0)),
        (2, (-60, -60, -32, -33, -33, -60)),
        (3, (28, 28, 0, 30, 0, 0)),
    ):
        assert spiked(*(sign * h for h in of))[at] == sign * of[at]


@pytest.mark.parametrize("sign", [1.0, -1.0])
def test_at_an_end_it_stands_off_by_more_than_20_m(sign: float) -> None:
    for off, left in ((20.0, 20.0), (20.1, 0.0)):
        assert spiked(sign * off, 0, 0, 0) == [sign * left, 0, 0, 0]
        assert spiked(0, 0, 0, sign * off) == [0, 0, 0, sign * left]


def test_a_spike_is_judged_by_the_middle_of_its_neighbours() -> None:
    """Of 1, 2 and 3 m the 2; of four heights the upper of the two in the middle."""
    assert spiked(3, 1, 2, 50, 5, 4, 6)[3] == 3.5
    assert spiked(1, 2, 3, 4, 50, 3, 3, 3, 3)[4] == 3.0
    assert spiked(2, 1, 2, 50, 2, 2, 45)[3] == 2.0, "one neighbour of six is high"


@pytest.mark.parametrize(("every", "left"), [(50.0, [30, 0, 30]), (50.1, [0, 30, 0])])
def test_neighbours_are_within_50_m(every: float, left: list[float]) -> None:
    """At 50 m each is a spike to its neighbours; farther off there is nothing to judge it by."""
    assert spiked(0, 30, 0, every=every) == left


def test_the_doubt_of_a_climb_by_hand() -> None:
    """2 km with a top and a bottom, and level once on the way up: two errors of 1.5 m, 2 / 4 and 2 / 2 of the
    noise of 0.4 m.
    """
    heights = ((500.0, 0.0), (900.0, 9.0), (1000.0, 9.0), (1200.0, 12.0), (1800.0, 5.0), (2500.0, 8.0))
    road = MeasuredRoad(heights, 1.5)
    assert _doubt(road, 0.4) == pytest.approx(3.0 + 0.4 * (0.5 + 1.0))


def test_one_cell_is_a_mean_and_stays_where_its_points_are() -> None:
    assert thin([(1.0, 4.0), (3.0, 6.0)], 5.0) == [(2.0, 5.0)]
    assert thin([(1.0, 4.0), (4.9, 6.0), (5.0, 7.0)], 5.0) == [(1.0, 5.0), (5.0, 7.0)]
    assert thin([(1.0, 4.0), (6.0, 1.0), (8.0, 3.0), (12.0, 7.0)], 5.0)[1] == (7.0, 2.0)


def test_a_very_long_track_is_averaged_over_more() -> None:
    """40,000 cells of 400 km are 10 m long; of a track that is not so long they are 5 m."""
    points = [(5.0 * at, float(at % 2)) for at in range(40)]
    assert from_track("x", points, length_m=400_000.0).ascent_m == pytest.approx(0.0, abs=1e-9)
    assert noise_of(thin(points, 5.0)) != noise_of(thin(points, 10.0))
    told = from_track("x", points, length_m=200_000.0)
    assert told.climb_doubt_m == from_track("x", points).climb_doubt_m
    assert told.climb_doubt_m != from_track("x", points, length_m=400_000.0).climb_doubt_m


def test_no_recorder_is_taken_to_be_better_than_5_cm() -> None:
    """2 km of 1 %: half of 5 cm a km, no tops, and two errors of the climb of a line through 201 such
    heights.
    """
    course = from_track("x", [(10.0 * at, 0.1 * at) for at in range(201)])
    error = 0.05 * 2000.0 / math.sqrt(100.0 * 201 * (201**2 - 1) / 12)
    assert course.climb_doubt_m == pytest.approx(0.05 + 2.0 * error, rel=1e-3)


def test_a_line_by_hand() -> None:
    """(0, 0), (10, 1), (20, 5): slope 0.25, misses 0.5, -1 and 0.5; under 2 m of noise 2 / sqrt(200)."""
    line = Moments.of([(0.0, 0.0), (10.0, 1.0), (20.0, 5.0)])
    assert line.grade == pytest.approx(0.25)
    assert line.misfit == pytest.approx(1.5)
    assert line.grade_error(2.0) == pytest.approx(2.0 / math.sqrt(200.0))
    shorter = line.without((20.0, 5.0))
    assert shorter == pytest.approx(Moments(2, 5.0, 0.5, 50.0, 5.0, 0.5))
    alone = shorter.without((10.0, 1.0))
    assert (alone.misfit, alone.grade, alone.grade_error(1.0)) == (0.0, 0.0, math.inf)
    assert (alone.number, alone.x, alone.h) == (1, 0.0, 0.0)
