"""A tandem's timing chain: two rings alike take 2 D / p and the teeth of one; limits by hand."""

from typing import Any

import pytest

from bikes import check
from cogwright.core.chain.timing import timing_of
from cogwright.core.fit.check import Status
from cogwright.core.setup.model import Setup
from cogwright.core.study import study
from cogwright.core.worksheet.build import order_sheet
from cogwright.core.worksheet.sheet import Job
from cogwright.present.report.data import Report, document
from support import make


def bike(**timing: Any) -> Setup:
    facts = {"rings": [39, 39], "centres_mm": 710.0, "links": 152, "eccentric_mm": 10.0} | timing
    known = {k: v for k, v in facts.items() if v is not None}
    return make((30, 50), (11, 21, 32), timing_chain=known)


def test_two_rings_alike_take_twice_the_distance_and_the_teeth_of_one() -> None:
    # By hand: 2 x 710 / 12.7 = 111.81 and 39 are 150.81, cut to 152.
    of = timing_of(bike())
    assert of is not None
    assert of.needed == pytest.approx(2 * 710 / 12.7 + 39)
    assert of.fit == 152
    assert of.furthest == pytest.approx(2 * 720 / 12.7 + 39)
    assert timing_of(make((30, 50), (11, 32))) is None


@pytest.mark.parametrize(
    ("changed", "status", "said"),
    [
        ({}, Status.OK, "1.19 links over"),  # 152 - 150.81; the eccentric's 10 mm are 1.57 links
        ({"links": 150}, Status.PROBLEM, "does not go round"),
        ({"links": 151}, Status.CAUTION, "half link"),
        ({"links": 154}, Status.PROBLEM, "more than the eccentric takes up"),
        ({"eccentric_mm": 5.0}, Status.PROBLEM, "more than the eccentric takes up"),
        ({"eccentric_mm": None}, Status.UNKNOWN, "needs timing_chain.eccentric_mm"),
        ({"links": None}, Status.UNKNOWN, "the rings take 152 links"),
        ({"centres_mm": None}, Status.UNKNOWN, "needs timing_chain.centres_mm"),
        ({"rings": [39, 38]}, Status.PROBLEM, "out of phase"),
        ({"rings": [130, 130], "centres_mm": 200.0}, Status.PROBLEM, "would touch"),
    ],
)
def test_its_length(changed: dict[str, Any], status: Status, said: str) -> None:
    found = check(bike(**changed), "timing chain")
    assert found.status is status
    assert said in found.say


@pytest.mark.parametrize(
    ("pct", "limit", "status"),
    [(0.5, None, Status.OK), (0.75, None, Status.CAUTION), (0.5, 0.5, Status.CAUTION), (1.0, 1.5, Status.OK)],
)
def test_its_own_wear(pct: float, limit: float | None, status: Status) -> None:
    """P: 0.75 % below ten cogs; it runs on two rings, whatever the cassette has."""
    limits = {} if limit is None else {"chain_wear_pct": limit}
    setup = make((30, 50), (11, 21, 32), timing_chain={"stretch_pct": pct}, limits=limits)
    assert check(setup, "timing wear").status is status


def test_another_timing_chain_is_a_job_of_its_own() -> None:
    worn, other = bike(stretch_pct=0.9), bike(links=154, stretch_pct=0.0)
    sheet = order_sheet(study(other, worn))
    assert sheet is not None
    (change,) = sheet.changes
    assert (change.job, change.off[0].what, change.on[0].what) == (
        Job.TIMING,
        "timing chain, 152 links",
        "timing chain, 154 links",
    )
    assert "timing chain 0.90 %: change it" in " ".join(sheet.steps[0].cautions)
    assert any("cranks in step" in said for step in sheet.steps for said in step.cautions)
    renewed = order_sheet(study(bike(stretch_pct=0.0), worn))
    assert renewed is not None
    assert [one.job for one in renewed.changes] == [Job.TIMING], "none shrinks"
    older = order_sheet(study(bike(stretch_pct=1.2), worn))
    assert older is not None
    assert not older.changes, "it has stretched on, and nobody changed it"
    rings = order_sheet(study(bike(rings=[40, 40]), bike()))
    assert rings is not None
    assert "timing rings 40 and 40" in [item.what for item in rings.on]
    same = order_sheet(study(worn, bike()))
    assert same is not None
    assert not same.changes, "measured now, and not before"


def test_a_bike_without_one_has_no_line_of_it() -> None:
    names = {c.check for c in study(make((30, 50), (11, 21, 32))).fit}
    assert names.isdisjoint({"timing chain", "timing wear"})
    assert document(Report(study(make((30, 50), (11, 21, 32)))))["timing_chain"] is None
    assert document(Report(study(bike())))["timing_chain"] == {
        "needed": pytest.approx(150.811, abs=1e-3),
        "fit": 152,
        "installed": 152,
        "stretch_pct": None,
        "missing": [],
    }
