"""Recorded tracks: roads of known shape under noise, and what is left of them."""

import math
import random
from collections.abc import Callable
from itertools import pairwise
from statistics import median

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from cogwright.core.riding.course import Course, from_points
from cogwright.core.riding.track.curves import _Banded
from cogwright.core.riding.track.moments import Moments
from cogwright.core.riding.track.noise import noise_of
from cogwright.core.riding.track.recorded import despike, from_track, thin
from support import LONG, long_cases

Shape = Callable[[float], float]
SEEDS = range(5 if LONG else 1)


def recorded(shape: Shape, length: float, every: float, noise: float, seed: int) -> Course:
    """A road recorded at even distances with white noise on its heights."""
    rng = random.Random(seed)
    count = int(length / every)
    return from_track("x", [(every * i, shape(every * i) + rng.gauss(0, noise)) for i in range(count + 1)])


def ramp(grade: float, length: float, around: float) -> Shape:
    """A ramp after 3 km, on a road of another grade."""
    return lambda x: around * x + (grade - around) * min(max(x - 3000.0, 0.0), length)


def rollers(x: float) -> float:
    """6 m up and down every 300 m."""
    return 3.0 * (1.0 - math.cos(2.0 * math.pi * x / 300.0))


@pytest.mark.long(cases=1)
@pytest.mark.parametrize("every", [3.0, 5.0, 10.0, 20.0])
def test_a_ramp_of_a_hundred_metres_reads_as_steep_as_it_is(every: float) -> None:
    """18 m in 100 m on the map, exact; under the noise of a good recorder within one point of a percent."""
    assert 100 * recorded(ramp(0.18, 100, 0.05), 6000, every, 0.0, 0).steepest == pytest.approx(
        18.0, abs=0.05
    )
    for seed in SEEDS:
        assert abs(100 * recorded(ramp(0.18, 100, 0.05), 6000, every, 0.3, seed).steepest - 18.0) < 1.0


@pytest.mark.long(cases=1)
@pytest.mark.parametrize("every", [3.0, 5.0, 10.0])
@pytest.mark.parametrize(("grade", "around"), [(0.18, 0.05), (0.15, 0.0), (0.14, 0.06)])
def test_a_ramp_of_forty_metres_stays(every: float, grade: float, around: float) -> None:
    """Exact without noise; with 0.1 m of it within a point and a half."""
    still = recorded(ramp(grade, 40, around), 6000, every, 0.0, 0)
    assert 100 * still.steepest == pytest.approx(100 * grade, abs=0.1)
    found = [100 * recorded(ramp(grade, 40, around), 6000, every, 0.1, seed).steepest for seed in SEEDS]
    assert all(abs(each - 100 * grade) < 1.5 for each in found), found


@pytest.mark.long(cases=1)
@pytest.mark.parametrize(
    ("every", "noise"), [(3, 0), (10, 0), (20, 0), (5, 0.3), (10, 0.3), (5, 0.5), (10, 0.5)]
)
def test_rollers_keep_their_climb(every: float, noise: float) -> None:
    """20 times 6 m are 120 m, within 10 %."""
    for seed in SEEDS:
        assert recorded(rollers, 6000, every, noise, seed).ascent_m == pytest.approx(120.0, rel=0.1)


def test_rollers_keep_their_climb_in_the_middle_under_a_metre_of_noise() -> None:
    climbs = [recorded(rollers, 6000, 8.0, 1.0, seed).ascent_m for seed in range(9 if LONG else 3)]
    assert median(climbs) == pytest.approx(120.0, rel=0.1)


@pytest.mark.long(cases=1)
@pytest.mark.parametrize("noise", [0.0, 0.3, 1.0, 3.0])
def test_noise_alone_climbs_nothing(noise: float) -> None:
    """On the flat points as they stand would climb half of 2 / sqrt(pi) of the noise each: 0.56 times 600."""
    raw = from_points("raw", [(10.0 * i, random.Random(i).gauss(0, noise)) for i in range(601)])
    assert noise == 0.0 or raw.ascent_m > 300 * noise
    for seed in SEEDS:
        assert recorded(lambda _: 0.0, 6000, 10.0, noise, seed).ascent_m < 1.0 + noise


