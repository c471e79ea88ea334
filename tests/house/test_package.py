"""What a stranger gets: a licence, types, and tests that can be installed in either way."""

import tomllib

from support import ROOT

PYPROJECT = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))
PROJECT = PYPROJECT["project"]


def test_the_licence_is_in_the_package_and_named() -> None:
    (named,) = PROJECT["license-files"]
    assert named == "src/cogwright/LICENSE"
    text = (ROOT / named).read_text(encoding="utf-8")
    assert PROJECT["license"] == "MIT"
    assert text.startswith("MIT License\n")
    assert PROJECT["authors"][0]["name"] in text


def test_the_test_group_is_the_extra() -> None:
    assert PYPROJECT["dependency-groups"]["test"] == PROJECT["optional-dependencies"]["test"]


def test_types_are_shipped() -> None:
    assert (ROOT / "src" / "cogwright" / "py.typed").exists()


def test_nothing_but_what_is_listed_stands_at_the_top() -> None:
    known = {"README.md", "DEVELOPERS.md", "pyproject.toml", "src", "setups", "tests"}
    built = {"build", "dist", "snapshot_report.html"}
    assert {path.name for path in ROOT.iterdir() if not path.name.startswith(".")} - built == known
