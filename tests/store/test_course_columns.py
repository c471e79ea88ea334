"""Courses from CSV: which column is which, and in which unit."""

import pytest

from cogwright.core.common.errors import InputError
from support import parse_csv


@pytest.mark.parametrize(
    ("head", "metres"),
    [("distance_m", 1.0), ("distance", 1.0), ("m", 1.0), ("distance_km", 1000.0), ("km", 1000.0)],
)
@pytest.mark.parametrize("height", ["height_m", "height", "elevation_m", "elevation", "altitude_m", "ele"])
def test_a_column_is_known_by_its_name(head: str, height: str, metres: float) -> None:
    assert parse_csv(f"{height},{head}\n140,0\n150,2\n") == [(0.0, 140.0), (2 * metres, 150.0)]


def test_a_field_that_csv_cannot_hold_is_named_with_its_line() -> None:
    with pytest.raises(InputError, match="not valid CSV") as caught:
        parse_csv("0,140\n" + "1" * 200_000 + ",150\n")
    assert caught.value.problems[0].line == 2


def test_twenty_problems_are_enough() -> None:
    with pytest.raises(InputError) as caught:
        parse_csv("distance_m,height_m\n" + "x,1\n" * 30)
    assert len(caught.value.problems) == 20
    assert [problem.line for problem in caught.value.problems] == list(range(2, 22))


@pytest.mark.parametrize("text", ["", "# nothing\n\n", "\n"])
def test_no_points_are_said(text: str) -> None:
    with pytest.raises(InputError, match="there are no points in it"):
        parse_csv(text)


def test_a_row_with_a_field_missing_is_named() -> None:
    with pytest.raises(InputError) as caught:
        parse_csv("0,140\n5\n10,150\n")
    (problem,) = caught.value.problems
    assert problem.line == 2


def test_without_names_the_first_row_counts_whatever_the_decimal_mark() -> None:
    assert parse_csv("0;140,5\n10,5;150,25\n") == [(0.0, 140.5), (10.5, 150.25)]
    assert parse_csv("0\t140,5\n10\t150\n") == [(0.0, 140.5), (10.0, 150.0)]
    assert parse_csv("0,140.5\n10,150\n") == [(0.0, 140.5), (10.0, 150.0)]
