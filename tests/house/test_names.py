"""Names: no two classes alike, none like a part of the library, and no file named that is not there."""

import ast
import re
from collections import Counter, defaultdict
from pathlib import Path

import textual.app
import textual.screen
import textual.theme
import textual.widgets

from house.sources import MODULES, SOURCE, nodes
from support import ROOT

#: What a reader of the app knows as the library's.
LIBRARY = {"App", "Binding", "Content", "Screen", "ModalScreen", "Strip", "Style", "Theme", "Widget"}


def classes_of(file: Path) -> list[str]:
    """Public classes of a module, and its other names for types: what is written `Row = A | B`."""
    found = []
    module = nodes(file)[0]
    assert isinstance(module, ast.Module)
    for node in module.body:
        if isinstance(node, ast.ClassDef):
            found.append(node.name)
        elif isinstance(node, ast.Assign) and isinstance(node.targets[0], ast.Name):
            found.append(node.targets[0].id)
    return [name for name in found if name[0].isupper() and not name.isupper()]


def where_defined() -> dict[str, list[str]]:
    where = defaultdict(list)
    for file in MODULES:
        for name in classes_of(file):
            where[name].append(str(file.relative_to(SOURCE)))
    return where


def test_no_two_classes_are_called_alike() -> None:
    assert {name: files for name, files in where_defined().items() if len(files) > 1} == {}


def test_no_class_is_called_like_a_part_of_the_library() -> None:
    assert len(textual.widgets.__all__) > 20
    for module, name in ((textual.app, "App"), (textual.screen, "Screen"), (textual.theme, "Theme")):
        assert hasattr(module, name)
    assert not where_defined().keys() & (LIBRARY | set(textual.widgets.__all__))


def test_every_file_that_the_handbook_names_is_there() -> None:
    book = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
    named = set(re.findall(r"`([\w./]+\.py)`", book))
    assert len(named) > 60
    there = [f"/{path.relative_to(ROOT)}" for top in ("src", "tests") for path in (ROOT / top).rglob("*.py")]
    assert [name for name in named if not any(path.endswith(f"/{name}") for path in there)] == []


def test_no_two_test_files_are_called_alike() -> None:
    """Pytest imports them by their names alone, and reads no more of the second one."""
    names = Counter(path.name for path in (ROOT / "tests").rglob("test_*.py"))
    assert [name for name, count in names.items() if count > 1] == []
