"""The drawer over the lower part of the screen, as lines: sizes and texts worked out of the session alone."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from cogwright.app.pickers.scene import MARK
from cogwright.app.state.opened import Typed
from cogwright.present.lines import Line, Look, Role, Span, clip, line, opening, width
from cogwright.present.panels.foot import FootKey, key_rows
from cogwright.present.spots import SpotLine


@dataclass(frozen=True, slots=True)
class DrawerFrame:
    """What the drawer shows: `room` rows from `top` on. `at` is the marked one, None in text that is read."""

    title: Line
    rows: Sequence[Line]
    room: int
    top: int
    keys: tuple[SpotLine, ...]
    head: tuple[Line, ...] = ()
    about: tuple[Line, ...] = ()
    typed: Typed | None = None
    at: int | None = None

    @property
    def height(self) -> int:
        """Rows of the screen that it takes."""
        return 1 + len(self.head) + self.room + len(self.about) + len(self.keys) + (self.typed is not None)


@dataclass(frozen=True)
class Wanted:
    """What is to be shown in a drawer, before it is known how much of it there is room for."""

    title: str
    look: Look
    rows: Sequence[Line] = ()
    head: Sequence[Line] = ()
    about_room: int = 0
    about: Callable[[int], Sequence[Line]] = lambda _: ()
    keys: Sequence[FootKey] = ()
    typed: Typed | None = None
    at: int | None = None
    top: int = 0
    #: Rows that it may take, and rows that it takes even when there is less to show.
    most: int = 12
    least: int = 3


def drawer_frame(wanted: Wanted) -> DrawerFrame:
    """The drawer in the room there is: what is said of a row gives way first, then rows, head and keys."""
    look, text = wanted.look, wanted.typed is not None
    keys, head = key_rows(wanted.keys, look), wanted.head
    full = 1 + len(head) + len(wanted.rows) + wanted.about_room + len(keys) + text
    height = max(min(max(full, wanted.least), wanted.most, look.height - 4), 3)
    fewest = 0 if text and not wanted.rows else 1
    left = height - 1 - text - fewest
    keys, left = keys[: max(left, 0)], left - len(keys[: max(left, 0)])
    head, left = head[:left], left - len(head[:left])
    about = max(min(wanted.about_room, left - 1), 0)
    room = fewest + left - about
    top = in_sight(wanted.top, wanted.at, len(wanted.rows), room)
    said = [clip(each, look.width) for each in (wanted.about(about) if about and wanted.rows else ())]
    return DrawerFrame(
        title=rule_with(wanted.title, _place(wanted, top, room), look),
        rows=wanted.rows,
        room=room,
        top=top,
        keys=tuple(keys),
        head=tuple(clip(each, look.width) for each in head),
        about=tuple([*said, *[()] * about][:about]),
        typed=wanted.typed,
        at=wanted.at,
    )


def in_sight(top: int, at: int | None, count: int, room: int) -> int:
    """The first row in sight, so that there are rows to the end of the room and the marked one is among them.

    >>> in_sight(0, 12, 40, 10), in_sight(5, 2, 40, 10), in_sight(90, None, 40, 10)
    (3, 2, 30)
    """
    if at is not None:
        top = min(max(top, at - room + 1), at)
    return min(max(top, 0), max(count - room, 0))


def _place(wanted: Wanted, top: int, room: int) -> str:
    """Where one is in what is not all in sight."""
    count = len(wanted.rows)
    if count <= room:
        return ""
    here = f"{top + 1}-{min(top + room, count)}" if wanted.at is None else f"{wanted.at + 1}"
    return f" {here} of {count} "


def rule_with(text: str, place: str, look: Look) -> Line:
    """A title in a rule from side to side, and a place at the right end of it."""
    rule = look.glyphs.rule
    words = opening(text, look.width - len(place) - 6, Role.TITLE)
    title = line(Span(rule * 2, Role.RULE), " ", words, " ")
    title = clip(title, look.width - len(place) - 2)
    rest = look.width - width(title) - len(place) - 2
    return line(title, Span(rule * rest, Role.RULE), Span(place, Role.KEY), Span(rule * 2, Role.RULE))


def marked(row: Line, look: Look) -> Line:
    """The chosen row: a mark before it, and all of its width in one look."""
    text = "".join(span.text for span in row)
    fill = " " * max(look.width - MARK - width(row), 0)
    return line(Span(f" {look.glyphs.bullet} ", Role.CURSOR), Span(text + fill, Role.CURSOR))
