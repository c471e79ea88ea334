"""Speed bands: arithmetic by hand, gaps by brute force over speeds."""

from itertools import pairwise

import pytest

from cogwright.core.gears.gears import gears_of
from cogwright.core.riding.bands import bands_of
from cogwright.core.setup.model import Setup
from cogwright.core.study import study
from cogwright.present.lines import ASCII, UNICODE, Glyphs, Look, plain, width
from cogwright.present.views.bands import band_lines
from support import make

#: 2.5, 4 and 6 m a turn; liked from 60 to 100 rpm, 80 preferred.
THREE = make((40,), (16, 10), rollout_mm=1000, rider={"cadence_rpm": [60, 80, 100]})
#: A hub gear whose two gears are a factor of 2 apart: 100 rpm in one are 50 in the other.
HOLE = make((40,), (20,), rollout_mm=2000, rear={"hub_ratios": [1, 2]}, rider={"cadence_rpm": [60, 80, 100]})
BIKES = [THREE, HOLE, make((28, 44), (11, 13, 16, 20, 25, 32)), make((44,), (18,))]


def test_bands_by_hand() -> None:
    """4 m at 60, 80 and 100 rpm: 240, 320 and 400 m a minute are 14.4, 19.2 and 24 km/h."""
    bands = bands_of(study(THREE)).bands
    assert [round(band.gear.development_m, 3) for band in bands] == [2.5, 4.0]
    assert (bands[1].low_kmh, bands[1].preferred_kmh, bands[1].high_kmh) == pytest.approx((14.4, 19.2, 24.0))


def test_shift_up_where_both_are_equally_far_from_the_preferred_cadence() -> None:
    """2.5 and 4 m: at v a minute v / 2.5 - 80 = 80 - v / 4, v = 160 / 0.65 = 246.2 m a minute, 14.77 km/h."""
    low, high = bands_of(study(THREE)).bands
    assert low.up_kmh == pytest.approx(160 / 0.65 * 60 / 1000)
    assert high.up_kmh is None


def test_a_gap_is_where_no_gear_has_a_liked_cadence() -> None:
    """4 m at 100 rpm are 24 km/h, 8 m at 60 rpm are 28.8."""
    (gap,) = bands_of(study(HOLE)).gaps
    assert (gap.low_kmh, gap.high_kmh) == pytest.approx((24.0, 28.8))
    assert "no liked cadence from 24.0 to 28.8 km/h" in "\n".join(map(plain, band_lines(study(HOLE), Look())))


@pytest.mark.parametrize("bike", BIKES, ids=lambda bike: str(bike.crank.rings))
def test_gaps_by_brute_force(bike: Setup) -> None:
    """Every tenth of a km/h between the ends: in a gap no gear turns at a liked cadence, else one does."""
    of = study(bike)
    found, (low, _, high) = bands_of(of), bike.rider.cadence_rpm
    ridden = [gear for gear in gears_of(bike) if gear not in of.left_out]
    speeds = [v / 10 for v in range(int(found.bands[0].low_kmh * 10) + 1, int(found.bands[-1].high_kmh * 10))]
    for speed in speeds:
        serves = any(low <= speed * 1000 / 60 / gear.development_m <= high for gear in ridden)
        inside = any(gap.low_kmh < speed < gap.high_kmh for gap in found.gaps)
        assert serves is not inside, speed


@pytest.mark.parametrize("cells", [40, 59, 60, 80, 120, 200])
@pytest.mark.parametrize("glyphs", [UNICODE, ASCII], ids=lambda g: g.name)
def test_bars_stand_on_one_axis_and_in_their_room(cells: int, glyphs: Glyphs) -> None:
    """Each bar begins and ends where its speeds lie, to a cell; bars that overlap do so on the screen."""
    for bike in BIKES:
        of = study(bike)
        rows = band_lines(of, Look(cells, glyphs=glyphs))
        assert max(map(width, rows)) <= cells
        bands = {band.gear.label: band for band in bands_of(of).bands}
        drawn = [(row[0].text.strip(), row[1].text) for row in rows if len(row) == 3]
        assert [label for label, _ in drawn] == list(bands)
        top = max(band.high_kmh for band in bands.values())
        for label, bar in drawn:
            start, end = len(bar) - len(bar.lstrip()), len(bar.rstrip())
            assert abs(start - bands[label].low_kmh * len(bar) / top) <= 1
            assert abs(end - bands[label].high_kmh * len(bar) / top) <= 1
        assert all(len(a) == len(b) for (_, a), (_, b) in pairwise(drawn))
