"""Writes cells at places of the screen in few bytes: the shortest way, and of a look only what changes."""

from collections.abc import Iterator, Sequence
from functools import lru_cache
from itertools import groupby
from typing import Final, NamedTuple

from cogwright.app.terminal.cells import CellRow
from cogwright.app.terminal.rendition import PLAIN, RESET, Rendition, blanks_in, change

CellPlace = tuple[int, int]
#: Among so many pieces, from the top on, the next one to be sent is chosen.
NEXT: Final = 16


class TextPiece(NamedTuple):
    """Text of one look, where it begins, where the cursor is after it (None past the last column), and
    whether it is all blanks.
    """

    place: CellPlace
    text: str
    look: Rendition
    end: CellPlace | None
    blank: bool = False

    def look_after(self, now: Rendition) -> Rendition:
        """How the terminal writes after it: blanks take on no more than is seen of them."""
        return blanks_in(self.look, now) if self.blank else self.look


class CellWriter:
    """Knows where the terminal's cursor is (column and row; None where it does not) and how it writes now.

    `look` is how the terminal writes at the beginning; None where that is not known.
    """

    def __init__(self, look: Rendition | None = PLAIN) -> None:
        self.at: CellPlace | None = None
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
            self._out.append(_way(self.at, place))
            self.at = place

    def turn(self, look: Rendition) -> None:
        """Write in another look from now on."""
        self._out.append(change(self.look, look))
        self.look = look

    def cells(self, y: int, row: CellRow, start: int, end: int) -> None:
        """Write cells of a row, from one column up to but without another."""
        for piece in pieces_of(y, row, start, end):
            self._write(piece)

    def pieces(self, pieces: Sequence[TextPiece]) -> None:
        """Write these, in whichever order takes fewer bytes: from the top, or always what is nearest.

        Another look takes more bytes than another place: what looks alike is then written in one go.
        """
        nearest, size = _nearest_first(pieces, self.at, self.look)
        for piece in nearest if size < _bytes_of(pieces, self.at, self.look) else pieces:
            self._write(piece)

    def _write(self, piece: TextPiece) -> None:
        self.go(piece.place)
        self.turn(piece.look_after(self.look))
        self._out.append(piece.text)
        self.at = piece.end

    def erase(self, place: CellPlace) -> None:
        """Blank the rest of a row."""
        self.go(place)
        self.turn(PLAIN)
        self._out.append("\x1b[K")


def pieces_of(y: int, row: CellRow, start: int, end: int) -> Iterator[TextPiece]:
    """Cells of a row, from one column up to but without another, a piece for each look."""
    width = len(row.chars)
    for look, columns in groupby(range(start, end), key=row.looks.__getitem__):
        xs = list(columns)
        text = "".join([row.chars[x] or "" for x in xs])
        after = (xs[-1] + 1, y) if xs[-1] + 1 < width else None
        yield TextPiece((xs[0], y), text, look, after, not text.strip(" "))


def _nearest_first(
    pieces: Sequence[TextPiece], at: CellPlace | None, look: Rendition
) -> tuple[list[TextPiece], int]:
    """Next is always the one that way and look make shortest: of the next few from the top on the first, the
    one that begins where the cursor is, and those that look as the terminal writes now. And how many bytes
    that takes beside the texts.
    """
    left, found, size = list(pieces), list[TextPiece](), 0
    while left:
        best, least = 0, _cost(at, look, left[0])
        for i, piece in enumerate(left[1:NEXT], 1):
            if piece.place == at:
                cost = len(change(look, piece.look_after(look)))
            elif piece.look == look:
                cost = len(_way(at, piece.place))
            else:
                continue
            if cost < least:
                best, least = i, cost
        piece = left.pop(best)
        at, look, size = piece.end, piece.look_after(look), size + least
        found.append(piece)
    return found, size


def _bytes_of(pieces: Sequence[TextPiece], at: CellPlace | None, look: Rendition) -> int:
    """What they take beside their texts."""
    size = 0
    for piece in pieces:
        size += _cost(at, look, piece)
        at, look = piece.end, piece.look_after(look)
    return size


def _cost(at: CellPlace | None, look: Rendition, piece: TextPiece) -> int:
    way = 0 if at == piece.place else len(_way(at, piece.place))
    return way + len(change(look, piece.look_after(look)))


@lru_cache(maxsize=16384)
def _way(at: CellPlace | None, to: CellPlace) -> str:
    """The shortest sequence that leads to a place."""
    return min(_ways(at, to), key=len)


def _ways(at: CellPlace | None, to: CellPlace) -> Iterator[str]:
    """The sequences that lead to a place."""
    x, y = to
    yield f"\x1b[{y + 1};{x + 1}H" if x else f"\x1b[{y + 1 if y else ''}H"
    if at is not None and at[1] == y:
        by = x - at[0]
        yield f"\x1b[{x + 1 if x else ''}G"
        yield f"\x1b[{abs(by) if abs(by) > 1 else ''}{'C' if by > 0 else 'D'}"
