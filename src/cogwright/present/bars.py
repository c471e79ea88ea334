"""Bars of a row each: lengths on one scale, drawn to a part of a cell, with what was there before."""

import math
from collections.abc import Sequence
from typing import Literal, NamedTuple

from cogwright.present.glyphs import Glyphs
from cogwright.present.lines import Line, Role, Span

BarKind = Literal["bench", "base", "lost"]


class Bar(NamedTuple):
    """One row's bar: a length in the unit of the scale, and what it stands for."""

    length: float
    kind: BarKind = "bench"


def draw_bars(bars: Sequence[Bar], top: float, width: int, glyphs: Glyphs) -> list[str]:
    """One string of `width` cells a bar, in the order given; `top` is the length that fills the width.

    Raises ValueError for lengths that are not finite and above zero, as developments, grades and times are.

    >>> from cogwright.present.glyphs import ASCII
    >>> draw_bars([Bar(2.0), Bar(2.5), Bar(4.0, "base"), Bar(1.0, "lost")], 4.0, 4, ASCII)
    ['==  ', '==- ', '::::', '.   ']
    """
    if not all(math.isfinite(bar.length) and bar.length > 0 for bar in bars) or not top > 0:
        raise ValueError("bars have finite lengths above zero")
    return [drawn(bar.length / top * width, bar.kind, width, glyphs).ljust(width) for bar in bars]


def drawn(cells: float, kind: BarKind, width: int, glyphs: Glyphs) -> str:
    """A bar of so many cells, as far as it goes: at least the least part, at most all of the width.

    >>> from cogwright.present.glyphs import SOLID
    >>> drawn(2.3, "bench", 8, SOLID) == chr(0x2588) * 2 + chr(0x258E)  # two eighths
    True
    """
    body, ends = _characters(kind, glyphs)
    whole, part = divmod(_parts(cells, width, len(ends) + 1), len(ends) + 1)
    return body * whole + (ends[part - 1] if part else "")


def _characters(kind: BarKind, glyphs: Glyphs) -> tuple[str, str]:
    """The character of a whole cell, and those that fill the last one in part, if any."""
    if kind == "lost":
        return glyphs.lost_bar, ""
    return (glyphs.base_bar, glyphs.base_bar_half) if kind == "base" else (glyphs.bar, glyphs.ends)


def _parts(cells: float, width: int, parts: int) -> int:
    """A length in parts of a cell, at least one."""
    return min(max(round(cells * parts), 1), width * parts)


class Moved(NamedTuple):
    """A row's bar now, and where it ended before, in cells. With `told` even the least change is seen."""

    now: float
    before: float
    told: bool = True


def draw_moved(of: Moved, width: int, glyphs: Glyphs, role: Role) -> Line:
    """The bar as it is now, as far as it goes, and how it was before.

    Where it was shorter it is cut there, and what lies behind is of another colour; where it was longer a
    shade goes on from its end to the old one.

    >>> from cogwright.present.glyphs import ASCII
    >>> from cogwright.present.lines import plain
    >>> [plain(draw_moved(Moved(*cells), 8, ASCII, Role.BENCH)) for cells in ((3, 3), (5, 2.5), (3, 4.6))]
    ['===', '==|==', '===..']
    """
    was, now = (_parts(cells, width, glyphs.parts) for cells in (of.before, of.now))
    if was == now:  # too little for the scale
        hair = 0 if not of.told or of.before == of.now else 1
        was += hair if of.before > of.now else -hair
    bar = drawn(of.now, "bench", width, glyphs)
    if was > now:
        return _shaded(bar, was, width, glyphs, role)
    return _cut(bar, was, glyphs, role) if was < now else (Span(bar, role),)


def _shaded(bar: str, was: int, width: int, glyphs: Glyphs, role: Role) -> Line:
    """The bar and the shade behind it, a cell at least; at the end of the scale it takes the bar's last."""
    bar = bar[: width - 1]
    shade = min(max(math.floor(was / glyphs.parts + 0.5), len(bar) + 1), width) - len(bar)
    return Span(bar, role), Span(glyphs.lost_bar * shade, Role.BEFORE)


def _cut(bar: str, was: int, glyphs: Glyphs, role: Role) -> Line:
    """The bar with a cut where it ended, and what is new of it, a cell at least."""
    cell, part = divmod(was, glyphs.parts)
    if not part:  # it ended between two cells: the cut is the end of the first of them
        cell, part = cell - 1, glyphs.parts - 1
    if cell > len(bar) - 2:
        cell, part = len(bar) - 2, glyphs.parts - 1
    if cell < 0:
        return (Span(bar, Role.LONGER),)
    return Span(bar[:cell] + glyphs.cuts[part - 1], role), Span(bar[cell + 1 :], Role.LONGER)
