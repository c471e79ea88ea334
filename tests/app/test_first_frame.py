"""The first frame: it has its bars, and waits for no plotting library."""

import subprocess
import sys
from pathlib import Path

import pytest

from support import ROOT, environment

FIRST_FRAME = """
import asyncio, sys
from pathlib import Path
from cogwright.app.main import BenchApp

async def main():
    async with BenchApp([Path(sys.argv[1])]).run_test(size=(80, 24)) as pilot:
        print("bars" if chr(0x2588) * 8 in pilot.app.export_screenshot() else "no bars")
        print("plotext" if "plotext" in sys.modules else "no plotext")

asyncio.run(main())
"""


@pytest.mark.long(cases=0)
def test_the_first_frame_has_bars_without_a_plotting_library(tmp_path: Path) -> None:
    setup = ROOT / "setups" / "yard-7-pass.toml"
    done = subprocess.run(
        [sys.executable, "-c", FIRST_FRAME, str(setup)],
        capture_output=True,
        text=True,
        check=True,
        env=environment(XDG_STATE_HOME=str(tmp_path), LANG="C.UTF-8", TERM="xterm-256color"),
        timeout=60,
    )
    assert done.stdout.split("\n")[:2] == ["bars", "no plotext"]
