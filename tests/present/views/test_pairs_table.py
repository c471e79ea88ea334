"""The table of pairs without a tensioner keeps to its room: columns go, and what is left stands whole."""

import pytest

from cogwright.core.drive.pairs import pairs_for
from cogwright.present.lines import Look, plain, width
from cogwright.present.views.drives import pair_table


@pytest.mark.long(cases=3)
@pytest.mark.parametrize("cells", [36, 48, 60, 76, 116])
@pytest.mark.parametrize("wanted", [(None, None), (2.1, 5.2)], ids=["near", "wanted"])
def test_what_is_left_of_a_pair_stands_whole(
    cells: int, wanted: tuple[float, float] | tuple[None, None]
) -> None:
    found = pairs_for(2.5, 430.0, travel_mm=12.0)[:12]
    head, *rows = pair_table(found, Look(cells), *wanted)
    assert all(width(row) <= cells for row in (head, *rows))
    assert ("off %" in plain(head)) is (wanted != (None, None))
    assert ("in common" in plain(head)) or cells < 116
    assert ("new mm" in plain(head)) or cells < 60
    for pair, row in zip(found, map(plain, rows), strict=True):
        assert row.startswith(f" {pair.ring}x{pair.cog} ")
        assert f" {pair.links}  {pair.mark}" in row
