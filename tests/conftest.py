"""How the tests run: side by side, one profile for Hypothesis, and the program compiled once."""

import faulthandler
import gc
import os
import signal
import sys
from collections.abc import Generator
from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, is_hypothesis_test, settings

from support import LONG, LONG_LIMIT_S

gc.disable()  # until all is collected: what is imported stays, and looking through it takes a while

# A hundred tests start the program: each would compile all of it where nothing may be kept compiled.
os.environ.pop("PYTHONDONTWRITEBYTECODE", None)
sys.dont_write_bytecode = False

# A shell has what runs in its background ignore interrupts, and what the tests start would inherit that.
signal.signal(signal.SIGINT, signal.default_int_handler)

settings.register_profile(
    "cogwright",
    max_examples=100 if LONG else 30,
    deadline=None,  # a machine with something else to do is no failure
    derandomize="CI" in os.environ,  # elsewhere every run tries something new
    suppress_health_check=list(HealthCheck),
)
settings.load_profile("cogwright")


def pytest_xdist_auto_num_workers() -> int:
    """Three workers for two cores: some of the time goes into waiting for a terminal or an idle app."""
    return max(2, 3 * (os.cpu_count() or 1) // 2)


@pytest.hookimpl(wrapper=True)
def pytest_collect_file(file_path: Path) -> Generator[None, list[Any], list[Any]]:
    """Leave out the doctests of the tests: there are none, and every worker would look for them."""
    found = yield
    among_tests = file_path.is_relative_to(Path(__file__).parent)
    return [node for node in found if type(node) is pytest.Module or not among_tests]


@pytest.hookimpl(tryfirst=True)
def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Run in full what Hypothesis tries, too; and give what is run in full the time that it needs."""
    for item in items:
        if is_hypothesis_test(getattr(item, "obj", None)):
            item.add_marker(pytest.mark.long)
        if LONG and item.get_closest_marker("long"):
            item.add_marker(pytest.mark.timeout(LONG_LIMIT_S))


@pytest.hookimpl(wrapper=True)
def pytest_runtest_protocol(item: pytest.Item) -> Generator[None, Any, Any]:
    """End the worker whose test does not even heed its limit: another one goes on with the rest."""
    faulthandler.dump_traceback_later(LONG_LIMIT_S + 100, exit=True)
    try:
        return (yield)
    finally:
        faulthandler.cancel_dump_traceback_later()


def pytest_collection_finish() -> None:
    """What is there now stays to the end."""
    signal.signal(signal.SIGINT, signal.default_int_handler)  # whatever importing the program made of it
    gc.freeze()
    gc.enable()
