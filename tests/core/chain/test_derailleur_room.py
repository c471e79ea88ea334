"""Room round the rear derailleur, against circles by Shapely and a taut string by SciPy."""

import math

import numpy as np
import pytest
from shapely import Point

from cogwright.core.chain.derailleur_room import b_gap, extended_limit, ground_mm, most_take_up
from scipys import minimize

PITCH = 12.7


def radius(teeth: int) -> float:
    """By the law of cosines on one side of the polygon of pins: p^2 = 2 R^2 (1 - cos(2 pi / z))."""
    return PITCH / math.sqrt(2.0 * (1.0 - math.cos(2.0 * math.pi / teeth)))


def test_a_tooth_of_cog_is_two_millimetres_of_radius() -> None:
    """By hand: 12.7 / (2 pi) = 2.021 mm."""
    assert radius(43) - radius(42) == pytest.approx(12.7 / (2 * math.pi), abs=0.01)
    assert b_gap(8.0, 34, 38) == pytest.approx(8.0 - 4 * 2.02, abs=0.03)


@pytest.mark.parametrize(("on", "cog", "gap"), [(34, 36, 6.0), (42, 34, 5.5), (28, 51, 20.0), (34, 34, 7.0)])
def test_the_gap_is_what_shapely_finds_between_two_circles(on: int, cog: int, gap: float) -> None:
    """The pulley stands where it leaves the gap on one cog; on another its distance is Shapely's."""
    pulley = radius(11)
    centre = Point(0.0, -(radius(on) + gap + pulley)).buffer(pulley, quad_segs=512)
    other = Point(0.0, 0.0).buffer(radius(cog), quad_segs=512)
    found = b_gap(gap, on, cog)
    if found > 0:
        assert found == pytest.approx(centre.distance(other), abs=0.01)
    else:
        assert centre.intersects(other)


def test_an_extension_gives_what_counts_of_its_drop() -> None:
    assert b_gap(2.0, 34, 34, 20.0) == pytest.approx(2.0 + 0.85 * 20.0)
    for limit, drop in ((28, 10.0), (34, 20.0), (36, 28.0)):
        most = extended_limit(limit, drop)
        room = radius(limit) + 0.85 * drop
        assert radius(most) <= room < radius(most + 1)


def test_a_cage_on_a_wheel_of_sixteen_inches_stands_low() -> None:
    """By hand: 40-305 is 385 mm across, so its axle stands 192.5 mm high; a cage 140 mm down leaves 52.5."""
    circumference = math.pi * 0.385
    assert ground_mm(circumference, 140.0) == pytest.approx(52.5)
    assert ground_mm(circumference, 140.0, 20.0) == pytest.approx(32.5)


@pytest.mark.long(cases=1)
@pytest.mark.parametrize("cage", [56.0, 75.0, 93.0, 110.0])
def test_most_take_up_is_a_taut_strings(cage: float) -> None:
    """A string drawn tight back under one pulley and over the other, found by SciPy.

    The lower pulley stands at the origin, the upper one `cage` before it. The string comes from far ahead,
    goes back under the lower pulley and round behind it, crosses, goes round before the upper one and away
    back over it. Its four ends on the pulleys are free.
    """
    r = radius(11)
    far = 50_000.0

    def on(centre: float, angle: float) -> np.ndarray:
        return np.array([centre + r * math.cos(angle), r * math.sin(angle)])

    def length(ends: np.ndarray) -> float:
        first, last, onto, away = ends
        start, end = np.array([far, -r]), np.array([-far, r])
        straight = np.linalg.norm(start - on(0.0, first)) + np.linalg.norm(on(0.0, last) - on(cage, onto))
        straight += np.linalg.norm(on(cage, away) - end)
        # Clockwise round the lower one, the other way round the upper one.
        return float(straight + r * (first - last) + r * (away - onto))

    guess = np.array([1.5 * math.pi, 0.4 * math.pi, -0.6 * math.pi, 0.5 * math.pi])
    # Where it is taut its length does not change with any of the ends.
    exact = {"xatol": 1e-10, "fatol": 1e-14, "maxiter": 20_000, "maxfev": 20_000}
    tight = minimize(lambda x: np.sum(_slope(length, x) ** 2), guess, method="Nelder-Mead", options=exact)
    direct = float(np.linalg.norm([2 * far, 2 * r]))
    assert most_take_up(cage) == pytest.approx((length(tight.x) - direct) / PITCH, abs=1e-3)


def _slope(f: object, x: np.ndarray) -> np.ndarray:
    step = 1e-5
    return np.array([(f(x + step * e) - f(x - step * e)) / (2 * step) for e in np.eye(len(x))])  # type: ignore[operator]


def test_pulleys_that_touch_have_no_way_between() -> None:
    with pytest.raises(ValueError, match="touch"):
        most_take_up(2 * radius(11))
