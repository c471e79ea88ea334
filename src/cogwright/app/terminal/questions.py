"""Asks the terminal where its cursor is (DSR 6, ECMA-48), and knows which answers are still on their way."""

import time
from collections import deque
from collections.abc import Callable
from typing import Final

from cogwright.app.terminal.incoming import CursorAt

ASK: Final = "\x1b[6n"
#: An answer that has not come after so long, s, is not waited for: the terminal gives none, or it is lost.
DUE_S: Final = 2.0
#: Longest wait for the last answers when the program ends, s: a later one would be typed into the shell.
SETTLE_S: Final = 0.5
#: The same for a terminal that has not answered yet, and may never.
MUTE_S: Final = 0.15
_PAUSE_S: Final = 0.005

Then = Callable[[CursorAt], None]


class Questions:
    """Questions in the order in which they were asked: the terminal answers them in turn."""

    def __init__(self, send: Callable[[str], None], clock: Callable[[], float] = time.monotonic) -> None:
        self._send, self._clock = send, clock
        self._open: deque[Then] = deque()
        self._asked_at = 0.0
        self._answers: bool | None = None

    def ask(self, then: Then) -> None:
        """Ask, without waiting; what is to be done with the answer."""
        self._open.append(then)
        self._asked_at = self._clock()
        self._send(ASK)

    def answered(self, at: CursorAt) -> Callable[[], None] | None:
        """An answer has come: what is to be done now; None where nobody has asked."""
        if not self._open:
            return None
        self._answers, then = True, self._open.popleft()
        return lambda: then(at)

    def due(self) -> bool:
        """Whether an answer may still come. A terminal that gave none in time is not expected to give any."""
        if self._open and self._clock() - self._asked_at > DUE_S:
            self._answers = False
        return bool(self._open) and self._answers is not False

    def settle(self) -> None:
        """Wait, but not long, until no answer is on its way."""
        end = self._clock() + (SETTLE_S if self._answers else MUTE_S)
        while self.due() and self._clock() < end:
            time.sleep(_PAUSE_S)
