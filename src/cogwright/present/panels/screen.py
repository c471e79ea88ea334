"""The whole screen as lines: head, view, findings beside it where there is room, foot."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

from cogwright.core.study import Study
from cogwright.present.lines import Line, Look, Page, Role, Span, clip, line, plain, width, wrap
from cogwright.present.panels.findings import findings_lines
from cogwright.present.panels.foot import keys_line, summary_line
from cogwright.present.panels.head import FIT, Stand, head_lines

#: From this width the findings stand beside the view.
WIDE = 110
#: Rows that scroll below a page's head at the least; where there are fewer the head scrolls with them.
LEAST_ROWS = 3
_SIDE = 38
#: Fewer rows than this of another view are not worth showing below the gears.
WORTH = 12


@dataclass(frozen=True, slots=True)
class Foot:
    """What stands below the view."""

    message: str
    keys: tuple[tuple[str, str], ...]
    hint: str = ""


@dataclass(frozen=True, slots=True)
class Screen:
    """The lines, where the scrolled part of the view stands in them, and how far it is scrolled."""

    lines: tuple[Line, ...]
    body_top: int
    body_height: int
    top: int
    last_top: int
    head_height: int


def view_look(look: Look) -> Look:
    """The room that the view has beside the findings."""
    return look.narrower(side_width(look)) if look.width >= WIDE else look


def side_width(look: Look) -> int:
    """Cells that the findings take with the line beside them."""
    return min(max(_SIDE, look.width // 4), 56) + 2


def screen(
    study: Study,
    stand: Stand,
    page: Page,
    foot: Foot,
    look: Look,
    *,
    more: Sequence[Line] = (),
    top: int = 0,
    problems: Sequence[str] = (),
) -> Screen:
    """Exactly `look.height` lines. `top` is the first row of the page in sight, held within its bounds.

    `more` is shown below the page where all of it fits and there is room for a good part of `more`.
    """
    head = head_lines(study, stand, look, problems)
    below = foot_lines(study, foot, look)
    room = max(look.height - len(head) - len(below), 1)
    hint = _hint(foot, look) if room > 9 else []
    filled = _filled(page, more, room - len(hint))
    body = _body(filled, room - len(hint), top, view_look(look))
    fit_beside = stand.view != FIT and filled is page
    beside = _beside(study, body.lines, room - len(hint), look, fit_beside)
    lines = (*head, *beside, *hint, *below)[: look.height]
    return Screen(lines, len(head) + body.head, body.height, body.top, body.last_top, len(head))


def _hint(foot: Foot, look: Look) -> list[Line]:
    """The hint's lines set anew for the width, three at most."""
    lines = wrap(foot.hint, look.width - 2, Role.MESSAGE)
    return [line(" ", each) for each in lines[:3]]


def foot_lines(study: Study, foot: Foot, look: Look) -> list[Line]:
    """The message or a blank, the summary, and the keys if any count now."""
    keys = [keys_line(foot.keys, look)] if foot.keys else []
    return [*_message(foot.message, look), summary_line(study, look), *keys]


def _message(text: str, look: Look) -> list[Line]:
    """Most messages take one line; an error with a long name in it may need up to a quarter of the screen."""
    most = max(look.height // 4, 1)
    lines = wrap(text, look.width - 1, Role.MESSAGE) if most > 1 else []
    if len(lines) < 2:
        return [clip((Span(f" {text}", Role.MESSAGE),), look.width) if text else ()]
    return [(Span(f" {plain(each)}", Role.MESSAGE),) for each in lines[:most]]


def _filled(page: Page, more: Sequence[Line], room: int) -> Page:
    """The page with more below it, if there is room for both without scrolling the page."""
    left = room - len(page.head) - len(page.rows) - 1
    return replace(page, rows=(*page.rows, (), *more[:left])) if more and left >= WORTH else page


@dataclass(frozen=True, slots=True)
class _Body:
    lines: list[Line]
    head: int
    height: int
    top: int
    last_top: int


def _body(page: Page, room: int, top: int, look: Look) -> _Body:
    if len(page.head) > max(room - LEAST_ROWS, 1):
        focus = None if page.focus is None else page.focus + len(page.head)
        page = Page((), (*page.head, *page.rows), focus)
    head = list(page.head[: max(room - 1, 0)])
    height = max(room - len(head), 1)
    last = max(len(page.rows) - height, 0)
    if page.focus is not None:
        top = min(max(top, page.focus - height + 1), page.focus)
    top = min(max(top, 0), last)
    shown = list(page.rows[top : top + height])
    if last and head:
        head[0] = _with_place(head[0], top, height, len(page.rows), look)
    elif last:
        shown[-1] = _with_place(shown[-1], top, height, len(page.rows), look)
    return _Body([*head, *shown], len(head), height, top, last)


def _with_place(head: Line, top: int, height: int, rows: int, look: Look) -> Line:
    """Which rows are in sight, at the right end of a line: the screen has no scroll bar."""
    more = look.glyphs.more if top + height < rows else " "
    place = f" {top + 1}-{min(top + height, rows)} of {rows} {more}"
    kept = clip(head, look.width - len(place))
    return line(kept, " " * (look.width - len(place) - width(kept)), Span(place, Role.KEY))


def _beside(study: Study, body: list[Line], room: int, look: Look, fit: bool) -> list[Line]:
    """The view with the findings beside it on a wide screen; those of the fit where it is not in sight."""
    body = body + [()] * (room - len(body))
    if look.width < WIDE:
        return body
    side = side_width(look)
    words = findings_lines(study, look.of_width(side - 4), fit)
    if len(words) > room:
        words = [word for word in words if word]
    if len(words) > room:
        words = [*words[: room - 1], (Span("more in: cogwright report", Role.DIM),)]
    words += [()] * (room - len(words))
    left = look.width - side
    return [
        line(each, " " * (left - width(each)), Span(f" {look.glyphs.upright} ", Role.RULE), word)
        for each, word in zip(body, words, strict=True)
    ]
