"""What a command line can be handed by accident: each gets a clear word and an exit status, quickly."""

import os
import subprocess
import sys
import time
from pathlib import Path

import pytest

from cogwright.store.documents import to_toml
from forking import run_bench
from ptyterm import Term
from support import called, environment, long_cases, make

BIKE = make([30, 46], [11, 13, 15, 17, 19, 21, 24, 28])
#: A full disk, where the system has one to try.
FULL = pytest.mark.skipif(not os.path.exists("/dev/full"), reason="needs /dev/full")


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """A folder with one setup, and an empty one in it."""
    (tmp_path / "bike.toml").write_text(to_toml(BIKE))
    (tmp_path / "empty").mkdir()
    return tmp_path


def shell(script: str, folder: Path) -> subprocess.CompletedProcess[str]:
    env = environment(PY=sys.executable)
    return subprocess.run(
        ["bash", "-c", script], cwd=folder, capture_output=True, text=True, env=env, timeout=60, check=False
    )


def test_an_empty_folder_is_called_one(folder: Path) -> None:
    done = called("check", "empty", cwd=folder)
    assert done.returncode == 1
    assert (
        done.stderr == "empty: there is no setup, bin or course in this folder; name a folder that has some\n"
    )
    assert done.stdout == "no files read, none with problems\n"
    done = called("check", "bike.toml", "empty", cwd=folder)
    assert done.returncode == 1
    assert "1 file read, none with problems" in done.stdout


@pytest.mark.parametrize(
    "args", [("check", ""), ("report", " "), ("card", ""), ("order", "bike.toml", "--bin", ""), ("",)]
)
def test_an_empty_name_is_not_this_folder(args: tuple[str, ...], folder: Path) -> None:
    done = called(*args, cwd=folder)
    assert done.returncode == 2
    assert "the name is empty; name a file or folder" in done.stderr
    assert done.stdout == ""


@FULL
@pytest.mark.long(cases=1)
@pytest.mark.parametrize("args", long_cases(["--help", "check bike.toml", "--version", "report --help"], 2))
def test_help_that_cannot_be_written_is_an_error(args: str, folder: Path) -> None:
    done = shell(f'"$PY" -m cogwright {args} >/dev/full', folder)
    assert done.returncode == 1
    assert done.stderr == "cannot write the output: No space left on device\n"


@pytest.mark.long(cases=0)
@pytest.mark.parametrize(
    "args", long_cases(["report bike.toml", "card bike.toml", "propose bike.toml --even"], 1)
)
def test_a_closed_standard_output_is_an_error(args: str, folder: Path) -> None:
    done = shell(f'"$PY" -m cogwright {args} >&-', folder)
    assert (done.returncode, done.stderr) == (1, "cannot write the output: standard output is closed\n")


@pytest.mark.long(cases=0)
def test_without_standard_error_a_problem_still_has_its_exit_status(folder: Path) -> None:
    done = shell('"$PY" -m cogwright report nosuch.toml 2>&-', folder)
    assert (done.returncode, done.stdout) == (1, "")


@pytest.mark.long
@pytest.mark.parametrize(
    "columns", long_cases(["99999", "1" * 5000, "-3", "wide"], 1), ids=lambda text: text[:6]
)
def test_a_size_that_no_terminal_has_is_left_out(columns: str, folder: Path) -> None:
    env = {"PYTHONPATH": environment()["PYTHONPATH"], "COLUMNS": columns, "LINES": columns}
    with Term(["cogwright", "report", "bike.toml"], env=env, cwd=folder, forks=run_bench) as term:
        assert term.wait() == 0
        lines = [line for line in bytes(term.output).decode().splitlines() if line.strip()]
    assert max(map(len, lines)) <= 80  # what the terminal itself says


@pytest.mark.long(cases=0)
def test_a_believable_size_is_kept(folder: Path) -> None:
    env = {"PYTHONPATH": environment()["PYTHONPATH"], "COLUMNS": "60"}
    with Term(["cogwright", "report", "bike.toml"], env=env, cwd=folder, forks=run_bench) as term:
        assert term.wait() == 0
        assert max(map(len, bytes(term.output).decode().splitlines())) <= 60


GPX = "<gpx><trk><trkseg>{}</trkseg></trk></gpx>"
POINT = '<trkpt lat="{}" lon="8"><ele>{}</ele></trkpt>'


def test_a_gpx_of_one_point(folder: Path) -> None:
    (folder / "one.gpx").write_text(GPX.format(POINT.format(50, 100)))
    done = called("check", "one.gpx", cwd=folder)
    assert done.returncode == 1
    assert done.stderr == "one.gpx: its track is a single point; record or draw a longer one\n"


def test_a_gpx_from_pole_to_pole(folder: Path) -> None:
    """Half round a sphere of the Earth's mean radius, 6,371.0088 km (IUGG): pi times that, 20,015 km."""
    (folder / "poles.gpx").write_text(GPX.format(POINT.format(90, 0) + POINT.format(-90, 100)))
    begun = time.process_time()
    for args in (("check", "poles.gpx"), ("report", "bike.toml", "--course", "poles.gpx")):
        done = called(*args, cwd=folder)
        assert done.returncode == 1
        assert "poles.gpx: the track is 20,015 km long, and 5,000 km are the most" in done.stderr
    assert time.process_time() - begun < 5


def test_a_tyre_by_its_everyday_name_is_answered_with_its_marking(folder: Path) -> None:
    text = to_toml(BIKE)
    for name, words in {
        "700x32C": "'700x32C' is not a tyre marking; write \"32-622\"",
        "28 inch": "write what the tyre's side says: it can be 37-622, 47-622 or 40-635",
        "large": "47-559 (26 x 1.75)",
    }.items():
        (folder / "bike.toml").write_text(text.replace("40-622", name))
        done = called("check", "bike.toml", cwd=folder)
        assert done.returncode == 1
        assert words in done.stderr
        assert "bike.toml:5: wheel.size: " in done.stderr
