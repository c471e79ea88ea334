"""Numbers as people type them, with a decimal point or comma, and as they are typed again."""

import math
import re
from typing import Final

_NUMBER: Final = re.compile(r"[+-]?(\d+([.,]\d*)?|[.,]\d+)(e[+-]?\d+)?", re.ASCII | re.IGNORECASE)


def number_in(text: str, least: float = -math.inf) -> float:
    """The number that a text is. Raises ValueError for anything but a finite one from `least` up.

    >>> number_in(" 1.60 "), number_in("1,6"), number_in("-4")
    (1.6, 1.6, -4.0)
    """
    text = text.strip()
    if _NUMBER.fullmatch(text) is None:
        raise ValueError(f"{text!r} is not a number")
    value = float(text.replace(",", "."))
    if not least <= value < math.inf:
        raise ValueError(f"{text} is not a number from {least:g} up")
    return value


def whole_in(text: str, least: int, most: int) -> int:
    """The whole number that a text is. Raises ValueError for anything but one from `least` to `most`.

    >>> whole_in(" 34 ", 6, 130)
    34
    """
    value = number_in(text, least)
    if not value.is_integer() or value > most:
        raise ValueError(f"{text} is not a whole number from {least} to {most}")
    return int(value)


def written(value: object) -> str:
    """A value as it is typed: a number without needless zeros, a list in brackets, nothing for None.

    >>> written(1.6), written(120.0), written(0.0055), written((11, 13.0)), written("40-622"), written(None)
    ('1.6', '120', '0.0055', '[11, 13]', '40-622', '')
    >>> written(True)
    'true'
    """
    if value is None:
        return ""
    if isinstance(value, bool):
        return str(value).lower()
    if isinstance(value, tuple):
        return f"[{', '.join(map(written, value))}]"
    return f"{value:.12g}" if isinstance(value, float) else str(value)
