"""The terminal under the app: whether there is one, and how it is given back. Imports no Textual."""

import os
import signal
import sys
import termios
import time
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from dataclasses import dataclass
from typing import Any, Final

#: Switches off all that Textual switches on. CAN ends a sequence that was cut off in the middle.
RESTORE: Final = (
    b"\x18\x1b[?2026l\x1b[?2004l\x1b[?7h\x1b[?2048l\x1b[?1000l\x1b[?1003l\x1b[?1015l\x1b[?1006l\x1b[?1016l"
    b"\x1b[<u\x1b[?1049l\x1b[?25h\x1b[?1004l\x1b[0m\r\n"
)
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


@dataclass(frozen=True, slots=True)
class TerminalState:
    """The line settings of the terminal before the app changed them."""

    input: int
    output: int
    attributes: list[Any]

    @classmethod
    def now(cls) -> "TerminalState | None":
        """The settings as they are; None without a terminal."""
        try:
            return cls(0, 2, termios.tcgetattr(0))
        except termios.error:
            return None

    def restore(self) -> None:
        """Give the terminal back without waiting for it, even if it takes no more output.

        What was still to be drawn is thrown away. A terminal that is gone is nobody's loss.
        """
        signal.pthread_sigmask(signal.SIG_BLOCK, {signal.SIGTTOU})  # not stopped when in the background
        with suppress(termios.error):
            termios.tcsetattr(self.input, termios.TCSANOW, self.attributes)
        with suppress(OSError, termios.error), _released(self.output):
            _write_promptly(self.output, RESTORE)


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
    handle = os.open(os.ttyname(output), os.O_WRONLY | os.O_NONBLOCK | os.O_NOCTTY | os.O_CLOEXEC)
    try:
        for _ in range(_TRIES):
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