@pytest.mark.long(cases=1)
@pytest.mark.parametrize(("km", "rise"), long_cases([(16.2, 931), (14.1, 859), (14.8, 939)], 1))
@pytest.mark.parametrize("noise", [0.3, 1.0])
def test_printed_climbs_come_out_under_noise(km: float, rise: float, noise: float) -> None:
    """Length and climb as printed for three routes over one pass (grade A), as a steady climb and in steps.

    The steps are 400 m at one and a half of the mean grade and 200 m of flat, by turns.
    """
    mean = rise / (1000 * km)
    for shape in (lambda x: mean * x, lambda x: mean * 1.5 * (400 * (x // 600) + min(x % 600, 400))):
        course = recorded(shape, 1000 * km, 10.0, noise, 1)
        true = shape(1000 * km)
        assert course.ascent_m == pytest.approx(true, rel=0.01 + 0.01 * noise)
        assert course.climb_doubt_m is not None
        assert abs(course.ascent_m - true) <= course.climb_doubt_m < 0.03 * true


@pytest.mark.long(cases=1)
@pytest.mark.parametrize(("every", "noise"), [(5.0, 0.3), (5.0, 1.0), (10.0, 1.0)])
def test_the_doubt_holds_nine_times_in_ten(every: float, noise: float) -> None:
    """Of roads of known climb: rollers, flats, and hills of random pieces of 60 to 300 m."""
    inside = total = 0
    for seed in range(10 if LONG else 1):
        rng = random.Random(seed)
        grades = [rng.gauss(0, 0.04) for _ in range(40)]
        at = np.cumsum([0.0, *(rng.choice([60, 100, 150, 300]) for _ in grades)])
        heights = np.cumsum([0.0, *(g * (b - a) for g, a, b in zip(grades, at, at[1:], strict=False))])
        hills = sum(max(b - a, 0.0) for a, b in pairwise(heights))
        shapes: list[tuple[Shape, float, float]] = [
            (rollers, 6000.0, 120.0),
            (lambda _: 50.0, 6000.0, 0.0),
            (lambda x, at=at, heights=heights: float(np.interp(x, at, heights)), float(at[-1]), float(hills)),
        ]
        for shape, length, true in shapes:
            course = recorded(shape, length, every, noise, seed)
            assert course.climb_doubt_m is not None
            inside += abs(course.ascent_m - true) <= course.climb_doubt_m
            total += 1
    assert inside >= 0.9 * total


@pytest.mark.long(cases=2)
@pytest.mark.parametrize("noise", [0.2, 1.0, 3.0])
@pytest.mark.parametrize("every", [6.0, 15.0])
def test_the_noise_is_found(noise: float, every: float) -> None:
    """On a climb that bends, within a fifth of what was put in."""
    rng = random.Random(11)
    points = [(every * i, 40 * math.sin(i * every / 900) + rng.gauss(0, noise)) for i in range(800)]
    assert noise_of(points) == pytest.approx(noise, rel=0.2)


def test_noise_that_is_alike_in_neighbours_counts_as_more() -> None:
    """Heights that wander (each keeps 0.8 of the one before): single points look smoother than means do."""
    rng = random.Random(5)
    wander, points = 0.0, []
    for i in range(2000):
        wander = 0.8 * wander + rng.gauss(0, 0.6)
        points.append((5.0 * i, wander))
    white = [(5.0 * i, rng.gauss(0, 0.3)) for i in range(2000)]
    assert noise_of(points) > 2.5 * noise_of(white)  # type: ignore[operator]


def test_points_far_apart_are_taken_as_they_stand() -> None:
    """Read off a map every 500 m: there is no noise to tell from the road."""
    points = [(500.0 * i, 30.0 * math.sin(i)) for i in range(40)]
    course = from_track("map", points)
    assert course.heights_m == pytest.approx([height for _, height in points])
    assert course.climb_doubt_m is None


@pytest.mark.long(cases=1)
@pytest.mark.parametrize("step", [0.1, 0.2, 1.0])
def test_heights_in_whole_steps_make_no_stairs(step: float) -> None:
    """A climb of 0.4 % and one of 6 %, written down in steps: grades and climb stay."""
    for grade in (0.004, 0.06):
        points = [(6.0 * i, round(grade * 6.0 * i / step) * step) for i in range(1000)]
        course = from_track("steps", points)
        assert course.ascent_m == pytest.approx(grade * 5994, abs=max(1.0, step))
        assert 100 * course.steepest < 100 * grade + 1.0


@given(st.lists(st.floats(5.0, 60.0), min_size=3, max_size=60), st.floats(-0.2, 0.2), st.floats(-400, 5000))
def test_a_steady_climb_stays_as_it_is(gaps: list[float], grade: float, level: float) -> None:
    """Thinning apart nothing may bend a straight climb, whatever the spacing of its points."""
    xs = [0.0]
    for gap in gaps:
        xs.append(xs[-1] + gap)
    course = from_track("climb", [(x, level + grade * x) for x in xs])
    assert all(piece.grade == pytest.approx(grade, abs=1e-6) for piece in course.pieces)
    assert course.length_m == pytest.approx(xs[-1] * math.hypot(1.0, grade), rel=1e-9)


@given(st.lists(st.tuples(st.floats(0, 5e6), st.floats(-400, 5000)), min_size=3, max_size=40, unique=True))
def test_lines_are_scipys(points: list[tuple[float, float]]) -> None:
    """Slope and residuals of the line through any points, put together in two parts, by scipy.stats."""
    xs = [x for x, _ in points]
    if max(xs) - min(xs) < 1.0:
        return
    half = len(points) // 2
    found = Moments.of(points[:half]).with_(Moments.of(points[half:]))
    from scipy.stats import linregress  # a second of importing

    expected = linregress(*np.array(points).T)
    assert found.grade == pytest.approx(expected.slope, rel=1e-6, abs=1e-9)
    without = found.without(points[-1])
    assert without.x == pytest.approx(np.mean(xs[:-1]), rel=1e-9, abs=1e-6)
    spread = np.var([h for _, h in points]) * len(points)
    assert found.misfit == pytest.approx(spread * (1 - expected.rvalue**2), rel=1e-5, abs=1e-6 * (1 + spread))


@given(st.integers(2, 8), st.data())
def test_banded_equations_are_solved_as_by_numpy(size: int, data: st.DataObject) -> None:
    """Solution, and variance of a sum under a noise of 1 as far as the bands of the inverse go."""
    rows = data.draw(
        st.lists(
            st.tuples(st.integers(0, size - 1), st.lists(st.floats(0.1, 1.0), min_size=3, max_size=3)),
            min_size=3 * size,
            max_size=4 * size,
        )
    )
    matrix, dense = _Banded(size), 1e-9 * np.eye(size)
    for vertex in range(size):
        rows.append((vertex, [1.0, 0.0, 0.0]))
    for start, weights in rows:
        row = tuple((start + k, w) for k, w in enumerate(weights) if start + k < size)
        matrix.add(row)
        full = np.zeros(size)
        for vertex, weight in row:
            full[vertex] = weight
        dense += np.outer(full, full)
    matrix.factor()
    rights = [float(i - 1) for i in range(size)]
    assert matrix.solve(rights) == pytest.approx(np.linalg.solve(dense, rights), rel=1e-6, abs=1e-9)
    signs = np.array([(-1.0) ** i for i in range(size)])
    inverse = np.linalg.inv(dense)
    near = np.abs(np.subtract.outer(np.arange(size), np.arange(size))) <= 2
    expected = float(signs @ (inverse * near) @ signs)
    assert matrix.spread(signs.tolist()) == pytest.approx(max(expected, 0.0), rel=1e-6, abs=1e-9)


def test_a_spike_is_taken_out_and_a_summit_is_kept() -> None:
    """One reading 60 m off leaves no trace; a real summit of 8 % each way stays 160 m high."""
    points = [(10.0 * i, 0.08 * min(10 * i, 4000 - 10 * i)) for i in range(401)]
    clean = from_track("clean", points)
    points[150] = (points[150][0], points[150][1] + 60.0)
    spiked = from_track("spiked", points)
    assert spiked.height_at(1500.0) == pytest.approx(clean.height_at(1500.0), abs=0.4)
    assert max(clean.heights_m) == pytest.approx(160.0, abs=0.05)
    assert max(spiked.heights_m) == pytest.approx(160.0, abs=0.4)


def test_thinning_keeps_both_ends_where_they_are() -> None:
    """Cells of 5 m: means of heights by hand, and the first and last distance as they were."""
    points = [(0.0, 0.0), (2.0, 2.0), (6.0, 7.0), (7.0, 9.0), (9.0, 11.0)]
    assert thin(points, 5.0) == [(0.0, 1.0), (9.0, 9.0)]


def test_spikes_at_the_ends_have_to_stand_off_farther() -> None:
    """20 m at an end, 8 m inside."""
    flat = [(10.0 * i, 0.0) for i in range(20)]
    for at, off, kept in ((0, 15.0, True), (0, 25.0, False), (10, 15.0, False), (10, 7.0, True)):
        points = [*flat]
        points[at] = (points[at][0], off)
        assert (despike(points)[at][1] == off) is kept


def test_standing_still_and_doubled_points_do_no_harm() -> None:
    """A recorder that stood at a cafe has many points in one place."""
    points = [(float(x), 0.05 * x) for x in range(0, 2000, 10)]
    points[50:50] = [(500.0, 25.0)] * 300
    course = from_track("pause", points)
    assert course.length_m == pytest.approx(1990 * math.hypot(1, 0.05), rel=1e-3)
    assert max(abs(p.grade - 0.05) for p in course.pieces) < 0.003
