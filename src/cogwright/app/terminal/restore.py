"""The terminal under the app: whether there is one, and how it is given back. Imports no Textual."""

import os
import signal
import sys
import time
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from typing import Any, Final, NamedTuple, TextIO

#: CAN ends a sequence that was cut off in the middle; a drawing in one piece may be cut off too.
_CANCEL: Final = b"\x18\x1b[?2026l"
_PLAIN_LOOK: Final = b"\x1b[m\r\n"
_TRIES: Final = 50
_PAUSE_S: Final = 0.005
_PLAIN: Final = {"", "dumb", "unknown"}


def require_terminal() -> str | None:
    """Why the app cannot open here, and what can be used instead; None when it can.

    Textual reads standard input and draws on standard error, so both have to be a terminal.
    """
    missing = [
        name for stream, name in ((0, "standard input"), (2, "standard error")) if not os.isatty(stream)
    ]
    if missing:
        why = f"{' and '.join(missing)} {'is' if len(missing) == 1 else 'are'} not a terminal"
    elif os.environ.get("TERM", "") in _PLAIN:
        why = f"the terminal says that it cannot draw (TERM={os.environ.get('TERM', '')})"
    else:
        return None
    return (
        f"cogwright: the bench needs a terminal:\n{why}.\n"
        "These commands work here: cogwright report, check, order, propose, card\n(see cogwright --help)."
    )


def line_settings(terminal: int) -> list[Any] | None:
    """The line settings of a terminal; None without one, or where there are no such settings (Windows)."""
    try:
        import termios
    except ImportError:
        return None
    try:
        return termios.tcgetattr(terminal)
    except termios.error:
        return None


def set_line(terminal: int, settings: list[Any]) -> None:
    """Give a terminal its line settings; one that is gone is nobody's loss."""
    import termios

    with suppress(termios.error):
        termios.tcsetattr(terminal, termios.TCSANOW, settings)


def in_background(terminal: int) -> bool:
    """Whether another job of the shell has the terminal, or the shell itself."""
    try:
        return os.tcgetpgrp(terminal) != os.getpgrp()
    except (OSError, AttributeError):  # no terminal of ours, or no jobs here: nobody else has it either
        return False


class TerminalState(NamedTuple):
    """The line settings of the terminal before the app changed them; None where there are none."""

    input: int
    output: int
    settings: list[Any] | None

    @classmethod
    def now(cls) -> "TerminalState":
        """The settings as they are."""
        return cls(0, 2, line_settings(0))

    def restore_line(self) -> None:
        """Give back the line settings, if they are others by now. What another job has set is left alone."""
        if self.settings is None or in_background(self.input):
            return
        if line_settings(self.input) not in (self.settings, None):
            set_line(self.input, self.settings)

    def restore(self, modes_off: str) -> None:
        """Give the terminal back without waiting for it, even if it takes no more output.

        `modes_off` is what switches off all that was switched on. What was still to be drawn is thrown away.
        """
        if self.settings is not None:
            signal.pthread_sigmask(signal.SIG_BLOCK, {signal.SIGTTOU})  # not stopped when in the background
            self.restore_line()
            with suppress(OSError), _released(self.output):
                _write_promptly(self.output, _CANCEL + modes_off.encode() + _PLAIN_LOOK)


@contextmanager
def _released(output: int) -> Iterator[None]:
    """Make a thread that waits for the terminal give up, which lets others write to it.

    It holds the terminal for as long as its write lasts. A write looks whether it may wait each time that
    it wakes up. The flag is taken back afterwards: it belongs to the open file, which the shell has too.
    """
    was_blocking = os.get_blocking(output)
    os.set_blocking(output, False)
    try:
        yield
    finally:
        os.set_blocking(output, was_blocking)


def _write_promptly(output: int, data: bytes) -> None:
    """Throw away what the terminal has not taken and write this instead; tries for a fraction of a second."""
    import termios

    handle = os.open(os.ttyname(output), os.O_WRONLY | os.O_NONBLOCK | os.O_NOCTTY | os.O_CLOEXEC)
    try:
        for _ in range(_TRIES):
            with suppress(termios.error):
                termios.tcflush(output, termios.TCOFLUSH)
                termios.tcflow(output, termios.TCOOFF)  # off and on wakes those who wait to write
                termios.tcflow(output, termios.TCOON)
            with suppress(BlockingIOError):
                data = data[os.write(handle, data) :]
            if not data:
                return
            time.sleep(_PAUSE_S)
    finally:
        os.close(handle)


def refuse_without_terminal() -> int:
    """Say on standard error why the app cannot open: the exit status 2, or 0 when it can."""
    why = require_terminal()
    if why is not None:
        print(why, file=sys.stderr)
    return 0 if why is None else 2


def let_go(stream: TextIO | None) -> None:
    """What a terminal that has gone did not take goes nowhere: else Python ends with a status of its own."""
    if stream is None:
        return
    try:
        stream.flush()
    except OSError:
        os.dup2(os.open(os.devnull, os.O_WRONLY), stream.fileno())
