"""Shifts in the words that a rider is told them in."""

from collections import Counter
from collections.abc import Sequence
from dataclasses import replace

from cogwright.core.common.words import count
from cogwright.core.gears.gears import Gear
from cogwright.core.shifting.levers import Move, levers_of
from cogwright.core.shifting.shift_order import ShiftOrder


def shift_words(move: Move) -> str:
    """What the hands do; clicks to an easier gear are said so, as after a front change.

    >>> shift_words(Move(Gear(46, 21, 1.0, None, 2.19, 4.6), 1, -3))
    'front up, rear 3 clicks easier'
    """
    said = [_front(move.front)] if move.front else []
    said += [_clicks("hub", move.hub_clicks)] if move.hub_clicks else []
    said += [_clicks("rear", move.rear_clicks)] if move.rear_clicks else []
    return ", ".join(said) or "start"


def change_words(of: ShiftOrder) -> list[str]:
    """Where to change the front, or the hub behind cogs, what to make up at the back, and how to go back."""
    levers = levers_of(of.setup)
    said = pattern_words(of)
    for before, move in of.crossings:
        back = levers.move(move.gear, before)
        said.append(
            f"In {before.label}: {shift_words(move)}, to {move.gear.label}. Coming down: {shift_words(back)}."
        )
    return said


def new_chain_words(gears: Sequence[Gear]) -> list[str]:
    """What is to be said of gears that are safe with the chain of the order alone; nothing without any.

    >>> new_chain_words([Gear(36, 45, 1.0, None, 0.8, 1.76)])
    ['36x45: only with the new chain on; never with the old one.']
    """
    names = ", ".join(gear.label for gear in gears)
    return [f"{names}: only with the new chain on; never with the old one."] if gears else []


def pattern_words(of: ShiftOrder) -> list[str]:
    """How rings that interleave are shifted; nothing where none do."""
    if of.interleaved is None:
        return []
    (small, large), up, down = of.interleaved.rings, usual(of, up=True), usual(of, up=False)
    if of.interleaved.name == "half-step":
        climb = f"on each cog ring {small}, then ring {large}; to the next cog {shift_words(down)}"
        return [f"Half-step: {climb}. Coming down: {shift_words(_back(down))}."]
    there = f"{shift_words(up)}; then {shift_words(down)}"
    back = f"{shift_words(_back(down))}; then {shift_words(_back(up))}"
    return [f"Alternating, both shifters at most shifts: {there}. Coming down: {back}."]


def usual(of: ShiftOrder, up: bool) -> Move:
    """The change of the front that comes most often between rings that interleave, up or down."""
    changes = [move for pair in of.range_changes if pair not in of.crossings for move in pair[1:]]
    ways = Counter((move.front, move.rear_clicks) for move in changes if (move.front > 0) is up)
    (front, rear), _ = (*ways.most_common(1), ((1 if up else -1, 0), 0))[0]
    return Move(of.gears[0], front, rear)


def _back(move: Move) -> Move:
    return replace(move, front=-move.front, rear_clicks=-move.rear_clicks)


def _front(rings: int) -> str:
    way = "up" if rings > 0 else "down"
    return f"front {way}" + (f" {abs(rings)}" if abs(rings) > 1 else "")


def _clicks(name: str, clicks: int) -> str:
    return f"{name} {count(abs(clicks), 'click')} {'harder' if clicks > 0 else 'easier'}"
