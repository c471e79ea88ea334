"""What several tests use: setups made in one line, and the command line run as a user runs it."""

import os
import subprocess
import sys
from collections.abc import Sequence
from pathlib import Path

from cogwright.core.model import Setup

ROOT = Path(__file__).parents[1]


def make(rings: Sequence[int], cogs: Sequence[int], size: str = "40-622", **tables: object) -> Setup:
    """A valid setup of these rings and cogs; a keyword gives a table of the file, `rollout_mm` the wheel."""
    rollout = tables.pop("rollout_mm", None)
    wheel = {"rollout_mm": rollout} if rollout is not None else {"size": size}
    crank = {"rings": list(rings), **dict(tables.pop("crank", {}))}  # type: ignore[call-overload]
    rear = {"cogs": list(cogs), **dict(tables.pop("rear", {}))}  # type: ignore[call-overload]
    return Setup.model_validate({"name": "Test bike", "wheel": wheel, "crank": crank, "rear": rear, **tables})


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
