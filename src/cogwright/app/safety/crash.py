"""When the program itself has an error: a few lines for the user, and the details in a file for us."""

import traceback
from typing import Final

from rich.text import Text

from cogwright.app.terminal.terminal_app import TerminalApp
from cogwright.core.common.errors import CogwrightError
from cogwright.core.common.safe_text import clean, shown_name
from cogwright.store.paths import state_folder
from cogwright.store.private import private_folder, write_private

#: In the state folder; each crash writes it anew.
LOG: Final = "last-crash.txt"


class Stopping(TerminalApp):
    """An app that stops at an error of its own with a note of ours, not with pages of traceback."""

    def keep_work(self) -> str:
        """Keep the work that is not saved; what has become of it, in words."""
        return ""

    def _fatal_error(self) -> None:
        """See App: called when an exception was not handled. Only the first one is told."""
        if self._exception is not None and not self._exit_renderables:
            self._exit_renderables.append(_note(self, self._exception))
        self._close_messages_no_wait()


def _note(app: Stopping, error: BaseException) -> Text:
    """Keep the work and the details; what to print once the terminal is back."""
    lines = [
        "cogwright had to stop: an error in the program itself, none of yours.",
        _work(app),
        f"The error was: {clean(f'{type(error).__name__}: {error}')[:200]}",
        _details(error),
    ]
    return Text("\n".join(lines))


def _work(app: Stopping) -> str:
    """What becomes of the work. The session may be what is broken, so nothing here may fail."""
    try:
        return app.keep_work()
    except Exception as second:  # noqa: BLE001 - said, and the first error is the one to look into
        return f"Keeping unsaved work failed too: {clean(repr(second))[:80]}; it is kept as it was before."


def _details(error: BaseException) -> str:
    """The traceback into a file, with nothing in it that a terminal would obey."""
    path = state_folder() / LOG
    text = "".join(traceback.format_exception(error))
    try:
        private_folder(path.parent)
        write_private(path, clean(text, keep_newlines=True).encode("utf-8", "replace"))
    except (OSError, ValueError, CogwrightError) as failed:
        return f"The details could not be written to {shown_name(str(path))}: {clean(str(failed))}"
    return f"The details are in {shown_name(str(path))}: send them to whoever looks after cogwright for you."
