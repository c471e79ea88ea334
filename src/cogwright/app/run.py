"""One run of the app, with the terminal and the work guarded."""

from collections.abc import Sequence
from pathlib import Path

from cogwright.app.terminal.restore import refuse_without_terminal
from cogwright.options import Options


def run(paths: Sequence[Path], options: Options = Options()) -> int:  # noqa: B008
    """Open the app on folders or files; the exit status."""
    refused = refuse_without_terminal()
    if refused:
        return refused
    from cogwright.app.main import BenchApp
    from cogwright.app.safety.signals import guard

    app = BenchApp(paths, options)
    with guard(app, app.drafts.keep) as ending:
        app.run(mouse=app.use_mouse)
    app.drafts.close()
    return ending.status or app.return_code or 0
