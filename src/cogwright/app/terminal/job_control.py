"""Stopping and going on, as a job of a shell does: ctrl+z, `fg`, and the signals behind them in any order.

A handler of a signal only notes what is wanted; all else happens in the loop of the app, where nothing else
is under way. Unix only: elsewhere nothing is watched.
"""

import os
import signal
import time
from collections.abc import Callable
from typing import Final, Protocol

from cogwright.app.terminal.restore import in_background

#: So long after it goes on again, s, the program sees all signals that came while it was stopped.
_SEEN_S: Final = 0.01
#: Python calls handlers in the order of the signals' numbers, SIGCONT before SIGTSTP, whichever came first.
#: Where they come as close together as this, s, the program goes on: one that stops would wait for ever.
_TOGETHER_S: Final = 0.005


class JobDriver(Protocol):
    """What is needed of the driver."""

    @property
    def leaving(self) -> bool:
        """Whether the program is on its way out."""
        ...

    def soon(self, what: Callable[[], object]) -> None:
        """Do something in the app's loop. Called in a signal handler."""
        ...

    def let_go(self) -> None:
        """Give the terminal back."""
        ...

    def take(self) -> None:
        """Take the terminal again."""
        ...

    def again(self) -> None:
        """Set up the terminal that one has, and draw it anew."""
        ...


class JobControl:
    """Stops and continues the program. `terminal` is the terminal's file descriptor."""

    def __init__(self, host: JobDriver, terminal: int) -> None:
        self._host, self._terminal = host, terminal
        self._due = self._stopping = self._went_on = False
        self._went_on_at = 0.0

    def watch(self) -> None:
        """Take the signals over."""
        signal.signal(signal.SIGTSTP, lambda *_: self._stop_asked())
        signal.signal(signal.SIGCONT, lambda *_: self._continued())

    def _stop_asked(self) -> None:
        together = time.monotonic() - self._went_on_at < _TOGETHER_S
        if not (self._due or self._stopping or together):
            self._due = True
            self._host.soon(self._stop_if_due)

    def _continued(self) -> None:
        """Whoever lets a program go on that was only about to stop does not want it to stop any more."""
        about_to, self._due, self._went_on = self._due or self._stopping, False, True
        self._went_on_at = time.monotonic()
        if not about_to:
            self._host.soon(self._again)

    def _stop_if_due(self) -> None:
        if self._due:
            self.stop(_stop_alone)

    def stop_all(self) -> bool:
        """Stop all of the shell's job, as its stop key does; whether there was a shell to stop for."""
        return self.stop(_stop_job)

    def stop(self, how: Callable[[], None]) -> bool:
        """Give the terminal back, stop, and take it again; whether it was stopped."""
        self._due = False
        if self._host.leaving:
            return False
        self._stopping, self._went_on = True, False
        self._host.let_go()
        if not self._went_on:
            how()
        self._wait_for_the_foreground()
        self._stopping = False
        if not self._host.leaving:
            self._host.take()
        return self._went_on

    def _again(self) -> None:
        self._wait_for_the_foreground()
        if not self._host.leaving:
            self._host.again()

    def _wait_for_the_foreground(self) -> None:
        """The terminal is another's until the shell gives it to this job."""
        while in_background(self._terminal):
            time.sleep(_SEEN_S)
            if self._host.leaving or not in_background(self._terminal):
                return
            _stop_alone()


def _stop_alone() -> None:
    os.kill(os.getpid(), signal.SIGSTOP)


def _stop_job() -> None:
    """The system leaves this out where no shell would let the job go on."""
    watched = signal.signal(signal.SIGTSTP, signal.SIG_IGN)
    os.kill(0, signal.SIGTSTP)
    signal.signal(signal.SIGTSTP, signal.SIG_DFL)
    signal.raise_signal(signal.SIGTSTP)
    signal.signal(signal.SIGTSTP, watched)
