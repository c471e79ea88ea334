"""Bars drawn by plotext, each exactly in its own row; the only module that imports plotext.

plotext 6 keeps one figure for the process and is not safe in threads: call this from one thread only.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache
from typing import Any, Final, Literal

from cogwright.present.glyphs import Glyphs

BarKind = Literal["bench", "base", "lost"]
#: plotext draws no bar in fewer columns.
MIN_WIDTH: Final = 2
#: A bar that begins and ends on the same column is not drawn: each ends this much past its last one.
_PAST: Final = 0.3


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


def draw(bars: Sequence[Bar], top: float, width: int, glyphs: Glyphs) -> list[str]:
    """One string of `width` cells a bar, in the order given; `top` is the length that fills the width.

    Lengths must be finite and above zero, as they are for developments: raises ValueError otherwise,
    since an infinite value would end the process inside plotext.
    """
    if not all(math.isfinite(bar.length) and bar.length > 0 for bar in bars) or not top > 0:
        raise ValueError("bars have finite lengths above zero")
    if not bars:
        return []
    if width < MIN_WIDTH:
        return [" " * max(width, 0)] * len(bars)
    shapes = [_Shape(_halves(bar, top, width), bar.kind, width, glyphs) for bar in bars]
    _remember([shape for shape in dict.fromkeys(shapes) if shape not in _DRAWN])
    return [_DRAWN[shape] for shape in shapes]


@dataclass(frozen=True, slots=True)
class _Shape:
    """All that the look of a bar depends on."""

    halves: int
    kind: BarKind
    width: int
    glyphs: Glyphs


#: Bars drawn before: a swap of one cog changes one row in ten, and drawing is what takes the time.
_DRAWN: Final[dict[_Shape, str]] = {}
_KEPT: Final = 4000


def _halves(bar: Bar, top: float, width: int) -> int:
    """A lost bar has no character for half a cell, and ends on a whole one."""
    if bar.kind == "lost":
        return 2 * max(half_cells(bar.length / 2.0, top, width), 1)
    return half_cells(bar.length, top, width)


def _remember(shapes: Sequence[_Shape]) -> None:
    """Draw shapes that are not drawn yet, all of one width in one figure."""
    if len(_DRAWN) > _KEPT:
        _DRAWN.clear()
    if shapes:
        _DRAWN.update(zip(shapes, _build(shapes, shapes[0].width), strict=True))


def _build(shapes: Sequence[_Shape], width: int) -> list[str]:
    plot = _plotext()
    figure = plot.figure
    figure.clear()
    figure.plot_size(width, len(shapes))
    figure.axes(False)
    for rows, starts, ends, markers in _signals(shapes):
        figure.draw(figure.bar(rows, starts, ends, orientation="h", marker=markers, width=0))
    _bare_rulers(figure, width, len(shapes))
    text: str = figure.build().string(True)
    return [row.ljust(width)[:width] for row in text.split("\n")[: len(shapes)]]


def _signals(shapes: Sequence[_Shape]) -> list[tuple[list[int], list[float], list[float], list[str]]]:
    """Two layers of bars: the whole cells, and the half cell that ends some; rows count upwards."""
    whole: list[tuple[int, float, float, str]] = []
    ends: list[tuple[int, float, float, str]] = []
    for index, shape in enumerate(shapes):
        row, full = len(shapes) - index, shape.halves // 2
        body, end = _markers(shape.kind, shape.glyphs)
        if full:
            whole.append((row, 1.0, full + _PAST, body))
        if shape.halves % 2:
            ends.append((row, full + 1.0, full + 1.0 + _PAST, end))
    return [_columns(layer) for layer in (whole, ends) if layer]


def _columns(
    layer: Sequence[tuple[int, float, float, str]],
) -> tuple[list[int], list[float], list[float], list[str]]:
    rows, starts, ends, markers = zip(*layer, strict=True)
    return list(rows), list(starts), list(ends), list(markers)


def _markers(kind: BarKind, glyphs: Glyphs) -> tuple[str, str]:
    return {
        "bench": (glyphs.bar, glyphs.bar_half),
        "base": (glyphs.base_bar, glyphs.base_bar_half),
        "lost": (glyphs.lost_bar, glyphs.lost_bar),
    }[kind]


def _bare_rulers(figure: Any, width: int, rows: int) -> None:
    """No ticks, and limits such that one column is one cell and one bar is one row."""
    for axis in (0, 1):
        for side in (0, 1):
            figure.ruler(axis, side).ticks([])
            figure.ruler(axis, side).frequency(0)
    figure.ruler(0, 0).lim(1, width)
    figure.ruler(1, 0).lim(1, rows)


@cache
def _plotext() -> Any:
    """plotext, imported when the first bar is drawn: it takes longer than the first frame may."""
    import plotext  # noqa: PLC0415

    plotext.terminal.limit(False, False)
    return plotext
