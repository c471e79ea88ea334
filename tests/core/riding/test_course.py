"""Courses: climb facts, and noisy heights made usable."""

import math
import random
import statistics

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cogwright.core.riding.course import (
    Piece,
    despike,
    from_pieces,
    from_points,
    from_track,
    resample,
    smooth,
    thin,
)

LEVEL = st.floats(-400, 5000)


@pytest.mark.parametrize(("km", "rise", "grade"), [(16.2, 931, 5.7), (14.1, 859, 6.1), (14.8, 939, 6.3)])
def test_three_routes_over_one_pass(km: float, rise: float, grade: float) -> None:
    """Length, climb and mean grade as printed for three routes over one pass (grade A)."""
    course = from_points("a pass", [(0.0, 100.0), (1000 * km, 100.0 + rise)])
    assert round(100 * course.mean_grade, 1) == grade
    assert course.ascent_m == pytest.approx(rise)


def test_a_piece_is_measured_along_the_road() -> None:
    """Rise and run of a piece make a right triangle with its length (Pythagoras)."""
    piece = Piece(1000.0, 0.2)
    assert math.hypot(piece.rise_m, piece.run_m) == pytest.approx(1000.0)
    assert piece.rise_m / piece.run_m == pytest.approx(0.2)


def test_pieces_and_points_tell_the_same_road() -> None:
    """A road given either way has the same heights all along."""
    points = [(0.0, 50.0), (1000.0, 130.0), (2500.0, 100.0), (3000.0, 180.0)]
    by_points = from_points("x", points)
    by_pieces = from_pieces("x", [Piece(p.length_m, p.grade) for p in by_points.pieces], 50.0)
    assert by_pieces.heights_m == pytest.approx([50.0, 130.0, 100.0, 180.0])
    assert by_points.height_at(by_points.starts_m[1]) == pytest.approx(130.0)


@given(st.lists(st.floats(5.0, 60.0), min_size=3, max_size=60), st.floats(-0.2, 0.2), LEVEL)
def test_a_steady_climb_stays_as_it_is(gaps: list[float], grade: float, level: float) -> None:
    """Thinning apart, no filter may bend a straight climb, whatever the spacing of its points."""
    xs = [0.0]
    for gap in gaps:
        xs.append(xs[-1] + gap)
    even = smooth(resample(despike([(x, level + grade * x) for x in xs]), 20.0), 100.0)
    for x, height in even:
        assert height == pytest.approx(level + grade * x, abs=1e-6)


def noisy(sigma: float, spacing: float = 10.0) -> list[tuple[float, float]]:
    """5 km flat, 5 km at 7 %, 5 km flat, with white noise on the heights."""
    rng = random.Random(7)
    xs = [spacing * i for i in range(int(15_000 / spacing) + 1)]
    return [(x, 200 + 0.07 * min(max(x - 5000, 0), 5000) + rng.gauss(0, sigma)) for x in xs]


@pytest.mark.parametrize(("sigma", "worst"), [(0.0, 0.0003), (1.0, 0.02), (3.0, 0.06)])
def test_noise_leaves_a_known_climb_in_place(sigma: float, worst: float) -> None:
    """The grade on the climb, away from its ends, against the 7 % that was put in.

    For white noise a triangle that reaches 100 m over points 10 m apart leaves a grade error of
    sqrt(2 / 10) * sigma / 100 m: 0.45 % a metre; `worst` is about four of those.
    """
    course = from_track("noisy", noisy(sigma))
    on_climb = [p.grade for p, s in zip(course.pieces, course.starts_m, strict=False) if 5200 < s < 9700]
    assert statistics.fmean(on_climb) == pytest.approx(0.07, abs=0.0003 + 0.0005 * sigma)
    assert max(abs(g - 0.07) for g in on_climb) <= worst
    if sigma:
        predicted = math.sqrt(2 / 10) * sigma / 100
        assert 0.6 * predicted < statistics.pstdev(on_climb) < 1.4 * predicted
    assert course.heights_m[-1] - course.heights_m[0] == pytest.approx(350, abs=4 * sigma + 0.1)


def test_raw_noise_would_have_ruined_it() -> None:
    """The same points unsmoothed have ramps beyond any road: the filter is needed."""
    assert max(p.grade for p in from_points("raw", noisy(3.0)).pieces) > 0.5


def test_a_spike_is_taken_out_and_a_summit_is_kept() -> None:
    """One reading 60 m off leaves no trace; a real summit loses only what the triangle rounds off."""
    points = [(10.0 * i, 0.08 * min(10 * i, 4000 - 10 * i)) for i in range(401)]
    clean = from_track("clean", points)
    points[150] = (points[150][0], points[150][1] + 60.0)
    spiked = from_track("spiked", points)
    assert spiked.heights_m == pytest.approx(clean.heights_m, abs=0.4)
    # A triangle reaching r over a tent of slope g rounds its tip by g * r / 3.
    assert max(clean.heights_m) == pytest.approx(160.0 - 0.08 * 100 / 3, abs=0.4)


def test_thinning_keeps_both_ends_where_they_are() -> None:
    """Cells of 5 m: means of heights by hand, and the first and last distance as they were."""
    points = [(0.0, 0.0), (2.0, 2.0), (6.0, 7.0), (7.0, 9.0), (9.0, 11.0)]
    assert thin(points, 5.0) == [
        (0.0, 1.0),
        (9.0, 9.0),
    ]


def test_standing_still_and_doubled_points_do_no_harm() -> None:
    """A recorder that stood at a cafe has many points in one place."""
    points = [(float(x), 0.05 * x) for x in range(0, 2000, 10)]
    points[50:50] = [(500.0, 25.0)] * 300
    course = from_track("pause", points)
    assert course.length_m == pytest.approx(1990 * math.hypot(1, 0.05), rel=1e-3)
    assert max(abs(p.grade - 0.05) for p in course.pieces) < 0.003
