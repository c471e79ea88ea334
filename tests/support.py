"""What several tests use: setups made in one line, and the command line run as a user runs it."""

import io
import os
import subprocess
import sys
from collections.abc import Sequence
from contextlib import chdir, redirect_stderr, redirect_stdout
from pathlib import Path

from cogwright.core.setup.model import Setup

ROOT = Path(__file__).parents[1]


def make(rings: Sequence[int], cogs: Sequence[int], size: str = "40-622", **tables: object) -> Setup:
    """A valid setup of these rings and cogs; a keyword gives a table of the file, `rollout_mm` the wheel."""
    rollout = tables.pop("rollout_mm", None)
    wheel = {"rollout_mm": rollout} if rollout is not None else {"size": size}
    crank = {"rings": list(rings), **dict(tables.pop("crank", {}))}  # type: ignore[call-overload]
    rear = {"cogs": list(cogs), **dict(tables.pop("rear", {}))}  # type: ignore[call-overload]
    return Setup.model_validate({"name": "Test bike", "wheel": wheel, "crank": crank, "rear": rear, **tables})


def called(*args: str | Path, cwd: Path) -> subprocess.CompletedProcess[str]:
    """The command line run within this process: a third of the time, where no process is to be proved."""
    from cogwright.cli import main

    out, err = io.StringIO(), io.StringIO()
    with chdir(cwd), redirect_stdout(out), redirect_stderr(err):
        try:
            status = main([*map(str, args)])
        except SystemExit as left:
            status = int(left.code or 0)
    return subprocess.CompletedProcess(args, status, out.getvalue(), err.getvalue())


def environment(**more: str) -> dict[str, str]:
    """The environment with the source tree importable, so that the tests need no installed program."""
    return os.environ | {"PYTHONPATH": str(ROOT / "src")} | more


def cogwright(*args: str | Path, cwd: Path | None = None) -> subprocess.CompletedProcess[str]:
    """Run `cogwright` with these arguments in a process of its own, without a terminal."""
    return subprocess.run(
        [sys.executable, "-m", "cogwright", *map(str, args)],
        capture_output=True,
        text=True,
        cwd=cwd,
        env=environment(),
        stdin=subprocess.DEVNULL,
        timeout=60,
        check=False,
    )
