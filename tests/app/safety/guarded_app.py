"""A small app with the guard on its signals, for the tests: `guarded_app.py DRAFT_FILE`."""

import os
import signal
import sys
import time

from textual.app import ComposeResult
from textual.widgets import Static

from cogwright.app.safety.signals import guard
from cogwright.app.terminal.restore import refuse_without_terminal
from cogwright.app.terminal.terminal_app import TerminalApp


class Sample(TerminalApp):
    """Counts key presses `e`; x crashes it, b blocks its loop, f floods its terminal, z goes to the shell."""

    edits = 0

    def compose(self) -> ComposeResult:
        yield Static("READY", id="text")

    def on_key(self, event: object) -> None:
        action = {"e": self.edit, "x": self.crash, "b": self.block, "f": self.flood}
        action |= {"q": self.exit, "z": self.to_the_shell}
        action.get(getattr(event, "character", "") or "", lambda: None)()

    def edit(self) -> None:
        self.edits += 1
        self.query_one(Static).update(f"EDITS {self.edits}")

    def to_the_shell(self) -> None:
        if not self.terminal.suspend():
            self.query_one(Static).update("NO SHELL")

    def crash(self) -> None:
        raise RuntimeError("on purpose")

    def block(self) -> None:
        self.query_one(Static).update("BLOCKED")
        self.call_after_refresh(time.sleep, 60)

    def flood(self) -> None:
        self.set_interval(0.001, lambda: self.query_one(Static).update(os.urandom(3000).hex()))


def main() -> int:
    if status := refuse_without_terminal():
        return status
    signal.signal(signal.SIGINT, lambda *_: os._exit(130))  # until it is guarded
    return guarded(Sample())


def guarded(app: Sample) -> int:
    def save() -> None:
        with open(sys.argv[1], "w", encoding="ascii") as file:
            file.write(str(app.edits))

    with guard(app, save, grace_s=1.0) as ending:
        app.run()
    return ending.status or app.return_code or 0


if __name__ == "__main__":
    sys.exit(main())
