"""Tyres by the names that people call them, as ISO 5775 markings: `700x32C` is 32-622.

A name that can only mean one bead seat and says a width gives one marking. Any other gives the two or three
that it can mean, to ask about: nothing is guessed, for the wrong one moves every figure by 3 to 12 %.

Sources of the bead seats: the ISO 5775-1 marking with the old names printed beside it, and a printed table of
ISO and inch sizes, for all but the rows that say B (from memory) or P (common practice, no source). Decimal
and fractional widths are different families: 26 x 1.5 and 26 x 1 1/2 do not go on the same rim. A width in
inches stands for the nominal width that tyres so called are marked with (B); the mm printed on the tyre win.
"""

import re
from collections.abc import Callable, Mapping
from typing import Final

from cogwright.core.common.errors import InputError, Problem
from cogwright.core.common.safe_text import clean, cut
from cogwright.core.common.units import MM_PER_INCH
from cogwright.core.common.words import listed
from cogwright.core.setup.sizes import BEAD_SEATS, parse_size

#: What people call each bead seat diameter, mm: for a list to choose from, and for errors.
EVERYDAY: Final[Mapping[int, str]] = BEAD_SEATS | {
    203: "12 1/2 inch", 254: "14 x 1.75", 298: "14 x 1 3/8", 305: "16 x 1.75",
    340: "16 x 1 3/8, as in France", 349: "16 x 1 3/8", 355: "18 x 1.75", 400: "18 x 1 3/8",
    451: "20 x 1 3/8", 457: "22 x 1.75", 571: "650C, 26 x 1", 584: "650B, 27.5 inch", 587: "700D",
    590: "650A, 26 x 1 3/8", 599: "26 x 1.375",
    622: "700C, 28 and 29 inch", 642: "700A", 686: "32 inch",
}  # fmt: skip
#: Metric names, by diameter and letter. 700A and 700B: B. 571 stands for 650A too in print.
_METRIC: Final[Mapping[str, tuple[int, ...]]] = {
    "700c": (622,), "700b": (635,), "700a": (642,), "700d": (587,), "700": (622,),
    "650b": (584,), "650c": (571,), "650a": (590, 571), "650": (584, 571, 590), "600a": (540,),
}  # fmt: skip
#: Decimal widths: diameter, and the seats for widths below and from a limit in inches.
_DECIMAL: Final[Mapping[str, tuple[float, tuple[int, ...], tuple[int, ...]]]] = {
    "12": (1.5, (203,), (203,)), "12.5": (1.5, (203,), (203,)), "16": (1.5, (305, 349), (305,)),
    "18": (1.5, (355, 400), (355,)), "20": (1.5, (406, 451), (406,)), "22": (1.5, (457,), (457,)),
    "24": (1.5, (507, 520), (507,)), "26": (1.0, (559,), (559,)), "27": (1.0, (630,), (630,)),
    "27.5": (1.0, (584,), (584,)), "28": (1.0, (622,), (622,)), "29": (1.0, (622,), (622,)),
    "14": (1.5, (254, 298), (254,)), "32": (1.0, (686,), (686,)),
}  # fmt: skip
#: Decimal widths with an old family of their own beside the common one.
_OLD_DECIMAL: Final = {("26", 1.25): (559, 599), ("26", 1.375): (559, 599)}
#: Fractional widths. 16 and 18 x 1 3/8, 28 x 1 3/8 and 27 x 1 3/8: B. A width of 1 is written either way.
_FRACTIONAL: Final[Mapping[tuple[str, str], tuple[int, ...]]] = {
    ("28", "1 1/2"): (635,), ("28", "1 3/8"): (622, 642), ("28", "7/8"): (622,), ("28", "1"): (622,),
    ("28", "1 1/4"): (622,), ("28", "1 3/4"): (622,), ("28", "1 1/8"): (622,),
    ("27", "1 1/4"): (630,), ("27", "1 1/8"): (630,), ("27", "1"): (630,), ("27", "1 3/8"): (630,),
    ("26", "1 3/8"): (590,), ("26", "1 1/4"): (597,), ("26", "1 1/2"): (584, 571), ("26", "1 3/4"): (571,),
    ("26", "1"): (571, 559), ("24", "1"): (520,), ("24", "1 1/8"): (520,), ("24", "1 3/8"): (540,),
    ("20", "1 1/8"): (451,), ("20", "1 1/4"): (451,), ("20", "1 3/8"): (451,), ("20", "1"): (451, 406),
    ("18", "1 3/8"): (400,), ("14", "1 3/8"): (298,), ("16", "1 3/8"): (349, 340, 305),
}  # fmt: skip
#: A tyre of 28 x 1 5/8 is 622 whatever its width, which stands before or after: 28 x 1 5/8 x 1 3/8.
_FAMILY: Final = ("28", 1.625)
#: Names without a width: what they can mean, by the widths most often met (P).
_ALONE: Final[Mapping[str, tuple[str, ...]]] = {
    "12": ("47-203", "57-203"), "12.5": ("47-203", "57-203"), "16": ("47-305", "37-349"),
    "18": ("47-355", "37-400"), "20": ("47-406", "28-451"), "22": ("47-457", "54-457"),
    "24": ("47-507", "37-540", "25-520"), "26": ("50-559", "37-590", "23-571"), "27": ("28-630", "32-630"),
    "27.5": ("57-584", "47-584"), "28": ("37-622", "47-622", "40-635"),
    "29": ("54-622", "57-622"), "14": ("47-254", "37-298"), "32": ("57-686", "62-686"),
    "28 x 1 5/8": ("28-622", "32-622", "37-622"),
    "700c": ("25-622", "32-622", "40-622"), "700": ("25-622", "32-622", "40-622"),
    "700a": ("35-642", "37-642"), "700b": ("40-635", "44-635"), "700d": ("32-587", "37-587"),
    "650b": ("40-584", "47-584", "57-584"), "650c": ("20-571", "23-571"), "650a": ("37-590", "40-571"),
    "650": ("47-584", "23-571", "37-590"), "600a": ("32-540", "37-540"),
}  # fmt: skip
#: Nominal widths in mm of widths in inches, where they are not what the inches come to (B).
_WIDTHS: Final[Mapping[float, int]] = {
    1.125: 28, 1.35: 35, 1.375: 37, 1.4: 37, 1.5: 40, 1.625: 44, 1.75: 47, 1.9: 50, 2.0: 50,
    2.1: 54, 2.125: 57, 2.4: 62,
}  # fmt: skip
_EIGHTHS: Final = {1: "1/8", 2: "1/4", 3: "3/8", 4: "1/2", 5: "5/8", 6: "3/4", 7: "7/8"}

