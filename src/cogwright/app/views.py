"""The registry of views: each has a number, a page made of the session, and actions of its own.

All but the first are imported when they are first looked at: the first frame waits for every import.
"""

from collections.abc import Callable
from functools import lru_cache
from typing import Final, NamedTuple

from cogwright.app.state.session import Session
from cogwright.present.chart_style import NeededDevelopment
from cogwright.present.lines import Look, Page, line, plain
from cogwright.present.panels.findings import findings_page
from cogwright.present.panels.head import VIEWS as NAMES
from cogwright.present.verdicts import verdict_line
from cogwright.present.views.gears import gears_page


class View(NamedTuple):
    """A view by its digit. `keys` are actions that it alone has: they come first in its foot.

    One that is `alone` has the whole width of the screen, with no findings beside it.
    """

    number: int
    help: str
    page: Callable[[Session, Look], Page]
    keys: tuple[str, ...] = ()
    alone: bool = False

    @property
    def name(self) -> str:
        """What it is called."""
        return NAMES[self.number - 1]


def _gears(session: Session, look: Look) -> Page:
    return _gears_kept(session.study, look, session.chart, _wanted(session))


#: To go from sprocket to sprocket changes none of it.
_gears_kept = lru_cache(maxsize=1)(gears_page)


def _wanted(session: Session) -> NeededDevelopment | None:
    """What a hill that was asked about needs."""
    if session.climb is None:
        return None
    from cogwright.core.riding.needed import needed_for
    from cogwright.present.views.climb import asked_words

    needed = needed_for(session.climb, session.shown)
    return NeededDevelopment(needed.development_m, asked_words(needed))


def _figures(session: Session, look: Look) -> Page:
    from cogwright.present.views.figures import figures_page

    return figures_page(session.study, look, session.sorting)


def _fit(session: Session, look: Look) -> Page:
    from cogwright.present.views.fit import fit_page

    return fit_page(session.study, look, session.stock, None if session.picked else session.unknown)


def _ride(session: Session, look: Look) -> Page:
    from cogwright.present.views.ride import RideState, ride_page

    return ride_page(session.study, look, RideState(session.course))


def _shifting(session: Session, look: Look) -> Page:
    from cogwright.present.views.shifting import shifting_page

    return shifting_page(session.study, look)


def _order(session: Session, look: Look) -> Page:
    from cogwright.present.views.order import order_lines, order_verdict

    sheet = session.order_sheet
    verdict = order_verdict(sheet)
    rows = [row for row in order_lines(sheet, look.narrower(1)) if plain(row) != verdict.text]
    return Page((verdict_line(verdict, look),), tuple(line(" ", row) for row in rows))


def _findings(session: Session, look: Look) -> Page:
    return findings_page(session.study, look)


def _compare(session: Session, look: Look) -> Page:
    from cogwright.app.comparing import page_of_candidates

    return page_of_candidates(session, look)


def _rides(session: Session, look: Look) -> Page:
    from cogwright.present.views.rides import behind_page, no_rides_page, rides_page

    of = session.evidence
    if not session.rides:
        return no_rides_page(look)
    if session.rides_are_behind:
        return behind_page(of, look)
    assert of is not None
    return rides_page(of, look)


#: The number of the view of recorded rides.
RIDES: Final = NAMES.index("Rides") + 1
VIEWS: Final = (
    View(1, "The chart of development.", _gears),
    View(2, "The full table.", _figures, ("sort",)),
    View(3, "Will it go together; the chain.", _fit, ("facts",)),
    View(4, "Hills, speeds, a course.", _ride, ("course", "rider")),
    View(5, "The order of the gears.", _shifting, ("drill",)),
    View(6, "What to buy and do.", _order, ("bin", "bin-parts", "type-price", "book")),
    View(7, "What the change means.", _findings),
    View(8, "Candidates side by side.", _compare, ("keep", "next-candidate", "candidates", "hand-out"), True),
    View(RIDES, "What recorded rides say.", _rides, ("rides",)),
)
VIEW: Final = {view.number: view for view in VIEWS}
