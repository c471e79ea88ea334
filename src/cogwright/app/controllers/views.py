"""Actions on the views: which one, how far it is scrolled, how it is sorted, how the baseline shows."""

from dataclasses import replace
from typing import TYPE_CHECKING

from cogwright.app.controllers.handlers import HANDLERS, does
from cogwright.present.panels.head import VIEWS

if TYPE_CHECKING:
    from cogwright.app.main import BenchApp


def _look_at(number: int) -> None:
    def handler(app: "BenchApp") -> None:
        app.become(app.session.looked(number))

    # A view that needs something first has a handler of its own, whichever module comes first.
    HANDLERS.setdefault(f"view-{number}", handler)


for _number in range(1, len(VIEWS) + 1):
    _look_at(_number)


@does("page-down")
def page_down(app: "BenchApp") -> None:
    """A page down."""
    app.scroll(max(app.laid.body_height - 1, 1))


@does("page-up")
def page_up(app: "BenchApp") -> None:
    """A page up."""
    app.scroll(-max(app.laid.body_height - 1, 1))


@does("line-down")
def line_down(app: "BenchApp") -> None:
    """A line down."""
    app.scroll(1)


@does("line-up")
def line_up(app: "BenchApp") -> None:
    """A line up."""
    app.scroll(-1)


@does("top")
def top(app: "BenchApp") -> None:
    """To the top of the view."""
    app.become(app.session.scrolled(0))


@does("bottom")
def bottom(app: "BenchApp") -> None:
    """To the end of the view."""
    app.become(app.session.scrolled(app.laid.last_top))


@does("repaint")
def repaint(app: "BenchApp") -> None:
    """Every cell sent anew."""
    app.terminal.forget()
    app.refresh()


@does("baseline-mode")
def baseline_mode(app: "BenchApp") -> None:
    """The baseline shown in the next of three ways."""
    mode = app.session.mode.next()
    app.become(replace(app.session, mode=mode, view=1, message=f"Baseline: {mode.value}."))


@does("sort")
def sort(app: "BenchApp") -> None:
    """The table sorted by the next column."""
    _sorted(app, 1)


@does("sort-back")
def sort_back(app: "BenchApp") -> None:
    """The table sorted by the column before."""
    _sorted(app, -1)


@does("sort-turn")
def sort_turn(app: "BenchApp") -> None:
    """The order turned round."""
    app.become(replace(app.session, order=app.session.order.turned(), view=2))


def _sorted(app: "BenchApp", by: int) -> None:
    app.become(replace(app.session, order=app.session.order.moved(by), view=2))
