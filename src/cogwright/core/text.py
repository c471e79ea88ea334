"""Text from files made safe to show: what it may hold, and how many terminal cells it takes."""

import unicodedata
from typing import Final

#: Marks stacked on one letter beyond this are dropped: they would overflow into other rows.
MARKS_KEPT: Final = 2
_DROPPED = {"Cf", "Cs", "Co", "Cn"}


def clean(text: str, keep_newlines: bool = False) -> str:
    r"""The text without anything that a terminal would obey: controls, escapes, direction overrides.

    >>> clean("a\x1b[31mb\u202ec")
    'a [31mbc'
    >>> clean("one\ntwo", keep_newlines=True)
    'one\ntwo'
    """
    out: list[str] = []
    marks = 0
    for char in unicodedata.normalize("NFC", text):
        kind = unicodedata.category(char)
        marks = marks + 1 if kind in {"Mn", "Me"} else 0
        if kind in {"Cc", "Zl", "Zp"}:
            out.append(char if keep_newlines and char == "\n" else " ")
        elif kind not in _DROPPED and (marks == 0 or (out and marks <= MARKS_KEPT)):
            out.append(char)
    return "".join(out)


def char_cells(char: str) -> int:
    """Terminal cells of one character: 0 for a combining mark, 2 for a wide one, else 1."""
    if char < "\u0300":
        return 1
    if unicodedata.category(char) in {"Mn", "Me"}:
        return 0
    return 2 if unicodedata.east_asian_width(char) in {"W", "F"} else 1


def cells(text: str) -> int:
    """Terminal cells that a cleaned text takes.

    >>> cells("abc"), cells("\u6f22")
    (3, 2)
    """
    return len(text) if text.isascii() else sum(map(char_cells, text))


def cut(text: str, width: int, end: str = "~") -> str:
    """The text in at most `width` cells; `end` marks what was cut.

    >>> cut("derailleur", 6), cut("cog", 6)
    ('derai~', 'cog')
    """
    if cells(text) <= width:
        return text
    if width <= len(end):
        return end[:width] if width > 0 else ""
    out, room = "", width - len(end)
    for char in text:
        room -= char_cells(char)
        if room < 0:
            break
        out += char
    return out + end


def pad(text: str, width: int, right: bool = False) -> str:
    """The text cut or filled with spaces to exactly `width` cells; `right` sets it flush right.

    >>> pad("13", 4, right=True)
    '  13'
    """
    text = cut(text, width)
    gap = " " * (width - cells(text))
    return gap + text if right else text + gap
