"""Actions between the program and its terminal: draw anew, suspend, copy what is marked."""

from cogwright.app.controllers.leaving import quit_
from cogwright.app.controllers.registry import does
from cogwright.app.state.store import SessionStore


@does("repaint")
def repaint(store: SessionStore) -> None:
    """Every cell sent anew."""
    store.host.repaint()


@does("suspend")
def suspend(store: SessionStore) -> None:
    """Back to the shell; its command fg brings the program back."""
    if not store.host.suspend():
        store.say("There is no shell to go back to: q ends the program.")


@does("copy")
def copy(store: SessionStore) -> None:
    """The text that the mouse has marked, to the clipboard; where none is, the key means to quit."""
    text = store.host.selected_text()
    if not text:
        quit_(store)
        return
    store.host.copy(text)
    count = len(text.splitlines())
    store.say(f"{count} line{'s' if count != 1 else ''} sent to the terminal's clipboard (OSC 52).")
