"""The command line for `Term(["cogwright", ...], forks=run_bench)`, with all that a start would import."""

from textual.drivers import linux_driver  # noqa: F401

from cogwright.__main__ import run as run_bench
from cogwright.app import interaction, run  # noqa: F401

__all__ = ["run_bench"]
