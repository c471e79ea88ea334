"""TOML documents: read into a validated model with all their problems at once, and written back."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any, Generic, TypeVar

import tomli_w
from pydantic import BaseModel, ValidationError

from cogwright.core.common.errors import InputError, Problem
from cogwright.core.common.safe_text import shown_name
from cogwright.core.setup.model import Setup
from cogwright.store.files import SETUP_LIMIT, SIZE_LIMIT, Stamp, read_bytes
from cogwright.store.problems import problems_in
from cogwright.store.syntax import load
from cogwright.store.toml_lines import line_index

M = TypeVar("M", bound=BaseModel)


@dataclass(frozen=True, slots=True)
class Document(Generic[M]):
    """A file as it was read or saved: what it says, and a stamp to know it again by.

    `doubt` says what is not certain of a save: that it outlasts a power cut.
    """

    path: Path
    value: M
    stamp: Stamp
    doubt: str = field(default="", compare=False)


def read_document(path: Path, model: type[M], limit: int = SIZE_LIMIT) -> Document[M]:
    """Read one TOML file. Raises InputError with all its problems; never blocks on what is no file."""
    data, stamp = read_bytes(path, limit)
    text = _decoded(data, path)
    value = parse(text, model, shown_name(str(path)))
    return Document(path, value, stamp)


def read_setup(path: Path) -> Document[Setup]:
    """Read a setup. Raises InputError with all its problems."""
    return read_document(path, Setup, SETUP_LIMIT)


def parse(text: str, model: type[M], file: str = "") -> M:
    """The value that a TOML text holds. Raises InputError with all its problems, placed in `file`."""
    values, read, wrong = load(text)
    try:
        value = model.model_validate(values)
    except ValidationError:
        # A key whose line could not be read is not missing, and a table without it not to be judged.
        wrong += problems_in(values, model, line_index(read), partial=bool(wrong))
    if wrong:
        raise InputError(*(one.at(file) for one in sorted(wrong, key=lambda one: one.line or 0)))
    return value


def _decoded(data: bytes, path: Path) -> str:
    file = shown_name(str(path))
    try:
        text = data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = data.count(b"\n", 0, error.start) + 1
        wrong = f"the file is not UTF-8 text: byte 0x{data[error.start]:02x}"
        raise InputError(Problem(wrong, "save it as UTF-8", file=file, line=line)) from error
    if not text.strip():
        raise InputError(Problem("the file is empty", "write format = 1, a name and the tables", file=file))
    return text


def to_toml(value: BaseModel) -> str:
    """The model as TOML: format first, then what differs from the defaults, lists of numbers on one line.

    A list of tables, such as the log, comes last, each under its own [[name]].
    """
    data: dict[str, Any] = {"format": 1} if "format" in type(value).model_fields else {}
    data |= _plain(value)
    lists = {key: data.pop(key) for key, part in [*data.items()] if _of_tables(part)}
    rows = (f"\n[[{key}]]\n{_dumped(row)}" for key, part in lists.items() for row in part)
    return _dumped(data) + "".join(rows)


def _dumped(data: dict[str, Any]) -> str:
    return tomli_w.dumps(data, multiline_strings=True)


def _of_tables(part: object) -> bool:
    return isinstance(part, list) and bool(part) and isinstance(part[0], Mapping)


def literal(value: object) -> str:
    """One value as TOML, as `to_toml` writes it.

    >>> literal((11.0, 13.5)), literal("a")
    ('[11, 13.5]', '"a"')
    """
    return _dumped({"x": _item(value)}).removeprefix("x = ").removesuffix("\n")


def _plain(value: BaseModel) -> dict[str, Any]:
    """What differs from the defaults, in the order of the model, in values that tomli-w takes."""
    given = value.model_dump(mode="python", exclude_defaults=True, exclude_none=True)
    return {name: _item(given[name]) for name in type(value).model_fields if name in given}


def _item(value: Any) -> Any:
    if isinstance(value, Mapping):
        return {key: _item(part) for key, part in value.items()}
    if isinstance(value, list | tuple):
        parts = [_item(part) for part in value]
        return _OneLine(parts) if parts and _numeric(parts) else parts
    return int(value) if isinstance(value, float) and value.is_integer() else value


def _numeric(parts: list[Any]) -> bool:
    return all(isinstance(part, int | float) and not isinstance(part, bool) for part in parts)


class _OneLine(float):
    """A list of numbers as one literal: tomli-w writes what `str` gives, and real lists over many lines."""

    def __new__(cls, parts: list[Any]) -> "_OneLine":
        made = super().__new__(cls, 0.0)
        made.text = f"[{', '.join(map(str, parts))}]"
        return made

    text: str

    def __str__(self) -> str:
        return self.text
