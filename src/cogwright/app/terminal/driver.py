"""Laid over the driver that Textual has for the platform: all between the app and its terminal passes here.

On the way out only cells that differ are sent (`frame.py`), no faster than the line takes them
(`slow_line.py`), and what is switched on is remembered (`modes.py`). On the way in from a terminal of Unix
only what was typed comes as keys (`reading.py`). Stopping and going on is in `job_control.py`.
"""

import asyncio
import os
import signal
import threading
from collections.abc import Callable
from contextlib import suppress
from typing import Any, ClassVar, Final, NoReturn, cast

from textual import constants, events
from textual.app import App
from textual.driver import Driver
from textual.message import Message

from cogwright.app.terminal.frame import ScreenModel
from cogwright.app.terminal.incoming import CursorAt
from cogwright.app.terminal.job_control import JobControl
from cogwright.app.terminal.messages import Ambiguous, AmbiguousWidth
from cogwright.app.terminal.questions import Questions
from cogwright.app.terminal.reading import HungUp, Reader
from cogwright.app.terminal.restore import in_background, line_settings, set_line
from cogwright.app.terminal.slow_line import SlowLine, over_ssh
from cogwright.app.terminal.terminal import Terminal
from cogwright.app.terminal.width import WidthQuestion

#: So long an escape waits for the rest of a sequence while the terminal owes an answer, s.
OWED_ESCAPE_S: Final = 0.4


