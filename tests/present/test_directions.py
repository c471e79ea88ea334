"""Directions and sums in words: slower or faster, lost or gained, priced or not, from stock or to buy."""

import math

import pytest

from bikes import bike, drawer
from cogwright.core.riding.course import Piece, from_pieces
from cogwright.core.riding.course_ride import on_course
from cogwright.core.setup.model import Setup
from cogwright.core.study import Study, study
from cogwright.core.worksheet.build import order_sheet
from cogwright.core.worksheet.sheet import OrderSheet
from cogwright.present.lines import Look, Role, plain
from cogwright.present.panels.shelf import Shelf, setup_line
from cogwright.present.sorting import Sorting
from cogwright.present.views.course import course_verdict
from cogwright.present.views.figures import figures_page
from cogwright.present.views.order import sums
from support import make

HILL = from_pieces("hill", [Piece(3000.0, 0.05)])


def figures_rows(of: Study) -> list[str]:
    return [plain(row) for row in figures_page(of, Look(120), Sorting()).rows]


def compared(bench: Setup, base: Setup) -> str:
    on = on_course(study(bench, base), HILL)
    return course_verdict(on)


def test_a_heavier_bike_is_the_slower_one() -> None:
    light, heavy = (make((34,), (13, 17, 22, 28), rider={"bike_kg": kg}) for kg in (9.0, 29.0))
    assert " slower" in compared(heavy, light)
    assert " faster" not in compared(heavy, light)
    assert " faster" in compared(light, heavy)
    assert " slower" not in compared(light, heavy)
    assert "Bench and baseline take the same time." in compared(light, light)


def ordered(**kinds: list[dict[str, object]]) -> OrderSheet:
    """A ring of 36 in the place of 34, and a cog of 14 in the place of 13, out of a bin."""
    base = make((34,), (11, 13, 15))
    sheet = order_sheet(study(make((36,), (11, 14, 15)), base), drawer(**kinds))
    assert sheet is not None
    return sheet


RING, COG = {"teeth": 36, "price": 21.5}, {"teeth": 14, "price": 4.25}


def test_what_nobody_has_priced_is_said_so() -> None:
    assert sums(ordered())[0] == "Parts: no price known."
    some = sums(ordered(rings=[RING]))[0]
    assert "no price known" not in some
    assert some.startswith("Parts 21.50 EUR: ")
    assert some.endswith("and the unknown price of cog 14.")
    assert "unknown" not in sums(ordered(rings=[RING], cogs=[COG]))[0]


@pytest.mark.parametrize(
    ("ring", "cog", "said"),
    [
        (1, 0, "21.50 from stock, 4.25 to buy"),
        (0, 1, "4.25 from stock, 21.50 to buy"),
        (1, 1, "25.75 from stock, 0.00 to buy"),
        (0, 0, "0.00 from stock, 25.75 to buy"),
    ],
)
def test_stock_and_what_is_to_buy_add_up_to_the_parts(ring: int, cog: int, said: str) -> None:
    sheet = ordered(rings=[RING | {"count": ring}], cogs=[COG | {"count": cog}])
    assert sums(sheet)[0] == f"Parts 25.75 EUR: {said}."


def test_the_shelf_s_scale_is_logarithmic_and_holds_all() -> None:
    """42x12 to 42x24 on 2 m: 3.5 and 7 m; 21x24 1.75 m. Equal ratios are equal widths, by hand."""
    high, low = make((42,), (12, 24), rollout_mm=2000), make((21,), (12, 24), rollout_mm=2000)
    scale = Shelf.of([high, low]).scale.of_cells(20)
    assert scale.low <= 1.75
    assert scale.high >= 7.0
    assert scale.at(3.5) - scale.at(1.75) == pytest.approx(scale.at(7.0) - scale.at(3.5))
    assert scale.at(3.5) - scale.at(1.75) == pytest.approx(
        20 * math.log(2) / math.log(scale.high / scale.low)
    )


def test_a_shelf_line_says_what_is_harder_at_the_bottom_and_easier_at_the_top() -> None:
    """32x24 against 34x24: 32/34 - 1 = -5.9 % at both ends: gained at the bottom, lost at the top."""
    base, easier = make((34,), (12, 24)), make((32,), (12, 24))
    line = setup_line(easier, Shelf.of([base, easier]), base, Look(100))
    assert [(span.text.strip(), span.role) for span in line[-2:]] == [("-6", Role.GAINED), ("-6", Role.LOST)]


def test_race_limit_marks_stand_by_the_gears_that_break_it() -> None:
    """52x14 on 2.1 m is 7.80 m, 52x13 8.40; a wheel known by its tyre alone is good to 1 % only."""
    measured = make((52,), (13, 14, 15), rollout_mm=2100, limits={"rollout_m": 7.93})
    rows = figures_rows(study(measured))
    assert [row.split()[0] for row in rows if "over limit" in row] == ["52x13"]
    assert not [row for row in rows if row.rstrip().endswith("measure")]
    nominal = make((52,), (13, 14, 15), "25-622", limits={"rollout_m": 7.8})
    of = study(nominal)
    close = [row.gear for row in of.rows if abs(row.gear.development_m / 7.8 - 1) < 0.01]
    assert [gear.label for gear in close] == ["52x14"]
    rows = figures_rows(of)
    assert [row.split()[0] for row in rows if row.rstrip().endswith("measure")] == ["52x14"]
    assert [row.split()[0] for row in rows if "over limit" in row] == ["52x13"]


def test_a_bike_without_a_race_limit_has_no_mark_of_one() -> None:
    assert not any("rollout" in row for row in figures_rows(study(bike())))
