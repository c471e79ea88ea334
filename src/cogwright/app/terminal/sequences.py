"""Which of the escape sequences that a terminal sends Textual's parser is handed: those that can be keys, the
mouse or the focus. Reports are no keys, whatever the parser would make of them.
"""

import re
from typing import Final

#: Characters that the parser reads as one sequence.
LONGEST: Final = 32
#: Of the private sequences the parser is to have the mouse's, and the report on drawings in one piece.
_PRIVATE: Final = re.compile(r"\x1b\[(?:<\d{1,3};\d{1,5};\d{1,5}[Mm]|\?2026;\d\$y)")
#: Reports of the terminal and the end of a paste that has ended already. An old terminal has keys like them.
_REPORT: Final = re.compile(r"\x1b\[(?:[<=>?].*|201~|(?!1;[5-8][p-y])[\d;:]*[ntxy])")
#: A key by its number, in kitty's protocol or xterm's, and the text that it makes.
_NUMBERED: Final = re.compile(r"\x1b\[[\d:]*[;:][\d;:]*[u~A-HPQRS]")
_CODED: Final = re.compile(r"(\x1b\[\d*;?\d*;?)((?:\d+:)*\d*)([u~A-HPQRS])")
_NUMBER: Final = re.compile(r"\d+")


def keys_of(sequence: str) -> list[str]:
    r"""The sequences to hand on for a whole one: itself, none, or one a character where it makes several.

    >>> keys_of("\x1b[A"), keys_of("\x1b[?62;22c"), keys_of("\x1b[0;;97:98u")
    (['\x1b[A'], [], ['\x1b[0;;97u', '\x1b[0;;98u'])
    """
    if _REPORT.fullmatch(sequence):
        return [sequence] if _PRIVATE.fullmatch(sequence) else []
    if not _NUMBERED.fullmatch(sequence):
        return [sequence] if len(sequence) <= LONGEST else []
    coded = _CODED.fullmatch(sequence)
    if coded is None or not all(_is_character(int(code)) for code in _NUMBER.findall(sequence)):
        return []
    before, text, after = coded.groups()
    return [f"{before}{code}{after}" for code in text.split(":") if len(before) + len(code) < LONGEST]


def _is_character(code: int) -> bool:
    return code <= 0x10FFFF and not 0xD800 <= code <= 0xDFFF
