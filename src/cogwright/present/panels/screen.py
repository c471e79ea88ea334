"""The middle of the screen: the view in the room there is, and a panel beside it on a wide one."""

from collections.abc import Sequence
from typing import Final, NamedTuple

from cogwright.core.study import Study
from cogwright.present.clicks import clicks_of
from cogwright.present.lines import Line, Look, Page, Role, Span, line, plain, wrap
from cogwright.present.panels.before_now import panel_table
from cogwright.present.panels.findings import findings_lines
from cogwright.present.panels.head import FINDINGS
from cogwright.present.plot import clicks_plot

#: From this width a panel with what the change means stands beside the view.
WIDE: Final = 110
#: Rows that scroll below a page's head at the least; where there are fewer the head scrolls with them.
LEAST_ROWS: Final = 3
#: So many rows are left to be scrolled where there are more than a few, of a few only one.
_FREE_ROWS, _A_FEW = 2, 8
#: The panel with the line beside it: its least and most cells, and by how much of each further cell it grows.
_LEAST, _MOST, _SHARE = 34, 56, 0.6
#: Cells at the view's right end for the scroll bar.
BAR: Final = 1
#: Fewer rows than this of another view are not worth showing below the gears.
WORTH: Final = 12
#: Rows of the plot of the clicks, and those of the panel that it needs.
_PLOT, _ROOM_FOR_PLOT = 7, 22


def view_look(look: Look, rows: int = 0) -> Look:
    """The room that the view has beside the scroll bar, and beside the panel on a wide screen."""
    beside = side_width(look)
    return look._replace(width=max(look.width - beside - BAR, 1), rows=rows, beside=beside > 0)


def side_width(look: Look) -> int:
    """Cells that the panel takes with the line beside it; none on a narrow screen.

    It grows more slowly than the screen, so that the view grows as well.
    """
    grown = int((look.width - WIDE) * _SHARE)
    return min(_LEAST + grown, _MOST) if look.width >= WIDE else 0


class Body(NamedTuple):
    """The view in `room` rows below its head, from the row `top` on, which is held within its bounds.

    `kept` are rows that stay in sight however it is scrolled: `top` counts the others then.
    """

    head: tuple[Line, ...]
    rows: tuple[Line, ...]
    room: int
    top: int
    kept: frozenset[int] = frozenset()
    gap: str = ""

    @property
    def shown(self) -> list[int]:
        """The rows in sight, by their place among all."""
        free = [at for at in range(len(self.rows)) if at not in self.kept]
        return sorted((*free[self.top : self.top + self.scrolled_rows], *self.kept))

    @property
    def seen(self) -> list[Line]:
        """The head and the rows in sight, a line a row of the screen; a mark says where some are left out."""
        shown = self.shown
        rows = [self.rows[at] for at in shown]
        for i in range(1, len(shown)):
            if shown[i] > shown[i - 1] + 1:
                rows[i] = _marked(rows[i], self.gap)
        return [*self.head, *rows, *[()] * (self.room - len(rows))]

    @property
    def scrolled_rows(self) -> int:
        """Rows that are scrolled, beside those that stay."""
        return self.room - len(self.kept)

    def place(self, y: int) -> int:
        """Where what stands in a row of the screen stands among head and rows."""
        below, shown = y - len(self.head), self.shown
        return len(self.head) + shown[below] if 0 <= below < len(shown) else y + self.top

    @property
    def last_top(self) -> int:
        """How far it can be scrolled."""
        return max(len(self.rows) - self.room, 0)


def _marked(row: Line, mark: str) -> Line:
    """A row with a mark in its first cell, if that is blank."""
    if not mark or not row or not row[0].text.startswith(" "):
        return row
    return (Span(mark, Role.KEY), Span(row[0].text[1:], row[0].role), *row[1:])


def body_of(page: Page, room: int, top: int, gap: str = "") -> Body:
    """The page in so many rows. Where its head would leave too few, the head scrolls with the rest."""
    if len(page.head) > max(room - LEAST_ROWS, 1):
        more = len(page.head)
        focus = None if page.focus is None else page.focus + more
        page = Page((), (*page.head, *page.rows), focus, tuple(at + more for at in page.kept))
    head = page.head[: max(room - 1, 0)]
    height = max(room - len(head), 1)
    if page.focus is not None:
        top = min(max(top, page.focus - height + 1), page.focus)
    rows, kept = page.rows, frozenset[int]()
    if len(rows) > height:
        kept = frozenset(page.kept[: max(height - (_FREE_ROWS if height > _A_FEW else 1), 1)])
    elif len(rows) + len(page.legend) <= height:
        rows = (*rows, *page.legend)
    return Body(head, rows, height, min(max(top, 0), max(len(rows) - height, 0)), kept, gap)


def filled(page: Page, more: Sequence[Line], room: int) -> Page:
    """The page with more below it, if there is room for both without scrolling the page."""
    left = room - len(page.head) - len(page.rows) - 1
    return page._replace(rows=(*page.rows, (), *more[:left])) if more and left >= WORTH else page


def hint_lines(text: str, look: Look) -> list[Line]:
    """The hint's lines set anew for the width, three at most."""
    return [line(" ", each) for each in wrap(text, look.width - 2, Role.MESSAGE)[:3]]


def side_lines(study: Study, room: int, look: Look, fit: bool, plots: bool = False) -> list[Line]:
    """The panel in so many rows: before and now, each click, findings; with `fit` those of the fit too.

    With `plots` the clicks are plotted where there is room, which takes a library that is slow to import.
    """
    if look.width < WIDE:
        return []
    width = side_width(look) - 4
    words = [*panel_table(study, width), (), *_clicks(study, width, room, look, plots)]
    found = findings_lines(study, look.of_width(width), fit)
    if len(words) + len(found) > room:
        found = [row for row in found if row]
    before, words = len(words), [*words, *found]
    if len(words) > room:
        goes_on = room > before and plain(words[room - 1]).startswith("  ")
        words = [*words[: room - 1], _more(goes_on)]
    words += [()] * (room - len(words))
    return [line(Span(f" {look.glyphs.upright} ", Role.RULE), word) for word in words]


def _more(goes_on: bool) -> Line:
    """Where the rest is, and whether the sentence above goes on there."""
    return line(Span(f"{'  ... ' * goes_on}more in {FINDINGS} Findings", Role.DIM))


def _clicks(study: Study, width: int, room: int, look: Look, plots: bool) -> list[Line]:
    """Every click before and now; its place stays blank until the library is there."""
    of = clicks_of(study)
    if room < _ROOM_FOR_PLOT or not of.now:
        return []
    before = [Span("before", Role.BASE), Span(" and ", Role.HEAD)] if of.before else []
    head = line(
        Span("Each click in %: ", Role.HEAD),
        *before,
        Span("now", Role.BENCH),
    )
    if not plots:
        return [head, *[()] * _PLOT, ()]
    return [head, *clicks_plot(of, width, _PLOT, look.glyphs), ()]
