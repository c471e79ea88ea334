"""The floor: the least that a Textual app does, one row that answers a key. Measured beside cogwright."""

from textual import events
from textual.app import App, ComposeResult
from textual.widgets import Static


class BareApp(App[None]):
    """One line of text; every key but q counts."""

    ENABLE_COMMAND_PALETTE = False
    count = 0

    def compose(self) -> ComposeResult:
        """One line."""
        yield Static("ready 0", markup=False)

    def on_key(self, event: events.Key) -> None:
        """Count, and show it."""
        if event.key == "q":
            self.exit()
        self.count += 1
        self.query_one(Static).update(f"ready {self.count}", layout=False)


if __name__ == "__main__":
    BareApp(ansi_color=True).run()
