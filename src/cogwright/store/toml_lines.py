"""Where each key of a TOML text stands: tomllib tells the values, but not their lines."""

import re
from collections.abc import Iterator, Mapping
from typing import Final

Path = tuple[str | int, ...]

_TOKEN: Final = re.compile(
    r'"""(?:\\.|[^\\])*?"{3,5}|' + r"'''.*?'{3,5}" + r'|"(?:\\.|[^"\\\n])*"|' + r"'[^'\n]*'"
    r"|\#[^\n]*|[\[\]{}=,.\n]|[^\s\"'\#\[\]{}=,.]+",
    re.S,
)


def comments_in(text: str) -> list[str]:
    """The comments of a valid TOML text, or of a part of one, in their order.

    >>> comments_in('name = "a # b"  # as it came in')
    ['# as it came in']
    """
    return [token.rstrip() for token, _ in _tokens(text) if token.startswith("#")] if "#" in text else []


def line_index(text: str) -> dict[Path, int]:
    """Line, counted from 1, of every table, key and array element of a valid TOML text.

    >>> line_index('[rear]\\ncogs = [11,\\n  13]')
    {('rear',): 1, ('rear', 'cogs'): 2, ('rear', 'cogs', 0): 2, ('rear', 'cogs', 1): 3}
    """
    try:
        return _Indexer(text).found
    except RecursionError:  # brackets as deep as the parser just took them: then there are no lines to tell
        return {}


def line_of(index: Mapping[Path, int], path: Path) -> int:
    """Line of the path, or of the nearest table around it; 1 for the file as a whole."""
    while path and path not in index:
        path = path[:-1]
    return index.get(path, 1)


def _tokens(text: str) -> Iterator[tuple[str, int]]:
    line, at = 1, 0
    for match in _TOKEN.finditer(text):
        line += text.count("\n", at, match.start())
        at = match.start()
        yield match[0], line


class _Indexer:
    """Walks the tokens once; `_table` is the header above, `_counts` the arrays of tables so far."""

    def __init__(self, text: str) -> None:
        self.found: dict[Path, int] = {}
        self._table: Path = ()
        self._counts: dict[Path, int] = {}
        statement: list[tuple[str, int]] = []
        depth = 0
        for token, line in _tokens(text + "\n"):
            depth += (token in {"[", "{"}) - (token in {"]", "}"})
            if token == "\n" and depth == 0 and statement:
                self._statement(statement)
                statement = []
            elif token != "\n" and not token.startswith("#"):
                statement.append((token, line))

    def _statement(self, parts: list[tuple[str, int]]) -> None:
        if parts[0][0] == "[":
            self._header(parts)
        else:
            self._pair(parts, 0, self._table)

    def _header(self, parts: list[tuple[str, int]]) -> None:
        path = self._numbered(tuple(_bare(token) for token, _ in parts if token not in {"[", "]", "."}))
        if parts[1][0] == "[":
            count = self._counts[path] = self._counts.get(path, -1) + 1
            self._note(path, parts[0][1])
            path = (*path, count)
        self._table = path
        self._note(path, parts[0][1])

    def _numbered(self, names: tuple[str, ...]) -> Path:
        """The path with the number of the last element put in after each array of tables."""
        path: Path = ()
        for name in names[:-1]:
            path = (*path, name)
            path = (*path, self._counts[path]) if path in self._counts else path
        return (*path, names[-1])

    def _pair(self, parts: list[tuple[str, int]], at: int, table: Path) -> int:
        """Note `key = value` from `at` on; the place after it."""
        path = table
        while parts[at][0] != "=":
            if parts[at][0] != ".":
                path = (*path, _bare(parts[at][0]))
                self._note(path, parts[at][1])
            at += 1
        return self._value(parts, at + 1, path)

    def _value(self, parts: list[tuple[str, int]], at: int, path: Path) -> int:
        """Note what is inside the value from `at` on; the place after it."""
        opening = parts[at][0]
        if opening not in {"[", "{"}:
            while at < len(parts) and parts[at][0] not in {",", "]", "}"}:
                at += 1
            return at
        at, count = at + 1, 0
        while parts[at][0] not in {"]", "}"}:
            if parts[at][0] == ",":
                at, count = at + 1, count + 1
            elif opening == "{":
                at = self._pair(parts, at, path)
            else:
                self._note((*path, count), parts[at][1])
                at = self._value(parts, at, (*path, count))
        return at + 1

    def _note(self, path: Path, line: int) -> None:
        self.found.setdefault(path, line)


def _bare(key: str) -> str:
    return key[1:-1] if key[:1] in {'"', "'"} else key
