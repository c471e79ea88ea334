"""A plan for rides: against every kit of a small bin tried one by one."""

import pytest

from cogwright.core.gears.gears import gears_of
from cogwright.core.proposing.plan import Plan
from cogwright.core.proposing.served import Served, ranked_by
from cogwright.core.setup.model import Setup
from core.proposing.test_plan import SEEDS, every, random_bike, random_bin, six

#: Speeds up to 43 km/h, most of the time at 7 km/h: hills for which a lower gear is needed.
SERVED = Served.of("hills", [(v / 10, 30.0 if 15 <= v <= 25 else 3.0) for v in range(10, 120)])


@pytest.mark.long(cases=0)
@pytest.mark.parametrize("seed", SEEDS[:10])
def test_no_kit_serves_longer_than_the_one_that_is_ranked_first(seed: int) -> None:
    """Every kit tried, each judged speed by speed."""
    base, stock = random_bike(seed), random_bin(seed)
    low, _, high = base.rider.cadence_rpm

    def outside(setup: Setup) -> float:
        gears = [gear.development_m for gear in gears_of(setup)]
        rows = zip(SERVED.speeds, SERVED.seconds, strict=True)
        return sum(s for v, s in rows if not any(low <= 60 * v / dev <= high for dev in gears))

    least = min(outside(kit.setup) for kit in every(seed))
    found = Plan(base, stock, served=SERVED).result()
    assert found.meets
    assert min(kit.outside_s or 0.0 for kit in found.kits) == pytest.approx(least, abs=0.1)
    assert all(kit.outside_s == round(kit.outside_s or 0.0, 1) for kit in found.kits)
    first = ranked_by(SERVED, found.proposals())[0]
    assert outside(first.setup) == pytest.approx(least, abs=3.1), "crossed gears are left out there"


def test_without_somewhere_to_serve_nothing_changes() -> None:
    base, stock = six(), random_bin(1)
    assert all(kit.outside_s is None and len(kit.aims) == 4 for kit in Plan(base, stock).result().kits)
