"""Text from files made safe to show: what it may hold, and how many terminal cells it takes."""

import re
import unicodedata
from functools import lru_cache
from typing import Final

#: Marks stacked on one letter beyond this are dropped: they would overflow into other rows.
MARKS_KEPT: Final = 3
#: What stands between both ends of a text, and the fewest cells for these.
_BETWEEN: Final = ".."
_ENDS: Final = 4
#: What starts a formula in a spreadsheet, full-width forms included; a semicolon begins another cell where
#: the comma parts decimals.
_FORMULA: Final = re.compile(r"(^|;)(?=\s*[=+\-@|\t\r\uff1d\uff0b\uff0d\uff20])")
_DROPPED: Final = {"Cf", "Cs", "Co", "Cn"}
_MARKS: Final = {"Mn", "Me", "Mc"}
#: Invisible letters, variation selectors (which widen what stands before them) and skin tones.
_UNSEEN: Final = re.compile(
    "[\u115f\u1160\u2800\u3164\uffa0\ufe00-\ufe0f\U000e0100-\U000e01ef\U0001f3fb-\U0001f3ff]"
)
#: Symbols that Unicode 16 made wide: half of the terminals draw them in one cell, half in two.
_DISPUTED: Final = re.compile("[\u2630-\u2637\u268a-\u268f\u4dc0-\u4dff\U0001d300-\U0001d376]")


def clean(text: str, keep_newlines: bool = False) -> str:
    r"""The text without anything that a terminal would obey: controls, escapes, direction overrides.

    Cleaning a cleaned text changes nothing.

    >>> clean("a\x1b[31mb\u202ec")
    'a [31mbc'
    >>> clean("one\ntwo", keep_newlines=True)
    'one\ntwo'
    """
    if text.isascii() and text.isprintable():
        return text
    once = _cleaned(text, keep_newlines)
    while (again := _cleaned(once, keep_newlines)) != once:
        once = again  # a dropped character may have kept two others from composing
    return once


def _cleaned(text: str, keep_newlines: bool) -> str:
    out: list[str] = []
    marks = 0
    for char in unicodedata.normalize("NFC", _DISPUTED.sub("?", _UNSEEN.sub("", text))):
        kind = unicodedata.category(char)
        marks = marks + 1 if char_cells(char) == 0 else 0
        if kind in {"Cc", "Zl", "Zp"}:
            out.append(char if keep_newlines and char == "\n" else " ")
        elif kind not in _DROPPED and (marks == 0 or (out and marks <= MARKS_KEPT)):
            out.append(char)
    return "".join(out)


def shown_name(name: str) -> str:
    r"""A file name or path as it can be shown: what `clean` would change is spelt out.

    >>> shown_name("a\x1b[31m\udcff.toml")
    'a\\x1b[31m\\xff.toml'
    """
    if name.isascii() and name.isprintable():
        return name
    if clean(name) == name:
        return name
    return clean("".join(char if clean(char) == char else _spelt(char) for char in name))


def _spelt(char: str) -> str:
    code = ord(char)
    if 0xDC80 <= code <= 0xDCFF:  # os.fsdecode: a byte that is no UTF-8
        code -= 0xDC00
    return f"\\x{code:02x}" if code < 0x100 else f"\\u{code:04x}" if code < 0x10000 else f"\\U{code:08x}"


def char_cells(char: str) -> int:
    """Terminal cells of one character: 0 for a combining mark, 2 for a wide one, else 1."""
    if char < "\u0300":
        return 1
    if unicodedata.category(char) in _MARKS or _joins(char):
        return 0
    return 2 if unicodedata.east_asian_width(char) in {"W", "F"} else 1


def _joins(char: str) -> bool:
    """Whether it is a vowel or a final of a Korean syllable, drawn into the letter before it."""
    return "\u1160" <= char <= "\u11ff" or "\ud7b0" <= char <= "\ud7fb"


def cells(text: str) -> int:
    """Terminal cells that a cleaned text takes.

    >>> cells("abc"), cells("\u6f22")
    (3, 2)
    """
    return len(text) if text.isascii() else _counted(text)


@lru_cache(maxsize=4096)
def _counted(text: str) -> int:
    """Bars and names come again with every drawing."""
    return sum(map(char_cells, text))


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


def cut_middle(text: str, width: int) -> str:
    """Both ends of a text in at most `width` cells: what tells names apart often stands last.

    >>> cut_middle("Yard 1, two rings as it came in", 17), cut_middle("Yard 1", 17)
    ('Yard 1, ..came in', 'Yard 1')
    """
    room = width - len(_BETWEEN)
    if cells(text) <= width or room < _ENDS:
        return cut(text, width)
    last = cut(text[::-1], room // 2, "")[::-1]
    while char_cells(last[0]) == 0:
        last = last[1:]
    return f"{cut(text, room - room // 2, '')}{_BETWEEN}{last}"


def pad(text: str, width: int, right: bool = False) -> str:
    """The text cut or filled with spaces to exactly `width` cells; `right` sets it flush right.

    >>> pad("13", 4, right=True)
    '  13'
    """
    text = cut(text, width)
    gap = " " * (width - cells(text))
    return gap + text if right else text + gap


def csv_cell(text: str) -> str:
    """A text (not a number) as a spreadsheet may take it: what would run gets an apostrophe before it.

    >>> csv_cell("=1+1"), csv_cell(" @x"), csv_cell("46x11")
    ("'=1+1", "' @x", '46x11')
    """
    return _FORMULA.sub(r"\1'", text)
