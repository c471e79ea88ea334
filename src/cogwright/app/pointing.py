"""What the mouse means: it goes through the same controllers as the keys do."""

from collections.abc import Callable
from dataclasses import replace

from cogwright.app import router
from cogwright.app.controllers.views import scroll
from cogwright.app.drawing import Pointed
from cogwright.app.pickers.pick_list import scroll_list, take_marked
from cogwright.app.state.opened import PickList
from cogwright.app.state.store import SessionStore
from cogwright.present.panels.head import Cursor


def pointed(store: SessionStore, press: Callable[[str], None]) -> Pointed:
    """The deeds of the mouse; `press` deals with a key. What stands over the bench keeps the mouse off it."""

    def sprocket(cursor: Cursor) -> None:
        if store.session.open is None:
            store.replace(store.session.chosen(cursor))

    def act(action: str) -> None:
        if store.session.open is None:
            router.act(store, action)

    def row(at: int) -> None:
        of = store.session.open
        if isinstance(of, PickList):
            marked = replace(of, at=at)
            store.replace(store.session.swapped(marked))
            take_marked(store, marked)

    def rows(top: int) -> None:
        of = store.session.open
        if isinstance(of, PickList):
            scroll_list(store, of, top)

    return Pointed(
        sprocket=sprocket,
        view=lambda number: act(f"view-{number}"),
        scroll=lambda top: scroll(store, top),
        action=act,
        key=press,
        row=row,
        rows=rows,
        typed=lambda text: router.typed(store, text),
    )
