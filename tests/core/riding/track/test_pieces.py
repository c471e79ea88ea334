"""Pieces of constant grade, by the same rules followed step by step without a heap, and figures by hand."""

import math
import random
from itertools import pairwise

import pytest

from cogwright.core.riding.track.moments import Moments, Point
from cogwright.core.riding.track.pieces import pieces_of

Piece = tuple[int, int]


def road(seed: int, count: int, noise: float, gap: float) -> list[Point]:
    """Pieces of random grade under noise, at uneven distances."""
    rng = random.Random(seed)
    points, grade, left = [(0.0, 100.0)], 0.05, 0
    height, rise = 100.0, 0.0
    while len(points) < count:
        if left == 0:
            grade, left = rng.uniform(-0.15, 0.15), rng.randint(3, 12)
        way, left = rng.uniform(0.3, 1.7) * gap, left - 1
        height += grade * way
        rise = height + rng.gauss(0.0, noise)
        points.append((points[-1][0] + way, rise))
    return points


def more(points: list[Point], one: Moments, other: Moments) -> float:
    return one.with_(other).misfit - one.misfit - other.misfit


def length(points: list[Point], first: int, last: int) -> float:
    """Between the middles of the gaps on both sides; at the ends of the road there is no gap."""
    start = points[0][0] if first == 0 else (points[first - 1][0] + points[first][0]) / 2
    if last == len(points) - 1:
        return points[-1][0] - start
    return (points[last][0] + points[last + 1][0]) / 2 - start


def step_by_step(points: list[Point], noise: float) -> list[Piece]:
    """All neighbours looked at anew in each step."""
    found = [(at, at, Moments(1, *point)) for at, point in enumerate(points)]

    def join(place: int) -> None:
        (first, _, one), (_, last, other) = found[place : place + 2]
        found[place : place + 2] = [(first, last, one.with_(other))]

    def costs() -> list[float]:
        return [more(points, a[2], b[2]) for a, b in pairwise(found)]

    while len(found) > 1 and min(costs()) < 2.0 * math.log(len(points)) * noise**2:
        join(costs().index(min(costs())))
    while len(found) > 1:
        short = [28.0 / max(length(points, a, b), 1e-3) for a, b, _ in found]
        unsure = [of.grade_error(noise) / 0.03 for *_, of in found]
        bad = [max(two) for two in zip(short, unsure, strict=True)]
        if max(bad) <= 1.0:
            break
        place = bad.index(max(bad))
        sides = [math.inf, *costs(), math.inf]
        join(place - 1 if place > 0 and sides[place] <= sides[place + 1] else place)
    return moved(points, [(first, last) for first, last, _ in found])


def misfit(points: list[Point], first: int, last: int) -> float:
    return Moments.of(points[first : last + 1]).misfit


def moved(points: list[Point], pieces: list[Piece]) -> list[Piece]:
    """Each joint step by step to where both sides miss least, twice; a side keeps two points."""
    for _ in range(2):
        for left in range(len(pieces) - 1):
            (first, at), (_, last) = pieces[left : left + 2]
            while True:
                miss = {
                    to: misfit(points, first, to) + misfit(points, to + 1, last)
                    for to in (at, at - 1, at + 1)
                    if (to - first >= 1 and last - to >= 2) or to == at
                }
                least = min(miss, key=miss.__getitem__)
                if miss[least] >= miss[at] - 1e-9:
                    break
                at = least
            pieces[left : left + 2] = [(first, at), (at + 1, last)]
    return pieces


@pytest.mark.parametrize("gap", [4.0, 12.0, 35.0])
@pytest.mark.parametrize("noise", [0.05, 0.4, 2.0])
def test_pieces_are_those_found_step_by_step(gap: float, noise: float) -> None:
    for seed in range(5):
        points = road(seed, 36, noise, gap)
        assert pieces_of(points, noise) == step_by_step(points, noise), seed


def test_pieces_follow_each_other_and_leave_nothing_out() -> None:
    points = road(3, 200, 0.3, 9.0)
    pieces = pieces_of(points, 0.3)
    assert pieces[0][0] == 0
    assert pieces[-1][1] == 199
    assert all(b[0] == a[1] + 1 for a, b in pairwise(pieces))


@pytest.mark.parametrize(("metres", "pieces"), [(20.0, 2), (24.0, 2), (28.0, 3), (36.0, 3)])
def test_a_ramp_stays_from_28_m_between_its_joints(metres: float, pieces: int) -> None:
    """Points every 4 m without noise to speak of: a ramp of 25 % that has 5 to 9 of them to itself."""
    points, height = [(0.0, 0.0)], 0.0
    for at in range(1, 60):
        height += 4.0 * (0.25 if 25 < at <= 25 + metres / 4.0 else 0.0)
        points.append((4.0 * at, height))
    found = pieces_of(points, 0.01)
    assert all(length(points, *piece) >= 28.0 for piece in found)
    assert len(found) == pieces or metres < 28.0
