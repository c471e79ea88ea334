"""Where the program begins, as `cogwright` and as `python -m cogwright`: nothing else is imported before
it can be interrupted without a traceback."""

import os
import sys

#: Exit status of an interrupted program, as shells have it.
INTERRUPTED = 130


def _end_at_once(*_: object) -> None:
    """While the program only imports there is nothing to tidy up."""
    os._exit(INTERRUPTED)


# Raised in the middle of an import, KeyboardInterrupt can come out as any other error: none may be raised.
try:
    import signal

    signal.signal(signal.SIGINT, _end_at_once)
except KeyboardInterrupt:
    _end_at_once()


def run() -> int:
    """The command line; the exit status."""
    try:
        from cogwright.cli import main

        return main()
    except KeyboardInterrupt:
        return INTERRUPTED


if __name__ == "__main__":
    sys.exit(run())
