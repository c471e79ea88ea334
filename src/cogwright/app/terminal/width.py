"""How wide the terminal draws characters of ambiguous width: it is asked once, and nobody waits for it.

East Asian width "ambiguous" (UAX 11) means one cell in most terminals and two in some. A full block is drawn
into the first cell of the empty screen, the cursor asked for, and the block erased, all before the first
drawing."""

from collections.abc import Callable
from typing import Final, Protocol

from cogwright.app.terminal.incoming import CursorAt
from cogwright.app.terminal.messages import Ambiguous

BLOCK: Final = "\x1b[H\u2588"
NO_BLOCK: Final = "\x1b[H\x1b[K"
#: After so long, s, there is no answer; one that comes later still is one.
WAIT_S: Final = 1.0
_CELLS: Final = {CursorAt(1, 0): Ambiguous.NARROW, CursorAt(2, 0): Ambiguous.WIDE}


class Asks(Protocol):
    """What is needed of the driver."""

    def send(self, text: str) -> None:
        """Send text to the terminal as it stands."""
        ...

    def ask_place(self, then: Callable[[CursorAt], None]) -> None:
        """Ask where the cursor is."""
        ...

    def after(self, seconds: float, what: Callable[[], None]) -> object:
        """Do something later."""
        ...


class WidthQuestion:
    """Asks, and tells what came of it."""

    def __init__(self, asks: Asks, tell: Callable[[Ambiguous], None]) -> None:
        self._tell, self._open = tell, True
        asks.send(BLOCK)
        asks.ask_place(self._answered)
        asks.send(NO_BLOCK)
        asks.after(WAIT_S, self._give_up)

    def _answered(self, at: CursorAt) -> None:
        self._open = False
        self._tell(_CELLS.get(at, Ambiguous.UNKNOWN))

    def _give_up(self) -> None:
        if self._open:
            self._tell(Ambiguous.UNKNOWN)
