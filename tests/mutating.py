"""What can be changed about a source, one thing at a time, so that its tests ought to notice."""

import ast
import difflib
import re
from collections.abc import Iterator
from dataclasses import dataclass, field
from itertools import pairwise
from pathlib import Path
from typing import Any

ROOT = Path(__file__).parents[1]

COMPARED = {
    "<": "<=", "<=": "<", ">": ">=", ">=": ">", "==": "!=", "!=": "==",
    "is": "is not", "is not": "is", "in": "not in", "not in": "in",
}  # fmt: skip
CALCULATED = {"+": "-", "-": "+", "*": "/", "/": "*", "//": "*", "%": "*", "**": "*"}
SWAPPED = {"min": "max", "max": "min", "any": "all", "all": "any"}


@dataclass(frozen=True)
class Mutant:
    """One change to a file's source: `source[start:end]`, in bytes, becomes `by`."""

    file: Path
    source: bytes = field(repr=False)
    line: int
    start: int
    end: int
    by: str

    def applied(self) -> bytes:
        """The whole file with the change."""
        return self.source[: self.start] + self.by.encode() + self.source[self.end :]

    def place(self) -> str:
        """Where it stands and what comes there, in a line."""
        return f"{self.file}:{self.line}: {self.source[self.start : self.end].decode()} -> {self.by}"

    def diff(self) -> str:
        """The change as a reader sees it."""
        old, new = (data.decode().splitlines() for data in (self.source, self.applied()))
        return "\n".join(difflib.unified_diff(old, new, str(self.file), "mutant", lineterm="", n=1))


class Places:
    """Where the nodes of a source stand, in bytes from its beginning."""

    def __init__(self, data: bytes) -> None:
        self.data = data
        self._lines = [0]
        for line in data.splitlines(keepends=True):
            self._lines.append(self._lines[-1] + len(line))

    def start(self, node: Any) -> int:
        """The first byte of a node."""
        return self._lines[node.lineno - 1] + int(node.col_offset)

    def end(self, node: Any) -> int:
        """The byte after a node."""
        return self._lines[node.end_lineno - 1] + int(node.end_col_offset)

    def text(self, node: Any) -> str:
        """The source of a node."""
        return self.data[self.start(node) : self.end(node)].decode()


Change = tuple[int, int, str]


def changes(node: ast.AST, at: Places) -> Iterator[Change]:
    """What can be changed about one node: from byte, to byte, and what comes there."""
    match node:
        case ast.Compare():
            sides = [node.left, *node.comparators]
            for before, after in pairwise(sides):
                yield from between(before, after, COMPARED, at)
        case ast.BinOp():
            yield from between(node.left, node.right, CALCULATED, at)
        case ast.AugAssign():
            yield from between(node.target, node.value, {"+=": "-=", "-=": "+=", "*=": "/="}, at)
        case ast.BoolOp():
            for before, after in pairwise(node.values):
                yield from between(before, after, {"and": "or", "or": "and"}, at)
        case ast.UnaryOp(op=ast.Not()):
            yield at.start(node), at.start(node) + len("not"), ""
        case ast.UnaryOp(op=ast.USub()):
            yield at.start(node), at.start(node) + len("-"), ""
        case ast.If() | ast.While() | ast.IfExp():
            yield at.start(node.test), at.end(node.test), f"(not ({at.text(node.test)}))"
        case ast.comprehension():
            for test in node.ifs:
                yield at.start(test), at.end(test), "True"
        case ast.Return(value=ast.expr() as value) if not is_none(value):
            yield at.start(value), at.end(value), "None"
        case ast.Expr(value=ast.Call()):
            yield at.start(node), at.end(node), "pass"
        case ast.Call(func=ast.Name(id=name) as called) if name in SWAPPED:
            yield at.start(called), at.end(called), SWAPPED[name]
        case ast.Break():
            yield at.start(node), at.end(node), "continue"
        case ast.Continue():
            yield at.start(node), at.end(node), "break"
        case ast.Constant(value=bool() as value):
            yield at.start(node), at.end(node), str(not value)
        case ast.Constant(value=int() | float() as value):
            yield at.start(node), at.end(node), repr(value + 1)


def between(before: ast.AST, after: ast.AST, others: dict[str, str], at: Places) -> Iterator[Change]:
    """The operator between two nodes becomes another one."""
    start = at.end(before)
    gap = re.sub(
        r"#.*|[()\\\s]", lambda found: " " * len(found[0]), at.data[start : at.start(after)].decode()
    )
    operator = gap.strip()
    if (known := re.sub(r"\s+", " ", operator)) in others:
        first = start + len(gap) - len(gap.lstrip())
        yield first, first + len(operator), others[known]


def is_none(node: ast.AST) -> bool:
    return isinstance(node, ast.Constant) and node.value is None


def is_strict(node: ast.AST) -> bool:
    """`strict=True` of a zip: it only asserts what already holds."""
    return isinstance(node, ast.keyword) and node.arg == "strict"


def mutable(node: ast.AST) -> Iterator[ast.AST]:
    """A node and those in it, but for what is no behaviour: types, decorators, texts with places in them."""
    yield node
    for name, value in ast.iter_fields(node):
        if name in {"annotation", "returns", "decorator_list", "type_params"} or is_strict(node):
            continue
        for part in value if isinstance(value, list) else [value]:
            if isinstance(part, ast.AST) and not isinstance(part, ast.JoinedStr):
                yield from mutable(part)


def mutants_of(file: Path, data: bytes) -> list[Mutant]:
    """Every mutant of a file, in the order of the source."""
    at = Places(data)
    found = {
        Mutant(file, data, data.count(b"\n", 0, start) + 1, start, end, by)
        for node in mutable(ast.parse(data))
        for start, end, by in changes(node, at)
    }
    return sorted(found, key=lambda mutant: (mutant.start, mutant.end, mutant.by))
