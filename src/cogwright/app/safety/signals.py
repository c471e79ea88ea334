"""When the line drops or somebody ends the program: the work is kept and the terminal given back.

Textual restores the terminal when it quits, on an exception and on SIGINT, but not on SIGTERM, SIGHUP,
SIGQUIT or SIGABRT. So these are caught, in two stages. First the work is kept, then the app is asked to
leave by its own way, which restores the terminal. If it has not left after a grace period, because it is
blocked or because the terminal takes no more output, a thread restores the terminal without waiting for it
and ends the process. The handlers are `signal.signal` ones: those of the event loop do not run while the
loop waits for a stalled terminal.
"""

import asyncio
import os
import signal
import sys
import threading
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager, suppress
from types import FrameType
from typing import Final

from cogwright.app.terminal.restore import TerminalState, let_go
from cogwright.app.terminal.terminal_app import TerminalApp


def _known(*names: str) -> tuple[signal.Signals, ...]:
    """Those of the signals that this platform has."""
    return tuple(signal.Signals[name] for name in names if hasattr(signal, name))


CAUGHT: Final = _known("SIGTERM", "SIGHUP", "SIGINT", "SIGQUIT", "SIGABRT", "SIGBREAK")
#: The app's driver takes these while it runs.
_OF_THE_DRIVER: Final = _known("SIGTSTP", "SIGCONT", "SIGWINCH")
_OF_THE_TERMINAL: Final = _known("SIGTTOU", "SIGTTIN")
GRACE_S: Final = 2.0


@contextmanager
def guard(app: TerminalApp, save: Callable[[], None], grace_s: float = GRACE_S) -> Iterator["Ending"]:
    """Run the app inside of this: `with guard(app, drafts.keep) as ending: app.run()`. Main thread only.

    `save` is called once, from the main thread between two steps of whatever runs there, when a signal ends
    the program or an exception leaves it; it must be quick and wait for nothing. `ending.status` is the exit
    status then: 128 plus the signal's number, as a shell has it.
    """
    ending = Ending(app, save, grace_s)
    before = {number: signal.signal(number, ending.caught) for number in CAUGHT}
    before |= {number: signal.getsignal(number) for number in _OF_THE_DRIVER}
    try:
        yield ending
    except BaseException:
        ending.keep()
        raise
    finally:
        ending.give_back()
        # A program that is told to end ends so, though Python gives up handlers of its own before it is gone
        after = before if ending.status is None else dict.fromkeys(before, signal.SIG_IGN)
        for number, handler in after.items():
            signal.signal(number, handler)


class Ending:
    """How one run of an app ends. `status` is None until a signal ends it."""

    def __init__(self, app: TerminalApp, save: Callable[[], None], grace_s: float) -> None:
        self.status: int | None = None
        self._app, self._save, self._grace_s = app, save, grace_s
        self._state = TerminalState.now()
        self._kept = False
        self._hard = threading.Event()

    def caught(self, number: int, frame: FrameType | None) -> None:  # noqa: ARG002 - Python calls it so
        """First stage. Further signals change nothing: a closed terminal sends several."""
        if self.status is not None:
            return
        self.status = 128 + number
        self._app.terminal.leaving = True
        for terminal_signal in _OF_THE_TERMINAL:  # in the background it would stop, and never end
            signal.signal(terminal_signal, signal.SIG_IGN)
        threading.Thread(target=self._end_hard, args=(self.status,), name="ending", daemon=True).start()
        try:
            self.keep()
        finally:
            self._ask_to_leave()

    def keep(self) -> None:
        """Keep the work, once."""
        if not self._kept:
            self._kept = True
            self._save()

    def give_back(self) -> None:
        """The terminal as it was, whatever the app's own way out has left."""
        if self._hard.is_set():
            time.sleep(self._grace_s)  # it has let go whoever waited for the terminal, and ends all of this
        self._app.terminal.leaving = True
        self._state.restore_line()
        if self._app.terminal.modes:
            self._state.restore(self._app.terminal.modes.off())
        for stream in (sys.__stdout__, sys.__stderr__):
            let_go(stream)

    def _ask_to_leave(self) -> None:
        """Nothing to do before the app has begun: then it sees for itself; or after it has ended."""
        with suppress(RuntimeError):
            asyncio.get_running_loop().call_soon_threadsafe(self._leave)

    def _leave(self) -> None:
        self._app.exit(return_code=self.status or 0)

    def _end_hard(self, status: int) -> None:
        """Second stage, in a thread of its own, for as long as the process is there.

        Nothing here waits for the app or for the terminal.
        """
        time.sleep(self._grace_s)
        self._hard.set()
        self._state.restore(self._app.terminal.modes.all_off())
        os._exit(status)
