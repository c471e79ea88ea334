"""A line of 10 kB/s, in a pseudo-terminal: the screen stays within one drawing of the last key.

The terminal here answers where its cursor is only once it has drawn what came before, as a real one does.
"""

import os
import re
import sys
import time
from pathlib import Path

import pytest

from ptyterm import Term

SETUP = """format = 1
name = "Slow line"
[wheel]
size = "40-622"
[crank]
rings = [30, 46]
[rear]
cogs = [11, 13, 15, 17, 19, 21, 23, 25, 28, 31, 34]
"""
BYTES_PER_S = 10_000


def test_a_burst_of_keys_over_a_slow_line_makes_few_drawings(tmp_path: Path) -> None:
    pytest.importorskip("pyte")
    (tmp_path / "a.toml").write_text(SETUP)
    env = {"SSH_TTY": "/dev/pts/9", "XDG_STATE_HOME": str(tmp_path / "state"), "LANG": "C.UTF-8"}
    term = Term([sys.executable, "-m", "cogwright", str(tmp_path)], rows=24, cols=80, env=env)
    try:
        _draw(term, 4.0, until=b"end of")
        started = time.perf_counter()
        for _ in range(40):  # held down at 30 keys a second
            os.write(term.master, b"\x1b[A")
            _draw(term, 1 / 30)
        last_key = time.perf_counter()
        text, quiet = _draw(term, 6.0, until=b"\x00never")
        assert "[74]" in "\n".join(term.screen().display)
        behind = quiet - last_key
        sent = sum(len(data) for at, data in term.chunks if at >= started)
        assert behind < 1.0, f"the screen came {behind:.2f} s after the last key"
        assert sent < 40 * 1_000, f"{sent} bytes for 40 keys"
        assert text is not None
    finally:
        term.close()
