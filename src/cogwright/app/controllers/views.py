"""Actions on the views: which one, how far it is scrolled, how it is sorted, how the baseline shows."""

from cogwright.app.controllers.registry import CONTROLLERS, does
from cogwright.app.layout import frame_of
from cogwright.app.pickers.drawer_frame import in_sight
from cogwright.app.state.opened import Do, do
from cogwright.app.state.store import SessionStore
from cogwright.app.views import VIEWS
from cogwright.present.panels.head import FIT
from cogwright.present.panels.screen import view_look
from cogwright.present.views.fit import unknown_rows


def _look_at(store: SessionStore, number: int) -> None:
    store.replace(store.session.looked(number))


for _view in VIEWS:
    # A view that needs something first has a controller of its own, whichever module comes first.
    CONTROLLERS.setdefault(f"view-{_view.number}", do(_look_at, _view.number))


def scroll(store: SessionStore, top: int) -> None:
    """The view scrolled so that its row `top` comes first, as far as that goes."""
    store.replace(store.session.scrolled(min(max(top, 0), frame_of(store.session).body.last_top)))


def scroll_by(store: SessionStore, rows: int) -> None:
    """The view scrolled by so many rows."""
    scroll(store, frame_of(store.session).body.top + rows)


def step(store: SessionStore, rows: int) -> None:
    """A row on; among checks that cannot be made the mark goes from one to the next, and is kept in sight."""
    session = store.session
    places = unknown_rows(session.study, view_look(session.room)) if session.view == FIT else []
    at = min(session.unknown, len(places) - 1) + rows
    if not 0 <= at < len(places):
        scroll_by(store, rows)
        return
    body = frame_of(session).body
    store.change(unknown=at)
    scroll(store, in_sight(body.top, places[at], len(body.rows), body.room))


def turn_page(store: SessionStore, pages: int) -> None:
    """The view scrolled by so many pages; a row stays in sight."""
    scroll_by(store, pages * max(frame_of(store.session).body.scrolled_rows - 1, 1))


CONTROLLERS.update(
    {
        "page-down": Do(turn_page, (1,)),
        "page-up": Do(turn_page, (-1,)),
        "line-down": Do(step, (1,)),
        "line-up": Do(step, (-1,)),
    }
)


@does("top")
def top(store: SessionStore) -> None:
    """To the top of the view."""
    scroll(store, 0)


@does("bottom")
def bottom(store: SessionStore) -> None:
    """To the end of the view."""
    scroll(store, frame_of(store.session).body.last_top)


def _turn_chart(store: SessionStore, field: str, name: str) -> None:
    """The next way of drawing the gears, which is remembered."""
    chart = store.session.chart.turned(field)
    trouble = store.host.remember(chart)
    said = f"{name}: {getattr(chart, field).words}."
    store.change(chart=chart, view=1, message=f"{said} Not remembered: {trouble}" if trouble else said)


CONTROLLERS.update(
    {
        "baseline-mode": Do(_turn_chart, ("baseline", "Baseline")),
        "drawing": Do(_turn_chart, ("drawing", "Drawn as")),
        "scale": Do(_turn_chart, ("scale", "Scale")),
        "row-order": Do(_turn_chart, ("rows", "Rows")),
        "axis": Do(_turn_chart, ("axis", "Axis")),
    }
)


@does("sort")
def sort(store: SessionStore) -> None:
    """The table sorted by the next column."""
    store.change(sorting=store.session.sorting.moved(1), view=2)


@does("sort-back")
def sort_back(store: SessionStore) -> None:
    """The table sorted by the column before."""
    store.change(sorting=store.session.sorting.moved(-1), view=2)


@does("sort-turn")
def sort_turn(store: SessionStore) -> None:
    """The order turned round."""
    store.change(sorting=store.session.sorting.turned(), view=2)
