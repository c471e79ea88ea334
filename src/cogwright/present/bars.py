"""Bars of a row each: lengths on one scale, drawn to half a cell."""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from cogwright.present.glyphs import Glyphs

BarKind = Literal["bench", "base", "lost"]


@dataclass(frozen=True, slots=True)
class Bar:
    """One row's bar: a length in the unit of the scale, and what it stands for."""

    length: float
    kind: BarKind = "bench"


def half_cells(length: float, top: float, width: int) -> int:
    """Length of a bar in half cells when `top` fills `width` cells; at least one half.

    >>> half_cells(2.5, 10.0, 40)
    20
    """
    return min(max(round(2.0 * width * length / top), 1), 2 * width)


def draw_bars(bars: Sequence[Bar], top: float, width: int, glyphs: Glyphs) -> list[str]:
    """One string of `width` cells a bar, in the order given; `top` is the length that fills the width.

    Raises ValueError for lengths that are not finite and above zero, as developments, grades and times are.

    >>> from cogwright.present.glyphs import ASCII
    >>> draw_bars([Bar(2.0), Bar(2.5), Bar(4.0, "base"), Bar(1.0, "lost")], 4.0, 4, ASCII)
    ['==  ', '==- ', '::::', '.   ']
    """
    if not all(math.isfinite(bar.length) and bar.length > 0 for bar in bars) or not top > 0:
        raise ValueError("bars have finite lengths above zero")
    return [_drawn(bar, top, width, glyphs) for bar in bars]


def _drawn(bar: Bar, top: float, width: int, glyphs: Glyphs) -> str:
    body, end = _characters(bar.kind, glyphs)
    # A lost bar has no character for half a cell, and ends on a whole one.
    whole, half = divmod(half_cells(bar.length, top, width), 2)
    if bar.kind == "lost":
        whole, half = max(half_cells(bar.length / 2.0, top, width), 1), 0
    return (body * whole + end * half).ljust(width)[:width]


def _characters(kind: BarKind, glyphs: Glyphs) -> tuple[str, str]:
    """The character of a whole cell, and that of a half one at the end."""
    return {
        "bench": (glyphs.bar, glyphs.bar_half),
        "base": (glyphs.base_bar, glyphs.base_bar_half),
        "lost": (glyphs.lost_bar, glyphs.lost_bar),
    }[kind]
