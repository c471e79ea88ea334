"""Writes cells at places of the screen in few bytes: the shortest way, and of a look only what changes."""

from collections.abc import Iterator
from itertools import groupby

from cogwright.app.terminal.cells import CellRow
from cogwright.app.terminal.rendition import PLAIN, RESET, Rendition, blanks_in, change

CellPlace = tuple[int, int]


class CellWriter:
    """Knows where the terminal's cursor is (column and row; None where it does not) and how it writes now.

    `look` is how the terminal writes at the beginning; None where that is not known.
    """

    def __init__(self, width: int, look: Rendition | None = PLAIN) -> None:
        self.at: CellPlace | None = None
        self._width = width
        self._out = [] if look is not None else [RESET]
        self.look = look or PLAIN

    def text(self, end: CellPlace | None = None) -> str:
        """All that was written, then the cursor at its end; nothing if nothing was."""
        if end is not None and any(self._out):
            self.go(end)
        return "".join(self._out)

    def say(self, sequence: str) -> None:
        """Write a sequence as it stands, after which the cursor may be anywhere."""
        self._out.append(sequence)
        self.at = None

    def go(self, place: CellPlace) -> None:
        """Go to a place."""
        if self.at != place:
            self._out.append(min(_ways(self.at, place), key=len))
            self.at = place

    def turn(self, look: Rendition) -> None:
        """Write in another look from now on."""
        self._out.append(change(self.look, look))
        self.look = look

    def cells(self, y: int, row: CellRow, start: int, end: int) -> None:
        """Write cells of a row, from one column up to but without another."""
        self.go((start, y))
        for look, chars in groupby(range(start, end), key=row.looks.__getitem__):
            text = "".join(row.chars[x] or "" for x in chars)
            self.turn(look if text.strip(" ") else blanks_in(look, self.look))
            self._out.append(text)
        self.at = (end, y) if end < self._width else None  # past the last column terminals differ

    def erase(self, place: CellPlace) -> None:
        """Blank the rest of a row."""
        self.go(place)
        self.turn(PLAIN)
        self._out.append("\x1b[K")


def _ways(at: CellPlace | None, to: CellPlace) -> Iterator[str]:
    """The sequences that lead to a place."""
    x, y = to
    yield f"\x1b[{y + 1};{x + 1}H" if x else f"\x1b[{y + 1 if y else ''}H"
    if at is not None and at[1] == y:
        by = x - at[0]
        yield f"\x1b[{x + 1 if x else ''}G"
        yield f"\x1b[{abs(by) if abs(by) > 1 else ''}{'C' if by > 0 else 'D'}"
