"""Nothing in the tests can wait for ever: each has a limit, and so has whatever they start."""

import ast
import os
import signal
import time
from collections.abc import Iterator

import pytest

from support import LONG, LONG_LIMIT_S, ROOT, ended, forked

#: What waits for another process, and where a limit stands in it: by keyword, or in the helpers around it.
WAITS = {"run", "check_output", "check_call", "communicate", "wait"}
HELPERS = {"support.py", "ptyterm.py", "storm.py", "mutants.py", "test_no_hangs.py"}


def calls() -> Iterator[tuple[str, ast.Call]]:
    """Calls in the tests that have to do with processes, and where each stands."""
    for path in sorted((ROOT / "tests").rglob("*.py")):
        text = path.read_text(encoding="utf-8")
        for node in ast.walk(ast.parse(text)) if "process" in text or "fork" in text else ():
            if isinstance(node, ast.Call) and isinstance(node.func, ast.Attribute):
                yield f"{path.name}:{node.lineno}: {ast.unparse(node.func)}", node


def test_every_test_has_a_limit(request: pytest.FixtureRequest) -> None:
    assert 0 < float(request.config.getini("timeout")) <= 240


@pytest.mark.long
def test_a_long_one_has_more_in_full(request: pytest.FixtureRequest) -> None:
    own = request.node.get_closest_marker("timeout")
    assert (own.args if own else ()) == ((LONG_LIMIT_S,) if LONG else ())


def test_no_test_waits_for_a_process_without_a_limit() -> None:
    processes = ("subprocess.", "process.", "program.")
    found = list(calls())
    unlimited = [
        where
        for where, call in found
        if isinstance(call.func, ast.Attribute) and call.func.attr in WAITS
        if any(name in f"{ast.unparse(call.func)}" for name in processes)
        if "timeout" not in {keyword.arg for keyword in call.keywords}
    ]
    assert unlimited == []
    raw = {where for where, _ in found if where.endswith((" os.fork", " os.waitpid"))}
    assert {where.split(":")[0] for where in raw} <= HELPERS


def test_a_child_that_hangs_is_ended_and_said() -> None:
    pid = forked(lambda: time.sleep(60))
    with pytest.raises(TimeoutError, match="had not ended after"):
        ended(pid, limit_s=0.05)
    with pytest.raises(ChildProcessError):
        os.waitpid(pid, os.WNOHANG)


def test_a_child_that_fails_does_not_go_on_as_a_second_pytest(capfd: pytest.CaptureFixture[str]) -> None:
    def fails() -> None:
        raise ValueError("on purpose")

    assert os.waitstatus_to_exitcode(ended(forked(fails))) == 1
    assert "on purpose" in capfd.readouterr().err
    assert os.WTERMSIG(ended(forked(lambda: os.kill(os.getpid(), signal.SIGKILL)))) == signal.SIGKILL
