"""A program in a pseudo-terminal: keys in, bytes and screen out, and the modes that it leaves behind.

with Term([sys.executable, "-m", "cogwright", "setups"]) as term:
    term.wait_for("Yard 1")
    term.key("q")
    assert term.wait() == 0
    assert term.leftovers() == []
"""

import fcntl
import os
import re
import select
import signal
import struct
import subprocess
import sys
import termios
import time
from collections.abc import Callable, Mapping, Sequence
from types import TracebackType
from typing import Self

import pyte

from support import forked

#: A mode's name, what switches it on and what off (as an application uses it: wrap and cursor start on).
MODES = {
    "alternate screen": (b"\x1b[?1049h", b"\x1b[?1049l"),
    "mouse 1000": (b"\x1b[?1000h", b"\x1b[?1000l"),
    "mouse 1003": (b"\x1b[?1003h", b"\x1b[?1003l"),
    "mouse 1006": (b"\x1b[?1006h", b"\x1b[?1006l"),
    "mouse 1016": (b"\x1b[?1016h", b"\x1b[?1016l"),
    "cursor hidden": (b"\x1b[?25l", b"\x1b[?25h"),
    "bracketed paste": (b"\x1b[?2004h", b"\x1b[?2004l"),
    "focus reports": (b"\x1b[?1004h", b"\x1b[?1004l"),
    "no wrap": (b"\x1b[?7l", b"\x1b[?7h"),
    "synchronised": (b"\x1b[?2026h", b"\x1b[?2026l"),
    "in-band resize": (b"\x1b[?2048h", b"\x1b[?2048l"),
}
_KITTY_ON, _KITTY_OFF = re.compile(rb"\x1b\[>\d+u"), b"\x1b[<u"
#: Private sequences that pyte would print.
_UNKNOWN = re.compile(rb"\x1b\[[<>=][0-9;]*[a-zA-Z]|\x1b\[\?[0-9;]*\$p|\x1b\][^\x07\x1b]*(?:\x07|\x1b\\)")
_PLACED = re.compile(rb"\x1b\[[0-9;]*H")
_UNFINISHED = re.compile(rb"\x1b(?:\[[<>=?0-9;$]*|\][^\x07\x1b]*)?$")
#: Bytes taken at once from a slow line.
SLOW_READ = 128
_UNSET = ("COLUMNS", "LINES", "NO_COLOR", "COLORTERM", "TMUX", "TERM_PROGRAM", "SSH_TTY", "SSH_CONNECTION",
          "PYTHONDONTWRITEBYTECODE")  # fmt: skip


class Emulator:
    """What a terminal shows of bytes as they come, cut anywhere. `reply` gets its answers to questions."""

    def __init__(self, rows: int, cols: int, reply: Callable[[str], None] | None = None) -> None:
        self.pyte = pyte.Screen(cols, rows)
        if reply is not None:
            self.pyte.write_process_input = reply
            self.pyte.report_device_attributes = lambda *_, **__: None
        self._stream = pyte.ByteStream(self.pyte)
        self._tail = b""

    def feed(self, part: bytes) -> None:
        """More output."""
        data = self._tail + part
        cut = _UNFINISHED.search(data)
        self._tail = data[cut.start() :] if cut else b""
        try:
            self._stream.feed(_UNKNOWN.sub(b"", data[: cut.start()] if cut else data))
        except TypeError:  # a sequence cut off by a flush has too many figures: a terminal leaves it out
            self._stream = pyte.ByteStream(self.pyte)

    @property
    def text(self) -> str:
        """The screen as one text."""
        return "\n".join(self.pyte.display)


