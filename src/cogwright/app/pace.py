"""Keeps the screen in step with a slow line: no drawing is sent before the last one has arrived.

Over SSH a drawing can wait in many buffers, so after each one the terminal is asked where its cursor is
(DSR 6, ECMA-48); its answer says that all before it has been drawn. Keys that come meanwhile make one
drawing, of the newest state. A terminal that has never answered is not waited for, and none longer than
GIVE_UP_S. On a local terminal nothing is asked.
"""

import os
from collections.abc import Callable, Mapping
from typing import TYPE_CHECKING, Final

if TYPE_CHECKING:
    from cogwright.app.main import BenchApp

ASK: Final = "\x1b[6n"
GIVE_UP_S: Final = 2.0


def over_ssh(environ: Mapping[str, str]) -> bool:
    """Whether the session came over SSH.

    >>> over_ssh({"SSH_TTY": "/dev/pts/0"}), over_ssh({})
    (True, False)
    """
    return any(environ.get(name) for name in ("SSH_CONNECTION", "SSH_TTY", "SSH_CLIENT"))


class Pace:
    """Lets a drawing through when the terminal is ready for it."""

    def __init__(self, app: "BenchApp", ask: Callable[[str], None]) -> None:
        self._app = app
        self._ask = ask
        self._asks = over_ssh(os.environ)
        self._answers = False
        self._sent = 0
        self._open = 0
        self._wanted = False

    def lets_through(self) -> bool:
        """Whether to draw now; if not, the drawing is made as soon as the terminal has caught up."""
        self._wanted = self._answers and self._open > 0
        return not self._wanted

    def sent(self) -> None:
        """A drawing has been sent: ask for the terminal's answer to it."""
        if not self._asks:
            return
        self._sent += 1
        self._open += 1
        number = self._sent
        self._ask(ASK)
        self._app.set_timer(GIVE_UP_S, lambda: self._give_up(number))

    def answered(self) -> None:
        """The terminal has drawn all that was sent before its question."""
        self._answers = True
        self._open = max(self._open - 1, 0)
        self._go_on()

    def _give_up(self, number: int) -> None:
        """No answer to the last question in time: go on without it."""
        if self._open and number == self._sent:
            self._open = 0
            self._go_on()

    def _go_on(self) -> None:
        if self._wanted and not self._open:
            self._wanted = False
            self._app.redraw()
