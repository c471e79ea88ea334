"""Lines of text with roles: what every view is made of, on the screen and off it.

A view is a function from a study to lines. A role says what a piece of text means; the theme says what
it looks like, and no meaning hangs on the look alone.
"""

import re
from collections.abc import Iterable, Sequence
from enum import StrEnum
from functools import lru_cache
from typing import NamedTuple, Self

from cogwright.core.common.safe_text import cells, cut
from cogwright.present.glyphs import ASCII, SOLID, UNICODE, Glyphs

__all__ = [
    "ASCII",
    "SOLID",
    "UNICODE",
    "Glyphs",
    "Line",
    "Look",
    "Page",
    "Role",
    "Span",
    "line",
    "opening",
    "plain",
    "spread",
    "table",
]


#: Holds a figure and its unit together while words are set in lines.
_GLUE = "\x00"
_UNIT = re.compile(
    r"(?<=\d) (?=(?:%|m|mm|km|km/h|h|min|s|rpm|W|kg|pitches|pitch|links|link|teeth|EUR)(?![\w/]))"
)


class Role(StrEnum):
    """What a piece of text means."""

    TEXT = "text"
    DIM = "dim"
    TITLE = "title"
    KEY = "key"
    RULE = "rule"
    BENCH = "bench"
    BENCH_2 = "bench-2"
    BENCH_3 = "bench-3"
    BASE = "base"
    BEFORE = "before"
    LONGER = "longer"
    GRID = "grid"
    LOST = "lost"
    GAINED = "gained"
    WIDE = "wide"
    JUMP = "jump"
    OVER = "over"
    OVERLAP = "overlap"
    OK = "ok"
    CAUTION = "caution"
    PROBLEM = "problem"
    UNKNOWN = "unknown"
    CURSOR = "cursor"
    HEAD = "head"
    SELECTED = "selected"
    MESSAGE = "message"


class Span(NamedTuple):
    """A piece of text and what it means."""

    text: str
    role: Role = Role.TEXT


Line = tuple[Span, ...]


class Look(NamedTuple):
    """The room a view has, in terminal cells, and the characters it may use.

    `rows` are those that a view has between head and foot, 0 where it may take as many as it likes. `beside`
    says that the panel with what the change means stands beside the view.
    """

    width: int = 80
    height: int = 24
    glyphs: Glyphs = UNICODE
    rows: int = 0
    beside: bool = False

    def narrower(self, cells: int) -> Self:
        """The same with that many cells less across."""
        return self.of_width(self.width - cells)

    def of_width(self, width: int) -> Self:
        """The same, so many cells wide."""
        return self._replace(width=width)

    def of_height(self, height: int) -> Self:
        """The same, so many rows high."""
        return self._replace(height=height)


class Page(NamedTuple):
    """A view: lines that stay in sight and lines that scroll; `focus` is a row to keep in sight.

    `kept` are rows that are not scrolled away, the most important first, as far as there is room. `legend`
    stands below the rows where they leave room for it.
    """

    head: tuple[Line, ...]
    rows: tuple[Line, ...]
    focus: int | None = None
    kept: tuple[int, ...] = ()
    legend: tuple[Line, ...] = ()


def line(*parts: str | Span | Line) -> Line:
    """A line of bare strings, spans and other lines.

    >>> plain(line("a ", Span("b", Role.JUMP)))
    'a b'
    """
    spans: list[Span] = []
    for part in parts:
        if isinstance(part, str):
            spans.append(Span(part))
        elif isinstance(part, Span):
            spans.append(part)
        else:
            spans.extend(part)
    return tuple(spans)


def plain(of: Line) -> str:
    """The line's text alone, without spaces at its end."""
    return "".join(span.text for span in of).rstrip()


def width(of: Line) -> int:
    """Terminal cells that the line takes."""
    return cells("".join([span.text for span in of]))


def clip(of: Line, room: int) -> Line:
    """The line in at most `room` cells; `~` marks what was cut."""
    if width(of) <= room:
        return of
    spans: list[Span] = []
    for span in of:
        size = cells(span.text)
        if size >= room:
            spans.append(Span(cut(span.text + " ", room), span.role))
            break
        spans.append(span)
        room -= size
    return tuple(spans)


def spread(left: Line, right: Line, room: int) -> Line:
    """One line with `left` flush left and `right` flush right; where both do not fit, `left` is cut."""
    space = room - width(right)
    left = clip(left, max(space - 1, 0))
    return line(left, " " * max(space - width(left), 0), clip(right, room))


def wrap(text: str, room: int, role: Role = Role.TEXT, indent: str = "") -> list[Line]:
    """Words set in lines of at most `room` cells; lines after the first start with `indent`."""
    return list(_wrapped(text, room, role, indent))


@lru_cache(maxsize=512)
def _wrapped(text: str, room: int, role: Role, indent: str) -> tuple[Line, ...]:
    """Kept: a panel that stays on the screen says much the same after each edit."""
    out: list[str] = []
    now = ""
    words = _UNIT.sub(_GLUE, text).split()
    for word in (piece for each in words for piece in _pieces(each, room - len(indent))):
        joined = f"{now} {word}" if now.strip() else now + word
        if now.strip() and cells(joined) > room:
            out.append(now)
            joined = indent + word
        now = joined
    out += [cut(now, room)] if now.strip() else []
    return tuple((Span(each.replace(_GLUE, " "), role),) for each in out)


def told(text: str, room: int, role: Role = Role.TEXT, indent: str = "") -> list[Line]:
    """A sentence set in lines of at most `room` cells, all a cell from the left edge."""
    return [(Span(" "), *row) for row in wrap(text, room - 1, role, indent)]


def opening(text: str, room: int, role: Role = Role.TEXT) -> Line:
    """The beginning of a text in whole words, `...` after it where there is more: all stands elsewhere.

    >>> plain(opening("one ring out of the drawer", 16)), plain(opening("one ring", 16))
    ('one ring out ...', 'one ring')
    """
    if cells(text) <= room:
        return (Span(text, role),)
    first = wrap(text, max(room - 4, 4), role)[0]
    return line(first, Span(" ...", role))


def _pieces(word: str, room: int) -> list[str]:
    """A word that is longer than a line, such as a path, in pieces that fit."""
    pieces = [""]
    for char in word if cells(word) > room > 1 else ():
        if cells(pieces[-1] + char) > room:
            pieces.append("")
        pieces[-1] += char
    return pieces if pieces[0] else [word]


class Column(NamedTuple):
    """A column of a table: its head, and whether it is set flush right."""

    head: str
    right: bool = True


def table(columns: Sequence[Column], rows: Iterable[Sequence[str | Span]], gap: int = 2) -> list[Line]:
    """A head line and a line a row, each column as wide as its widest cell."""
    body = [[cell if isinstance(cell, Span) else Span(cell) for cell in row] for row in rows]
    head = [Span(column.head, Role.HEAD) for column in columns]
    widths = [max(cells(row[i].text) for row in [head, *body]) for i in range(len(columns))]
    return [_row(columns, widths, row, gap) for row in [head, *body]]


def _row(columns: Sequence[Column], widths: Sequence[int], row: Sequence[Span], gap: int) -> Line:
    spans: list[Span] = []
    for column, room, cell in zip(columns, widths, row, strict=True):
        fill = " " * (room - cells(cell.text))
        text = fill + cell.text if column.right else cell.text + fill
        spans += [Span(text, cell.role), Span(" " * gap)]
    return tuple(spans[:-1])
