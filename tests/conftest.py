"""How the tests run: side by side, one profile for Hypothesis, and the program compiled once."""

# ruff: noqa: E402
import os
import sys

# Every worker and every start of the program would compile all there is where nothing may be kept compiled;
# said before anything else is imported.
os.environ.pop("PYTHONDONTWRITEBYTECODE", None)
sys.dont_write_bytecode = False

import faulthandler
import gc
import signal
import time
from collections import defaultdict
from collections.abc import Iterator, Sequence
from contextlib import suppress
from importlib import import_module
from pathlib import Path

import pytest
from hypothesis import HealthCheck, is_hypothesis_test, settings

from support import LONG, LONG_LIMIT_S, spread

TESTS = Path(__file__).parent

gc.disable()  # until all is collected: what is imported stays, and looking through it takes a while

# A shell has what runs in its background ignore interrupts, and what the tests start would inherit that.
signal.signal(signal.SIGINT, signal.default_int_handler)

settings.register_profile(
    "cogwright",
    max_examples=100 if LONG else 6,
    deadline=None,  # a machine with something else to do is no failure
    derandomize="CI" in os.environ,  # elsewhere every run tries something new
    suppress_health_check=list(HealthCheck),
)
settings.load_profile("cogwright")


def pytest_xdist_auto_num_workers() -> int:
    """Three workers for two cores: some of the time goes into waiting for a terminal or an idle app."""
    return max(2, 3 * (os.cpu_count() or 1) // 2)


def pytest_configure(config: pytest.Config) -> None:
    """Pictures of cases that are left for the long run are no mistake."""
    config.option.warn_unused_snapshots = not LONG


def pytest_sessionstart(session: pytest.Session) -> None:
    """Each worker imports the tests from another place on: what one has compiled, the others need not.

    After a fresh checkout that is a third of the time until the first test; what cannot be imported is said
    when it is collected.
    """
    worker = getattr(session.config, "workerinput", None)
    if worker is None or [session.config.rootpath / arg for arg in session.config.args] != [TESTS]:
        return
    modules = sorted(path for path in TESTS.rglob("test_*.py") if path.parent.name != "bench")
    start = len(modules) * int(worker["workerid"].removeprefix("gw")) // worker["workercount"]
    before = [*sys.path]
    sys.path += sorted({str(path.parent) for path in modules})
    for path in [*modules[start:], *modules[:start]]:
        with suppress(Exception):
            import_module(path.stem)
    sys.path[:] = before


@pytest.hookimpl(tryfirst=True)
def pytest_collection_modifyitems(config: pytest.Config, items: list[pytest.Item]) -> None:
    """Run in full what Hypothesis tries, too; give what is run in full its time; leave cases for then."""
    for item in items:
        if is_hypothesis_test(getattr(item, "obj", None)):
            item.add_marker(pytest.mark.long)
        if LONG and item.get_closest_marker("long"):
            item.add_marker(pytest.mark.timeout(LONG_LIMIT_S))
    by_name = any("::" in arg for arg in config.args)  # whoever asks for a test wants it run
    all_of_them = LONG or by_name or config.getoption("update_snapshots", False)  # pictures left out would go
    left = set() if all_of_them else set(left_for_the_long_run(items))
    if left:
        config.hook.pytest_deselected(items=[item for item in items if item in left])
        items[:] = [item for item in items if item not in left]


def left_for_the_long_run(items: Sequence[pytest.Item]) -> Iterator[pytest.Item]:
    """All but so many of the cases of a test marked `long(cases=...)`, those that stay spread over all."""
    tests = defaultdict[str, list[pytest.Item]](list)
    for item in items:
        if "cases" in getattr(item.get_closest_marker("long"), "kwargs", ()):
            tests[item.nodeid.partition("[")[0]].append(item)
    for cases in tests.values():
        few = cases[0].get_closest_marker("long").kwargs["cases"]  # type: ignore[union-attr]
        kept = spread(len(cases), few)
        yield from (item for place, item in enumerate(cases) if place not in kept)


class Watchdog:
    """Ends the worker whose test does not even heed its limit: another one goes on with the rest."""

    until = 0.0

    @classmethod
    def feed(cls) -> None:
        """To start it anew for every test would take longer than most tests do."""
        if cls.until - time.monotonic() < LONG_LIMIT_S + 100:
            cls.until = time.monotonic() + LONG_LIMIT_S + 200
            faulthandler.dump_traceback_later(LONG_LIMIT_S + 200, exit=True)


@pytest.hookimpl(tryfirst=True)
def pytest_runtest_logstart() -> None:
    """Before each test."""
    Watchdog.feed()


def pytest_sessionfinish() -> None:
    """What takes long after the last test is no test."""
    faulthandler.cancel_dump_traceback_later()


def pytest_collection_finish() -> None:
    """What is there now stays to the end."""
    signal.signal(signal.SIGINT, signal.default_int_handler)  # whatever importing the program made of it
    gc.freeze()
    gc.enable()
