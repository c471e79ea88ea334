"""The terminal under the app, as the app and the guard of its run know it."""

from typing import Protocol

from cogwright.app.terminal.messages import Ambiguous
from cogwright.app.terminal.modes import Modes


class Holder(Protocol):
    """What the driver does for the app, in the app's loop."""

    def forget(self) -> None:
        """Trust nothing of what the terminal shows: the next drawing is sent whole."""
        ...

    def suspend(self) -> bool:
        """Go back to the shell; whether there was one."""
        ...


class Terminal:
    """What is known of the terminal, and what can be asked of it while the app runs.

    `asks_width` says whether to ask how wide ambiguous characters are; `ambiguous` what came of it.
    `leaving` is set by whoever has begun to end the program: the terminal is not taken again then.
    """

    def __init__(self) -> None:
        self.modes = Modes()
        self.holder: Holder | None = None
        self.asks_width = True
        self.ambiguous = Ambiguous.UNKNOWN
        self.leaving = False

    def forget(self) -> None:
        """Trust nothing of what the terminal shows; a whole drawing has to follow."""
        if self.holder is not None:
            self.holder.forget()

    def suspend(self) -> bool:
        """Go back to the shell until it lets the program go on; False where there is none."""
        return self.holder is not None and self.holder.suspend()