class Term:
    """A program started on a pseudo-terminal of its own, as its session leader.

    `env` adds to a plain environment (TERM=xterm-256color, LANG=C.UTF-8); a value of None removes a variable.
    `rate` makes it a slow line: so many bytes a second and no more are read. `answers` are what the terminal
    replies to which question, once it has drawn what came before; without them it says where its cursor is.
    `forks` is what to run in a process forked from this one, which has imported it, in place of a start.
    `chunks` are the times (perf_counter, s) and bytes of all output read so far; `started` the time of start.
    """

    def __init__(
        self,
        argv: Sequence[str],
        rows: int = 24,
        cols: int = 80,
        env: Mapping[str, str | None] | None = None,
        cwd: str | os.PathLike[str] | None = None,
        rate: float | None = None,
        answers: Mapping[bytes, bytes] | None = None,
        forks: Callable[[], int] | None = None,
    ) -> None:
        self.rows, self.cols, self.rate = rows, cols, rate
        self._answers, self._unanswered = dict(answers or {}), b""
        self.chunks: list[tuple[float, bytes]] = []
        self._emulator = Emulator(rows, cols, self._say if answers is None else None)
        self.master, self.slave = os.openpty()
        os.set_blocking(self.master, False)
        self._set_size()
        self.attributes = termios.tcgetattr(self.slave)
        self.started = time.perf_counter()
        self.process: subprocess.Popen[bytes] | Forked
        if forks is not None:
            self.process = Forked(forks, argv, self.slave, environment(env), cwd or os.curdir)
        else:
            self.process = subprocess.Popen(
                argv,
                stdin=self.slave,
                stdout=self.slave,
                stderr=self.slave,
                env=environment(env),
                cwd=cwd,
                preexec_fn=_lead_session,  # noqa: PLW1509 - no threads here
            )

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        self.close()

    def read(self, quiet: float = 0.05, limit: float = 10.0, until: bytes | None = None) -> bytes:
        """Output until there is none for `quiet` seconds after the first, or until it holds `until`."""
        out = b""
        end = time.perf_counter() + limit
        while (left := end - time.perf_counter()) > 0:
            ready, _, _ = select.select([self.master], [], [], min(quiet, left) if out else left)
            part = self._read_once() if ready else b""
            out += part
            if not part or (until is not None and until in out):
                break
        return out

    def settle(self, quiet: float = 0.1, limit: float = 20.0) -> bytes:
        """Output until nothing has come for `quiet` seconds."""
        out, end = b"", time.perf_counter() + limit
        while time.perf_counter() < end and (part := self.read(quiet, limit=quiet)):
            out += part
        return out

    def wait_until(self, holds: Callable[[], bool], limit: float = 30.0) -> bool:
        """Read until it holds; False if the time or the program has ended first."""
        end = time.perf_counter() + limit
        while not holds():
            left = end - time.perf_counter()
            if left <= 0 or (
                not self.read(quiet=0.005, limit=min(left, 0.1)) and self.process.poll() is not None
            ):
                return holds()
        return True

    def _read_once(self) -> bytes:
        try:
            part = os.read(self.master, 65536 if self.rate is None else SLOW_READ)
        except OSError:  # nothing there, or nobody has the other end any more
            return b""
        self.chunks.append((time.perf_counter(), part))
        self._emulator.feed(part)
        if self.rate is not None:
            time.sleep(len(part) / self.rate)
        self._answer(part)
        return part

    def _say(self, reply: str) -> None:
        os.write(self.master, reply.encode())

    def _answer(self, drawn: bytes) -> None:
        """Reply to the questions in the output; one may come in two pieces."""
        data = self._unanswered + drawn
        for question, reply in self._answers.items():
            for _ in range(data.count(question)):
                os.write(self.master, reply)
                data = data.replace(question, b"", 1)
        self._unanswered = data[-16:]

    def wait_for(self, text: str, limit: float = 30.0) -> None:
        """Read until the screen shows the text. Raises TimeoutError with the screen as it is."""
        if not self.wait_until(lambda: text in self.text, limit):
            raise TimeoutError(f"{text!r} is not on the screen:\n{self.text}")

    @property
    def screen(self) -> list[str]:
        """The rows of the screen as they are now."""
        return list(self._emulator.pyte.display)

    @property
    def text(self) -> str:
        """The screen as one text."""
        return "\n".join(self.screen)

    @property
    def output(self) -> bytes:
        """All output read so far."""
        return b"".join(part for _, part in self.chunks)

    def key(self, keys: str | bytes, limit: float = 30.0) -> None:
        """Type; reads meanwhile where the program takes no more, for it may wait for that.

        Raises TimeoutError if it takes nothing at all.
        """
        left, end = keys.encode() if isinstance(keys, str) else keys, time.perf_counter() + limit
        while left:
            try:
                left = left[os.write(self.master, left) :]
            except BlockingIOError:
                self.read(quiet=0.005, limit=0.01)
                if time.perf_counter() > end:
                    raise TimeoutError(f"{len(left)} bytes are not taken:\n{self.text}") from None

    def press(self, keys: str | bytes, quiet: float = 0.06, limit: float = 5.0) -> bytes:
        """Type and read what it draws."""
        self.key(keys)
        return self.read(quiet, limit)

    def resize(self, rows: int, cols: int) -> None:
        """Give the terminal another size."""
        self.rows, self.cols = rows, cols
        self._emulator.pyte.resize(rows, cols)
        self._set_size()
        self.signal(signal.SIGWINCH)

    def _set_size(self) -> None:
        fcntl.ioctl(self.master, termios.TIOCSWINSZ, struct.pack("HHHH", self.rows, self.cols, 0, 0))

    def signal(self, number: int) -> None:
        """Send the program a signal."""
        self.process.send_signal(number)

    def wait(self, limit: float = 30.0, reading: bool = True) -> int:
        """The exit status; reads on meanwhile unless the terminal is to stall. Raises TimeoutError."""
        end = time.perf_counter() + limit
        while self.process.poll() is None:
            if time.perf_counter() > end:
                raise TimeoutError(f"still running:\n{self.text}")
            if reading:
                self.read(quiet=0.01, limit=0.05)
            else:
                time.sleep(0.01)
        self.settle()
        return self.process.returncode

    def stall(self) -> None:
        """Fill the terminal, as a line does that takes no more: what the program writes waits for a read."""
        handle = os.open(os.ttyname(self.slave), os.O_WRONLY | os.O_NONBLOCK | os.O_NOCTTY)
        refused = 0
        while refused < 5:  # the kernel moves what it has taken between its buffers, and then takes more
            try:
                os.write(handle, b"\0" * 1024)
                refused = 0
            except BlockingIOError:
                refused += 1
                time.sleep(0.01)
        os.close(handle)

    def hang_up(self) -> None:
        """Drop the line: the program gets SIGHUP and its terminal is gone."""
        os.close(self.slave)
        os.close(self.master)
        self.master = self.slave = -1

    def leftovers(self) -> list[str]:
        """What was switched on and not off again: modes, line settings; and a drawing after it had left."""
        left = left_on(self.output)
        if left == [] and _PLACED.search(self.output.rpartition(MODES["alternate screen"][1])[2]):
            left.append("a drawing on the shell's screen")
        if termios.tcgetattr(self.slave)[:4] != self.attributes[:4]:
            left.append("line settings")
        return left

    def memory_mb(self) -> float:
        """Resident memory of the program now."""
        return self._status("VmRSS") / 1024

    def peak_mb(self) -> float:
        """Resident memory of the program at its most."""
        return self._status("VmHWM") / 1024

    def _status(self, name: str) -> int:
        with open(f"/proc/{self.process.pid}/status", encoding="ascii") as file:
            return next(int(line.split()[1]) for line in file if line.startswith(name))

    def cpu_s(self) -> float:
        """Processor time that the program has used, in s."""
        with open(f"/proc/{self.process.pid}/stat", encoding="ascii") as file:
            fields = file.read().rsplit(")", 1)[1].split()
        return (int(fields[11]) + int(fields[12])) / os.sysconf("SC_CLK_TCK")

    def close(self) -> None:
        """End the program if it still runs, and the terminal."""
        if self.process.poll() is None and "COVERAGE_RUN" in os.environ:
            self._let_it_tell()
        if self.process.poll() is None:
            self.process.kill()
            self.process.wait(timeout=30)
        for handle in (self.master, self.slave):
            if handle >= 0:
                os.close(handle)
        self.master = self.slave = -1

    def _let_it_tell(self, limit: float = 5.0) -> None:
        """Ask the program to end, so that it can write down which lines it has run: killed it cannot."""
        self.process.send_signal(signal.SIGTERM)
        end = time.monotonic() + limit
        while self.process.poll() is None and self.master >= 0 and time.monotonic() < end:
            self.read(quiet=0.05, limit=0.1)


