"""The colours of the screen."""

from cogwright.app.colours import COLOURS
from cogwright.app.controllers.registry import does
from cogwright.app.state.store import SessionStore


@does("theme")
def theme(store: SessionStore) -> None:
    """The next set of colours."""
    names = list(COLOURS)
    name = names[(names.index(store.session.colours) + 1) % len(names)]
    store.change(colours=name, message=f"Colours: {name}.")
