"""An app whose driver has ours laid over it."""

from typing import Any

from textual.app import App
from textual.driver import Driver

from cogwright.app.terminal.driver import over
from cogwright.app.terminal.terminal import Terminal


class TerminalApp(App[int]):
    """`terminal` is what it knows of its terminal."""

    def __init__(self, **given: Any) -> None:
        self.terminal = Terminal()
        super().__init__(**given)

    def on_load(self) -> None:
        """The app has begun, the terminal is untouched: somebody may have ended the program by now."""
        if self.terminal.leaving:
            self.exit()

    def get_driver_class(self) -> type[Driver]:
        """See App."""
        return over(super().get_driver_class(), self.terminal)
