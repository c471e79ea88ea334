"""The views by number: each a pure function from the session to a page.

All but the first are imported when they are first looked at: the first frame waits for every import.
"""

from collections.abc import Callable
from typing import Final

from cogwright.app.state.session import Session
from cogwright.present.lines import Look, Page, line
from cogwright.present.views.gears import gears_page

View = Callable[[Session, Look], Page]


def _gears(session: Session, look: Look) -> Page:
    return gears_page(session.study, look, session.mode)


def _figures(session: Session, look: Look) -> Page:
    from cogwright.present.views.figures import figures_page

    return figures_page(session.study, look, session.order)


def _fit(session: Session, look: Look) -> Page:
    from cogwright.present.views.fit import fit_page

    return fit_page(session.study, look)


def _ride(session: Session, look: Look) -> Page:
    from cogwright.present.views.ride import RideState, ride_page

    return ride_page(session.study, look, RideState(session.course))


def _shifting(session: Session, look: Look) -> Page:
    from cogwright.present.views.shifting import shifting_page

    return shifting_page(session.study, look)


def _order(session: Session, look: Look) -> Page:
    from cogwright.present.views.order import order_lines

    title, *rows = order_lines(session.order_sheet, look.narrower(1))
    return Page((line(" ", title),), tuple(line(" ", row) for row in rows))


VIEW_PAGES: Final[dict[int, View]] = {1: _gears, 2: _figures, 3: _fit, 4: _ride, 5: _shifting, 6: _order}
