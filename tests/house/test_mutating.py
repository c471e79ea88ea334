"""The tool that mutates the program: what it changes about a source."""

import ast
from pathlib import Path

import pytest

from mutating import ROOT, mutants_of


def mutated(source: str) -> set[str]:
    """Every mutant of a source, in full."""
    data = source.encode()
    found = mutants_of(Path("a.py"), data)
    return {(data[: one.start] + one.by.encode() + data[one.end :]).decode() for one in found}


@pytest.mark.parametrize(
    ("source", "found"),
    [
        ("a < b", {"a <= b"}),
        ("a <= b < c", {"a < b < c", "a <= b <= c"}),
        ("a is  not  None", {"a is  None"}),
        ("(a)  + (b)  # a - b", {"(a)  - (b)  # a - b"}),
        ("a and b and c", {"a or b and c", "a and b or c"}),
        ("not(a)", {"(a)"}),
        ("-a", {"a"}),
        ("min(a, b)", {"max(a, b)", "pass"}),
        ("x = 1.5", {"x = 2.5"}),
        ("x = True", {"x = False"}),
        ("x += y", {"x -= y"}),
        ("[a for a in b if c]", {"[a for a in b if True]"}),
        ("if a:\n    b", {"if (not (a)):\n    b"}),
        ("def f() -> 1:\n    return a", {"def f() -> 1:\n    return None"}),
        ("é = b * c", {"é = b / c"}),
        ('x: int = "1 + 2"', set()),
        ("x = zip(a, b, strict=True)", set()),
        ('x = f"{1 + 2}"', set()),
        ("@slots(True)\ndef f(): return None", set()),
    ],
)
def test_what_is_changed_about_a_source(source: str, found: set[str]) -> None:
    assert mutated(source) == found


@pytest.mark.long(cases=0)
def test_every_mutant_of_the_program_can_be_read_by_python() -> None:
    files = sorted((ROOT / "src/cogwright/store").rglob("*.py"))
    mutants = [m for file in files for m in mutants_of(file.relative_to(ROOT), file.read_bytes())]
    assert len(mutants) > 500
    for mutant in mutants[::29]:
        ast.parse(mutant.applied())
