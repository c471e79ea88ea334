"""What only the running app can do, for the controllers."""

from collections.abc import Callable
from pathlib import Path

from textual.worker import get_current_worker

from cogwright.app.safety.drafts import DraftKeeper
from cogwright.app.terminal.terminal_app import TerminalApp
from cogwright.present.chart_style import ChartStyle


class AppHost:
    """See Host. `drafts` is set once there is a store for them to keep."""

    drafts: DraftKeeper

    def __init__(self, app: TerminalApp, settings: Path | None) -> None:
        self._app, self._settings = app, settings

    def leave(self, status: int) -> None:
        """End the program. Nothing is drawn any more that the draft could follow: it is brought up first."""
        self.drafts.keep()
        self._app.exit(status)

    def suspend(self) -> bool:
        """Give the terminal back to the shell until it calls the program back; False where there is none."""
        return self._app.terminal.suspend()

    def repaint(self) -> None:
        """Send every cell of the screen anew."""
        self._app.terminal.forget()
        self._app.refresh()

    def copy(self, text: str) -> None:
        """Send a text to the terminal's clipboard."""
        self._app.copy_to_clipboard(text)

    def selected_text(self) -> str:
        """What the user has marked on the screen with the mouse."""
        return self._app.screen.get_selected_text() or ""

    def remember(self, chart: ChartStyle) -> str:
        """Keep how the gears are drawn for the next start; what went wrong, if anything."""
        from cogwright.app.remembering import remember_chart

        return remember_chart(self._settings, chart)

    def in_thread(self, work: Callable[[Callable[[], bool]], None]) -> None:
        """Do something that takes its time in a thread of its own; it can ask whether the app has ended."""

        def run() -> None:
            worker = get_current_worker()
            work(lambda: worker.is_cancelled)

        self._app.run_worker(run, thread=True)

    def hand_over(self, what: Callable[[], None]) -> None:
        """From such a thread: let the app do something."""
        self._app.call_later(what)

    def work_again(self) -> None:
        """Offer what else an earlier session left unsaved."""
        self.drafts.offer_more()
