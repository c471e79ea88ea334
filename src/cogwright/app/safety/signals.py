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
import threading
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from types import FrameType
from typing import Any, Final

from textual.app import App

from cogwright.app.terminal.restore import TerminalState

CAUGHT: Final = (signal.SIGTERM, signal.SIGHUP, signal.SIGINT, signal.SIGQUIT, signal.SIGABRT)
GRACE_S: Final = 2.0


@contextmanager
def guard(app: App[Any], save: Callable[[], None], grace_s: float = GRACE_S) -> Iterator[None]:
    """Run the app inside of this: `with guard(app, drafts.keep): app.run()`. Main thread only.

    `save` is called once, from the main thread between two steps of whatever runs there, when a signal ends
    the program or an exception leaves it; it must be quick and wait for nothing. Afterwards
    `app.return_code` is 128 plus the signal's number, as a shell has it.
    """
    line = _Lifeline(app, save, grace_s)
    before = {number: signal.signal(number, line.caught) for number in CAUGHT}
    try:
        yield
    except BaseException:
        line.keep()
        raise
    finally:
        line.done.set()
        for number, handler in before.items():
            signal.signal(number, handler)


class _Lifeline:
    """The two stages for one run of an app."""

    def __init__(self, app: App[Any], save: Callable[[], None], grace_s: float) -> None:
        self.done = threading.Event()
        self._app, self._save, self._grace_s = app, save, grace_s
        self._state = TerminalState.now()
        self._kept = False
        self._number: int | None = None

    def caught(self, number: int, frame: FrameType | None) -> None:  # noqa: ARG002 - Python calls it so
        """First stage. Further signals change nothing: a closed terminal sends several."""
        if self._number is not None:
            return
        self._number = number
        threading.Thread(target=self._end_hard, name="lifeline", daemon=True).start()
        try:
            self.keep()
        finally:
            self._ask_to_leave()

    def keep(self) -> None:
        """Keep the work, once."""
        if not self._kept:
            self._kept = True
            self._save()

    def _ask_to_leave(self) -> None:
        try:
            loop = asyncio.get_running_loop()
        except RuntimeError as error:  # before the app has begun, or after it has ended
            raise SystemExit(self._status) from error
        loop.call_soon_threadsafe(self._leave)

    def _leave(self) -> None:
        self._app.exit(return_code=self._status)

    @property
    def _status(self) -> int:
        return 128 + (self._number or 0)

    def _end_hard(self) -> None:
        """Second stage, in a thread of its own: nothing here waits for the app or for the terminal."""
        if self.done.wait(self._grace_s):
            return
        if self._state is not None:
            self._state.restore()
        os._exit(self._status)
