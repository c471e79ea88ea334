"""What a click means: a sprocket of the strip, or the name of a view."""

from typing import TYPE_CHECKING

from cogwright.core.setup.edits import Where
from cogwright.present.panels.head import Cursor, sprocket_at, view_at

if TYPE_CHECKING:
    from cogwright.app.main import BenchApp

_STRIPS: dict[int, Where] = {1: "ring", 2: "cog"}


def clicked(app: "BenchApp", x: int, y: int) -> None:
    """A click at a cell of the screen."""
    session, look = app.session, app.look
    where = _STRIPS.get(y)
    if where is not None:
        teeth = sprocket_at(session.study, where, x, session.cursor, look)
        if teeth is not None:
            app.become(session.chosen(Cursor(where, teeth)))
    elif y == app.laid.head_height - 1:
        view = view_at(x, session.view, look)
        if view is not None:
            app.become(session.looked(view))
