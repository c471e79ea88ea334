"""What the drawer shows: its content in lines, in the room there is."""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property

from cogwright.app.pickers.content import Choice, Content
from cogwright.core.common.safe_text import cells
from cogwright.present.lines import Line, Look, Role, Span, clip, line, width


@dataclass(frozen=True)
class DrawerLines:
    """A content with those of its choices that the filter lets through, one of them marked."""

    content: Content
    shown: Sequence[Choice]
    index: int
    look: Look

    @cached_property
    def height(self) -> int:
        """Rows that the drawer takes, the line for text among them."""
        content, look = self.content, self.look
        around = 1 + len(content.head) + content.about_room + len(self._keys) + content.takes_text
        most = max(look.height * 2 // 5, 7, content.least) if content.move else look.height - 4
        wanted = max(len(content.choices) + around, content.least)
        return max(min(wanted, content.height, most, look.height - 4), 3)

    @cached_property
    def room(self) -> int:
        """Rows for choices."""
        taken = 1 + len(self.content.head) + self._about_room + len(self._keys) + self.content.takes_text
        return max(self.height - taken, 1)

    @cached_property
    def _about_room(self) -> int:
        """Rows for lines about the chosen value: two choices at least stay in sight."""
        taken = 3 + len(self.content.head) + len(self._keys) + self.content.takes_text
        return max(min(self.content.about_room, self.height - taken), 0)

    @cached_property
    def _top(self) -> int:
        """The first choice in sight; of text to read the line that it is scrolled to."""
        at = self.index - self.room // 2 if self.content.pick else self.index
        return min(max(at, 0), self.last_top)

    @cached_property
    def last_top(self) -> int:
        """How far it can be scrolled."""
        return max(len(self.shown) - self.room, 0)

    def choice_at(self, row: int) -> Choice | None:
        """The choice in a row of the drawer, for the mouse."""
        below = row - 1 - len(self.content.head)
        at = below + self._top
        return self.shown[at] if 0 <= below < self.room and at < len(self.shown) else None

    def lines(self) -> list[Line]:
        """All lines but the one for text."""
        content, room = self.content, self.look.width
        foot = [*self._about(), *self._keys]
        space = self.height - content.takes_text - 1 - len(foot)
        body = [clip(each, room) for each in (*content.head, *self._rows())][:space]
        return [self._title(), *body, *[()] * (space - len(body)), *foot]

    def _title(self) -> Line:
        """The title in a rule, and the place in what is not all in sight."""
        rule, count = self.look.glyphs.rule, len(self.shown)
        here = f"{self.index + 1}" if self.content.pick else f"{self._top + 1}-{self._top + self.room}"
        place = f" {here} of {count} " if count > self.room else ""
        title = line(Span(rule * 2, Role.RULE), Span(f" {self.content.title} ", Role.TITLE))
        title = clip(title, self.look.width - len(place) - 2)
        rest = self.look.width - width(title) - len(place) - 2
        return line(title, Span(rule * rest, Role.RULE), Span(place, Role.KEY), Span(rule * 2, Role.RULE))

    def _rows(self) -> list[Line]:
        if self.content.choices and not self.shown:
            return [(Span("   nothing holds these words", Role.DIM),)]
        there = self.shown[self._top : self._top + self.room]
        return [self._row(at, choice) for at, choice in enumerate(there, self._top)]

    def _row(self, at: int, choice: Choice) -> Line:
        if at != self.index or self.content.pick is None:
            return line("   ", choice.shown)
        text = "".join(span.text for span in choice.shown)
        fill = " " * max(self.look.width - 3 - cells(text), 0)
        return line(Span(f" {self.look.glyphs.bullet} ", Role.CURSOR), Span(text + fill, Role.CURSOR))

    def _about(self) -> list[Line]:
        room, found = self._about_room, list[Line]()
        if self.content.about is not None and self.shown and room:
            found = list(self.content.about(self.shown[self.index].value, self.look.of_height(room)))
        return [*(clip(each, self.look.width) for each in found[:room]), *[()] * (room - len(found))]

    @cached_property
    def _keys(self) -> list[Line]:
        """The keys that count here, in as many lines as they need."""
        return [line(" ", each) for each in _in_lines(self._key_words(), self.look.width - 2)]

    def _key_words(self) -> str:
        content = self.content
        back = "Esc or F10 back" if content.takes_text else "q or Esc back"
        if content.keys or content.answers:
            return content.keys or back
        if content.pick:
            return f"Up Down move   Enter take   {back}" + ("   type to narrow" if content.filter else "")
        return f"Enter accept   {back}" if content.typed else f"Up Down PgUp PgDn scroll   {back}"


def _in_lines(keys: str, room: int) -> list[Line]:
    """Keys and their words, three blanks between, in as many lines as they need."""
    lines = [""]
    for one in keys.split("   "):
        joined = f"{lines[-1]}   {one}" if lines[-1] else one
        lines = [*lines[:-1], joined] if len(joined) <= room else [*lines, one]
    return [(Span(text, Role.DIM),) for text in lines]
