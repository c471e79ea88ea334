"""Gear figures against printed ones. Grades: A seen in a stored copy of the source, B recalled from memory
(so not called published), P common practice without a source.
"""

import itertools
import math
from functools import cache
from typing import Any

import pytest

from cogwright.core.gears.gears import gain_ratio, gear_inches, gears_of, ratio, speed_kmh
from cogwright.core.gears.steps import steps_pct
from cogwright.core.study import study
from support import make


@cache
def units() -> Any:
    """Pint's registry of units, which takes a second to make."""
    import pint

    return pint.UnitRegistry()


def quantity(value: float, unit: str) -> Any:
    """A figure with its unit."""
    return units().Quantity(value, unit)


def wheel_of_inches(diameter: float) -> float:
    """Circumference in m of a wheel of so many inches, by Pint."""
    return quantity(math.pi * diameter, "inch").m_as("metre")


#: A: M. E. Ward, Bicycling for Ladies, 1896, table for a 28-inch wheel: sprocket with 7, 8, 9 at the rear.
WARD = {17: (68, 59.5, 53), 18: (72, 63, 56), 19: (76, 66.5, 59), 20: (80, 70, 62), 21: (84, 73.5, 65)}


@pytest.mark.parametrize(("ring", "printed"), WARD.items())
def test_gear_inches_of_1896(ring: int, printed: tuple[float, ...]) -> None:
    """A: to the half or whole inch that the table prints."""
    for cog, inches in zip((7, 8, 9), printed, strict=True):
        assert gear_inches(ratio(ring, cog), wheel_of_inches(28)) == pytest.approx(inches, abs=0.34)


#: A: Scientific American Supplement 1025, 24 August 1895: gear in inches, gain with a 6 1/2-inch crank.
GAIN = {63: 4.85, 72: 5.54, 76: 5.85, 80: 6.15}


@pytest.mark.parametrize(("inches", "gain"), GAIN.items())
def test_gain_ratios_of_1895(inches: int, gain: float) -> None:
    crank_mm = quantity(6.5, "inch").m_as("mm")
    assert gain_ratio(1.0, wheel_of_inches(inches), crank_mm) == pytest.approx(gain, abs=0.005)


#: ring, cog, wheel in inches, printed gear in inches, and how finely it is printed.
INCHES = [
    # A: Cycle Repairing and Adjusting, Cassell, 1916, p. 119: 72 2/9, and 50 teeth for a gear of 70.
    (50, 18, 26, 72 + 2 / 9, 1e-9),
    (50, 20, 28, 70, 1e-9),
    # A: S. Metz, Practical Object-Oriented Design in Ruby, 2012, ch. 2.
    (52, 11, 29, 137.0909090909, 1e-9),
    # A: encyclopaedia article "Gear inches".
    (40, 20, 27, 54, 1e-9),
    (53, 17, 27, 84.2, 0.05),
    (45, 15, 25, 75, 1e-9),
]


@pytest.mark.parametrize(("ring", "cog", "wheel", "printed", "within"), INCHES)
def test_gear_inches_in_print(ring: int, cog: int, wheel: int, printed: float, within: float) -> None:
    assert gear_inches(ratio(ring, cog), wheel_of_inches(wheel)) == pytest.approx(printed, abs=within)


def test_circumference_of_a_29_inch_wheel() -> None:
    """A: S. Metz, 2012, ch. 2: 91.106186954104 in, the way of a gear of 1 to 1."""
    setup = make([40], [40], rollout_mm=29 * math.pi * 25.4)
    assert gears_of(setup)[0].development_m / quantity(1, "inch").m_as("metre") == pytest.approx(
        91.106186954104, abs=1e-9
    )


def test_speed_of_gear_inches() -> None:
    """A: mph = gear inches x rpm / 336, a rounding of 336.13 (encyclopaedia article "Gear inches")."""
    kmh = speed_kmh(wheel_of_inches(84.2), 90)
    mph = quantity(kmh, "km/hour").m_as("mile/hour")
    assert mph == pytest.approx(84.2 * 90 / 336, rel=0.0005)


def test_cadence_at_55_mph() -> None:
    """A: 55 mph on 50x11 with a circumference of 2.100 m takes 155 rpm (worked example)."""
    per_rpm = speed_kmh(ratio(50, 11) * 2.100, 1)
    assert quantity(55, "mile/hour").m_as("km/hour") / per_rpm == pytest.approx(155, abs=0.5)


def test_units_of_every_figure() -> None:
    """Pint works out the same figures from quantities with units: a slip in a conversion shows."""
    wheel, crank, rpm = quantity(2.155, "m"), quantity(172.5, "mm"), quantity(90, "rpm")
    development = 46 / 19 * wheel
    row = study(make([46], [19], rollout_mm=2155, crank={"length_mm": 172.5}, rider=RIDER)).rows[0]
    assert row.gear.development_m == pytest.approx(development.m_as("m"))
    assert row.gear_inches == pytest.approx((development / math.pi).m_as("inch"))
    assert row.gain_ratio == pytest.approx((development / (2 * math.pi) / crank).m_as("dimensionless"))
    speed = development * (rpm.to("1/min") / (2 * math.pi * units().radian))
    assert row.speed_kmh == pytest.approx(speed.m_as("km/hour"))


RIDER = {"cadence_rpm": [60, 90, 110]}

#: A: steps printed for 12,13,14,15,17,19,21,24,28,34 (shared check values): easier cog, harder cog, %.
STEPS = {(34, 28): 21.4, (24, 21): 14.3, (17, 15): 13.3}


