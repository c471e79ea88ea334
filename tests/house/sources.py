"""The program's source as it stands: its files, each read and taken apart once."""

import ast
from functools import cache
from pathlib import Path

from support import ROOT

SOURCE = ROOT / "src" / "cogwright"
MODULES = sorted(SOURCE.rglob("*.py"))


@cache
def nodes(path: Path) -> tuple[ast.AST, ...]:
    """All there is in a file."""
    return tuple(ast.walk(ast.parse(path.read_text(encoding="utf-8"))))
