"""A row of terminal cells, and what text does to it."""

import unicodedata
from collections.abc import Sequence
from functools import lru_cache
from typing import Final

from rich.cells import get_character_cell_size

from cogwright.app.terminal.rendition import PLAIN, Rendition

#: A joiner and a selector that make other widths of what stands beside them.
_JOINING: Final = frozenset("\u200d\ufe0f")
#: Wide characters that every terminal draws in two cells: those of Chinese, Japanese and Korean. The rest of
#: the wide ones are pictures, which came with different versions of Unicode.
_WIDE: Final = (
    (0x3001, 0x3029),
    (0x3041, 0x3096),
    (0x30A0, 0x30FF),
    (0x3400, 0x4DB5),
    (0x4E00, 0x9FA5),
    (0xAC00, 0xD7A3),
    (0xFF01, 0xFF60),
)


@lru_cache(maxsize=4096)
def agreed(char: str, ambiguous: bool = False) -> bool:
    """Whether all terminals draw a cell's text in as many cells, one beside the other from left to right.

    `ambiguous` says that this one draws the ambiguous ones of UAX 11 in one cell.
    """
    if len(char) != 1:
        return char == ""
    if unicodedata.category(char)[0] in "MC" or unicodedata.bidirectional(char) in ("R", "AL", "AN"):
        return False
    kind = unicodedata.east_asian_width(char)
    if kind in "WF":
        return any(low <= ord(char) <= high for low, high in _WIDE)
    return kind != "A" or ambiguous


#: Of each kind of terminal the cells' texts that are known to be agreed upon.
_KNOWN: Final[dict[bool, set[str | None]]] = {False: {None}, True: {None}}


def all_agreed(chars: Sequence[str | None], ambiguous: bool) -> bool:
    """Whether all of these are agreed upon: asked of each row that is sent, so what is known stays known."""
    known = _KNOWN[ambiguous]
    if known.issuperset(chars):
        return True
    new = set(chars) - known
    fine = {char for char in new if char is not None and agreed(char, ambiguous)}
    known |= fine
    return fine == new


class CellRow:
    """What stands in each cell, and how it looks.

    A cell holds a character with its marks, "" if it is the second of a wide one, None if nothing is known.
    """

    __slots__ = ("chars", "looks")

    def __init__(self, chars: list[str | None], looks: list[Rendition]) -> None:
        self.chars, self.looks = chars, looks

    @classmethod
    def unknown(cls, width: int) -> "CellRow":
        """A row of which nothing is known."""
        return cls([None] * width, [PLAIN] * width)

    def copy(self) -> "CellRow":
        """The same cells in a row of their own."""
        return CellRow(self.chars.copy(), self.looks.copy())

    def __eq__(self, other: object) -> bool:
        return isinstance(other, CellRow) and self.chars == other.chars and self.looks == other.looks

    __hash__ = None  # type: ignore[assignment] # it changes

    def put(self, x: int, text: str, look: Rendition) -> int | None:
        """Write text from a column on; the column after it.

        None, and nothing done, where it goes past the end of the row or its width cannot be told.
        """
        cells = split(text)
        return None if cells is None else self.put_cells(x, cells, [look] * len(cells))

    def put_cells(self, x: int, cells: Sequence[str], looks: Sequence[Rendition]) -> int | None:
        """Fill cells from a column on, each in a look of its own; the column after them.

        None, and nothing done, where they go past the end of the row.
        """
        end = x + len(cells)
        if end > len(self.chars):
            return None
        self._halve(x)
        self._halve(end)
        self.chars[x:end] = cells
        self.looks[x:end] = looks
        return end

    def _halve(self, x: int) -> None:
        """Something new begins or ends here: a wide character that lies across is a blank from now on."""
        if 0 < x < len(self.chars) and self.chars[x] == "":
            self.chars[x - 1] = self.chars[x] = " "


@lru_cache(maxsize=2048)
def split(text: str) -> tuple[str, ...] | None:
    """What each cell of a text holds; None where it cannot be told how many there are.

    >>> split("a\u6f22"), len(split("e\u0301x") or ()), split("\U0001f468\u200d\U0001f33e")
    (('a', '漢', ''), 2, None)
    """
    if text.isascii():
        return tuple(text)
    sizes = {char: get_character_cell_size(char) for char in set(text)}
    if all(size == 1 for size in sizes.values()):
        return tuple(text)
    if not _JOINING.isdisjoint(text) or sizes[text[0]] == 0:
        return None
    cells: list[str] = []
    for char in text:
        if sizes[char] == 0:
            base = -1 if cells[-1] else -2
            cells[base] += char
        else:
            cells += [char, ""][: sizes[char]]
    return tuple(cells)
