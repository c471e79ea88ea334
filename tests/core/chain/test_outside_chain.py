"""The chain's geometry against figures and methods from outside the project."""

import math
from itertools import product

import numpy as np
import pytest
from shapely import MultiPoint

from cogwright.core.chain.axle import movement_mm, stay_for
from cogwright.core.chain.bolt_circle import from_neighbours, smallest_ring
from cogwright.core.chain.length import even_up, exact_pitches, pitch_radius, textbook_pitches
from cogwright.core.chain.line import places
from cogwright.core.study import study
from scipys import brentq
from support import make

PITCH_MM = 12.7

# A: pitch diameters in mm, ISO 606 06B (pitch 9.525 mm), printed to 0.01.
ISO_606_06B = {
    17: 51.83, 19: 57.87, 21: 63.91, 25: 76.00, 30: 91.12, 45: 136.55, 57: 172.91, 114: 345.68,
}  # fmt: skip
# A: pitch diameters in inches, ANSI 1-inch pitch, printed to 0.001.
ANSI_1_INCH = {11: 3.550, 15: 4.810, 20: 6.392, 25: 7.979, 34: 10.838, 39: 12.428}
# P: smallest ring by bolt circle in mm, the trade's table (common practice, no source). Where it gives a
# range, the lower one is a ring made for it.
TRADE_SMALLEST_RING = {130: 38, 110: 33, 104: 32, 94: 29, 74: 24, 64: 22, 58: 20}


@pytest.mark.parametrize(("teeth", "diameter"), ISO_606_06B.items())
def test_pitch_diameters_of_iso_606(teeth: int, diameter: float) -> None:
    assert 2 * pitch_radius(teeth, 9.525) == pytest.approx(diameter, abs=0.01)


@pytest.mark.parametrize(("teeth", "diameter"), ANSI_1_INCH.items())
def test_pitch_diameters_of_ansi_one_inch(teeth: int, diameter: float) -> None:
    assert 2 * pitch_radius(teeth, 1.0) == pytest.approx(diameter, abs=0.0006)


def test_worked_chain_of_114_8_pitches() -> None:
    # A: chain-drive design paper's worked example: z 20 and 63, 36 pitches between centres, 114.8 pitches;
    # made 114, then the centres are 35.6 pitches apart. Both are the figures of the paper's own reference.
    # As its own exact ones it prints 114.305 and 35.8447: half a pitch less chain. The band round two
    # polygons by Shapely is 114.80 pitches long, as ours.
    assert exact_pitches(63, 20, 36 * PITCH_MM) == pytest.approx(114.805, abs=0.0005)
    assert _wrapped_polygons(63, 20, 36 * PITCH_MM) == pytest.approx(114.805, abs=0.01)
    assert textbook_pitches(63, 20, 36 * PITCH_MM) == pytest.approx(114.8, abs=0.05)
    assert even_up(114.8) == 116
    assert stay_for(63, 20, 114) / PITCH_MM == pytest.approx(35.6, abs=0.05)


def test_exact_agrees_with_textbook_over_all_bicycle_sizes() -> None:
    pairs = product(range(20, 63), range(9, 53), range(380, 521, 20))
    worst = max(abs(exact_pitches(n, m, d) - textbook_pitches(n, m, d)) for n, m, d in pairs)
    # The handbook form is a series cut after its first term; its next term bounds what it leaves out.
    # ((N - n) / 2 pi)^4 / (12 (D/p)^3), for 62 and 9 teeth on 380 mm.
    bound = ((62 - 9) / (2 * math.pi)) ** 4 / (12 * (380 / PITCH_MM) ** 3)
    assert worst < bound * 1.25
    assert worst < 0.02


def _wrapped_polygons(ring: int, cog: int, stay: float, turns: int = 48) -> float:
    """Mean length in pitches of a band round two toothed polygons, over the positions of the teeth.

    A chain's pins lie on the corners of a polygon of one pitch a side: the tightest band round the corners
    of both is the chain. How the teeth stand to each other shortens and lengthens it a little; a turning
    drive goes through all positions, so the mean counts.
    """
    lengths = []
    for turn in range(turns):
        both = []
        for teeth, x, share in ((ring, 0.0, turn / turns), (cog, stay, turn * 7 % turns / turns)):
            angles = 2 * np.pi * (np.arange(teeth) + share) / teeth
            radius = pitch_radius(teeth)
            both.append(np.column_stack([x + radius * np.cos(angles), radius * np.sin(angles)]))
        lengths.append(MultiPoint(np.vstack(both)).convex_hull.length / PITCH_MM)
    return float(np.mean(lengths))