_SAID: Final = {
    "\u00d7": "x", "*": "x", "\u2044": "/", "\u00bd": " 1/2", "\u00bc": " 1/4", "\u00be": " 3/4",
    "\u215b": " 1/8", "\u215c": " 3/8", "\u215d": " 5/8", "\u215e": " 7/8",
}  # fmt: skip
# Patterns are compiled when a name is first asked about, which no first screen waits for.
_INCH: Final = "(?<=[\\d/])\\s*(?:inch(?:es)?|in\\b|er\\b|zoll|[\"'\u201d\u2033]+)"
_ISO: Final = r"(?a)(\d{2,3}(?:\.\d)?)\s*[-/x]\s*(\d{3})"
_TURNED: Final = r"(?a)(\d{3})\s*[-/x]\s*(\d{2})"
_METRIC_NAME: Final = r"(?a)(700|650|600)\s*([abcd]?)(?:\s*[-x/\s]\s*(\d{2,3})\s*(?:mm)?\s*([abcd]?))?"
_WIDTH: Final = r"(?:\d\s*[-\s.]\s*[1357]/[248]|1[1357]/[248]|[1357]/[248]|\d(?:\.\d{1,3})?)"
_INCH_NAME: Final = rf"(?a)(12\s*[-\s.]?\s*1/2|\d{{2}}(?:\.5)?)(?:\s*x\s*({_WIDTH})(?:\s*x\s*({_WIDTH}))?)?"


def sizes_called(name: str) -> tuple[str, ...]:
    """The ISO markings that a tyre's name can mean: one where it is certain, else two or three to ask about.

    Raises InputError for a name that is none, with the everyday names of the sizes in use.

    >>> sizes_called("700x32C"), sizes_called("26 x 1 3/8"), sizes_called("26x2.00"), sizes_called("40-622")
    (('32-622',), ('37-590',), ('50-559',), ('40-622',))
    >>> sizes_called("28 inch"), sizes_called("26 x 1 1/2")
    (('37-622', '47-622', '40-635'), ('40-584', '40-571'))
    """
    text = _plain(name)
    for form, meant in _FORMS.items():
        match = re.fullmatch(form, text)
        if match is not None and (found := meant(match)):
            return found
    what = f"{cut(clean(name), 20)!r} is no tyre size known here"
    raise InputError(Problem(what, everyday_words()))


