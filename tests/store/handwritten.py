"""Setup files as people write them: any order, comments anywhere, tables in every way that TOML has for them.

`files` draws a text together with the setup that it says, and which lines belong to which key, so that tests
can tell what an edit may touch and what it may not.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

import tomli_w
from hypothesis import strategies as st

from cogwright.core.setup.model import Setup
from strategies import setup_data

#: Comments as they come, some with what means something elsewhere in TOML.
COMMENTS = (
    "# measured",
    '# "quotes" and [brackets] = 1',
    "#",
    "# old: links = 110",
    "#\ttab",
    "# \u6f22\u5b57",
)


@dataclass(frozen=True)
class Piece:
    """Some lines of a file, each with its end, and the key that they give; an empty one for all else."""

    text: str
    table: str = ""
    key: str = ""


@dataclass(frozen=True)
class File:
    """A file as it was written by hand."""

    pieces: tuple[Piece, ...]
    setup: Setup
    windows: bool = False
    mark: bool = False
    ended: bool = True

    @property
    def text(self) -> str:
        """What an editor shows."""
        text = "".join(piece.text for piece in self.pieces)
        text = text if self.ended else text.removesuffix("\n")
        return text.replace("\n", "\r\n") if self.windows else text

    @property
    def data(self) -> bytes:
        """What is on the disk."""
        return (("\ufeff" if self.mark else "") + self.text).encode()

    def lines_beside(self, changed: set[tuple[str, str]]) -> list[str]:
        """The lines that give other keys than the changed ones, or none: they must all stay."""
        kept = [
            piece.text
            for piece in self.pieces
            if (piece.table, piece.key) not in changed
            and not (piece.key == "*" and any(table == piece.table for table, _ in changed))
        ]
        text = "".join(kept)
        return (text if self.ended else text.removesuffix("\n")).splitlines()


def _string(draw: st.DrawFn, text: str) -> str:
    plain = text.isprintable() and "'" not in text
    if plain and draw(st.booleans()):
        return f"'{text}'"
    return tomli_w.dumps({"x": text}).removeprefix("x = ").strip()


def _list(draw: st.DrawFn, values: Sequence[Any], comments: bool) -> str:
    parts = [_value(draw, value, comments) for value in values]
    if not comments or draw(st.booleans()):
        return f"[{draw(st.sampled_from([', ', ',', ' , ']))}".rstrip(", ") + ", ".join(parts) + "]"
    out = "[" + draw(st.sampled_from(["", " # all of them"])) + "\n"
    for at, part in enumerate(parts):
        comma = "," if at < len(parts) - 1 or draw(st.booleans()) else ""
        end = draw(st.sampled_from(["\n", "\n", " # riveted\n", "\n\n", " "]))
        out += draw(st.sampled_from(["  ", "\t"])) + part + comma + end
    return out + "]"


def _value(draw: st.DrawFn, value: Any, comments: bool) -> str:
    if isinstance(value, str):
        return _string(draw, value)
    if isinstance(value, bool):
        return str(value).lower()
    if isinstance(value, dict):
        return "{" + ", ".join(f"{key} = {_value(draw, part, False)}" for key, part in value.items()) + "}"
    if isinstance(value, list | tuple):
        return _list(draw, value, comments)
    return repr(value) if isinstance(value, float) else str(value)


def _key(draw: st.DrawFn, name: str) -> str:
    return draw(st.sampled_from([name, name, name, f'"{name}"', f"'{name}'"]))


def _between(draw: st.DrawFn) -> list[Piece]:
    count = draw(st.integers(0, 2))
    return [Piece(draw(st.sampled_from(["\n", *COMMENTS])).rstrip("\n") + "\n") for _ in range(count)]


def _statement(draw: st.DrawFn, table: str, key: str, value: Any, dotted: bool = False) -> list[Piece]:
    name = f"{_key(draw, table)}.{_key(draw, key)}" if dotted else _key(draw, key)
    sign = draw(st.sampled_from([" = ", "=", "  =  "]))
    comment = draw(st.sampled_from(["", "", "  " + draw(st.sampled_from(COMMENTS))]))
    indent = draw(st.sampled_from(["", "", "  "]))
    text = f"{indent}{name}{sign}{_value(draw, value, True)}{comment}\n"
    return [*_between(draw), Piece(text, table, key)]


def _table(draw: st.DrawFn, name: str, values: dict[str, Any]) -> list[Piece]:
    head = draw(st.sampled_from([f"[{name}]", f"[ {name} ]  # its table", f'["{name}"]']))
    out = [*_between(draw), Piece(head + "\n")]
    for key in draw(st.permutations(list(values))):
        out += _statement(draw, name, key, values[key])
    return [*out, *_between(draw)]


def _inline(draw: st.DrawFn, name: str, values: dict[str, Any]) -> list[Piece]:
    inner = ", ".join(f"{key} = {_value(draw, value, False)}" for key, value in values.items())
    return [*_between(draw), Piece(f"{name} = {{ {inner} }}\n", name, "*")]


def _entries(draw: st.DrawFn, name: str, entries: Sequence[dict[str, Any]]) -> list[Piece]:
    out: list[Piece] = []
    head = draw(st.sampled_from([f"[[{name}]]\n", f"[[ {name} ]]  # done\n"]))
    for entry in entries:
        out += [*_between(draw), Piece(head)]
        for key, value in entry.items():
            comment = draw(st.sampled_from(["", "  # by hand"]))
            out += [*_between(draw), Piece(f"{key} = {_value(draw, value, False)}{comment}\n")]
    return [Piece(piece.text, "", name) for piece in out]


@st.composite
def files(draw: st.DrawFn) -> File:
    """Any setup, written by hand in any way."""
    data = draw(setup_data)
    setup = Setup.model_validate(data)
    tables = {name: value for name, value in data.items() if isinstance(value, dict) and value}
    ways = {name: draw(st.sampled_from(["table", "table", "dotted", "inline"])) for name in tables}
    out: list[Piece] = []
    entries = data.get("log") if draw(st.booleans()) else None
    for name in draw(st.permutations([name for name in data if name not in tables])):
        if not isinstance(data[name], dict) and not (name == "log" and entries):
            out += _statement(draw, "", name, data[name])
    for name in draw(st.permutations([name for name in tables if ways[name] != "table"])):
        if ways[name] == "inline":
            out += _inline(draw, name, tables[name])
        else:
            for key, value in tables[name].items():
                out += _statement(draw, name, key, value, dotted=True)
    for name in draw(st.permutations([name for name in tables if ways[name] == "table"])):
        out += _table(draw, name, tables[name])
    out += _entries(draw, "log", entries or [])
    return File(tuple(out), setup, draw(st.booleans()), draw(st.booleans()), draw(st.booleans()))