def test_steps_of_a_cassette() -> None:
    found = study(make([34], [12, 13, 14, 15, 17, 19, 21, 24, 28, 34])).rear_steps
    by_cogs = {(s.easier.cog, s.harder.cog): s.step_pct for s in found}
    for cogs, printed in STEPS.items():
        assert by_cogs[cogs] == pytest.approx(printed, abs=0.05)
    assert [s.easier.cog for s in found if s.jump] == [34, 28]


#: A: printed ranges in %: rings, cogs at the ends.
RANGES = [((24, 36), (11, 36), 491), ((32,), (10, 50), 500), ((40,), (11, 44), 400)]


@pytest.mark.parametrize(("rings", "cogs", "printed"), RANGES)
def test_ranges(rings: tuple[int, ...], cogs: tuple[int, ...], printed: int) -> None:
    assert study(make(rings, cogs)).summary.range_pct == pytest.approx(printed, abs=0.5)


def test_half_step_gears() -> None:
    """A: 52-47 with 14 17 20 24 28 climbs by these steps, % (shared check values)."""
    gears = gears_of(make([52, 47], [14, 17, 20, 24, 28]))
    printed = [10.6, 5.4, 10.6, 8.5, 10.6, 6.3, 10.6, 9.8, 10.6]
    assert steps_pct([g.development_m for g in gears]) == pytest.approx(printed, abs=0.05)


#: Distinct gears at exact, 2, 3 and 5 %, walking up from the lowest (shared check values). 50x21 and 34x14
#: are exactly 2 % apart (714/700), so the second row holds that a step of just the limit is felt.
TEN = (12, 13, 14, 15, 16, 17, 19, 21, 23, 25)
ELEVEN = (11, 12, 13, 14, 15, 17, 19, 21, 23, 25, 28)
DISTINCT = [
    ((53, 39), TEN, {0: 20, 2: 17, 3: 17, 5: 14}),
    ((50, 34), ELEVEN, {0: 21, 2: 19, 3: 18, 5: 16}),
]


@pytest.mark.parametrize(("rings", "cogs", "counts"), DISTINCT)
def test_distinct_gears(rings: tuple[int, ...], cogs: tuple[int, ...], counts: dict[float, int]) -> None:
    for limit, count in counts.items():
        assert study(make(rings, cogs, limits={"overlap_pct": limit})).summary.distinct == count


def test_two_gears_that_are_exactly_one() -> None:
    """34x17 and 50x25 are both 2 to 1: one gear even at a limit of nothing, whatever the rounding."""
    groups = study(make((50, 34), ELEVEN, limits={"overlap_pct": 0})).overlap_groups
    assert [[g.label for g in group] for group in groups if len(group) > 1] == [["34x17", "50x25"]]


def test_epicyclic_three_speed() -> None:
    """A: sun 20, annulus 60 teeth: 4/3 with the annulus driven by the planet cage, 3/4 the other way."""
    up, down = 1 + 20 / 60, 1 / (1 + 20 / 60)
    setup = make([44], [18], rear={"hub_ratios": [1.0, up, down]})
    developments = [g.development_m for g in gears_of(setup)]
    direct = make([44], [18])
    expected = [gears_of(direct)[0].development_m * x for x in (3 / 4, 1, 4 / 3)]
    assert developments == pytest.approx(expected)


#: B: from memory, not published here: ratios of hub gears and their ranges in %.
HUBS = {
    3: ([0.733, 1, 1.364], 186),
    8: ([0.527, 0.644, 0.748, 0.851, 1, 1.223, 1.419, 1.615], 306),
    14: (
        [0.279, 0.316, 0.360, 0.409, 0.464, 0.528, 0.600, 0.682, 0.774, 0.881, 1, 1.135, 1.292, 1.467],
        526,
    ),
}


@pytest.mark.parametrize(("speeds", "hub"), HUBS.items())
def test_hub_sets(speeds: int, hub: tuple[list[float], int]) -> None:
    """The hub alone is the ladder: one step between neighbours, the range of its ratios."""
    ratios, printed = hub
    of = study(make([42], [18], rear={"hub_ratios": ratios}))
    assert of.summary.gears == speeds
    assert of.summary.range_pct == pytest.approx(printed, abs=0.5)
    expected = [100 * (b / a - 1) for a, b in itertools.pairwise(ratios)]
    assert [s.step_pct for s in of.rear_steps] == pytest.approx(expected)


def test_single_speed_has_a_figure_for_everything() -> None:
    of = study(make([44], [18], crank={"length_mm": 170}), make([42], [18]))
    assert (of.summary.gears, of.summary.range_pct, of.summary.jumps) == (1, 100.0, 0)
    assert of.rows[0].step_pct is None
    assert of.comparison is not None
    assert of.comparison.high_change_pct == pytest.approx(100 * (44 / 42 - 1))


@pytest.mark.parametrize("cogs", [(11, 13, 15, 17), (12, 14, 17, 21, 26)])
def test_taking_the_cog_between_out_multiplies_its_steps(cogs: tuple[int, ...]) -> None:
    """P: the step left behind is (1 + a)(1 + b) - 1."""
    before = [s.step_pct / 100 for s in study(make([40], cogs)).rear_steps]
    for gone in cogs[1:-1]:
        at = len(cogs) - 1 - cogs.index(gone)
        after = [s.step_pct / 100 for s in study(make([40], [c for c in cogs if c != gone])).rear_steps]
        assert after[at - 1] == pytest.approx((1 + before[at - 1]) * (1 + before[at]) - 1)
