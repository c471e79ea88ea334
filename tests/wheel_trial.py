"""Install the built wheel as a user does, by pipx and by uv, and do a little work with it.

    .venv/bin/python tests/wheel_trial.py

Each installed program lays its demo out and opens it in a terminal, checks it and reports on a bike of it.
Where neither pipx nor uv can be had, a plain environment serves instead; of the Pythons that are promised,
those that are on this machine are tried.
"""

import os
import shutil
import subprocess
import sys
import tempfile
from collections.abc import Iterator
from pathlib import Path

from ptyterm import Term

ROOT = Path(__file__).parents[1]
TRIAL = "demo/yard-1-first-trial.toml"
#: Longest that a command may take, s: only one that hangs does.
LIMIT_S = 120
PYTHONS = ("3.11", "3.12", "3.13")


def run(*command: str | Path, cwd: Path = ROOT, **env: str | Path) -> str:
    """What the command prints. Raises CalledProcessError."""
    more = {name: str(value) for name, value in env.items()}
    done = subprocess.run(
        [*map(str, command)],
        cwd=cwd,
        env=os.environ | more,
        text=True,
        check=True,
        stdout=subprocess.PIPE,
        stdin=subprocess.DEVNULL,
        timeout=LIMIT_S,
    )
    return done.stdout


def succeeds(*command: str | Path) -> bool:
    try:
        done = subprocess.run(
            [*map(str, command)],
            capture_output=True,
            check=False,
            stdin=subprocess.DEVNULL,
            timeout=LIMIT_S,
        )
    except subprocess.TimeoutExpired:  # an index that does not answer, say
        return False
    return done.returncode == 0


def python(version: str) -> Path | None:
    """A Python of this version, on the path or beside the one that runs this, if it is here and runs."""
    beside = Path(sys.base_prefix).parent.glob(f"{version}.*/bin/python")
    on_path = shutil.which(f"python{version}")
    found = [*([Path(on_path)] if on_path else []), *beside]
    return next((path for path in found if succeeds(path, "-c", "pass")), None)


def installed(wheel: Path, folder: Path) -> Iterator[tuple[str, Path]]:
    """Every way of installing that this machine has, and the program that it made."""
    run(sys.executable, "-m", "venv", folder / "tools")
    tools = folder / "tools" / "bin"
    if not succeeds(tools / "pip", "install", "-q", "pipx", "uv"):
        run(tools / "pip", "install", "-q", wheel)
        yield "pip, for want of pipx and uv", tools / "cogwright"
        return
    run(tools / "pipx", "install", "-q", wheel, PIPX_HOME=folder / "pipx", PIPX_BIN_DIR=folder / "pipx-bin")
    yield "pipx install", folder / "pipx-bin" / "cogwright"
    uv = {"UV_TOOL_DIR": folder / "uv", "UV_TOOL_BIN_DIR": folder / "uv-bin", "UV_PYTHON_DOWNLOADS": "never"}
    for version in PYTHONS:
        if (base := python(version)) is None:
            print(f"not on this machine: Python {version}")
            continue
        run(tools / "uv", "tool", "install", "-q", "--force", "--python", base, wheel, **uv)
        yield f"uv tool install, Python {version}", folder / "uv-bin" / "cogwright"


def works(program: Path, folder: Path) -> None:
    """The demo out of the wheel laid out, opened and left; check, report; away from the source tree."""
    shutil.rmtree(folder / "demo", ignore_errors=True)
    with Term(
        [str(program), "demo", "demo"], env={"XDG_STATE_HOME": str(folder / "state")}, cwd=folder
    ) as term:
        term.wait_for("36x45")
        term.key("q")
        assert term.wait() == 0
        assert term.leftovers() == []
    run(program, "check", "demo", cwd=folder)
    assert "36x45" in run(program, "report", TRIAL, cwd=folder)


def main() -> int:
    """Try every way; the exit status."""
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        run(sys.executable, "-m", "pip", "wheel", "-q", "--no-deps", "-w", folder / "wheel", ".")
        (wheel,) = (folder / "wheel").glob("*.whl")
        for how, program in installed(wheel, folder):
            works(program, folder)
            print(f"works: {how}", flush=True)
    return 0


if __name__ == "__main__":
    sys.exit(main())
