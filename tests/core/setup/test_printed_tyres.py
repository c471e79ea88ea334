"""Every tyre name that is known, against the printed chart; sources and grades as in `test_tyre_names`.

Fractions of the chart are A but for 16, 18 and 14 x 1 3/8, 28 x 1 3/8 and 27 x 1 3/8 (B); widths in mm of
widths in inches are B; which wheels a bare diameter may mean is P.
"""

import pytest

from cogwright.core.common.errors import InputError
from cogwright.core.setup.sizes import BEAD_SEATS, is_known_bead_seat, parse_size
from cogwright.core.setup.tyre_names import (
    _EIGHTHS,
    EVERYDAY,
    _inches,
    _mixed,
    _width_mm,
    called,
    marking_words,
    sizes_called,
)

FRACTIONS = {
    "28": {"1 1/2": [635], "1 3/8": [622, 642], "7/8": [622], "1": [622], "1 1/4": [622], "1 3/4": [622],
           "1 1/8": [622]},
    "27": {"1 1/4": [630], "1 1/8": [630], "1": [630], "1 3/8": [630]},
    "26": {"1 3/8": [590], "1 1/4": [597], "1 1/2": [584, 571], "1 3/4": [571], "1": [571, 559]},
    "24": {"1": [520], "1 1/8": [520], "1 3/8": [540]},
    "20": {"1 1/8": [451], "1 1/4": [451], "1 3/8": [451], "1": [451, 406]},
    "18": {"1 3/8": [400]}, "14": {"1 3/8": [298]}, "16": {"1 3/8": [349, 340, 305]},
}  # fmt: skip
#: Below and from a width in inches.
DECIMALS = {
    "12": (1.5, [203], [203]), "12.5": (1.5, [203], [203]), "14": (1.5, [254, 298], [254]),
    "16": (1.5, [305, 349], [305]), "18": (1.5, [355, 400], [355]), "20": (1.5, [406, 451], [406]),
    "22": (1.5, [457], [457]), "24": (1.5, [507, 520], [507]), "26": (1.0, [559], [559]),
    "27": (1.0, [630], [630]), "27.5": (1.0, [584], [584]), "28": (1.0, [622], [622]),
    "29": (1.0, [622], [622]), "32": (1.0, [686], [686]),
}  # fmt: skip
ALONE = {
    "12 inch": "47-203 57-203", "12.5": "47-203 57-203", "16 inch": "47-305 37-349",
    "18 inch": "47-355 37-400",
    "20 inch": "47-406 28-451", "22 inch": "47-457 54-457", "24 inch": "47-507 37-540 25-520",
    "26 inch": "50-559 37-590 23-571", "27 inch": "28-630 32-630", "27.5": "57-584 47-584",
    "28 inch": "37-622 47-622 40-635", "29 inch": "54-622 57-622", "14 inch": "47-254 37-298",
    "32 inch": "57-686 62-686", "28 x 1 5/8": "28-622 32-622 37-622", "700C": "25-622 32-622 40-622",
    "700": "25-622 32-622 40-622", "700A": "35-642 37-642", "700B": "40-635 44-635", "700D": "32-587 37-587",
    "650B": "40-584 47-584 57-584", "650C": "20-571 23-571", "650A": "37-590 40-571",
    "650": "47-584 23-571 37-590", "600A": "32-540 37-540",
}  # fmt: skip
METRIC = {
    "700C": [622], "700B": [635], "700A": [642], "700D": [587], "700": [622], "650B": [584], "650C": [571],
    "650A": [590, 571], "650": [584, 571, 590], "600A": [540],
}  # fmt: skip
WIDTHS = {
    "1 1/8": 28, "1.35": 35, "1 3/8": 37, "1.375": 37, "1.4": 37, "1.5": 40, "1 1/2": 40, "1 5/8": 44,
    "1.75": 47,
    "1.85": 47, "1.9": 50, "2.0": 50, "2.1": 54, "2.125": 57, "2.4": 62, "2.25": 57, "1.25": 32, "2.35": 60,
}  # fmt: skip


def seats(name: str) -> list[int]:
    return [int(marking.split("-")[1]) for marking in sizes_called(name)]


@pytest.mark.parametrize("diameter", FRACTIONS)
def test_fractions_of_the_chart(diameter: str) -> None:
    for width, meant in FRACTIONS[diameter].items():
        assert seats(f"{diameter} x {width}") == meant, width


@pytest.mark.parametrize("diameter", DECIMALS)
def test_decimals_of_the_chart_below_and_from_a_width(diameter: str) -> None:
    limit, below, above = DECIMALS[diameter]
    assert seats(f"{diameter} x {limit + 0.1:g}") == above
    assert seats(f"{diameter} x {max(limit, 1.001):g}") == above
    assert seats(f"{diameter} x {limit - 0.1:g}") == below
    assert limit == 1.0 or seats(f"{diameter} x {limit - 0.4:g}") == below


def test_two_decimals_of_26_have_an_old_family_too() -> None:
    assert seats("26 x 1.25") == seats("26 x 1.375") == [559, 599]
    assert seats("26 x 1.4") == [559]


