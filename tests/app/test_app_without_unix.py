"""The bench on a system that lacks what only Unix has: started, edited, saved, and its draft recovered."""

import subprocess
import sys
from pathlib import Path

import pytest

from cogwright.store.documents import read_setup, to_toml
from support import environment, make

SETUP = make([30, 46], [11, 13, 15, 17, 19, 21, 24])
#: What Windows has not: modules, and names of `os` and `signal`.
BLOCKED = ("termios", "fcntl", "tty", "pty", "pwd", "grp", "resource")
OF_OS = (
    "get_blocking", "set_blocking", "getpgrp", "tcgetpgrp", "killpg", "getuid", "geteuid", "fork", "fchmod",
    "fchown", "O_NOFOLLOW", "O_NONBLOCK", "O_NOCTTY", "O_DIRECTORY",
)  # fmt: skip
OF_SIGNAL = (
    "SIGHUP", "SIGTSTP", "SIGCONT", "SIGSTOP", "SIGQUIT", "SIGKILL", "SIGTTOU", "SIGTTIN", "SIGWINCH",
    "SIGPIPE", "SIGALRM", "SIGUSR1", "SIGUSR2", "pthread_sigmask", "sigwait", "setitimer", "pause",
)  # fmt: skip

BENCH = f"""
import asyncio, os, signal, sys, tempfile
import filelock, platformdirs  # these look for what Linux has, for they know where they are
for name in {BLOCKED!r}:
    sys.modules[name] = None
for module, names in ((os, {OF_OS!r}), (signal, {OF_SIGNAL!r})):
    for name in names:
        if hasattr(module, name):
            delattr(module, name)
from pathlib import Path
from cogwright.app.main import BenchApp
from cogwright.app.safety.signals import guard

def run(*keys):
    app = BenchApp([Path("shelf")])
    async def pilot(pilot):
        await pilot.pause()
        seen.append(app.store.session)
        await pilot.press(*keys)
        await pilot.pause()
        seen.append(app.store.session)
        app.exit()
    with guard(app, app.drafts.keep) as ending:
        app.run(headless=True, size=(80, 24), auto_pilot=pilot)
    app.drafts.close()
    assert not ending.status and not app.return_code, (ending.status, app.return_code)

seen = []
run("up", "s", "w")
assert seen[-1].message.startswith("Saved"), seen[-1].message
run("up", "ctrl+z")  # there is no shell to go back to; then it ends as if the line had dropped
assert seen[-1].unsaved
run("t")
assert seen[-2].over, "the draft is offered"
assert seen[-1].unsaved and seen[-1].bench.rear.cogs[-1] == 26, seen[-1].bench.rear.cogs
print("all done")
"""


@pytest.mark.long(cases=0)
def test_the_bench_without_what_only_unix_has(tmp_path: Path) -> None:
    (tmp_path / "shelf").mkdir()
    (tmp_path / "shelf" / "a.toml").write_text(to_toml(SETUP))
    state, headless = str(tmp_path / "state"), "textual.drivers.headless_driver:HeadlessDriver"
    env = environment(XDG_STATE_HOME=state, XDG_CONFIG_HOME=state, TEXTUAL_DRIVER=headless)
    argv = [sys.executable, "-c", BENCH]
    done = subprocess.run(
        argv, cwd=tmp_path, env=env, capture_output=True, text=True, timeout=100, check=False
    )
    assert done.returncode == 0, done.stderr
    assert done.stdout.endswith("all done\n")
    assert read_setup(tmp_path / "shelf" / "a.toml").value.rear.cogs[-1] == 25
