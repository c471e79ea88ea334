"""The view of recorded rides: it keeps to its room, and tells what JSON tells."""

import pytest

from cogwright.core.common.safe_text import cells
from cogwright.core.gears.gears import gears_of
from cogwright.core.riding.evidence.evidence import Evidence, evidence_of
from cogwright.present.lines import ASCII, UNICODE, Glyphs, Look, plain
from cogwright.present.report.rides_data import RidesReport, rides_document, rides_markdown
from cogwright.present.views.rides import rides_lines, rides_page
from support import make
from synthetic import Sensors, random_ride, recorded

BIKE = make((28, 42), (11, 13, 15, 17, 19, 21, 24, 27, 30), rollout_mm=2200)
BENCH = make((40,), (11, 13, 15, 17, 19, 21, 24, 28, 34), rollout_mm=2200)


def evidence(seed: int = 1, cadence: bool = True, rides: int = 1) -> Evidence:
    ridden = [random_ride(gears_of(BIKE), seed + i, 600, (10, 30)) for i in range(rides)]
    sensors = Sensors(drops=0.01 if cadence else 1.0)
    return evidence_of([recorded(ride, sensors) for ride in ridden], BIKE, BENCH)


@pytest.mark.long(cases=2)
@pytest.mark.parametrize("width", [40, 60, 80, 120])
@pytest.mark.parametrize("glyphs", [UNICODE, ASCII], ids=["unicode", "ascii"])
def test_it_keeps_to_its_room(width: int, glyphs: Glyphs) -> None:
    for of in (evidence(), evidence(rides=2), evidence(cadence=False)):
        rows = [plain(row) for row in rides_lines(of, Look(width=width, glyphs=glyphs))]
        assert max(map(cells, rows)) <= width
        assert glyphs is UNICODE or "".join(rows).isascii()


def test_it_tells_what_the_data_tell() -> None:
    """The head's times and shifts are those of the data, rounded; so are the gears' shares."""
    of = evidence()
    data = rides_document(RidesReport(of, "bike.toml"))
    head = " ".join(" ".join(plain(row) for row in rides_page(of, Look()).head).split())
    minutes, seconds = divmod(round(of.use.pedalled_s), 60)
    assert f"Pedalled 0:{minutes:02}:{seconds:02} h" in head
    assert data["pedalled_s"] == pytest.approx(of.use.pedalled_s, abs=0.001)
    assert f"{data['shifts_per_km']:.1f} shifts a km" in head


def test_gears_that_cannot_be_told_apart_are_named() -> None:
    """28x12 and 42x18 are the same ratio, 7 to 3."""
    twins = make((28, 42), (12, 15, 18), rollout_mm=2200)
    ride = recorded(random_ride(gears_of(twins), 3, 300, (10, 30)), Sensors())
    rows = [plain(row) for row in rides_lines(evidence_of([ride], twins), Look(width=80))]
    assert any("not surely told from one another: " in row for row in rows)
    assert any("28x12 and 42x18" in row or "42x18 and 28x12" in row for row in rows)


def test_speeds_alone_are_said_to_be_alone() -> None:
    rows = [plain(row) for row in rides_lines(evidence(cadence=False), Look(width=80))]
    assert any("No cadence was recorded" in row for row in rows)
    assert not any("rpm" in row for row in rows)


def test_a_name_from_a_file_is_no_markup() -> None:
    hostile = make((40,), (20,), name="[b]# x<b>`")
    ride = recorded(random_ride(gears_of(hostile), 1, 60, (10, 30)), Sensors())
    out = rides_markdown(RidesReport(evidence_of([ride], hostile), "x"))
    assert "\n# " not in out
    assert " x<b>" not in out.splitlines()[0], "the bracket is escaped"