def everyday_words() -> str:
    """How to write a size: the common ISO markings with the names that people call them by."""
    common = ("40-622", "40-584", "47-559", "37-590", "47-507", "47-406")
    named = ", ".join(f"{marking} ({called(marking)})" for marking in common)
    return f"write section width and bead seat diameter in mm, as on the tyre's side: {named}"


def marking_words(name: str) -> str:
    """How to mend a size in a file that is no ISO marking.

    >>> marking_words("700x32C")
    'write "32-622"'
    >>> marking_words("28 inch")
    "write what the tyre's side says: it can be 37-622, 47-622 or 40-635"
    """
    try:
        found = sizes_called(name)
    except InputError as error:
        return error.problems[0].mend
    if len(found) == 1:
        return f'write "{found[0]}"'
    return f"write what the tyre's side says: it can be {listed(found, 'or')}"


def called(marking: str) -> str:
    """What people call the wheel of a marking; empty for one that has no name.

    >>> called("32-630"), called("40-621")
    ('27 x 1 1/4', '')
    """
    size = parse_size(marking)
    return EVERYDAY.get(size[1], "") if size else ""


def _plain(name: str) -> str:
    """The name in lower case, its signs in ASCII, without the word for inches."""
    text = name[:60].lower().translate({ord(sign): said for sign, said in _SAID.items()})
    text = re.sub("[\u2010-\u2014\u2212]", "-", re.sub(r"(?<=\d),(?=\d)", ".", text))
    return " ".join(re.sub(_INCH, "", text).split())


def _iso(match: re.Match[str]) -> tuple[str, ...]:
    marking = f"{match[1]}-{match[2]}"
    return (marking,) if parse_size(marking) else ()


def _turned(match: re.Match[str]) -> tuple[str, ...]:
    marking = f"{match[2]}-{match[1]}"
    return (marking,) if int(match[1]) in EVERYDAY and parse_size(marking) else ()


def _metric(match: re.Match[str]) -> tuple[str, ...]:
    diameter, before, width, after = match.groups()
    letter = before or after or ""
    if before and after and before != after:
        return ()
    if width is None:
        return _ALONE.get(diameter + letter, ())
    return _with_width(int(width), _METRIC.get(diameter + letter, ()))


def _inch(match: re.Match[str]) -> tuple[str, ...]:
    diameter = "12.5" if match[1].endswith("1/2") else match[1]
    widths = [width for width in match.group(2, 3) if width]
    family = next((width for width in widths if _inches(width) == _FAMILY[1]), "")
    if family and diameter == _FAMILY[0]:
        widths.remove(family)
        return _with_width(_width_mm(widths[0]), (622,)) if widths else _ALONE["28 x 1 5/8"]
    if not widths:
        return _ALONE.get(diameter, ())
    return _with_width(_width_mm(widths[-1 if "/" in widths[0] else 0]), _seats(diameter, widths[0]))


def _seats(diameter: str, width: str) -> tuple[int, ...]:
    """The bead seats of a width in inches, which says its family by the way it is written."""
    inches = _inches(width)
    if "/" in width and diameter != "12.5":
        return _FRACTIONAL.get((diameter, _mixed(inches)), ())
    if inches == 1 and "." not in width and (diameter, "1") in _FRACTIONAL:
        return _FRACTIONAL[diameter, "1"]
    if (diameter, inches) in _OLD_DECIMAL:
        return _OLD_DECIMAL[diameter, inches]
    limit, below, above = _DECIMAL.get(diameter, (0.0, (), ()))
    return below if inches < limit else above


def _inches(width: str) -> float:
    """A width in inches. `13/8` is 1 3/8 with its space lost: nobody writes a width as more than a whole."""
    match = re.fullmatch(r"(\d?)[-\s.]*([1357])/([248])", width)
    return float(match[1] or 0) + int(match[2]) / int(match[3]) if match else float(width)


def _mixed(inches: float) -> str:
    """A width as a fraction is written: 1.375 is `1 3/8`."""
    whole, part = divmod(round(inches * 8), 8)
    return " ".join(one for one in (str(whole or ""), _EIGHTHS.get(part, "")) if one)


def _width_mm(width: str) -> int:
    inches = _inches(width)
    return _WIDTHS.get(inches, round(inches * MM_PER_INCH))


def _with_width(width_mm: int, seats: tuple[int, ...]) -> tuple[str, ...]:
    markings = tuple(f"{width_mm}-{seat}" for seat in seats)
    return markings if all(map(parse_size, markings)) else ()


_FORMS: Final[Mapping[str, Callable[[re.Match[str]], tuple[str, ...]]]] = {
    _ISO: _iso,
    _TURNED: _turned,
    _METRIC_NAME: _metric,
    _INCH_NAME: _inch,
}
