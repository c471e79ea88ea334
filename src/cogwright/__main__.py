"""Where the program begins, as `cogwright` and as `python -m cogwright`: nothing is imported before it can
be interrupted without a traceback."""

import sys


def run() -> int:
    """The command line; the exit status, that of an interrupted program (130) included."""
    try:
        from cogwright.cli import main

        return main()
    except KeyboardInterrupt:
        return 130


if __name__ == "__main__":
    sys.exit(run())
