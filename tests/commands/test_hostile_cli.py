"""Hostile names and texts through the whole command line: clean output, clean errors, no traceback."""

import os
import subprocess
import unicodedata
from pathlib import Path

import pytest

from cogwright.cli import COMMANDS
from cogwright.store.documents import to_toml
from support import called, make

EVIL = "\x1b]0;x\x07\x1b[31m\u202e[@click=app.quit]=1+1\u6f22\u0301\u0301\u0301\u0301[/b]"
NAMES = [
    b"\x1b[2Jx.toml",
    "\u202egnp.toml".encode(),
    b"\xff\xfe.toml",
    b"a\nb.toml",
    "\u6f22\u5b57.toml".encode(),
]


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """Good and bad files under names of any bytes, each with a hostile text in it."""
    good = to_toml(make([30, 46], [11, 13, 15, 17], size="40-622")).replace("Test bike", "NAME")
    literal = "".join(f"\\U{ord(char):08x}" for char in EVIL)
    texts = [
        good.replace("NAME", literal),
        f'"{literal}" = 1\nname = "{literal}"\nformat = "{literal}"',
        "\x1b[2J",
    ]
    for number, name in enumerate(NAMES):
        Path(os.fsdecode(os.fsencode(tmp_path) + b"/" + name)).write_text(texts[number % 3])
    (tmp_path / "evil.toml").write_text(texts[0] + f'[shifters]\nfamily = "{literal}"\n')
    (tmp_path / "loop.toml").symlink_to("loop.toml")
    os.mkfifo(tmp_path / "pipe.toml")
    return tmp_path


def run(folder: Path, *args: str | bytes) -> subprocess.CompletedProcess[str]:
    """The command line, checked for all that a terminal would obey."""
    return checked(called(*args, cwd=folder))


def checked(done: subprocess.CompletedProcess[str]) -> subprocess.CompletedProcess[str]:
    for out in (done.stdout, done.stderr):
        assert "Traceback" not in out
        assert [c for c in out if unicodedata.category(c) in {"Cc", "Cf", "Cs"} and c != "\n"] == []
    return done


def test_check_of_everything(folder: Path) -> None:
    done = run(folder, "check", ".")
    assert done.returncode == 1
    assert "8 files read, 5 with problems" in done.stdout


@pytest.mark.parametrize("form", ["text", "markdown", "csv", "json"])
def test_reports(form: str, folder: Path) -> None:
    done = run(folder, "report", "evil.toml", "--baseline", "evil.toml", "--format", form)
    assert done.returncode == 0, done.stderr
    assert "click=app.quit" in done.stdout


#: Further commands and what they need besides a setup; one that is not there yet is not run.
MORE = [("order", "--baseline", "evil.toml"), ("propose", "--even"), ("card",)]


@pytest.mark.parametrize("more", [one for one in MORE if one[0] in COMMANDS], ids=lambda more: more[0])
def test_other_commands(more: tuple[str, ...], folder: Path) -> None:
    assert run(folder, more[0], "evil.toml", *more[1:]).returncode in {0, 1}


MISSING = [b"loop.toml", b"pipe.toml", b"/dev/zero", b"nosuch", b"x" * 300, b"x/" * 3000]


def test_names_of_any_bytes(folder: Path) -> None:
    done = checked(called("check", *NAMES, *MISSING, cwd=folder))
    assert done.returncode == 1
    assert "11 files read, 9 with problems" in done.stdout


@pytest.mark.parametrize("name", [NAMES[0], b"x" * 300])
def test_a_name_that_the_bench_cannot_open(name: bytes, folder: Path) -> None:
    done = called(name + b"\x1b[2J", cwd=folder)
    assert checked(done).returncode in {1, 2}


def test_a_hostile_argument(folder: Path) -> None:
    assert run(folder, "report", "evil.toml", "\x1b[2J", b"--\xff").returncode == 2
