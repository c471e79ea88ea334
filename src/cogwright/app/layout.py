"""The screen's lines out of the session: head, view, more where there is room, foot."""

from collections.abc import Sequence
from typing import TYPE_CHECKING, Final

from cogwright.app.actions import foot_keys
from cogwright.app.state.session import Session
from cogwright.app.views import VIEW_PAGES
from cogwright.core.common.safe_text import cells
from cogwright.core.fit.registry import headline_brief, headline_problems
from cogwright.present.lines import Line, Look, Page
from cogwright.present.panels.foot import summary_line
from cogwright.present.panels.head import Stand, head_lines
from cogwright.present.panels.screen import Foot, Screen, screen, view_look

if TYPE_CHECKING:
    from cogwright.app.main import BenchApp

#: From this height the fit stands below the gears.
HIGH: Final = 44


def whole_screen(app: "BenchApp") -> Screen:
    """The lines of the screen, above the drawer if that is open."""
    session, look, keys = app.session, app.look, tuple(foot_keys(app.keymap_now, app.session.view))
    if app.drawer.is_open:  # its own keys count
        keys = ()
        look = look.of_height(max(look.height - app.drawer.room(), 1))
    return screen(
        session.study,
        _stand(session),
        _page(session, view_look(look)),
        Foot(session.message, keys, app.hint if session.view == 1 and not app.drawer.is_open else ""),
        look,
        more=_more(session, view_look(look)),
        top=session.top,
        problems=_problems(session, look),
    )


def whole_view(app: "BenchApp") -> list[Line]:
    """The head and the whole view, as if the screen were as high as that takes."""
    session, look = app.session, view_look(app.look)
    page = _page(session, look)
    head = head_lines(session.study, _stand(session), look, _problems(session, look))
    return [*head, *page.head, *page.rows, summary_line(session.study, look)]


def _problems(session: Session, look: Look) -> Sequence[str]:
    """What can hurt someone, in brief where the sentence would be cut."""
    said = headline_problems(session.study)
    return said if all(cells(text) + 3 <= look.width for text in said) else headline_brief(session.study)


def _more(session: Session, look: Look) -> Sequence[Line]:
    """A high screen has the fit below the gears."""
    if session.view != 1 or look.height < HIGH:
        return ()
    page = VIEW_PAGES[3](session, look)
    return [*page.head, *page.rows]


def _page(session: Session, look: Look) -> Page:
    return VIEW_PAGES[session.view](session, look)


def _stand(session: Session) -> Stand:
    return Stand(
        file=session.path.name if session.path else "",
        unsaved=session.unsaved,
        baseline=session.baseline.name if session.baseline else "",
        cursor=session.cursor,
        view=session.view,
        looking=session.looking,
    )
