"""The examples in docstrings hold, formulas above all: a test a package, which imports its modules once."""

import doctest
from importlib import import_module
from pathlib import Path

import pytest

from support import ROOT

SOURCES = ROOT / "src"
PACKAGES = sorted(path.name for path in (SOURCES / "cogwright").iterdir() if (path / "__init__.py").exists())


def with_examples(package: str) -> dict[str, int]:
    """The modules of a package, or those beside all packages, that have examples, and how many."""
    folder = SOURCES / "cogwright" / package
    paths = folder.rglob("*.py") if package else folder.glob("*.py")
    counted = {named(path): path.read_text("utf-8").count(">>> ") for path in paths}
    return {name: count for name, count in sorted(counted.items()) if count}


def named(path: Path) -> str:
    """The name by which a module is imported."""
    return ".".join(path.relative_to(SOURCES).with_suffix("").parts)


@pytest.mark.parametrize("package", ["", *PACKAGES], ids=["beside", *PACKAGES])
def test_examples_hold(package: str) -> None:
    written = with_examples(package)
    tried = {name: doctest.testmod(import_module(name)) for name in written}
    assert [name for name, result in tried.items() if result.failed] == [], "they are printed above"
    assert {name: result.attempted for name, result in tried.items()} == written, "and each is tried"


def test_formulas_have_examples() -> None:
    assert len(with_examples("core")) > 50
