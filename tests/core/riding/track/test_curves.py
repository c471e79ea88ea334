"""Roads with rounded joints: against a road whose slope is integrated by hand, and numpy's least squares."""

import math
import random
from collections.abc import Sequence
from itertools import pairwise

import numpy as np
import pytest

from cogwright.core.riding.track.curves import _apart, _Fit, _half_lengths, _joints, _meet, road_through
from cogwright.core.riding.track.moments import Moments, Point

JOINTS, ROUNDING, HEIGHTS = [0.0, 100.0, 220.0, 300.0], [0.0, 40.0, 30.0, 0.0], [10.0, 18.0, 12.0, 20.0]


def height(x: float, joints: Sequence[float], rounding: Sequence[float], heights: Sequence[float]) -> float:
    """Straight pieces; around a joint the slope goes evenly from that before to that after."""
    for at in range(1, len(joints) - 1):
        half, middle = rounding[at], joints[at]
        if abs(x - middle) < half:
            before = (heights[at] - heights[at - 1]) / (middle - joints[at - 1])
            after = (heights[at + 1] - heights[at]) / (joints[at + 1] - middle)
            way = x - (middle - half)
            return heights[at] - half * before + before * way + (after - before) * way**2 / (4 * half)
    return float(np.interp(x, joints, heights))


def on_road(rounding: Sequence[float], noise: float = 0.0) -> list[Point]:
    rng = random.Random(1)
    xs = [float(x) for x in range(0, 301, 7)]
    return [(x, height(x, JOINTS, rounding, HEIGHTS) + rng.gauss(0.0, noise)) for x in xs]


def columns(points: Sequence[Point], rounding: Sequence[float]) -> np.ndarray:
    """What each vertex adds to each height."""
    units = np.eye(len(JOINTS))
    return np.array([[height(x, JOINTS, rounding, unit) for unit in units] for x, _ in points])


@pytest.mark.parametrize("rounding", [ROUNDING, [0.0] * 4])
def test_vertices_of_a_road_that_is_known_are_found(rounding: list[float]) -> None:
    fit = _Fit(on_road(rounding), JOINTS, rounding)
    assert fit.heights == pytest.approx(HEIGHTS, abs=1e-6)
    assert fit.near([50.0] * 4) == pytest.approx([0.0] * 4, abs=1e-9)


@pytest.mark.parametrize("rounding", [ROUNDING, [0.0] * 4])
def test_vertices_and_misses_are_those_of_least_squares(rounding: list[float]) -> None:
    """Misses within 21 m of a joint, those at just 21 m with them; and the doubt of the climb."""
    points = on_road(ROUNDING, 0.5)
    fit, matrix = _Fit(points, JOINTS, rounding), columns(points, rounding)
    told = np.array([h for _, h in points])
    expected, *_ = np.linalg.lstsq(matrix, told, rcond=None)
    assert fit.heights == pytest.approx(expected, abs=1e-5)
    miss = told - matrix @ expected
    near = [
        sum(m * m for m, (x, _) in zip(miss, points, strict=True) if abs(x - joint) <= 21.0)
        for joint in JOINTS
    ]
    assert fit.near([21.0] * 4) == pytest.approx(near, abs=1e-5)


@pytest.mark.parametrize(
    ("heights", "climb"), [([10.0, 30.0, 12.0], [-1, 1, 0]), ([0.0, 9.0, 20.0], [-1, 0, 1])]
)
def test_the_doubt_of_a_climb_is_that_of_its_tops_and_bottoms(heights: list[float], climb: list[int]) -> None:
    """Its variance by numpy's inverse: for a top the middle less the start, for a climb end less start."""
    joints, none = [0.0, 100.0, 220.0], [0.0] * 3
    points = [(float(x), height(x, joints, none, heights)) for x in range(0, 221, 5)]
    matrix = np.array([[height(x, joints, none, unit) for unit in np.eye(3)] for x, _ in points])
    inverse = np.linalg.inv(matrix.T @ matrix)
    signs = np.array(climb, dtype=float)
    assert _Fit(points, joints, none).climb_factor() == pytest.approx(math.sqrt(signs @ inverse @ signs))


def test_a_rounded_joint_is_drawn_in_four_parts_on_its_parabola() -> None:
    drawn = list(_Fit(on_road(ROUNDING), JOINTS, ROUNDING).drawn())
    assert [x for x, _ in drawn] == [0, 60, 80, 100, 120, 140, 190, 205, 220, 235, 250, 300]
    for x, h in drawn:
        assert h == pytest.approx(height(x, JOINTS, ROUNDING, HEIGHTS), abs=1e-6)