@pytest.mark.parametrize("name", ALONE)
def test_names_without_a_width(name: str) -> None:
    assert sizes_called(name) == tuple(ALONE[name].split())


@pytest.mark.parametrize("name", METRIC)
def test_metric_names_with_a_width(name: str) -> None:
    assert sizes_called(f"{name[:3]}x35{name[3:]}") == tuple(f"35-{seat}" for seat in METRIC[name])
    assert sizes_called(f"{name} x 35") == tuple(f"35-{seat}" for seat in METRIC[name])


def test_two_letters_that_differ_are_no_name() -> None:
    assert seats("700C x 32C") == [622]
    with pytest.raises(InputError, match="no tyre size"):
        sizes_called("700C x 32B")


def test_widths_in_mm_of_widths_in_inches() -> None:
    assert {width: _width_mm(width) for width in WIDTHS} == WIDTHS


def test_fractions_are_written_in_eighths() -> None:
    """2 1/8 is 17 of them."""
    for eighths in range(1, 24):
        said = _mixed(eighths / 8)
        whole, part = divmod(eighths, 8)
        expected = {1: "1/8", 2: "1/4", 3: "3/8", 4: "1/2", 5: "5/8", 6: "3/4", 7: "7/8"}.get(part, "")
        assert said == f"{whole or ''} {expected}".strip()
        if part:
            assert _inches(said) == eighths / 8
    assert list(_EIGHTHS) == [1, 2, 3, 4, 5, 6, 7]
    assert _inches("13/8") == 1.375


def test_signs_that_stand_for_fractions() -> None:
    for sign, part in zip("\u215b\u00bc\u215c\u00bd\u215d\u00be\u215e", (1, 2, 3, 4, 5, 6, 7), strict=True):
        width = f"1 {_EIGHTHS[part]}"
        if width in FRACTIONS["28"]:
            assert sizes_called(f"28 x 1{sign}") == sizes_called(f"28 x {width}")


def test_bead_seats_in_use_and_what_people_call_them() -> None:
    """Old names as printed beside the markings of ISO 5775-1 (A); seats without one are in use as well
    (B).
    """
    printed = {203: "12 1/2 x 1.75", 406: "20 x 1.75", 507: "24 x 1.75", 520: "24 x 1", 540: "24 x 1 3/8",
               559: "26 x 1.75", 584: "650B", 590: "26 x 1 3/8", 597: "26 x 1 1/4", 622: "700C",
               630: "27 x 1 1/4", 635: "28 x 1 1/2"}  # fmt: skip
    unnamed = {254, 298, 305, 340, 349, 355, 400, 451, 457, 571, 587, 599, 642, 686}
    assert {seat: name for seat, name in BEAD_SEATS.items() if name} == printed
    assert {seat for seat, name in BEAD_SEATS.items() if not name} == unnamed
    everyday = {203: "12 1/2 inch", 254: "14 x 1.75", 298: "14 x 1 3/8", 305: "16 x 1.75",
                340: "16 x 1 3/8, as in France", 349: "16 x 1 3/8", 355: "18 x 1.75", 400: "18 x 1 3/8",
                451: "20 x 1 3/8", 457: "22 x 1.75", 571: "650C, 26 x 1", 584: "650B, 27.5 inch", 587: "700D",
                590: "650A, 26 x 1 3/8", 599: "26 x 1.375", 622: "700C, 28 and 29 inch", 642: "700A",
                686: "32 inch"}  # fmt: skip
    for seat in (*printed, *unnamed):
        assert called(f"40-{seat}") == everyday.get(seat, printed.get(seat))
        assert is_known_bead_seat(f"40-{seat}")
    assert set(EVERYDAY) == set(printed) | unnamed
    assert called("x") == ""


@pytest.mark.parametrize(
    ("marking", "size"),
    [
        ("10-622", (10.0, 622)), ("09-622", None), ("130-622", (130.0, 622)), ("131-622", None),
        ("40-100", (40.0, 100)), ("40-099", None), ("40-700", (40.0, 700)), ("40-701", None),
        ("28.5-622", (28.5, 622)), (" 28 - 622 ", (28.0, 622)), ("622-28", None), ("\u0664\u0660-622", None),
    ],
)  # fmt: skip
def test_markings_are_10_to_130_mm_wide_on_seats_of_100_to_700(
    marking: str, size: tuple[float, int] | None
) -> None:
    assert parse_size(marking) == size


def test_a_width_that_no_marking_has_is_no_size() -> None:
    """9 mm and 131 mm; of the seats that a name may mean none is offered."""
    for name in ("700x9C", "700x131C", "650x9", "26 x 9.0"):
        with pytest.raises(InputError, match="no tyre size"):
            sizes_called(name)


def test_how_to_mend_a_size() -> None:
    assert marking_words("650x40A") == "write what the tyre's side says: it can be 40-590 or 40-571"
    assert marking_words("622x40") == 'write "40-622"'
    assert marking_words("x").startswith("write section width and bead seat diameter in mm")
