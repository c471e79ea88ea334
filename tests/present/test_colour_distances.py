"""Colours are told apart by eyes of every kind: distances under simulated colour vision deficiency.

The matrices are those of Machado, Oliveira and Fernandes, A Physiologically-based Model for Simulation of
Color Vision Deficiency (IEEE TVCG 15, 2009), severity 1.0, on linear RGB (A: seen in two stored copies). sRGB
to XYZ is IEC 61966-2-1 (D65), the distance that of CIE 1976 in L*a*b*.
"""

from itertools import combinations, product
from typing import Final

import numpy as np
import pytest

from cogwright.present.lines import Role
from cogwright.present.palette import DARK, LIGHT, Palette

EYES: Final = {
    "all cones": np.eye(3),
    "protanopia": np.array(
        [[0.152286, 1.052583, -0.204868], [0.114503, 0.786281, 0.099216], [-0.003882, -0.048116, 1.051998]]
    ),
    "deuteranopia": np.array(
        [[0.367322, 0.860646, -0.227968], [0.280085, 0.672501, 0.047413], [-0.011820, 0.042940, 0.968881]]
    ),
    "tritanopia": np.array(
        [[1.255528, -0.076749, -0.178779], [-0.078411, 0.930809, 0.147602], [0.004733, 0.691367, 0.303900]]
    ),
}
XYZ: Final = np.array(
    [[0.4124564, 0.3575761, 0.1804375], [0.2126729, 0.7151522, 0.0721750], [0.0193339, 0.1191920, 0.9503041]]
)
WHITE: Final = np.array([0.95047, 1.0, 1.08883])
#: What bars and rungs are drawn in; `BASE` and `BEFORE` both mean the baseline.
BARS: Final = (
    Role.BENCH, Role.BENCH_2, Role.BENCH_3, Role.BASE, Role.BEFORE, Role.LONGER, Role.LOST, Role.OVER,
)  # fmt: skip
#: What words in colour mean.
WORDS: Final = (Role.KEY, Role.CAUTION, Role.PROBLEM, Role.LOST, Role.JUMP, Role.GAINED)
#: Roles that share a colour, since they mean one thing.
SAME: Final = (
    {Role.BASE, Role.BEFORE}, {Role.OVER, Role.JUMP}, {Role.GAINED, Role.OK}, {Role.KEY, Role.CURSOR},
)  # fmt: skip
LEAST: Final = 12.0


def linear(colour: str) -> np.ndarray:
    parts = np.array([int(colour[i : i + 2], 16) / 255 for i in (1, 3, 5)])
    return np.where(parts <= 0.04045, parts / 12.92, ((parts + 0.055) / 1.055) ** 2.4)


def lab(colour: str, eye: str) -> np.ndarray:
    seen = np.clip(EYES[eye] @ linear(colour), 0.0, 1.0)
    ratio = XYZ @ seen / WHITE
    f = np.where(ratio > 216 / 24389, np.cbrt(ratio), (24389 / 27 * ratio + 16) / 116)
    return np.array([116 * f[1] - 16, 500 * (f[0] - f[1]), 200 * (f[1] - f[2])])


def distance(one: str, other: str, eye: str) -> float:
    return float(np.linalg.norm(lab(one, eye) - lab(other, eye)))


def test_the_measure_itself() -> None:
    # White is L* 100, black 0 (CIE 15); sRGB red is L* 53.24, a* 80.09, b* 67.20 (B).
    assert distance("#ffffff", "#000000", "all cones") == pytest.approx(100.0, abs=0.01)
    assert lab("#ff0000", "all cones") == pytest.approx([53.24, 80.09, 67.20], abs=0.02)
    for eye in EYES:  # a grey is the same grey to all
        assert lab("#808080", eye) == pytest.approx(lab("#808080", "all cones"), abs=0.1)


@pytest.mark.parametrize("palette", [DARK, LIGHT], ids=["dark", "light"])
@pytest.mark.parametrize("eye", EYES)
@pytest.mark.parametrize("roles", [BARS, WORDS], ids=["bars", "words"])
def test_what_means_another_thing_is_of_another_colour(
    palette: Palette, eye: str, roles: tuple[Role, ...]
) -> None:
    for one, other in combinations(roles, 2):
        if {one, other} not in SAME:
            found = distance(palette.colour(one), palette.colour(other), eye)
            assert found >= LEAST, (one, other, found)


@pytest.mark.parametrize(("palette", "same"), product((DARK, LIGHT), SAME))
def test_what_means_the_same_is_of_one_colour(palette: Palette, same: set[Role]) -> None:
    assert len({palette.colour(role) for role in same}) == 1
