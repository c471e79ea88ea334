"""What to send so that the terminal shows other rows than it does: moved rows, then the cells that differ.

Where rows have moved up or down, as when a lost gear appears above them, the terminal is asked to move them
(insert line and delete line of ECMA-48, within the margins of the VT100).
"""

from collections.abc import Iterator, Sequence
from itertools import compress, pairwise
from operator import is_not, ne
from typing import Final, NamedTuple

from cogwright.app.terminal.cell_writer import CellWriter, TextPiece, pieces_of
from cogwright.app.terminal.cells import CellRow, agreed, all_agreed
from cogwright.app.terminal.rendition import PLAIN, Rendition, change, on_blank

#: Two runs are sent as one where the equal cells between take no more bytes: moving the cursor takes as many.
GAP: Final = 4
#: Blank cells at the end of a row are erased if there are so many.
WORTH_ERASING: Final = 4
#: Rows are only moved if so many then need not be sent; and by so many rows at most.
WORTH_MOVING: Final = 4
FARTHEST: Final = 4

Rows = Sequence[CellRow]
CellRun = tuple[int, int]


class RowMove(NamedTuple):
    """Rows from `top` to `bottom`, both of them among those, moved down by `by` rows; up if negative."""

    top: int
    bottom: int
    by: int

    @property
    def sequence(self) -> str:
        """What tells the terminal to do it. The cells that come free are of no known look."""
        code = f"{self.by}L" if self.by > 0 else f"{-self.by}M"
        return f"\x1b[{self.top + 1};{self.bottom + 1}r\x1b[{self.top + 1}H\x1b[{code}\x1b[r"

    def applied(self, rows: Rows) -> list[CellRow]:
        """The rows as they stand afterwards."""
        inside = list(rows[self.top : self.bottom + 1])
        free = [CellRow.unknown(len(rows[0].chars)) for _ in range(abs(self.by))]
        moved = [*free, *inside[: -self.by]] if self.by > 0 else [*inside[-self.by :], *free]
        return [*rows[: self.top], *moved, *rows[self.bottom + 1 :]]


def best_move(before: Rows, after: Rows) -> RowMove | None:
    """The move of rows that saves most; None where none saves enough."""
    changed = [y for y, (was, now) in enumerate(zip(before, after, strict=True)) if was != now]
    if len(changed) < WORTH_MOVING:
        return None
    best: tuple[int, RowMove] | None = None
    for by in (by for far in range(1, FARTHEST + 1) for by in (far, -far)):
        same = [y for y in changed if 0 <= y - by < len(before) and after[y].chars == before[y - by].chars]
        if len(same) < WORTH_MOVING:
            continue
        same = [y for y in same if after[y] == before[y - by]]
        if len(same) >= WORTH_MOVING and (best is None or len(same) > best[0]):
            ends = [*same, *(y - by for y in same)]
            best = len(same), RowMove(min(ends), max(ends), by)
    return best[1] if best else None


def draw(writer: CellWriter, before: Rows, after: Rows, ambiguous: bool) -> None:
    """Write what turns the rows that the terminal shows into others.

    `ambiguous` says that the terminal draws ambiguous characters in one cell.
    """
    move = best_move(before, after)
    if move is not None:
        writer.say(move.sequence)
        before = move.applied(before)
    pieces: list[TextPiece] = []
    for y, (was, now) in enumerate(zip(before, after, strict=True)):
        if was != now:
            pieces += _draw_row(writer, y, was, now, ambiguous)
    writer.pieces(pieces)


def _draw_row(writer: CellWriter, y: int, was: CellRow, now: CellRow, ambiguous: bool) -> Iterator[TextPiece]:
    """The pieces of a row that are to be written, in any order; what must be done in order is done now."""
    differ = _differing(was, now)
    if not differ:
        return
    if not (all_agreed(was.chars, ambiguous) and all_agreed(now.chars, ambiguous)):
        _draw_whole(writer, y, now, ambiguous)
        return
    blank = _blank_from(now)
    erased = [x for x in differ if x >= blank]
    if len(erased) < WORTH_ERASING:
        blank, erased = len(now.chars), []
    for start, end in _runs(was, now, [x for x in differ if x < blank]):
        if "" in now.chars[start:end] or None in was.chars:
            writer.cells(y, now, start, end)
        else:
            yield from pieces_of(y, now, start, end)
    if erased:
        writer.erase((erased[0], y))


def _draw_whole(writer: CellWriter, y: int, row: CellRow, ambiguous: bool) -> None:
    """A row in which something may take more or fewer cells than it should: the rest goes to its place."""
    writer.erase((0, y))
    start = 0
    for x, char in enumerate([*row.chars, None]):
        if char is not None and agreed(char, ambiguous):
            continue
        end = x + (char is not None)
        if start < end:
            writer.cells(y, row, start, end)
            writer.at = None
        start = x + 1
        while row.chars[start : start + 1] == [""]:
            start += 1


def _differing(was: CellRow, now: CellRow) -> list[int]:
    """The columns of the known cells that look otherwise than they did."""
    columns, chars = range(len(now.chars)), now.chars
    others = [x for x in compress(columns, map(ne, was.chars, chars)) if chars[x] is not None]
    if was.looks == now.looks:
        return others
    seen = set(others)
    for x in compress(columns, map(is_not, was.looks, now.looks)):
        if x not in seen and chars[x] is not None and _turned(was.looks[x], now, x):
            others.append(x)
    return sorted(others)


def _turned(before: Rendition, now: CellRow, x: int) -> bool:
    """Whether a cell of the same text looks otherwise; of a blank one not all is seen."""
    look = now.looks[x]
    return before != look and (now.chars[x] != " " or on_blank(before) != on_blank(look))


def _blank_from(row: CellRow) -> int:
    """The column from which a row is blank to its end."""
    end = len(row.chars)
    while end and row.chars[end - 1] == " " and on_blank(row.looks[end - 1]) == PLAIN:
        end -= 1
    return end


def _runs(was: CellRow, now: CellRow, differ: Sequence[int]) -> Iterator[CellRun]:
    """The runs of cells to be sent; a wide character, old or new, is never cut."""
    if not differ:
        return
    wide = "" in was.chars or "" in now.chars
    start, end = _widened(was, now, differ[0])
    for x in differ:
        if x == end and not wide:
            end += 1
            continue
        first, last = _widened(was, now, x) if wide else (x, x + 1)
        if first <= end or (first - end <= GAP and _cost(now, end, first) <= GAP):
            end = max(end, last)
        else:
            yield start, end
            start, end = first, last
    yield start, end


def _widened(was: CellRow, now: CellRow, x: int) -> CellRun:
    start, end = x, x + 1
    while start > 0 and "" in (was.chars[start], now.chars[start]):
        start -= 1
    while end < len(now.chars) and "" in (was.chars[end], now.chars[end]):
        end += 1
    return start, end


def _cost(row: CellRow, start: int, end: int) -> int:
    """Bytes that it takes to go from the cell before `start` to `end` by sending the cells between."""
    if None in row.chars[start:end]:
        return GAP + 1
    text = sum(len((char or "").encode()) for char in row.chars[start:end])
    looks = row.looks[start - 1 : end + 1]
    turns = sum(len(change(a, b)) for a, b in pairwise(looks))
    return text + turns - len(change(looks[0], looks[-1]))
