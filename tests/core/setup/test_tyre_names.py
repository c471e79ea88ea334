"""Tyres as they are called, against the tables that the standard's markings are printed in.

A: seen in a stored copy: the old names printed beside the ISO 5775-1 markings, and a public chart of ISO and
inch sizes (26 x 1.00 to 2.125 559; 26 x 1 and 26 x 1 3/4 571; 26 x 1 1/2 584 as well as 571; 20 x 1 1/8 to
1 3/8 451; 24 x 1 and 1 1/8 520; 24 x 1.5 to 2.125 507; 20 x 1.5 to 2.125 406; 18 x 1.5 to 2.125 355;
16 x 1.75 to 2.125 305; 26 x 1.25 and 1.375 599; 28 with a decimal 622; 700D 587; 29 inch 622).
B: from memory. P: common practice.
"""

import pytest

from cogwright.core.common.errors import InputError
from cogwright.core.setup.model import Wheel
from cogwright.core.setup.sizes import BEAD_SEATS, parse_size
from cogwright.core.setup.tyre_names import EVERYDAY, called, sizes_called


def seats(name: str) -> list[int]:
    found = [parse_size(marking) for marking in sizes_called(name)]
    return [size[1] for size in found if size is not None]


@pytest.mark.parametrize(
    ("name", "seat"),
    [  # A
        ("28 x 1 1/2", 635), ("27 x 1 1/4", 630), ("700x32C", 622), ("26 x 1 1/4", 597), ("26 x 1 3/8", 590),
        ("650x40B", 584), ("26 x 1.75", 559), ("24 x 1 3/8", 540), ("24 x 1", 520), ("24 x 1.75", 507),
        ("20 x 1.75", 406), ("12 1/2 x 1.75", 203), ("26x2.00", 559), ("26 x 1 3/4", 571), ("700x25D", 587),
        ("20 x 1 1/8", 451), ("20 x 1 3/8", 451), ("24 x 1 1/8", 520), ("18x1.75", 355), ("16x2.0", 305),
        ("28 x 1.75", 622), ("29x2.1", 622), ("650x23C", 571), ("28 x 1 5/8 x 1 3/8", 622),
        # P, B
        ("27.5x2.25", 584), ("27 x 1", 630), ("700x35B", 635),
    ],
)  # fmt: skip
def test_a_name_that_says_a_width_of_one_family_is_certain(name: str, seat: int) -> None:
    assert seats(name) == [seat]


@pytest.mark.parametrize(
    ("name", "marking"),
    [  # A: the width stands in the name; 700 x 32C, 28 x 1 1/4 x 1 5/8, 28 x 1 3/4 x 1 1/4 are all 32-622
        ("700x32C", "32-622"), ("700 x 32", "32-622"), ("700-32c", "32-622"), ("700C x 32", "32-622"),
        ("28 x 1 1/4 x 1 5/8", "32-622"), ("28 x 1 3/4 x 1 1/4", "32-622"), ("40-622", "40-622"),
        ("40 - 622", "40-622"), ("622x40", "40-622"), ("650x35A", ""),
        # B: nominal widths of inch sizes
        ("20x1.75", "47-406"), ("26x2.00", "50-559"), ("26 x 1 3/8", "37-590"), ("28 x 1 1/2", "40-635"),
        ("12 1/2 x 2 1/4", "57-203"), ("28x1.75x2", "47-622"), ("26x1.625", "44-559"),
    ],
)  # fmt: skip
def test_the_width_of_a_name(name: str, marking: str) -> None:
    found = sizes_called(name)
    assert found == (marking,) if marking else len(found) == 2


@pytest.mark.parametrize(
    "name",
    [
        "26 x 1 3/8",
        "26x1 3/8",
        "26 X 1-3/8",
        '26" x 1 3/8"',
        "26 \u00d7 1\u215c",
        "26x13/8",
        " 26  x 1  3/8 inch",
        "26 in x 1.3/8",
    ],
)
def test_the_same_name_however_it_is_written(name: str) -> None:
    assert sizes_called(name) == ("37-590",)


@pytest.mark.parametrize(
    ("name", "meant"),
    [  # A: "26 inch" alone is 559, 571 or 590; 571 stands for 650A and 650C in print
        ("26 inch", {559, 571, 590}), ("650A", {590, 571}), ("26 x 1 1/2", {584, 571}),
        ("26 x 1", {571, 559}),
        ("26x1.25", {559, 599}), ("28 inch", {622, 635}), ("20 inch", {406, 451}),
        ("24 inch", {507, 520, 540}),
        # no width is given: the seat is one, the marking is not
        ("700C", {622}), ("29er", {622}), ("27.5", {584}), ("650B", {584}), ("12 1/2", {203}), ("27", {630}),
    ],
)  # fmt: skip
def test_a_name_that_is_not_certain_gives_the_two_or_three_that_it_can_mean(
    name: str, meant: set[int]
) -> None:
    found = sizes_called(name)
    assert 2 <= len(found) <= 3
    assert len(set(found)) == len(found)
    assert set(seats(name)) == meant


@pytest.mark.parametrize(
    "name",
    ["", "x", "large", "700x320", "26x9", "13x2", "29 x 1 3/8", "26 x 3/8", "36-999", "\x1b[2J", "9" * 999],
    ids=lambda name: name[:12],
)
def test_an_unknown_name_is_answered_with_everyday_ones(name: str) -> None:
    with pytest.raises(InputError) as caught:
        sizes_called(name)
    said = str(caught.value)
    assert "is no tyre size known here" in said
    for equivalent in (
        "40-622 (700C, 28 and 29 inch)",
        "47-559 (26 x 1.75)",
        "47-406 (20 x 1.75)",
        "27.5 inch",
    ):
        assert equivalent in said
    assert said.isprintable()


def test_every_marking_that_is_offered_can_stand_in_a_file() -> None:
    names = [
        *EVERYDAY.values(),
        "12",
        "16",
        "18",
        "20",
        "22",
        "24",
        "26",
        "27",
        "28",
        "29",
        "700",
        "650",
        "600A",
    ]
    for name in (part for each in names for part in each.replace(" and ", " inch, ").split(", ")):
        if not name.startswith("as in"):
            for marking in sizes_called(name):
                assert Wheel(size=marking).size == marking
                assert called(marking) != "", name
    assert all(seat in EVERYDAY for seat in BEAD_SEATS)


@pytest.mark.parametrize(
    ("name", "both"), [("20 x 1.25", [406, 451]), ("24 x 1.25", [507, 520]), ("18 x 1.25", [355, 400])]
)
def test_a_narrow_decimal_may_mean_either_wheel(name: str, both: list[int]) -> None:
    """A: the chart has fractions up to 1 3/8 on the larger rim and decimals from 1.5 on the smaller."""
    assert sorted(seats(name)) == both
    assert set(both) <= set(BEAD_SEATS)
