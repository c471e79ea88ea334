"""Rings that stay keep their places when others leave or come. By hand: a chainline and half gaps."""

import math

import pytest

from bikes import DEMO
from cogwright.core.setup.edits import AddSprocket, RemoveSprocket, SetTeeth
from cogwright.core.setup.model import Crank
from cogwright.core.setup.ring_places import with_rings
from cogwright.core.study import study
from cogwright.store.documents import read_setup


def crank(*rings: int, chainline: float | None = 44.5, **more: object) -> Crank:
    return Crank(rings=rings, chainline_mm=chainline, **{"ring_spacing_mm": 8.0, **more})  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("had", "rings", "chainline"),
    [
        (crank(28, 42), (42,), 48.5),  # the outer of two 8 mm apart
        (crank(28, 42), (28,), 40.5),  # the inner
        (crank(28, 42), (40,), 48.5),  # nearest in teeth to 42
        (crank(28, 42), (30,), 40.5),
        (crank(28, 42, inner_bolt_circle_mm=64.0), (30,), 48.5),  # the inner circle is the 28's alone
        (crank(26, 36, 48), (36,), 44.5),
        (crank(26, 36, 48), (48,), 52.5),
        (crank(26, 36, 48), (36, 48), 48.5),
        (crank(26, 36, 48), (26, 36), 40.5),
        (crank(28, 42), (30, 46), 44.5),  # as many as before: where the crank's middle was
        (crank(28, 42, chainline=None), (42,), None),
        (crank(34, 50, ring_spacing_mm=None), (50,), 48.25),  # P: rings stand 7.5 mm apart
        (crank(26, 36, 48, ring_spacing_mm=(7.0, 9.0)), (48,), 44.5 + 8.0),
    ],
)
def test_a_ring_left_alone_keeps_its_place(
    had: Crank, rings: tuple[int, ...], chainline: float | None
) -> None:
    assert with_rings(had, rings).chainline_mm == chainline


def test_the_outer_two_of_three_stand_twice_as_far_apart() -> None:
    left = with_rings(crank(26, 36, 48), (26, 48))
    assert (left.chainline_mm, left.ring_spacing_mm) == (44.5, 16.0)


def test_a_ring_put_back_makes_the_crank_what_it_was() -> None:
    was = crank(28, 42)
    assert with_rings(with_rings(was, (42,)), (28, 42)) == was
    assert with_rings(with_rings(was, (28,)), (28, 42)) == was


def test_every_edit_of_rings_keeps_places() -> None:
    """The demo tourer: 42 alone runs to the 30 cog at atan(21.775/440) = 2.83 degrees, not at 2.31."""
    double = read_setup(DEMO / "yard-1-two-rings.toml").value
    alone = RemoveSprocket("ring", 28).apply(double)
    angles = {(a.ring, a.cog): a.degrees for a in study(alone).chainline.angles}
    # Ten cogs 3.95 mm apart round 44.5: the largest stands at 44.5 - 4.5 * 3.95 = 26.725; the ring at 48.5.
    assert angles[42, 30] == pytest.approx(math.degrees(math.atan(21.775 / 440)))
    assert round(angles[42, 30], 2) == 2.83
    assert AddSprocket("ring", 28).apply(alone).crank.chainline_mm == 44.5
    assert SetTeeth("ring", 42, 40).apply(alone).crank.chainline_mm == 48.5
