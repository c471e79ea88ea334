"""The store: it alone has the session and replaces it, and tells whoever has subscribed."""

from collections.abc import Callable
from dataclasses import replace
from typing import TYPE_CHECKING, Any, Protocol

from cogwright.app.state.session import Session
from cogwright.present.chart_style import ChartStyle

if TYPE_CHECKING:
    from cogwright.app.state.opened import Opened


class Host(Protocol):
    """What only the running app can do for a controller."""

    def leave(self, status: int) -> None:
        """End the program."""
        ...

    def suspend(self) -> bool:
        """Give the terminal back to the shell until it calls the program back; False where there is none."""
        ...

    def repaint(self) -> None:
        """Send every cell of the screen anew."""
        ...

    def copy(self, text: str) -> None:
        """Send a text to the terminal's clipboard."""
        ...

    def selected_text(self) -> str:
        """What the user has marked on the screen with the mouse."""
        ...

    def remember(self, chart: ChartStyle) -> str:
        """Keep how the gears are drawn for the next start; what went wrong, if anything."""
        ...

    def in_thread(self, work: Callable[[Callable[[], bool]], None]) -> None:
        """Do something that takes its time in a thread of its own; it can ask whether the app has ended."""
        ...

    def hand_over(self, what: Callable[[], None]) -> None:
        """From such a thread: let the app do something."""
        ...

    def work_again(self) -> None:
        """Offer what else an earlier session left unsaved."""
        ...


class SessionStore:
    """The one place where sessions follow each other. Controllers are functions of it."""

    def __init__(self, session: Session, host: Host) -> None:
        self._session = session
        self.host = host
        self._told: list[Callable[[], None]] = []

    @property
    def session(self) -> Session:
        """The session as it is now."""
        return self._session

    def subscribe(self, told: Callable[[], None]) -> None:
        """Call this after every change."""
        self._told.append(told)

    def replace(self, session: Session) -> None:
        """Go on to another session."""
        if session is self._session:
            return
        self._session = session
        for told in self._told:
            told()

    def change(self, **fields: Any) -> None:
        """Go on to the same session with other values in these fields."""
        self.replace(replace(self._session, **fields))

    def say(self, message: str) -> None:
        """A message at the foot."""
        self.replace(self._session.say(message))

    def open(self, opened: "Opened") -> None:
        """Open something over what stands there."""
        self.replace(self._session.pushed(opened))

    def close(self) -> None:
        """Close the topmost."""
        self.replace(self._session.popped())
