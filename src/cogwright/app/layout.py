"""The whole screen out of the session, as lines and sizes: the widgets show it and decide nothing."""

from collections.abc import Sequence
from functools import lru_cache
from typing import TYPE_CHECKING, Final, NamedTuple, TypeVar

from cogwright.app import hint
from cogwright.app.actions import foot_keys
from cogwright.app.state.session import Session
from cogwright.app.views import VIEW
from cogwright.core.common.safe_text import cells
from cogwright.core.fit.registry import headline_brief, headline_problems
from cogwright.present.lines import Line, Look, Page
from cogwright.present.panels.foot import FootKey, change_lines, keys_line, message_lines
from cogwright.present.panels.head import (
    FIT,
    Stand,
    head_lines,
    problem_lines,
    sprocket_strips,
    title_line,
    view_labels,
)
from cogwright.present.panels.screen import (
    BAR,
    Body,
    body_of,
    filled,
    hint_lines,
    side_lines,
    side_width,
    view_look,
)
from cogwright.present.spots import SpotLine
from cogwright.present.views.gears import gears_height

if TYPE_CHECKING:
    from cogwright.app.pickers.drawer_frame import DrawerFrame
    from cogwright.app.screens.sheet_frame import SheetFrame

T = TypeVar("T")
#: From this height the fit stands below the gears.
HIGH: Final = 44
#: From this width there is room for the hint in one line.
_WIDE_HINT: Final = 72


class BenchFrame(NamedTuple):
    """One screen, from top to bottom. Where it is too low for all, what stands last has no lines."""

    head: tuple[SpotLine, ...]
    views: tuple[str, ...]
    body: Body
    side: tuple[Line, ...]
    side_width: int
    foot: tuple[SpotLine, ...]
    drawer: "DrawerFrame | None"
    sheet: "SheetFrame | None"

    @property
    def above(self) -> int:
        """Rows above the view."""
        return len(self.head) + min(len(self.views), 1)


class _Same:
    """A session as the key of a cache: the very same one, however alike another is."""

    def __init__(self, session: Session) -> None:
        self.session = session

    def __hash__(self) -> int:
        return id(self.session)

    def __eq__(self, other: object) -> bool:
        return isinstance(other, _Same) and other.session is self.session


def frame_of(session: Session) -> BenchFrame:
    """The screen of a session; worked out once for a key and its drawing."""
    return _frame(_Same(session))


@lru_cache(maxsize=2)
def _frame(same: _Same) -> BenchFrame:
    session = same.session
    drawer, sheet = _drawer(session), _sheet(session)
    look = session.room.of_height(max(session.room.height - (drawer.height if drawer else 0), 1))
    rows = _Rows(look.height - 1)  # the view has one, however low the screen
    head = rows.given(_head(session, look))
    views = view_labels(session.view, look, digits=not session.picked) if rows.given([()]) else []
    foot = rows.given(_foot(session, look, with_keys=drawer is None))
    hint = _hint(session, look, rows.left + 1) if drawer is None else []
    body, side = _middle(session, look, rows.left + 1 - len(hint))
    if hint and foot and not session.message:
        foot[0] = SpotLine(())  # the line of messages, which would say it again; it stays where it is
    foot = [*map(SpotLine, hint), *foot]
    return BenchFrame(
        tuple(head), tuple(views), body, side, _beside(session, look), tuple(foot), drawer, sheet
    )


class _Rows:
    """Gives out the rows of a screen until there are none left."""

    def __init__(self, rows: int) -> None:
        self.left = rows

    def given(self, wanted: Sequence[T]) -> list[T]:
        """As many of these as there are rows left for."""
        given = list(wanted[: self.left])
        self.left -= len(given)
        return given


def _head(session: Session, look: Look) -> list[SpotLine]:
    stand = stand_of(session)
    title = title_line(session.study, stand, look)
    said = problem_lines(problems_of(session, look), look)
    return [SpotLine(title), *sprocket_strips(session.study, stand, look), *map(SpotLine, said)]


