"""The middle of the screen: the view in the room there is, and the findings beside it on a wide one."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

from cogwright.core.study import Study
from cogwright.present.lines import Line, Look, Page, Role, Span, line, wrap
from cogwright.present.panels.findings import findings_lines

#: From this width the findings stand beside the view.
WIDE = 110
#: Rows that scroll below a page's head at the least; where there are fewer the head scrolls with them.
LEAST_ROWS = 3
_SIDE = 38
#: Cells at the view's right end for the scroll bar.
BAR = 1
#: Fewer rows than this of another view are not worth showing below the gears.
WORTH = 12


def view_look(look: Look) -> Look:
    """The room that the view has beside the scroll bar, and beside the findings on a wide screen."""
    return look.of_width(max(look.width - side_width(look) - BAR, 1))


def side_width(look: Look) -> int:
    """Cells that the findings take with the line beside them; none on a narrow screen."""
    return min(max(_SIDE, look.width // 4), 56) + 2 if look.width >= WIDE else 0


@dataclass(frozen=True, slots=True)
class Body:
    """The view in `room` rows below its head, from the row `top` on, which is held within its bounds."""

    head: tuple[Line, ...]
    rows: tuple[Line, ...]
    room: int
    top: int

    @property
    def seen(self) -> list[Line]:
        """The head and the rows in sight, one line a row of the screen."""
        rows = self.rows[self.top : self.top + self.room]
        return [*self.head, *rows, *[()] * (self.room - len(rows))]

    @property
    def last_top(self) -> int:
        """How far it can be scrolled."""
        return max(len(self.rows) - self.room, 0)


def body_of(page: Page, room: int, top: int) -> Body:
    """The page in so many rows. Where its head would leave too few, the head scrolls with the rest."""
    if len(page.head) > max(room - LEAST_ROWS, 1):
        focus = None if page.focus is None else page.focus + len(page.head)
        page = Page((), (*page.head, *page.rows), focus)
    head = page.head[: max(room - 1, 0)]
    height = max(room - len(head), 1)
    if page.focus is not None:
        top = min(max(top, page.focus - height + 1), page.focus)
    return Body(head, page.rows, height, min(max(top, 0), max(len(page.rows) - height, 0)))


def filled(page: Page, more: Sequence[Line], room: int) -> Page:
    """The page with more below it, if there is room for both without scrolling the page."""
    left = room - len(page.head) - len(page.rows) - 1
    return replace(page, rows=(*page.rows, (), *more[:left])) if more and left >= WORTH else page


def hint_lines(text: str, look: Look) -> list[Line]:
    """The hint's lines set anew for the width, three at most."""
    return [line(" ", each) for each in wrap(text, look.width - 2, Role.MESSAGE)[:3]]


def side_lines(study: Study, room: int, look: Look, fit: bool) -> list[Line]:
    """The findings beside the view on a wide screen, in so many rows; with `fit` those of the fit too."""
    if look.width < WIDE:
        return []
    words = findings_lines(study, look.of_width(side_width(look) - 4), fit)
    if len(words) > room:
        words = [word for word in words if word]
    if len(words) > room:
        words = [*words[: room - 1], (Span("more in: cogwright report", Role.DIM),)]
    words += [()] * (room - len(words))
    return [line(Span(f" {look.glyphs.upright} ", Role.RULE), word) for word in words]
