"""How the tests run: side by side, one profile for Hypothesis, and the program compiled once."""

import os
import signal
import sys

from hypothesis import HealthCheck, settings

# A hundred tests start the program: each would compile all of it where nothing may be kept compiled.
os.environ.pop("PYTHONDONTWRITEBYTECODE", None)
sys.dont_write_bytecode = False

# A shell has what runs in its background ignore interrupts, and what the tests start would inherit that.
signal.signal(signal.SIGINT, signal.default_int_handler)

settings.register_profile(
    "cogwright",
    deadline=None,  # a machine with something else to do is no failure
    derandomize="CI" in os.environ,  # elsewhere every run tries something new
    suppress_health_check=list(HealthCheck),
)
settings.load_profile("cogwright")


def pytest_xdist_auto_num_workers() -> int:
    """Two workers a core: half of the time is spent waiting for a terminal or for the app to be idle."""
    return 2 * (os.cpu_count() or 1)
