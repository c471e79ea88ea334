"""What the program does to the machine besides its job: nothing. Python's audit events are the witness."""

import os
import subprocess
import sys
from pathlib import Path

import pytest

from cogwright.store.documents import read_setup, to_toml
from ptyterm import Term
from support import ROOT, environment, make

pytestmark = pytest.mark.skipif(
    "COVERAGE_RUN" in os.environ, reason="what counts the lines writes files of its own, which are seen too"
)

#: Runs the command line and writes down every network call, process, pickle and opened-for-writing path.
WITNESS = """
import os, sys
log = os.open(os.environ["WITNESS"], os.O_WRONLY | os.O_CREAT | os.O_APPEND)
WATCHED = ("socket.connect", "socket.bind", "socket.getaddrinfo", "socket.sendto", "subprocess.", "os.system",
           "os.exec", "os.posix_spawn", "os.fork", "pickle.", "urllib.", "webbrowser.", "http.", "ftplib.",
           "smtplib.", "os.remove", "os.rename", "os.link", "os.symlink", "os.mkdir", "shutil.")
WRITING = os.O_WRONLY | os.O_RDWR | os.O_CREAT | os.O_TRUNC | os.O_APPEND
def witness(event, args):
    if event == "open":
        if isinstance(args[0], (str, bytes)) and isinstance(args[2], int) and args[2] & WRITING:
            note("write " + os.path.abspath(os.fsdecode(args[0])))
    elif event.startswith(WATCHED):
        note(event + " " + " ".join(map(str, args)))
def note(line):
    os.write(log, (line + "\\n").encode("utf-8", "replace"))
sys.addaudithook(witness)
from cogwright.cli import main
sys.exit(main())
"""


#: The events of the job itself; where they may happen is checked too.
FILES = ("write ", "os.rename ", "os.remove ", "os.link ", "os.mkdir ")


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """A folder with two setups."""
    shelf = tmp_path / "shelf"
    shelf.mkdir()
    for name in ("a", "b"):
        (shelf / f"{name}.toml").write_text(to_toml(make([30, 46], [11, 13, 15, 17, 19, 21])))
    return shelf


def seen(tmp_path: Path) -> list[str]:
    return (tmp_path / "witness").read_text().splitlines() if (tmp_path / "witness").exists() else []


def env(tmp_path: Path) -> dict[str, str]:
    kept = {"HOME": str(tmp_path / "home"), "XDG_STATE_HOME": str(tmp_path / "state")}
    return {"WITNESS": str(tmp_path / "witness"), "PYTHONDONTWRITEBYTECODE": "1", **kept}


@pytest.mark.long(cases=0)
@pytest.mark.parametrize("args", [("report", "a.toml", "--baseline", "b.toml"), ("check", ".")])
def test_commands_only_read(args: tuple[str, ...], folder: Path, tmp_path: Path) -> None:
    argv = [sys.executable, "-c", WITNESS, *args]
    done = subprocess.run(
        argv, cwd=folder, env=environment(**env(tmp_path)), capture_output=True, check=False, timeout=60
    )
    assert done.returncode == 0, done.stderr
    assert seen(tmp_path) == []


@pytest.mark.long(cases=0)
def test_the_bench_writes_only_to_its_folder_and_its_state(folder: Path, tmp_path: Path) -> None:
    source = str(ROOT / "src")
    with Term(
        [sys.executable, "-c", WITNESS, str(folder)], env={"PYTHONPATH": source, **env(tmp_path)}
    ) as term:
        term.wait_for("quit")
        before = read_setup(folder / "a.toml").value
        term.key("\x1b[A")  # another cog
        term.wait_for("unsaved")
        term.key("s")
        term.wait_for("as it came in")
        term.key("w")
        term.wait_for("Saved")
        term.key("q")
        assert term.wait() == 0
    assert read_setup(folder / "a.toml").value != before
    done = seen(tmp_path)
    assert any(str(folder) in line for line in done)  # the witness was awake
    assert [line for line in done if not line.startswith(FILES)] == []
    ours = (str(folder), str(tmp_path / "state"), "/dev/")
    assert [line for line in done if not line.split(" ", 1)[1].startswith(ours)] == []
