"""Keeps the screen in step with a slow line: no drawing is sent before the last one has arrived.

Over SSH a drawing can wait in many buffers, so after each one the terminal is asked where its cursor is
(DSR 6, ECMA-48); its answer says that all before it has been drawn. Keys that come meanwhile make one
drawing, of the newest state. A terminal that has never answered is taken for a line of LINE bytes a second,
but only while keys come faster than a hand types them: a single key is always drawn at once. On a local
terminal nothing is asked and nothing waits.
"""

import time
from collections.abc import Callable, Mapping
from typing import Final, Protocol

ASK: Final = "\x1b[6n"
#: Longest wait for an answer of a terminal that has answered before, s.
GIVE_UP_S: Final = 2.0
#: What a slow line carries, bytes/s, and how much may be on its way over it: about one drawing.
LINE: Final = 8_000
AHEAD: Final = 2_500
#: Keys closer together than this, s, are a key held down or a paste, once there are so many in a row.
QUICK_S: Final = 0.055
QUICK_KEYS: Final = 4
#: Longest wait for the last answers when the program ends, s.
SETTLE_S: Final = 0.5


def over_ssh(environ: Mapping[str, str]) -> bool:
    """Whether the session came over SSH.

    >>> over_ssh({"SSH_TTY": "/dev/pts/0"}), over_ssh({})
    (True, False)
    """
    return any(environ.get(name) for name in ("SSH_CONNECTION", "SSH_TTY", "SSH_CLIENT"))


class Handle(Protocol):
    """A timer that can be stopped."""

    def stop(self) -> None:
        """Stop it."""
        ...


class Host(Protocol):
    """What the pace needs of the app."""

    def redraw(self) -> None:
        """Draw the newest state."""
        ...

    def after(self, seconds: float, what: Callable[[], None]) -> Handle:
        """Do something later."""
        ...


class Pace:
    """Lets a drawing through when the terminal is ready for it.

    `ask` sends a question to a terminal over SSH; None for a local one. `clock` gives s.
    """

    def __init__(
        self, host: Host, ask: Callable[[str], None] | None, clock: Callable[[], float] = time.monotonic
    ) -> None:
        self._host, self._ask, self._clock = host, ask, clock
        self._answers = False
        self._open = 0
        self._asked_at = self._wanted_at = self._sent_at = clock()
        self._row = 0
        self._ahead = 0.0
        self._held: Handle | None = None
        self._then: Callable[[], None] | None = None

    def lets_through(self) -> bool:
        """Whether to draw now; if not, the newest state is drawn as soon as the terminal has caught up."""
        if self._ask is None:
            return True
        now = self._clock()
        self._row = self._row + 1 if now - self._wanted_at < QUICK_S else 1
        self._wanted_at = now
        if self._held is not None:
            return False
        wait = self._wait(now)
        if wait > 0:
            self._held = self._host.after(wait, self._go_on)
        return wait <= 0

    def _wait(self, now: float) -> float:
        """How long to hold a drawing at most, s."""
        if self._answers:
            return self._asked_at + GIVE_UP_S - now if self._open else 0.0
        over = self._on_its_way(now) - AHEAD
        return over / LINE if self._row >= QUICK_KEYS else 0.0

    def _on_its_way(self, now: float) -> float:
        """Bytes that a slow line has not delivered yet."""
        return max(self._ahead - (now - self._sent_at) * LINE, 0.0)

    def sent(self, size: int) -> None:
        """A drawing of so many bytes has been sent: ask for the terminal's answer to it."""
        if self._ask is None:
            return
        now = self._clock()
        waiting = min(self._on_its_way(now), AHEAD)
        self._ahead, self._sent_at = waiting + size, now
        self._ask(ASK)
        self._open, self._asked_at = self._open + 1, now

    def answered(self) -> None:
        """The terminal has drawn all that was sent before its question."""
        self._answers = True
        self._open = max(self._open - 1, 0)
        if self._open == 0:
            if self._held is not None:
                self._held.stop()
                self._go_on()
            self._end()

    def _go_on(self) -> None:
        """The terminal has caught up, or has not said so for long: draw what was held."""
        self._held = None
        self._open = 0
        self._host.redraw()

    def settle(self, then: Callable[[], None]) -> None:
        """Go on once no answer is on its way: one that came after the end would be typed into the shell."""
        self._then = then
        if self._answers and self._open:
            self._host.after(SETTLE_S, self._end)
        else:
            self._end()

    def _end(self) -> None:
        then, self._then = self._then, None
        if then is not None:
            then()