class Forked:
    """A process forked from this one, with what is needed of `subprocess.Popen`."""

    def __init__(
        self,
        work: Callable[[], int],
        argv: Sequence[str],
        slave: int,
        env: Mapping[str, str],
        cwd: str | os.PathLike[str],
    ) -> None:
        self.returncode: int | None = None

        def begin() -> None:
            for stream in (0, 1, 2):
                os.dup2(slave, stream)
            os.closerange(3, 256)
            _lead_session()
            os.environ.clear()
            os.environ.update(env)
            os.chdir(cwd)
            sys.argv = [*argv]
            os._exit(self._worked(work))

        self.pid = forked(begin)

    def _worked(self, work: Callable[[], int]) -> int:
        """The exit status of the work, with streams and signals as a program that starts has them."""
        signal.signal(signal.SIGINT, signal.default_int_handler)
        sys.stdin, sys.stdout, sys.stderr = (os.fdopen(at, how) for at, how in enumerate("rww"))
        for name in ("stdin", "stdout", "stderr"):
            setattr(sys, f"__{name}__", getattr(sys, name))
        try:
            return work()
        except SystemExit as left:
            return int(left.code or 0)
        finally:
            sys.stdout.flush()
            sys.stderr.flush()

    def poll(self) -> int | None:
        """The exit status once it has ended, negative for a signal."""
        if self.returncode is None:
            done, status = os.waitpid(self.pid, os.WNOHANG)
            self.returncode = os.waitstatus_to_exitcode(status) if done else None
        return self.returncode

    def wait(self, timeout: float) -> int:
        """The same, waited for. Raises TimeoutError."""
        end = time.monotonic() + timeout
        while (status := self.poll()) is None:
            if time.monotonic() > end:
                raise TimeoutError(f"process {self.pid} had not ended after {timeout} s")
            time.sleep(0.002)
        return status

    def send_signal(self, number: int) -> None:
        """Send it a signal, if it still runs."""
        if self.poll() is None:
            os.kill(self.pid, number)

    def kill(self) -> None:
        """End it."""
        self.send_signal(signal.SIGKILL)


def left_on(output: bytes) -> list[str]:
    """The modes that are switched on in some output and not off again."""
    left = [name for name, (on, off) in MODES.items() if output.rfind(on) > output.rfind(off)]
    if len(_KITTY_ON.findall(output)) > output.count(_KITTY_OFF):
        left.append("kitty keys")
    return left


def environment(changes: Mapping[str, str | None] | None = None) -> dict[str, str]:
    """The environment of the tests without what describes their own terminal, and with changes."""
    plain = {name: value for name, value in os.environ.items() if name not in _UNSET}
    wanted: dict[str, str | None] = {"TERM": "xterm-256color", "LANG": "C.UTF-8", **(changes or {})}
    return {name: value for name, value in {**plain, **wanted}.items() if value is not None}


def _lead_session() -> None:
    os.setsid()
    fcntl.ioctl(0, termios.TIOCSCTTY, 0)
