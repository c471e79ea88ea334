"""Tooth counts as people type them: lists with any mark between them, and ranges that mean a cassette.

Where a list of sprockets is asked for, `11 13 15`, `11,13,15`, `11/13/15`, `11-13-15` and `[11, 13, 15]` are
the same. Where a whole cassette is asked for, two numbers with a dash between them are its ends, for that is
what a cassette is called by: `11-32` is any cassette from 11 to 32 teeth, `11-32, 10` one with ten cogs, and
two cogs are written `11 32`. A range is matched against cassettes that are there, never filled up.
"""

import re
from collections.abc import Iterable
from dataclasses import dataclass
from typing import Final, NoReturn, Protocol, TypeVar

from cogwright.core.common.errors import InputError, Problem
from cogwright.core.common.safe_text import clean, cut
from cogwright.core.common.words import count, listed
from cogwright.core.setup.fields import MAX_SPROCKETS, MAX_TEETH, MIN_TEETH

_LONGEST: Final = 400
_DASH: Final = "\u2010\u2011\u2012\u2013\u2014\u2212-"
_BETWEEN: Final = re.compile(rf"[\s,;/{_DASH}]+")
_TEETH: Final = re.compile(r"(\d+)t?", re.ASCII | re.IGNORECASE)
_RANGE: Final = re.compile(
    rf"(\d+)t?\s*[{_DASH}]\s*(\d+)t?"
    r"(?:(?:\s*[,;/x]\s*|\s+)(\d+)(?:\s*(?:cogs?|speeds?|sp?))?)?",
    re.ASCII | re.IGNORECASE,
)
_MEND: Final = "write tooth counts such as 11 13 15"


@dataclass(frozen=True, slots=True)
class CassetteRange:
    """What a cassette is called by: its smallest and largest cog, and the number of cogs if that was said."""

    low: int
    high: int
    count: int | None = None

    def __str__(self) -> str:
        """The range in the words of the shelf.

        >>> str(CassetteRange(11, 32)), str(CassetteRange(11, 32, 10))
        ('11-32', '11-32, 10 cogs')
        """
        ends = f"{self.low}-{self.high}"
        return ends if self.count is None else f"{ends}, {count(self.count, 'cog')}"


class HasCogs(Protocol):
    """Anything with cogs, smallest first: a cassette of a bin, the rear of a setup."""

    @property
    def cogs(self) -> tuple[int, ...]:
        """Teeth, ascending."""


C = TypeVar("C", bound=HasCogs)


def teeth_in(text: str) -> tuple[int, ...]:
    """The tooth counts of a typed list, ascending. Raises InputError with what is wrong and how to mend it.

    >>> teeth_in("11 13 15") == teeth_in("[11, 13, 15]") == teeth_in("15/13/11") == teeth_in("11-13-15")
    True
    >>> teeth_in("30-46"), teeth_in("28T")
    ((30, 46), (28,))
    """
    words = [word for word in _BETWEEN.split(_unwrapped(text)) if word]
    if not words:
        _refuse("no tooth count was given")
    teeth = [_teeth(word) for word in words]
    if twice := sorted({n for n in teeth if teeth.count(n) > 1}):
        _refuse(f"{listed(twice)} teeth stand there more than once", "name every sprocket once")
    if len(teeth) > MAX_SPROCKETS:
        _refuse(f"{len(teeth)} tooth counts are too many", f"give {MAX_SPROCKETS} at most")
    return tuple(sorted(teeth))


def cassette_in(text: str) -> tuple[int, ...] | CassetteRange:
    """The cogs of a typed cassette, or the range that it was called by. Raises InputError.

    >>> cassette_in("11-13-15"), cassette_in("11 32")
    ((11, 13, 15), (11, 32))
    >>> cassette_in("11-32"), cassette_in("32-11, 10"), cassette_in("11-32 10 speed").count
    (CassetteRange(low=11, high=32, count=None), CassetteRange(low=11, high=32, count=10), 10)
    """
    found = _RANGE.fullmatch(_unwrapped(text))
    if found is None:
        return teeth_in(text)
    low, high = sorted(_teeth(end) for end in found.group(1, 2))
    cogs = None if found[3] is None else int(found[3][:4])
    if low == high:
        _refuse(f"a cassette from {low} to {high} teeth is one cog", f"write {low} for the one cog")
    if cogs is not None and not 2 <= cogs <= min(high - low + 1, MAX_SPROCKETS):
        mend = f"write {low} {high} {cogs} for a list of three, or {low}-{high} for any number of cogs"
        _refuse(f"a cassette from {low} to {high} teeth cannot have {count(cogs, 'cog')}", mend)
    return CassetteRange(low, high, cogs)


def fitting(wanted: CassetteRange, cassettes: Iterable[C]) -> tuple[C, ...]:
    """All of the cassettes that a range can mean, in their order: none, one, or several to ask about.

    `cassettes` are those of a bin and of the shelf, however many alike there are among them.
    """
    return tuple(one for one in cassettes if fits_range(wanted, one.cogs))


def fits_range(wanted: CassetteRange, cogs: tuple[int, ...]) -> bool:
    """Whether cogs, ascending, are a cassette of these ends.

    >>> fits_range(CassetteRange(11, 32, 3), (11, 20, 32)), fits_range(CassetteRange(11, 32), (11, 34))
    (True, False)
    """
    ends = bool(cogs) and (cogs[0], cogs[-1]) == (wanted.low, wanted.high)
    return ends and wanted.count in (None, len(cogs))


def _unwrapped(text: str) -> str:
    """The text without what stands round a list."""
    if len(text) > _LONGEST:
        _refuse("the list is too long", f"give {MAX_SPROCKETS} tooth counts at most")
    return text.strip().strip("[](){}").strip()


def _teeth(word: str) -> int:
    found = _TEETH.fullmatch(word)
    value = int(found[1][:9]) if found else 0
    if found is None:
        _refuse(f"{cut(clean(word), 20)!r} is not a number of teeth, {MIN_TEETH} to {MAX_TEETH}", _MEND)
    if not MIN_TEETH <= value <= MAX_TEETH:
        _refuse(f"{cut(word, 20)} is not a number of teeth, {MIN_TEETH} to {MAX_TEETH}", _MEND)
    return value


def _refuse(what: str, mend: str = _MEND) -> NoReturn:
    raise InputError(Problem(what, mend))
