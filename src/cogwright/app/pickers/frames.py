"""How each kind of thing that can stand in the drawer looks."""

from collections.abc import Callable
from typing import Any, Final

from cogwright.app.pickers.drawer_frame import DrawerFrame
from cogwright.app.pickers.drilling import drill_frame
from cogwright.app.pickers.form import form_frame
from cogwright.app.pickers.pick_list import list_frame
from cogwright.app.pickers.text_entry import entry_frame
from cogwright.app.state.opened import Drilling, Form, PickList, TextEntry
from cogwright.app.state.session import Session

_FRAMES: Final[dict[type, Callable[[Session, Any], DrawerFrame]]] = {
    PickList: list_frame,
    TextEntry: entry_frame,
    Form: form_frame,
    Drilling: drill_frame,
}


def drawer_of(session: Session) -> DrawerFrame | None:
    """What the drawer shows: the topmost of what stands in it."""
    for opened in reversed(session.over):
        if type(opened) in _FRAMES:
            return _FRAMES[type(opened)](session, opened)
    return None
