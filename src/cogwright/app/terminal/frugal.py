"""Sends only the cells that differ from what the terminal shows already.

Textual repaints whole widgets and, on any change of layout, the whole screen; over a slow line that is felt.
So what was sent last is kept, and a drawing is turned into the runs of cells in which it differs. Where
rows have moved up or down, as when a lost gear appears above them, the terminal is asked to move them
(insert line and delete line of ECMA-48, within the margins of the VT100).
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import zip_longest
from typing import Final

from rich.color import ColorSystem
from rich.console import Console, RenderResult
from rich.control import Control
from rich.segment import Segment
from textual._compositor import CompositorUpdate
from textual.strip import Strip

from cogwright.app.terminal.pen import Pen

#: Two runs with fewer equal cells between them are sent as one: moving the cursor costs about as much.
GAP: Final = 8
#: Rows are only moved if so many then need not be sent; and by so many rows at most.
WORTH_MOVING: Final = 4
FARTHEST: Final = 4

Row = Strip | None


@dataclass(frozen=True, slots=True)
class Move:
    """Rows from `top` to `bottom`, both of them among those, moved down by `by` rows; up if negative."""

    top: int
    bottom: int
    by: int

    @property
    def sequence(self) -> str:
        """What tells the terminal to do it. The cells that come free are of no known look."""
        code = f"{self.by}L" if self.by > 0 else f"{-self.by}M"
        return f"\x1b[{self.top + 1};{self.bottom + 1}r\x1b[{self.top + 1}H\x1b[{code}\x1b[r"

    def applied(self, rows: Sequence[Row]) -> list[Row]:
        """The rows as they stand afterwards."""
        inside, free = list(rows[self.top : self.bottom + 1]), [None] * abs(self.by)
        moved = [*free, *inside[: -self.by]] if self.by > 0 else [*inside[-self.by :], *free]
        return [*rows[: self.top], *moved, *rows[self.bottom + 1 :]]


class Frugal:
    """Remembers what the terminal shows."""

    def __init__(self) -> None:
        self._shown: list[Row] = []

    def forget(self) -> None:
        """Trust nothing of what the terminal shows: the next drawing is sent whole."""
        self._shown = []

    def update(self, strips: Sequence[Strip]) -> "CellUpdate | None":
        """What to send so that the terminal shows these rows; None when it does already."""
        before = self._shown if len(self._shown) == len(strips) else [None] * len(strips)
        move = best_move(before, strips)
        if move is not None:
            before = move.applied(before)
        rows = enumerate(zip(before, strips, strict=True))
        runs = [run for y, (was, now) in rows for run in _runs(y, was, now)]
        self._shown = list(strips)
        return CellUpdate(move, runs) if runs or move else None


def best_move(before: Sequence[Row], after: Sequence[Strip]) -> Move | None:
    """The move of rows that saves most; None where none saves enough."""
    changed = [y for y, (was, now) in enumerate(zip(before, after, strict=True)) if was != now]
    if len(changed) < WORTH_MOVING:
        return None
    best: tuple[int, Move] | None = None
    for by in (by for far in range(1, FARTHEST + 1) for by in (far, -far)):
        same = [y for y in changed if 0 <= y - by < len(before) and after[y] == before[y - by]]
        if len(same) >= WORTH_MOVING and (best is None or len(same) > best[0]):
            ends = [*same, *(y - by for y in same)]
            best = len(same), Move(min(ends), max(ends), by)
    return best[1] if best else None


class CellUpdate(CompositorUpdate):
    """A move of rows, if any, then runs of cells: each a column, a row and what stands there.

    `size` is that of the text made of them, in bytes.
    """

    def __init__(self, move: Move | None, runs: Sequence[tuple[int, int, Strip]]) -> None:
        self._move = move
        self._runs = runs
        self.size = 0

    def __rich_console__(self, console: Console, options: object) -> RenderResult:
        """The runs as rich segments, for whoever draws by them."""
        for x, y, strip in self._runs:
            yield Control.move_to(x, y).segment
            yield from strip

    def render_segments(self, console: Console) -> str:
        """The update as text and escape sequences."""
        pen = Pen(console._color_system or ColorSystem.TRUECOLOR)
        row: int | None = None
        out = [self._move.sequence] if self._move else []
        for x, y, strip in self._runs:
            out.append(f"\x1b[{x + 1}G" if y == row else f"\x1b[{y + 1};{x + 1}H")
            out += [pen.write(segment.text, segment.style) for segment in strip]
            row = y
        text = "".join([*out, pen.lift()])
        self.size = len(text.encode())
        return text


def _runs(y: int, was: Row, now: Strip) -> Iterator[tuple[int, int, Strip]]:
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
