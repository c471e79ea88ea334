"""Plots drawn by plotext, which is imported when the first one is drawn: it takes longer than a first frame.

plotext keeps one figure for the process and is not safe in threads; a value that is not finite would end the
process inside it.
"""

import math
from collections.abc import Sequence
from functools import cache, lru_cache
from itertools import groupby
from typing import Any, Final, NamedTuple

from cogwright.core.common.units import S_PER_MIN
from cogwright.present.clicks import ClickSteps
from cogwright.present.lines import ASCII, SOLID, Glyphs, Line, Role, Span, line

#: Cells of the labels at the left, and of a pair of bars with the gap behind it; without the gap if need be.
_LABELS: Final = 3
_WIDE, _NARROW = 3, 2
#: The scale ends at a multiple of this, %.
_TOP_PCT: Final = 5.0
_SERIES: Final = (Role.BASE, Role.BENCH)


@lru_cache(maxsize=64)
def clicks_plot(of: ClickSteps, width: int, rows: int, glyphs: Glyphs) -> tuple[Line, ...]:
    """Two bars a click, the old one first, over the names; of more clicks than fit the first ones.

    Raises ValueError for steps that are not finite.
    """
    if not all(map(math.isfinite, (*of.before, *of.now, of.limit_pct))):
        raise ValueError("a plot has finite values")
    many = max(len(of.before), len(of.now))
    pitch = _WIDE if _LABELS + _WIDE * many <= width else _NARROW
    shown = min(many, (width - _LABELS) // pitch)
    text = _drawn(of, (width, rows), (pitch, shown), glyphs)
    return tuple(_line(row, pitch, last=at == rows - 1) for at, row in enumerate(text))


def _drawn(of: ClickSteps, size: tuple[int, int], room: tuple[int, int], glyphs: Glyphs) -> list[str]:
    """The plot as text, a string a row. A cell is two dots across: each bar is drawn as two of one dot."""
    (width, rows), (pitch, shown) = size, room
    across = 1 if glyphs is ASCII else 2
    top = max(math.ceil(max(*of.before, *of.now, of.limit_pct) / _TOP_PCT) * _TOP_PCT, _TOP_PCT)
    floor = -top / (2 * rows)
    figure = _bare(width, rows)
    for offset, (values, marker) in enumerate(_series(of, glyphs)):
        at = [
            across * (1 + pitch * i + offset) + dot
            for i in range(len(values[:shown]))
            for dot in range(1, across + 1)
        ]
        heights = [value for value in values[:shown] for _ in range(across)]
        if at:
            figure.draw(figure.bar(at, [floor] * len(at), heights, marker=marker, width=0))
    x, y = figure.ruler("x"), figure.ruler("y")
    x.lim(1, across * (width - _LABELS + 1))
    y.lim(floor, top)
    y.ticks([of.limit_pct, top] if of.limit_pct < top else [top], _labels(of.limit_pct, top))
    named = range(0, min(shown, len(of.names)), 1 if pitch == _WIDE else 2)
    x.ticks([across * (1 + pitch * i) + 1 for i in named], [of.names[i] for i in named])
    text: str = figure.build().string(True)
    return [row.ljust(width)[:width] for row in text.split("\n")[:rows]]


def _labels(limit: float, top: float) -> list[str]:
    shown = [limit, top] if limit < top else [top]
    return [f"{value:>2.0f}" for value in shown]


def _series(of: ClickSteps, glyphs: Glyphs) -> tuple[tuple[Sequence[float], str], ...]:
    if glyphs is ASCII:
        return (of.before, glyphs.base_bar), (of.now, glyphs.bar)
    marker = "hd" if glyphs is SOLID else "braille"  # half blocks, or dots
    return (of.before, marker), (of.now, marker)


class UseAxes(NamedTuple):
    """Developments in m at both ends of the lower axis, and the time in s at the top of the other."""

    low_m: float
    high_m: float
    top_s: float


@lru_cache(maxsize=64)
def use_plot(
    spent: tuple[tuple[float, float], ...], axes: UseAxes, size: tuple[int, int], glyphs: Glyphs, role: Role
) -> tuple[Line, ...]:
    """A bar at each development in m, as high as the time in s spent in it; gears in one cell are added up.

    Raises ValueError for what is not finite, or not from 0 up.
    """
    if not all(math.isfinite(value) and value >= 0.0 for pair in (*spent, axes) for value in pair):
        raise ValueError("a plot has finite values from 0 up")
    (width, rows), across = size, 1 if glyphs is ASCII else 2
    figure, columns = _bare(width, rows), use_columns(spent, axes, width)
    shown = {cell: seconds for cell, seconds in columns.items() if seconds > 0.0}
    at = [across * (1 + cell) + dot for cell in shown for dot in range(1, across + 1)]
    heights = [seconds for seconds in shown.values() for _ in range(across)]
    marker = glyphs.bar if glyphs is ASCII else "hd" if glyphs is SOLID else "braille"
    if at:
        figure.draw(figure.bar(at, [0.0] * len(at), heights, marker=marker, width=0))
    x, y = figure.ruler("x"), figure.ruler("y")
    x.lim(1, across * (width - TIMES + 1))
    y.lim(0.0, axes.top_s)
    y.ticks([0.0, axes.top_s], [f"{'0':>{TIMES - 1}}", f"{_time(axes.top_s):>{TIMES - 1}}"])
    metres = range(math.ceil(axes.low_m), math.floor(axes.high_m) + 1)
    x.ticks([across * (1 + use_cell(m, axes, width)) + 1 for m in metres], [str(m) for m in metres])
    text: str = figure.build().string(True)
    drawn = [row.ljust(width)[:width] for row in text.split("\n")[:rows]]
    return tuple(
        line(Span(row[:TIMES], Role.DIM), Span(row[TIMES:], Role.DIM if at == rows - 1 else role))
        for at, row in enumerate(drawn)
    )


def use_columns(spent: Sequence[tuple[float, float]], axes: UseAxes, width: int) -> dict[int, float]:
    """Time in s in each cell behind the labels."""
    found: dict[int, float] = {}
    for development, seconds in spent:
        cell = use_cell(development, axes, width)
        found[cell] = found.get(cell, 0.0) + seconds
    return found


def use_cell(development: float, axes: UseAxes, width: int) -> int:
    """The cell behind the labels in which a development stands."""
    share = (development - axes.low_m) / max(axes.high_m - axes.low_m, 1e-9)
    return round(min(max(share, 0.0), 1.0) * (width - TIMES - 3))


def _time(seconds: float) -> str:
    return f"{seconds / S_PER_MIN:.0f} min" if seconds >= 2.0 * S_PER_MIN else f"{seconds:.0f} s"


#: Cells of the labels at the left of a plot of times.
TIMES: Final = 8


@cache
def library() -> Any:
    """plotext, which is asked for by whoever draws the first plot, or knows that one will be drawn."""
    import plotext  # noqa: PLC0415

    plotext.terminal.limit(False, False)
    return plotext


def _bare(width: int, rows: int) -> Any:
    """The figure without frame and colours."""
    figure = library().figure
    figure.clear()
    figure.plot_size(width, rows)
    figure.axes(False)
    return figure


def _line(row: str, pitch: int, last: bool) -> Line:
    """A row with the colour of the series in each cell; labels and names are neither's."""
    if last:
        return (Span(row, Role.DIM),)
    start = _LABELS
    roles = [
        _SERIES[(at - start) % pitch] if at >= start and (at - start) % pitch < 2 else Role.DIM
        for at in range(len(row))
    ]
    runs = groupby(zip(row, roles, strict=True), key=lambda pair: pair[1])
    return tuple(Span("".join(char for char, _ in run), role) for role, run in runs)
