"""Private names of Textual and Rich that the program uses: few, listed with their reasons, and still there.

A new version of a library may take any of them away without a word: then this says which.
"""

import ast
import functools
import importlib
import inspect
import re
from collections.abc import Iterable, Iterator

import pytest

from house.sources import MODULES, SOURCE, nodes
from support import ROOT

LIBRARIES = ("textual", "rich")
#: Where each stands in the library: a module, then names in it.
USED = {
    "textual._xterm_parser.XTermParser": "feed",
    "textual.keys._character_to_key": "",
    "textual.app.App": "_fatal_error _exception _exit_renderables _close_messages_no_wait",
}


def private(name: str) -> bool:
    return name.startswith("_") and not name.startswith("__")


def imported() -> set[str]:
    """Private modules and names that are imported from the libraries."""
    found = set()
    for path in MODULES:
        for node in nodes(path):
            if isinstance(node, ast.ImportFrom) and (node.module or "").split(".")[0] in LIBRARIES:
                found |= {f"{node.module}.{alias.name}" for alias in node.names}
            elif isinstance(node, ast.Import):
                found |= {alias.name for alias in node.names if alias.name.split(".")[0] in LIBRARIES}
    return {name for name in found if any(private(part) for part in name.split("."))}


def set_by(source: Iterable[ast.AST]) -> set[str]:
    """Private names that some source defines: functions, classes, variables, and what it sets on `self`."""
    names = set()
    for node in source:
        if isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef | ast.ClassDef):
            names.add(node.name)
        elif isinstance(node, ast.Attribute | ast.Name) and isinstance(node.ctx, ast.Store):
            names.add(node.attr if isinstance(node, ast.Attribute) else node.id)
        elif isinstance(node, ast.arg):
            names.add(node.arg)
    return {name for name in names if private(name)}


def read_of_others() -> set[str]:
    """Private attributes that no source of ours defines: they are somebody else's."""
    ours = set().union(*(set_by(nodes(path)) for path in MODULES))
    read = {
        node.attr
        for path in MODULES
        for node in nodes(path)
        if isinstance(node, ast.Attribute) and private(node.attr) and not of_the_standard_library(node)
    }
    return read - ours


def of_the_standard_library(node: ast.Attribute) -> bool:
    """Whether it is `os._exit`, or what every named tuple has."""
    exits = node.attr == "_exit" and isinstance(node.value, ast.Name) and node.value.id == "os"
    return exits or node.attr in {"_asdict", "_fields", "_replace"}


def classes() -> Iterator[type]:
    """Ours that build on one of the libraries."""
    for path in MODULES:
        parts = path.relative_to(SOURCE.parent).with_suffix("").parts
        if "app" not in parts:
            continue
        module = importlib.import_module(".".join(parts))
        for found in vars(module).values():
            if inspect.isclass(found) and found.__module__ == module.__name__ and bases(found):
                yield found


def bases(of: type) -> list[type]:
    return [base for base in of.__mro__ if base.__module__.split(".")[0] in LIBRARIES]


def redefined() -> set[str]:
    """Private names of a library's class that a class of ours built on it sets as well."""
    found = set()
    for ours in classes():
        found |= set_in(ours) & set().union(*map(set_in, bases(ours)))
    return found


@functools.cache
def set_in(of: type) -> set[str]:
    """Private names that the body of a class defines."""
    return next(
        (set_by(ast.walk(node)) for node in classes_of(of.__module__) if node.name == of.__name__), set()
    )


@functools.cache
def classes_of(module: str) -> list[ast.ClassDef]:
    """The classes of a module, read once: each of ours builds on the same few."""
    tree = ast.parse(inspect.getsource(importlib.import_module(module)))
    return [node for node in tree.body if isinstance(node, ast.ClassDef)]


LISTED = {name for names in USED.values() for name in names.split()}


def test_no_private_name_is_used_that_is_not_listed() -> None:
    assert imported() == {name for name in USED if any(map(private, name.split(".")))}
    assert (read_of_others() | redefined()) - {"_"} == {name for name in LISTED if private(name)}


@pytest.mark.parametrize("where", USED)
def test_every_listed_name_is_still_there(where: str) -> None:
    module, _, name = where.rpartition(".")
    holder = getattr(importlib.import_module(module), name, None)
    assert holder is not None, f"{where} is gone"
    known = inspect.getsource(holder)
    for mine in USED[where].split():
        assert re.search(rf"\b{mine}\b", known), f"{where}.{mine} is gone"


def test_the_list_is_in_the_book() -> None:
    book = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
    for name in {name for name in LISTED if private(name)} | {
        where.rpartition(".")[2] for where in imported()
    }:
        assert f"`{name}`" in book, name
