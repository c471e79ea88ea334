"""The sample app as a job of a real shell: stopped and let go on in every way that a shell has."""

import os
import shutil
import signal
import sys
import termios
from collections.abc import Iterator
from pathlib import Path

import guarded_app
import pytest
import textual.drivers.linux_driver  # noqa: F401 - so that no start has to

from cogwright.store.documents import to_toml
from ptyterm import Term
from support import ROOT, make

APP = str(Path(__file__).with_name("guarded_app.py"))
pytestmark = pytest.mark.skipif(shutil.which("bash") is None, reason="no bash here")


class Shell(Term):
    """A shell with a program in the foreground."""

    def __init__(self, command: str, state: Path) -> None:
        env = {"PYTHONPATH": str(ROOT / "src"), "PS1": "shell> "}
        env |= {name: str(state) for name in ("XDG_STATE_HOME", "XDG_CONFIG_HOME")}
        super().__init__(["bash", "--norc", "--noprofile", "--noediting", "-i"], env=env)
        self.wait_for("shell>")
        self.key(f"{sys.executable} {command}\n")

    def comes(self, text: bytes, since: int = 0) -> None:
        """Wait until something is written."""
        assert self.wait_until(lambda: text in self.output[since:]), f"{text!r} has not come:\n{self.text}"

    def types(self, keys: str, then: bytes) -> None:
        """Type, and wait for what is written then."""
        since = len(self.output)
        self.key(keys)
        self.comes(then, since)

    def is_the_shells(self) -> bool:
        """Whether what is typed is seen, and nothing is left switched on."""
        self.types("echo so$((4 + 3))far\n", b"so7far")
        self.settle()
        return [left for left in self.leftovers() if left != "line settings"] == []

    def job(self) -> int:
        """The process id of the app."""
        of_the_shell = Path(f"/proc/{self.process.pid}/task/{self.process.pid}/children").read_text().split()
        (child,) = map(int, of_the_shell)
        return child

    def comes_back(self, edits: int) -> None:
        """The app's screen is there without a key; then it works, and leaves as it should."""
        self.types("fg\n", b"EDITS %d" % edits)
        assert "alternate screen" in self.leftovers()
        self.types("e", b"%d" % (edits + 1))

    def leaves(self) -> None:
        self.types("q", b"shell>")
        self.types("echo status=$?\n", b"status=0")
        assert self.is_the_shells()
        assert termios.tcgetattr(self.slave)[3] & termios.ECHO
        self.key("exit\n")
        self.wait()


@pytest.fixture
def shell(tmp_path: Path) -> Iterator[Shell]:
    """With the sample app after one edit."""
    with Shell(f"{APP} {tmp_path / 'draft'}", tmp_path) as term:
        term.comes(b"READY")
        term.types("e", b"EDITS 1")
        yield term


@pytest.mark.long(cases=0)
def test_it_goes_to_the_shell_by_a_key_or_a_signal_and_comes_back_more_than_once(shell: Shell) -> None:
    """In the background it waits for the terminal."""
    shell.types("z", b"Stopped")
    assert shell.is_the_shells()
    shell.comes_back(1)
    shell.types("z", b"Stopped")
    shell.types("bg\n", b"&")
    assert shell.is_the_shells()
    shell.comes_back(2)
    since = len(shell.output)
    os.kill(shell.job(), signal.SIGTSTP)
    shell.comes(b"Stopped", since)
    assert shell.is_the_shells()
    shell.comes_back(3)
    shell.leaves()


@pytest.mark.long(cases=0)
@pytest.mark.parametrize("stopped_by", ["its key", "SIGSTOP"])
def test_a_stopped_job_ends_when_it_is_told_to(stopped_by: str, shell: Shell, tmp_path: Path) -> None:
    job, since = shell.job(), len(shell.output)
    if stopped_by == "SIGSTOP":
        os.kill(job, signal.SIGSTOP)
    else:
        shell.key("z")
    shell.comes(b"Stopped", since)
    shell.types("kill %1\n", b"shell>")  # which lets it go on, too
    assert shell.wait_until(lambda: not status_of(job))
    shell.types("\n", b"Exit 143")
    assert (tmp_path / "draft").read_text() == "1"
    assert shell.is_the_shells()


def status_of(pid: int) -> str:
    """What the system says of a process; nothing once it is gone."""
    try:
        return Path(f"/proc/{pid}/status").read_text()
    except OSError:
        return ""


@pytest.mark.long(cases=0)
def test_what_cannot_be_caught_stops_it_as_well(shell: Shell) -> None:
    """At SIGSTOP the terminal is as it is until the app is back, and then all is right."""
    since = len(shell.output)
    os.kill(shell.job(), signal.SIGSTOP)
    shell.comes(b"Stopped", since)
    shell.comes_back(1)
    shell.leaves()


@pytest.mark.long(cases=0)
def test_without_a_shell_there_is_nowhere_to_go(tmp_path: Path) -> None:
    """As the command of a connection, say: a program that stopped there would never go on."""
    env = {"PYTHONPATH": str(ROOT / "src")}
    with Term([APP, str(tmp_path / "draft")], env=env, forks=guarded_app.main) as term:
        term.wait_for("READY")
        term.key("z")
        term.wait_for("NO SHELL")
        term.key("e")
        term.wait_for("EDITS 1")
        term.key("q")
        assert term.wait() == 0
        assert term.leftovers() == []


@pytest.mark.long(cases=0)
def test_the_bench_goes_to_the_shell_by_ctrl_z(tmp_path: Path) -> None:
    (tmp_path / "a.toml").write_text(to_toml(make([30, 46], [11, 13, 15, 17, 19, 21, 24])))
    with Shell(f"-m cogwright {tmp_path}", tmp_path / "state") as term:
        term.comes(b"quit")
        term.types("\x1b[A", b"unsaved")
        term.types("\x1a", b"Stopped")
        assert term.is_the_shells()
        term.types("fg\n", b"unsaved")
        assert "alternate screen" in term.leftovers()
        term.types("u", b"24")
        term.leaves()
