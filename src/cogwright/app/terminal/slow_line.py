"""Keeps the screen in step with a slow line: no drawing is sent while too much is still on its way.

Over SSH a drawing can wait in many buffers, so after each one the terminal is asked where its cursor is
(DSR 6, ECMA-48); its answer says that all before it has been drawn. What Textual draws meanwhile is one
drawing, of the newest state. A terminal that has never answered is taken for a line of LINE bytes a second,
but only while keys come faster than a hand types them: a single key is always drawn at once. On a local
terminal nothing is asked and nothing waits.
"""

import time
from collections import deque
from collections.abc import Callable, Mapping
from typing import Final, Protocol

#: Bytes that may be on their way to a terminal that answers: a change of a few cells follows at once.
WINDOW: Final = 1_000
#: Longest wait for an answer of a terminal that has answered before, s.
GIVE_UP_S: Final = 2.0
#: What a slow line carries, bytes/s, and how much may be on its way over it: half a drawing.
LINE: Final = 8_000
AHEAD: Final = 1_200
#: Keys closer together than this, s, are a key held down or a burst, once there are so many in a row. A pause
#: of so long ends the row: between the two a busy machine may have been late to see a key.
QUICK_S: Final = 0.065
QUICK_KEYS: Final = 4
PAUSE_S: Final = 0.11


def over_ssh(environ: Mapping[str, str]) -> bool:
    """Whether the session came over SSH.

    >>> over_ssh({"SSH_TTY": "/dev/pts/0"}), over_ssh({})
    (True, False)
    """
    return any(environ.get(name) for name in ("SSH_CONNECTION", "SSH_TTY", "SSH_CLIENT"))


class Timer(Protocol):
    """Something that will be done, unless it is cancelled."""

    def cancel(self) -> None:
        """Do not do it."""
        ...


class SlowLineDriver(Protocol):
    """What is needed of the driver."""

    def ask(self, then: Callable[[], None]) -> None:
        """Ask the terminal a question; `then` is called when its answer comes."""
        ...

    def after(self, seconds: float, what: Callable[[], None]) -> Timer:
        """Do something later."""
        ...

    def draw(self) -> None:
        """Send what has been drawn."""
        ...


class SlowLine:
    """Lets a drawing through when the line is ready for it. `clock` gives s."""

    def __init__(self, host: SlowLineDriver, clock: Callable[[], float] = time.monotonic) -> None:
        self._host, self._clock = host, clock
        self._answers = False
        self._unanswered: deque[int] = deque()
        self._asked_at = self._typed_at = self._sent_at = clock()
        self._row = 0
        self._ahead = 0.0
        self._held: Timer | None = None

    def key_came(self) -> None:
        """A key has come."""
        now = self._clock()
        gap, self._typed_at = now - self._typed_at, now
        self._row = 1 if gap >= PAUSE_S else self._row + (gap < QUICK_S)
        if gap >= QUICK_S:  # the line may be faster than it is taken for
            self._ahead, self._sent_at = min(self._on_its_way(now), AHEAD), now

    def lets_through(self) -> bool:
        """Whether to send a drawing now; if not, it is asked for as soon as the terminal has caught up."""
        if self._held is not None:
            return False
        wait = self._wait(self._clock())
        if wait > 0:
            self._held = self._host.after(wait, self._give_up)
        return wait <= 0

    def _wait(self, now: float) -> float:
        """How long to hold a drawing at most, s."""
        if self._answers:
            return self._asked_at + GIVE_UP_S - now if sum(self._unanswered) > WINDOW else 0.0
        over = self._on_its_way(now) - AHEAD
        return over / LINE if self._row >= QUICK_KEYS else 0.0

    def _on_its_way(self, now: float) -> float:
        """Bytes that a slow line has not delivered yet."""
        return max(self._ahead - (now - self._sent_at) * LINE, 0.0)

    def sent(self, size: int) -> None:
        """A drawing of so many bytes has been sent: ask for the terminal's answer to it."""
        now = self._clock()
        self._ahead, self._sent_at = self._on_its_way(now) + size, now
        self._unanswered.append(size)
        self._asked_at = now
        self._host.ask(self._answered)

    def _answered(self) -> None:
        """The terminal has drawn all that was sent before its question."""
        self._answers = True
        if self._unanswered:
            self._unanswered.popleft()
        if self._held is not None and sum(self._unanswered) <= WINDOW:
            self._held.cancel()
            self._go_on()

    def _give_up(self) -> None:
        """The terminal has not answered for long."""
        self._unanswered.clear()
        self._go_on()

    def _go_on(self) -> None:
        """Send what was held."""
        self._held = None
        self._host.draw()
