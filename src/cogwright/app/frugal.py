"""Sends only the cells that differ from what the terminal shows already.

Textual repaints whole widgets and, on any change of layout, the whole screen; over a slow line that is felt.
So what was sent last is kept, and a drawing is turned into the runs of cells in which it differs.
"""

from collections.abc import Iterator, Sequence
from itertools import zip_longest
from typing import Final

from rich.console import Console, RenderResult
from rich.control import Control
from rich.segment import Segment
from textual._compositor import CompositorUpdate
from textual.strip import Strip

#: Two runs with fewer equal cells between them are sent as one: moving the cursor costs about as much.
GAP: Final = 8


class Frugal:
    """Remembers what the terminal shows."""

    def __init__(self) -> None:
        self._shown: list[Strip] = []

    def forget(self) -> None:
        """Trust nothing of what the terminal shows: the next drawing is sent whole."""
        self._shown = []

    def update(self, strips: Sequence[Strip]) -> "CellUpdate | None":
        """What to send so that the terminal shows these rows; None when it does already."""
        whole = len(self._shown) != len(strips)
        before: Sequence[Strip | None] = [None] * len(strips) if whole else self._shown
        runs = [
            run for y, (was, now) in enumerate(zip(before, strips, strict=True)) for run in _runs(y, was, now)
        ]
        self._shown = list(strips)
        return CellUpdate(runs) if runs else None


class CellUpdate(CompositorUpdate):
    """Runs of cells: each a column, a row and what stands there; `size` is that of the text made of them."""

    def __init__(self, runs: Sequence[tuple[int, int, Strip]]) -> None:
        self._runs = runs
        self.size = 0

    def __rich_console__(self, console: Console, options: object) -> RenderResult:
        """The update as rich segments."""
        for x, y, strip in self._runs:
            yield Control.move_to(x, y).segment
            yield from strip

    def render_segments(self, console: Console) -> str:
        """The update as text and escape sequences."""
        text = "".join(
            Control.move_to(x, y).segment.text + strip.simplify().render(console)
            for x, y, strip in self._runs
        )
        self.size = len(text.encode())
        return text


def _runs(y: int, was: Strip | None, now: Strip) -> Iterator[tuple[int, int, Strip]]:
    """The runs of cells in which a row differs from what is shown; the whole row where that is unknown."""
    if was is None:
        yield 0, y, now
        return
    if was is now or was == now:
        return
    differ = [x for x, (a, b) in enumerate(zip_longest(_cells(was), _cells(now))) if a != b]
    start = last = None
    for x in differ:
        if start is None or last is None:
            start = x
        elif x - last > GAP:
            yield start, y, now.crop(start, last + 1)
            start = x
        last = x
    if start is not None and last is not None:
        yield start, y, now.crop(start, last + 1)


def _cells(strip: Strip) -> list[tuple[str, object]]:
    """What stands in each cell: a character and its style; a wide one has nothing in its second cell."""
    return [cell for segment in strip for cell in _segment_cells(segment)]


def _segment_cells(segment: Segment) -> Iterator[tuple[str, object]]:
    text, style, _ = segment
    if len(text) == segment.cell_length:
        yield from ((char, style) for char in text)
        return
    for char in text:
        yield char, style
        yield from [("", style)] * (Segment(char).cell_length - 1)