class CellDriver(Driver):
    """The upper half of a driver; `over` puts it on the platform's own."""

    terminal: ClassVar[Terminal]
    # Those of Textual's driver for Unix
    fileno: int
    exit_event: threading.Event
    attrs_before: list[Any] | None

    def __init__(
        self, app: App[Any], *, debug: bool = False, mouse: bool = True, size: tuple[int, int] | None = None
    ) -> None:
        # All this first: the lower half watches for signals from its beginning, and they come here.
        self._above, self._above_loop = app, asyncio.get_running_loop()
        self._frame, self._questions = ScreenModel(), Questions(self.send)
        self._slow = SlowLine(self) if over_ssh(os.environ) else None
        self._wanted = self._on = self._lent = False
        self._held: list[str] | None = None
        self._first: list[Any] | None = None
        self._raw: list[Any] | None = None
        self._jobs: JobControl | None = None
        super().__init__(app, debug=debug, mouse=mouse, size=size)
        self._jobs = JobControl(self, self.fileno) if hasattr(self, "attrs_before") else None
        if self._jobs is not None:
            self._jobs.watch()
        self.terminal.holder = self

    # The way out

    def write(self, data: str) -> None:
        """See Driver. What is drawn waits for `flush`."""
        self._frame.resize(*self._above.size)
        self.send(self._frame.write(data))

    def flush(self) -> None:
        """See Driver. A drawing is whole."""
        if self._frame.drawn and (self._slow is None or self._slow.lets_through()):
            self.draw()
        super().flush()

    def draw(self) -> None:
        """Send what has been drawn and not been sent yet."""
        text = self._frame.drawing() if self._on and self._wanted else ""  # not while it is given back
        self.send(text)
        if text and self._slow is not None:
            self._slow.sent(len(text.encode()))

    def send(self, text: str) -> None:
        """Send text to the terminal as it stands; nothing while it is not ours."""
        if not text or not self._on:
            return
        self.terminal.modes.note(text)
        if self._held is not None:
            self._held.append(text)
        else:
            super().write(text)  # type: ignore[safe-super] # there is a driver below

    def forget(self) -> None:
        """See Holder."""
        self._frame.forget()

    # Questions and answers

    def ask(self, then: Callable[[], None]) -> None:
        """Ask for an answer that says no more than that it has come."""
        self._questions.ask(lambda _: then())

    def ask_place(self, then: Callable[[CursorAt], None]) -> None:
        """Ask where the cursor is."""
        self._questions.ask(then)

    def after(self, seconds: float, what: Callable[[], None]) -> asyncio.TimerHandle:
        """Do something later."""
        return self._above_loop.call_later(seconds, what)

    def _width_is(self, width: Ambiguous) -> None:
        self.terminal.ambiguous = width
        self._frame.ambiguous = width is Ambiguous.NARROW
        self.send_message(AmbiguousWidth(width))

    # The way in

    def run_input_thread(self) -> None:
        """See the driver for Unix, whose input thread runs this."""
        try:
            Reader(self._escape_s).run(self.fileno, self.exit_event, self.process_message)
        except HungUp:
            os.kill(os.getpid(), signal.SIGHUP)
        except Exception as error:  # noqa: BLE001 - the app stops on it as on any other
            self._above.call_later(_raise, error)

    def _escape_s(self) -> float:
        return OWED_ESCAPE_S if self._questions.due() else constants.ESCAPE_DELAY

    def process_message(self, message: Message) -> None:
        """See Driver. Answers to questions of ours go no further."""
        if isinstance(message, events.CursorPosition):
            then = self._questions.answered(CursorAt(message.x, message.y))
            if then is not None:
                self._above_loop.call_soon_threadsafe(then)
            return
        if isinstance(message, events.Key) and self._slow is not None:
            self._slow.key_came()
        super().process_message(message)

    def disable_input(self) -> None:
        """See Driver. Of a terminal that is not ours nothing is wanted."""
        if self._on:
            self._questions.settle()
            super().disable_input()  # type: ignore[safe-super]

    # Taking the terminal and giving it back

    def start_application_mode(self) -> None:
        """See Driver. Nothing is done twice, nor while another job has the terminal."""
        self._wanted = True
        if self._on:
            return
        self._on, self._held = True, []
        self._frame.forget()
        try:
            self._start()
        finally:
            held, self._held = self._held, None
            if held:
                super().write("".join(held))  # type: ignore[safe-super]
        self.draw()

    def _start(self) -> None:
        """Its many short sequences go out as one: the thread that writes waits after each for its turn."""
        super().start_application_mode()  # type: ignore[safe-super]
        self._on = bool(self.terminal.modes)
        if not self._on:
            return
        self._keep_line_settings()
        if self.terminal.asks_width:
            self.terminal.asks_width = False
            WidthQuestion(self, self._width_is)

    def _keep_line_settings(self) -> None:
        """The line settings that are given back are those that were there first."""
        if self._jobs is not None:
            self._first = self._first or self.attrs_before
            self.attrs_before, self._raw = self._first, line_settings(self.fileno)

    def stop_application_mode(self) -> None:
        """See Driver. Whatever was switched on is switched off; another job keeps its line settings."""
        self._wanted = False
        if self._on:
            if self._jobs is not None and in_background(self.fileno):
                self.attrs_before = None
            super().stop_application_mode()  # type: ignore[safe-super]
            self.send(self.terminal.modes.off())
            self._on = False

    # What job control wants

    def suspend(self) -> bool:
        """See Holder."""
        return self._jobs is not None and self._jobs.stop_all()

    @property
    def leaving(self) -> bool:
        """Whether the program is on its way out."""
        return self.terminal.leaving

    def soon(self, what: Callable[[], object]) -> None:
        """Do something in the app's loop; nothing after its end, when a signal may still come."""
        with suppress(RuntimeError):
            self._above_loop.call_soon_threadsafe(what)

    def let_go(self) -> None:
        """Give the terminal back for a time."""
        self._lent = self._on
        if self._lent:
            self.suspend_application_mode()

    def take(self) -> None:
        """Take the terminal again if it was only lent; the screen is there at once."""
        if self._lent:
            self.resume_application_mode()

    def again(self) -> None:
        """The program was let go on: whatever became of the terminal meanwhile, it is set up again."""
        if self._on and self._raw is not None:
            set_line(self.fileno, self._raw)
            self.send(self.terminal.modes.again())
            self._frame.forget()
            self.draw()
        elif self._wanted:
            self.start_application_mode()


def over(platform: type[Driver], terminal: Terminal) -> type[Driver]:
    """A driver class made of ours and the platform's, for an app on this terminal."""
    name = f"Cell{platform.__name__}"
    return cast("type[Driver]", type(name, (CellDriver, platform), {"terminal": terminal}))


def _raise(error: Exception) -> NoReturn:
    raise error
