"""Courses: climb facts of roads that are taken as they stand."""

import math

import pytest

from cogwright.core.riding.course import Piece, from_pieces, from_points


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
