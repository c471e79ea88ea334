"""When the program itself has an error: a few lines for the user, and the details in a file for us."""

import traceback
from typing import TYPE_CHECKING, Final, cast

from rich.text import Text

from cogwright.app.terminal.terminal_app import TerminalApp
from cogwright.core.common.safe_text import clean, shown_name
from cogwright.store.paths import state_folder

if TYPE_CHECKING:
    from cogwright.app.main import BenchApp

#: In the state folder; each crash writes it anew.
LOG: Final = "last-crash.txt"


class Stopping(TerminalApp):
    """An app that stops at an error of its own with a note of ours, not with pages of traceback."""

    def _fatal_error(self) -> None:
        """See App: called when an exception was not handled. Only the first one is told."""
        if self._exception is not None and not self._exit_renderables:
            self._exit_renderables.append(_note(cast("BenchApp", self), self._exception))
        self._close_messages_no_wait()


def _note(app: "BenchApp", error: BaseException) -> Text:
    """Keep the work and the details; what to print once the terminal is back."""
    lines = [
        "cogwright had to stop: an error in the program itself, none of yours.",
        _work(app),
        f"The error was: {clean(f'{type(error).__name__}: {error}')[:200]}",
        _details(error),
    ]
    return Text("\n".join(lines))


def _work(app: "BenchApp") -> str:
    """What becomes of the work. The session may be what is broken, so nothing here may fail."""
    try:
        app.keeper.keep()
        if not app.session.edited:
            return "Nothing was unsaved."
        if not app.keeper.has_all:
            return "Unsaved work could not be kept: its folder takes no more."
        where = shown_name(str(app.folder))
        return f"Your unsaved work is kept: start it again on {where}, and t takes it back."
    except Exception as second:  # noqa: BLE001 - said, and the first error is the one to look into
        return f"Keeping unsaved work failed too: {clean(repr(second))[:80]}; it is kept as it was before."


def _details(error: BaseException) -> str:
    """The traceback into a file, with nothing in it that a terminal would obey."""
    path = state_folder() / LOG
    text = "".join(traceback.format_exception(error))
    try:
        path.parent.mkdir(mode=0o700, parents=True, exist_ok=True)
        path.write_text(clean(text, keep_newlines=True), encoding="utf-8")
    except (OSError, ValueError) as failed:
        return f"The details could not be written to {shown_name(str(path))}: {clean(str(failed))}"
    return f"The details are in {shown_name(str(path))}: send them to whoever looks after cogwright for you."
