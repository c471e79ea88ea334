"""The program's source as it stands: its files, each read and taken apart once."""

import ast
import gc
from functools import cache
from pathlib import Path

from support import ROOT

SOURCE = ROOT / "src" / "cogwright"
MODULES = sorted(SOURCE.rglob("*.py"))


@cache
def nodes(path: Path) -> tuple[ast.AST, ...]:
    """All there is in a file. It stays: to look whether it is garbage takes longer than to parse it."""
    gc.disable()
    found = tuple(ast.walk(ast.parse(path.read_text(encoding="utf-8"))))
    gc.freeze()
    gc.enable()
    return found
