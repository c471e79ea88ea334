"""Signals in any order, at any time, sent to the sample app on a terminal of its own; one line of JSON a try.

    python storm.py FOLDER SEED TRIES

All is imported once, and each start is a fork of that: there are no threads here. Every try ends with one
SIGCONT, so that whatever was stopped goes on; some with a line that drops instead, which sends its own.
"""

import fcntl
import json
import os
import random
import select
import signal
import sys
import termios
import time
from pathlib import Path

import guarded_app
import textual.drivers.linux_driver  # noqa: F401 - so that no start has to

ENDING = [signal.SIGTERM, signal.SIGHUP, signal.SIGINT, signal.SIGQUIT, signal.SIGABRT]
JOB = [signal.SIGTSTP, signal.SIGTSTP, signal.SIGCONT, signal.SIGCONT, signal.SIGSTOP]
PAUSES_S = (0.0, 0.0, 0.001, 0.005, 0.02, 0.05)
#: Longest that a program may take to end once it has been told to, s: its grace period, on a busy machine.
LIMIT_S = 20.0
NEVER = b"\0no such thing"


class Try:
    """The app on a pseudo-terminal, as its session's leader; what it has written so far."""

    def __init__(self, draft: Path) -> None:
        self.master, self.slave = os.openpty()
        self.before = termios.tcgetattr(self.slave)
        self.output = b""
        self.status: int | None = None
        self.pid = os.fork()
        if self.pid == 0:
            self._run(draft)

    def _run(self, draft: Path) -> None:
        os.setsid()
        fcntl.ioctl(self.slave, termios.TIOCSCTTY, 0)
        for stream in (0, 1, 2):
            os.dup2(self.slave, stream)
        os.closerange(3, 20)
        sys.argv[1:] = [str(draft)]
        sys.exit(guarded_app.main())

    def read(self, seconds: float, until: bytes | None = None) -> None:
        """Read for so long, or until something has been written or the app has ended."""
        end = time.monotonic() + seconds
        while (left := end - time.monotonic()) > 0 and (until is None or until not in self.output):
            if self.master < 0:
                time.sleep(min(left, 0.02))
            elif select.select([self.master], [], [], min(left, 0.02))[0]:
                self.output += os.read(self.master, 65536)
            if until is not None and self.ended():
                return

    def ended(self) -> bool:
        """Whether the app has ended."""
        if self.status is None:
            pid, status = os.waitpid(self.pid, os.WNOHANG)
            self.status = os.waitstatus_to_exitcode(status) if pid else None
        return self.status is not None

    def send(self, number: int) -> None:
        """Send the app a signal."""
        if not self.ended():
            os.kill(self.pid, number)

    def hang_up(self) -> None:
        """Drop the line."""
        os.close(self.slave)
        os.close(self.master)
        self.master = self.slave = -1

    def line_is_as_it_was(self) -> bool:
        """Whether the line settings are those from before; nobody can tell of a line that has dropped."""
        return self.slave < 0 or termios.tcgetattr(self.slave)[:4] == self.before[:4]

    def close(self) -> None:
        """End all of it."""
        if not self.ended():
            os.kill(self.pid, signal.SIGKILL)
            os.waitpid(self.pid, 0)  # which nothing outlives
        if self.slave >= 0:
            self.hang_up()


def storm(chance: random.Random, draft: Path) -> dict[str, object]:
    """One try: what was sent when, and how it ended."""
    app = Try(draft)
    ready = chance.random() < 0.75
    app.read(10.0, b"READY") if ready else app.read(chance.random() * 0.3)
    sent = [chance.choice(JOB + ENDING) for _ in range(chance.randint(1, 6))]
    drops = chance.random() < 0.1
    if not drops and not set(sent) & set(ENDING):
        sent.append(chance.choice(ENDING))
    pauses = [chance.choice(PAUSES_S) for _ in range(len(sent) + 1)]
    for number, pause in zip(sent, pauses, strict=False):
        app.send(number)
        app.read(pause)
    app.hang_up() if drops else app.send(signal.SIGCONT)
    begun = time.monotonic()
    app.read(LIMIT_S, NEVER)
    took = time.monotonic() - begun
    app.read(0.02)
    found = {
        "sent": [number.name for number in sent],
        "pauses": pauses,
        "ready": ready,
        "drops": drops,
        "status": app.status,
        "seconds": round(took, 3),
        "line": app.line_is_as_it_was(),
        "draft": draft.exists(),
        "output": app.output.decode("latin-1"),
    }
    app.close()
    return found


def main() -> None:
    """All tries."""
    folder, seed, tries = sys.argv[1:]
    chance = random.Random(int(seed))
    for at in range(int(tries)):
        print(json.dumps(storm(chance, Path(folder) / f"draft-{seed}-{at}")), flush=True)


if __name__ == "__main__":
    main()
