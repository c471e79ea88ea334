"""Shifts in the words that a rider is told them in."""

from cogwright.core.common.words import count
from cogwright.core.shifting.levers import Move


def shift_words(move: Move) -> str:
    """What the hands do; clicks to an easier gear are said so, as after a front change.

    >>> from cogwright.core.gears.gears import Gear
    >>> shift_words(Move(Gear(46, 21, 1.0, None, 2.19, 4.6), 1, -3))
    'front up, rear 3 clicks easier'
    """
    said = [_front(move.front)] if move.front else []
    said += [_clicks("hub", move.hub_clicks)] if move.hub_clicks else []
    said += [_clicks("rear", move.rear_clicks)] if move.rear_clicks else []
    return ", ".join(said) or "start"


def _front(rings: int) -> str:
    way = "up" if rings > 0 else "down"
    return f"front {way}" + (f" {abs(rings)}" if abs(rings) > 1 else "")


def _clicks(name: str, clicks: int) -> str:
    return f"{name} {count(abs(clicks), 'click')} {'harder' if clicks > 0 else 'easier'}"
