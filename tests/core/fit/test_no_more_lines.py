"""A bike whose file gives no fact of cable, wear, hub, belt, motor and the like sees no line of them."""

from typing import Any

import pytest

from bikes import DEMO
from cogwright.core.setup.model import Setup
from cogwright.core.study import study
from cogwright.present.lines import Look, plain
from cogwright.present.views.fit import fit_lines
from cogwright.store.documents import read_setup

#: The checks that were there before any of those facts could be given.
BEFORE = {
    "chain length", "axle travel", "chain slack", "largest cog", "smallest cog", "capacity",
    "front difference", "largest ring", "frame clearance", "bolt circle", "freehub driver",
    "riveted carriers", "clicks", "spacing family", "chain width", "chain angle", "bead seat", "rollout",
}  # fmt: skip
#: The keys of the file at that time.
KEYS: dict[str, set[str]] = {
    "wheel": {"size", "rollout_mm"},
    "crank": {"rings", "length_mm", "bolt_circle_mm", "inner_bolt_circle_mm", "bolts", "chainline_mm",
              "ring_spacing_mm"},
    "rear": {"cogs", "clicks", "smallest_cog", "carriers", "hub_ratios", "chainline_mm", "cog_pitch_mm",
             "family"},
    "rear_derailleur": {"largest_cog", "smallest_cog", "capacity", "family"},
    "front_derailleur": {"largest_ring", "difference"},
    "shifters": {"family"},
    "frame": {"chainstay_mm", "suspension_growth_mm", "axle_travel_mm", "largest_ring"},
    "chain": {"links", "outer_width_mm"},
    "rider": {"mass_kg", "bike_kg", "load_kg", "power_w", "cadence_rpm", "cda_m2", "crr"},
    "limits": {"jump_pct", "overlap_pct", "rollout_m", "chain_angle_deg", "chain_width_mm", "smallest_ring"},
}  # fmt: skip
FILES = sorted(DEMO.glob("*.toml"))


def as_before(setup: Setup) -> Setup:
    """The setup with nothing but the facts that a file could hold before."""
    given: dict[str, Any] = setup.model_dump(exclude_defaults=True)
    kept = {
        table: {k: v for k, v in given[table].items() if k in KEYS[table]} for table in KEYS if table in given
    }
    return Setup.model_validate({"name": setup.name, **kept})


@pytest.mark.long(cases=4)
@pytest.mark.parametrize("path", FILES, ids=lambda path: path.stem)
def test_no_check_beyond_those_that_were_there(path: Any) -> None:
    read = read_setup(path).value
    base = as_before(read_setup(DEMO / read.baseline).value) if read.baseline else None
    found = study(as_before(read), base)
    # One ring in the place of several is asked what keeps the chain on, whatever the file says.
    converted = base is not None and len(base.crank.rings) > len(read.crank.rings)
    assert {check.check for check in found.fit} <= BEFORE | ({"chain retention"} if converted else set())
    heads = {plain(row).strip() for row in fit_lines(found, Look()) if row and row[0].role == "head"}
    assert {head for head in heads if not head.startswith("cog ")} <= {"Chain", "Race limit"}