@pytest.mark.parametrize(
    ("ring", "cog", "stay"),
    [(46, 34, 435.0), (30, 11, 435.0), (50, 11, 405.0), (34, 34, 420.0), (32, 51, 440.0), (22, 36, 425.0)],
)
def test_length_against_a_band_round_two_polygons(ring: int, cog: int, stay: float) -> None:
    assert exact_pitches(ring, cog, stay) == pytest.approx(_wrapped_polygons(ring, cog, stay), abs=0.02)


def test_arcs_of_the_pitch_circle_would_be_too_long() -> None:
    # Guards the choice of the formula: smooth arcs overstate a small cog's chain beyond that band's doubt.
    ring, cog, stay = 30, 11, 435.0
    big, small = pitch_radius(ring), pitch_radius(cog)
    lean = math.asin((big - small) / stay)
    smooth = 2 * stay * math.cos(lean) + math.pi * (big + small) + 2 * (big - small) * lean
    assert smooth / PITCH_MM - _wrapped_polygons(ring, cog, stay) > 0.08


@pytest.mark.parametrize(("ring", "cog", "pitches"), [(42, 17, 98), (46, 16, 104), (34, 18, 92)])
def test_axle_position_against_a_root_finder(ring: int, cog: int, pitches: int) -> None:
    found = brentq(lambda d: textbook_pitches(ring, cog, d) - pitches, 250.0, 700.0, xtol=1e-9)
    assert stay_for(ring, cog, pitches) == pytest.approx(found, abs=0.05)


def test_slack_strand_against_a_polyline() -> None:
    # The slack strand drawn as two straight pieces over a fixed span, found by a root finder.
    ring, cog, stay = 42, 17, 405.0
    pitches = even_up(exact_pitches(ring, cog, stay))
    spare = (pitches - exact_pitches(ring, cog, stay)) * PITCH_MM
    span = math.sqrt(stay**2 - (pitch_radius(ring) - pitch_radius(cog)) ** 2)

    def too_long(drop: float) -> float:
        points = np.array([[0.0, 0.0], [span / 2, -drop], [span, 0.0]])
        return float(np.linalg.norm(np.diff(points, axis=0), axis=1).sum()) - (span + spare)

    drop = brentq(too_long, 0.0, 300.0)
    assert movement_mm(ring, cog, stay, pitches) == pytest.approx(2 * drop, rel=1e-6)


@pytest.mark.parametrize(("bolts", "factor"), [(3, 1.155), (4, 1.414), (5, 1.701)])
def test_bolt_circle_from_neighbouring_holes(bolts: int, factor: float) -> None:
    # A: printed factors, three decimals.
    assert from_neighbours(1.0, bolts) == pytest.approx(factor, abs=0.0006)


@pytest.mark.parametrize("bolts", [3, 4, 5, 6])
def test_bolt_circle_against_points_on_a_circle(bolts: int) -> None:
    angles = 2 * np.pi * np.arange(bolts) / bolts
    holes = 55.0 * np.column_stack([np.cos(angles), np.sin(angles)])
    distance = float(np.linalg.norm(holes[0] - holes[1]))
    assert from_neighbours(distance, bolts) == pytest.approx(110.0)


@pytest.mark.parametrize(("circle", "teeth"), TRADE_SMALLEST_RING.items())
def test_smallest_ring_by_geometry_is_the_trade_s(circle: int, teeth: int) -> None:
    assert smallest_ring(circle) == teeth


def test_places_are_symmetric_about_the_chainline() -> None:
    assert np.mean(places(47.5, [7.5, 7.5])) == pytest.approx(47.5)
    assert np.diff(places(47.5, [7.5, 7.5])) == pytest.approx([7.5, 7.5])


def test_slack_in_every_gear_against_a_band_round_two_polygons() -> None:
    bike = make((30, 46), (11, 14, 18, 23, 34), frame={"chainstay_mm": 435.0}, chain={"links": 112})
    for gear in study(bike).chain.per_gear:
        band = _wrapped_polygons(gear.ring, gear.cog, 435.0, turns=24)
        assert gear.slack == pytest.approx(112 - band, abs=0.02), gear.label
