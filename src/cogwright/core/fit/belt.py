"""Checks of a belt in place of a chain. Its tension is its maker's to say."""

from typing import Final

from cogwright.core.chain.belt import SAME_MM, BeltFigures, belt_of
from cogwright.core.common.words import listed
from cogwright.core.figures import Figures
from cogwright.core.fit.check import Check, Status, needs

TENSION: Final = "tension as its maker states, with the maker's gauge"


def belt_length(figures: Figures) -> Check | None:
    """Where the axle must stand for the belt that is on, against how far back it can go."""
    belt = belt_of(figures.bench)
    if belt is None:
        return None
    if not belt.alone:
        say = "a belt does not shift: one pulley in front and one behind, the gears in the hub or crank"
        return Check("belt", Status.PROBLEM, None, None, "pulleys", say)
    if belt.missing:
        return _lacking(belt)
    teeth = figures.bench.belt.teeth or 0
    move = belt.move_mm(teeth)
    pair = "x".join(map(str, belt.pulleys))
    if move is None:
        return Check(
            "belt", Status.PROBLEM, teeth, None, "teeth", f"a belt of {teeth} teeth does not go round {pair}"
        )
    return _travel(figures, belt, move, f"with {teeth} teeth round {pair} the axle moves {_way(move)}")


def _lacking(belt: BeltFigures) -> Check:
    found = needs("belt", "teeth", belt.setup.belt.teeth, *belt.missing)
    if belt.taken is None:
        return found
    say = f"{found.say}; the pulleys take {belt.taken:.2f} teeth with the axle where it is"
    return Check("belt", Status.UNKNOWN, None, None, "teeth", say)


def _travel(figures: Figures, belt: BeltFigures, move: float, say: str) -> Check:
    travel, figure = figures.bench.frame.axle_travel_mm, round(move, 1)
    if travel is None:
        return Check(
            "belt", Status.UNKNOWN, figure, None, "mm", f"needs frame.axle_travel_mm in the setup; {say}"
        )
    bar = (max(move, 0.0), travel) if travel else None
    if -SAME_MM <= move <= travel:
        return Check("belt", Status.OK, figure, travel, "mm", f"{say}; {TENSION}", bar)
    short = "which it cannot: a longer belt"
    mend = short if move < 0 else f"only {travel:g} mm of it are there: a shorter belt"
    named = f" ({listed(list(map(str, belt.right)), 'or')} teeth)" if belt.right else ""
    say = f"{say}, {mend}{named} or other pulleys"
    return Check("belt", Status.PROBLEM, figure, travel, "mm", say, bar)


def _way(move: float) -> str:
    return f"{'back' if move >= 0 else 'forward'} {abs(move):.1f} mm"


def belt_line(figures: Figures) -> Check | None:
    """How far the pulleys stand beside each other, against the most that the belt's maker allows."""
    setup = figures.bench
    if not setup.belted or setup.belt.most_offset_mm is None:
        return None
    front, rear = figures.chainline.front_mm, figures.chainline.rear_mm
    keys = {"crank.chainline_mm": front, "rear.chainline_mm": setup.rear.chainline_mm}
    missing = [key for key, value in keys.items() if value is None]
    if missing or front is None or rear is None:
        return needs("belt line", "mm", None, *missing)
    figure, limit = abs(front - rear), setup.belt.most_offset_mm
    where = f"front pulley {front:.1f} mm from the middle of the bike, rear {rear:.1f} mm"
    if figure <= limit + 1e-9:
        return Check("belt line", Status.OK, figure, limit, "mm", where, (figure, limit) if limit else None)
    say = f"{where}: the belt runs off or wears; bring them in line with spacers"
    return Check("belt line", Status.PROBLEM, figure, limit, "mm", say, (figure, limit) if limit else None)
