"""What the mouse means: it goes through the same controllers as the keys do.

What stands over the bench keeps the mouse off it; before the first frame has settled nothing is meant at all.
"""

from collections.abc import Callable
from dataclasses import replace
from typing import TYPE_CHECKING, NamedTuple

from cogwright.app.state.store import SessionStore
from cogwright.present.cursor import Cursor

if TYPE_CHECKING:
    from cogwright.app.state.opened import Typed


class BenchPointing(NamedTuple):
    """On the bench. `act` does an action of the registry."""

    store: SessionStore
    act: Callable[[str], None]

    def sprocket(self, cursor: Cursor) -> None:
        """A ring or cog."""
        if self.store.session.open is None:
            self.store.replace(self.store.session.chosen(cursor))

    def view(self, number: int) -> None:
        """The name of a view."""
        self.action(f"view-{number}")

    def action(self, action: str) -> None:
        """A key in the foot."""
        if self.store.session.open is None:
            self.act(action)

    def scroll(self, top: int) -> None:
        """The wheel over the view, or its bar: the row that is to come first."""
        from cogwright.app.controllers.views import scroll

        scroll(self.store, top)


class DrawerPointing(NamedTuple):
    """In the drawer and on a sheet. `press` deals with a key."""

    store: SessionStore
    press: Callable[[str], None]

    def row(self, at: int) -> None:
        """A row of a list."""
        from cogwright.app.pickers.form import go
        from cogwright.app.pickers.pick_list import take_marked
        from cogwright.app.state.opened import Form, PickList

        of = self.store.session.open
        if isinstance(of, Form):
            go(self.store, of, at)
        elif isinstance(of, PickList):
            marked = replace(of, at=at)
            self.store.replace(self.store.session.swapped(marked))
            take_marked(self.store, marked)

    def rows(self, top: int) -> None:
        """The wheel over the rows of a list, or its bar."""
        from cogwright.app.pickers.pick_list import scroll_list
        from cogwright.app.state.opened import PickList

        of = self.store.session.open
        if isinstance(of, PickList):
            scroll_list(self.store, of, top)

    def text_typed(self, text: "Typed") -> None:
        """The line for text has changed, or the cursor in it."""
        from cogwright.app.router import text_typed

        text_typed(self.store, text)