def _foot(session: Session, look: Look, with_keys: bool) -> list[SpotLine]:
    said = [*message_lines(_said(session, look), look), *change_lines(session.study, look)]
    keys = [keys_line(_keys(session), look)] if with_keys else []
    return [*map(SpotLine, said), *keys]


def _keys(session: Session) -> Sequence[FootKey]:
    """The keys of the bench, or of the list of all actions, which has no foot of its own."""
    if session.over:
        from cogwright.app.state.opened import FINDING, ActionSearch

        if isinstance(session.open, ActionSearch):
            return FINDING
    return foot_keys(session.keymap, session.view, session.picked)


def _middle(session: Session, look: Look, room: int) -> tuple[Body, tuple[Line, ...]]:
    """The view in so many rows, and what stands beside it: the fit's findings too where it is not seen."""
    page = page_of(session, _view_look(session, look, room))
    whole = filled(page, _more(session, _view_look(session, look)), room)
    if not _beside(session, look):
        return body_of(whole, room, session.top, look.glyphs.gap), ()
    fit = session.view != FIT and whole is page
    side = side_lines(session.study, room, look, fit=fit, plots=session.plots)
    return body_of(whole, room, session.top, look.glyphs.gap), tuple(side)


def _beside(session: Session, look: Look) -> int:
    """Cells that the findings take beside the view; none beside one that is alone."""
    return 0 if VIEW[session.view].alone else side_width(look)


def _view_look(session: Session, look: Look, rows: int = 0) -> Look:
    if not VIEW[session.view].alone:
        return view_look(look, rows)
    return look._replace(width=max(look.width - BAR, 1), rows=rows)


def _drawer(session: Session) -> "DrawerFrame | None":
    """What the drawer shows; where nothing is open there is nothing to import for it."""
    if not session.over:
        return None
    from cogwright.app.pickers.frames import drawer_of

    return drawer_of(session)


def _sheet(session: Session) -> "SheetFrame | None":
    """What the sheet shows, if one is topmost."""
    if not session.over:
        return None
    from cogwright.app.screens.sheet_frame import sheet_of

    return sheet_of(session)


def whole_view(session: Session) -> list[Line]:
    """The head and the whole view, as if the screen were as high as that takes."""
    look = _view_look(session, session.room)
    page = page_of(session, look)
    head = head_lines(session.study, stand_of(session), look, problems_of(session, look))
    return [*head, *page.head, *page.rows, *page.legend, (), *change_lines(session.study, session.room)]


def page_of(session: Session, look: Look) -> Page:
    """The page of the view that is looked at."""
    return VIEW[session.view].page(session, look)


def problems_of(session: Session, look: Look) -> Sequence[str]:
    """What can hurt someone, in brief where the sentence would be cut."""
    said = headline_problems(session.study)
    return said if all(cells(text) + 3 <= look.width for text in said) else headline_brief(session.study)


def _more(session: Session, look: Look) -> Sequence[Line]:
    """A high screen has the fit below the gears."""
    if session.view != 1 or look.height < HIGH:
        return ()
    page = VIEW[FIT].page(session, look)
    return [*page.head, *page.rows]


def _hint(session: Session, look: Look, room: int) -> list[Line]:
    """The hint below the gears, where it covers none of them."""
    if not _hints(session):
        return []
    lines = hint_lines(hint.text(session.keymap), look)
    return lines if gears_height(session.study, session.chart) + len(lines) <= room else []


def _hints(session: Session) -> bool:
    return session.hinting and session.view == 1


def _said(session: Session, look: Look) -> str:
    """What the line of messages says; where nothing is to be said, the hint in brief."""
    return session.message or (
        hint.brief(session.keymap) if _hints(session) and look.width >= _WIDE_HINT else ""
    )


def stand_of(session: Session) -> Stand:
    """What the top of the screen says beside the study."""
    return Stand(
        file=session.path.name if session.path else "",
        unsaved=session.unsaved,
        baseline=session.baseline.name if session.baseline else "",
        cursor=session.cursor,
        picked=session.picked,
        view=session.view,
        looking=session.looking,
        unprotected=session.unprotected,
    )
