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
_NUMBERED: Final = re.compile(r"\x1b\[[\d;:]+[u~A-HPQRS]")
_CODED: Final = re.compile(r"(\x1b\[\d*;\d*;)(\d+(?::\d+)+)u")
_NUMBER: Final = re.compile(r"\d+")


def keys_of(sequence: str) -> list[str]:
    r"""The sequences to hand on for a whole one: itself, none, or one a character where it makes several.

    >>> keys_of("\x1b[A"), keys_of("\x1b[?62;22c"), keys_of("\x1b[0;;97:98u")
    (['\x1b[A'], [], ['\x1b[0;;97u', '\x1b[0;;98u'])
    """
    if _NUMBERED.fullmatch(sequence):
        if any(map(_is_no_character, _NUMBER.findall(sequence))):
            return []
        if coded := _CODED.fullmatch(sequence):
            return [f"{coded[1]}{code}u" for code in coded[2].split(":")]
    wanted = ":" not in sequence and (_PRIVATE.fullmatch(sequence) or not _REPORT.fullmatch(sequence))
    return [sequence] if wanted and len(sequence) <= LONGEST else []


def _is_no_character(number: str) -> bool:
    return len(number) > 7 or int(number) > 0x10FFFF or 0xD800 <= int(number) <= 0xDFFF
