"""Gears of the baseline that no gear of the bench comes near, by hand: by ratios alone, on one wheel."""

import pytest

from cogwright.core.study import study
from support import make


def test_the_worst_of_two_holes_counts() -> None:
    """Cogs 11 and 32 on both: 20 and 14 of the baseline lie between. On a ring of 40 gears are 40/cog."""
    base, bench = make([40], [11, 14, 20, 32]), make([40], [11, 32])
    found = study(bench, base).comparison
    assert found is not None
    # 14 is 14/11 above 11 (27.3 %); 20 is 32/20 above 32 (60 %), nearer than 20/11 (81.8 %).
    assert found.worst_hole_pct == pytest.approx(100 * (32 / 20 - 1))
    assert sorted(hole.away_pct for hole in found.holes) == pytest.approx(
        [100 * (14 / 11 - 1), 100 * (32 / 20 - 1)]
    )


def test_no_hole_where_every_gear_is_there() -> None:
    base = make([40], [11, 14, 20, 32])
    found = study(base, base).comparison
    assert found is not None
    assert (found.holes, found.worst_hole_pct) == ((), 0.0)


def test_where_no_gear_of_the_baseline_lies_within_there_is_no_hole() -> None:
    """40/20 and 40/18 are 2.0 and 2.22; the baseline's 40/32 and 40/11 lie below and above."""
    found = study(make([40], [18, 20]), make([40], [11, 32])).comparison
    assert found is not None
    assert (found.holes, found.worst_hole_pct) == ((), 0.0)