def test_a_sharp_joint_is_one_point_and_two_roundings_that_touch_share_theirs() -> None:
    joints, rounding = [0.0, 100.0, 200.0, 300.0], [0.0, 50.0, 50.0, 0.0]
    points = [(float(x), 0.05 * x) for x in range(0, 301, 5)]
    assert [x for x, _ in _Fit(points, joints, [0.0] * 4).drawn()] == joints
    drawn = [x for x, _ in _Fit(points, joints, rounding).drawn()]
    assert drawn == [0, 50, 75, 100, 125, 150, 175, 200, 225, 250, 300]


def test_roundings_that_nearly_touch_keep_both_of_their_ends() -> None:
    """Half a metre of straight road between them."""
    joints, rounding = [0.0, 100.0, 200.5, 301.0], [0.0, 50.0, 50.0, 0.0]
    points = [(float(x), 0.05 * x) for x in range(0, 301, 5)]
    drawn = [x for x, _ in _Fit(points, joints, rounding).drawn()]
    assert drawn == [0, 50, 75, 100, 125, 150, 150.5, 175.5, 200.5, 225.5, 250.5, 301]


def test_a_joint_is_rounded_where_that_misses_more_by_no_more_than_the_noise_squared() -> None:
    """A sharp bend of 10 %; what rounding it misses more, within its reach, by numpy's least squares."""
    points = [(5.0 * i, max(0.0, 0.1 * (5.0 * i - 200.0))) for i in range(81)]
    pieces = [(0, 40), (41, 80)]
    joints, wide = [0.0, 200.0, 400.0], [0.0, 100.0, 0.0]
    matrix = np.array([[height(x, joints, wide, unit) for unit in np.eye(3)] for x, _ in points])
    told = np.array([h for _, h in points])
    miss = told - matrix @ np.linalg.lstsq(matrix, told, rcond=None)[0]
    more = sum(m * m for m, (x, _) in zip(miss, points, strict=True) if abs(x - 200.0) <= 100.0)
    for share, sharp in ((0.99, True), (1.01, False)):
        road = road_through(points, pieces, math.sqrt(more * share))
        assert (len(road.points) == 3) is sharp
        assert len(road.points) == 3 or [x for x, _ in road.points] == pytest.approx(
            [0, 100, 150, 200, 250, 300, 400], abs=0.1
        )


def line(points: list[Point]) -> Moments:
    return Moments.of(points)


def test_pieces_meet_where_their_lines_cross_or_near_their_points() -> None:
    """Flat, then 10 % up from 100 m; crossing more than 15 m aside of the gap is not believed."""
    flat = line([(0.0, 0.0), (90.0, 0.0)])
    for crossing, met in ((100.0, 100.0), (76.0, 76.0), (74.0, 75.0), (124.0, 124.0), (126.0, 125.0)):
        rise = line([(x, 0.1 * (x - crossing)) for x in (110.0, 200.0)])
        assert _meet(flat, rise, 90.0, 110.0) == pytest.approx(met)
    assert _meet(flat, line([(110.0, 5.0), (200.0, 5.0)]), 90.0, 110.0) == 100.0, "alike: in the middle"


@pytest.mark.parametrize(
    ("joints", "left"),
    [
        ([0.0, 30.0, 60.0, 100.0], [0.0, 30.0, 60.0, 100.0]),
        ([0.0, 20.0, 80.0, 100.0], [0.0, 20.0, 80.0, 100.0]),
        ([0.0, 19.0, 50.0, 100.0], [0.0, 50.0, 100.0]),  # the start stays
        ([0.0, 50.0, 60.0, 100.0], [0.0, 55.0, 100.0]),  # of two the middle
        ([0.0, 30.0, 50.0, 60.0, 200.0], [0.0, 30.0, 55.0, 200.0]),
        ([0.0, 50.0, 81.0, 100.0], [0.0, 50.0, 100.0]),  # the end stays
        ([0.0, 60.0, 81.0, 85.0, 100.0], [0.0, 60.0, 100.0]),
        ([0.0, 12.0], [0.0, 12.0]),
        ([0.0, 5.0, 12.0], [0.0, 12.0]),
    ],
)
def test_joints_are_20_m_apart_at_least(joints: list[float], left: list[float]) -> None:
    assert _apart(joints) == left


def test_joints_stand_at_both_ends_and_where_pieces_meet() -> None:
    points = [(10.0 * i, max(0.0, i - 10.0)) for i in range(21)]
    assert _joints(points, [(0, 10), (11, 20)]) == pytest.approx([0.0, 100.0, 200.0])


def test_a_rounding_takes_half_of_the_shorter_piece() -> None:
    assert _half_lengths([0.0, 100.0, 140.0, 200.0]) == [0.0, 20.0, 20.0, 0.0]
    assert all(a + b <= 100.0 for a, b in pairwise(_half_lengths([0.0, 100.0, 200.0, 300.0])))
