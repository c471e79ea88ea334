"""A setup's TOML text brought up to another setup in place: what a person wrote stays as it stands.

Only values that differ are written, keys that are new are put in where the model has them, keys whose fact
was taken out leave their comments behind. So comments, blank lines, the order of keys and the space around
them survive. tomlkit does it; what comes out is read again and compared, and where it is not the setup that
was meant, or a comment is missing, the text is written anew: then `lost` says what goes with the old one.
"""

import re
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any, Final, NamedTuple

import tomlkit
from pydantic import BaseModel
from tomlkit.container import Container
from tomlkit.items import Array, Comment, InlineTable, Item, Key, Table, Trivia

from cogwright.core.common.errors import InputError
from cogwright.core.setup.model import Section, Setup
from cogwright.store.documents import literal, parse, to_toml
from cogwright.store.list_text import in_the_order_of, with_elements
from cogwright.store.toml_lines import comments_in

#: No setup that a person writes has so many; editing ten times as many takes seconds.
_MOST_LINES: Final = 2000
_LAYOUT: Final = "(and the order of its keys, its blank lines and its spacing)"
_COMMENT: Final = re.compile(r"[ \t]*#")


@dataclass(frozen=True, slots=True)
class Edited:
    """The text of a setup, and what of the text before could not be kept: its comments, its layout."""

    text: str
    lost: tuple[str, ...] = ()


class _Change(NamedTuple):
    """A value that differs; `table` is empty for a key at the top of the file."""

    table: str
    key: str
    value: Any


def edited(text: str, setup: Setup) -> Edited:
    """The text with the setup in it; the same text where it says that already."""
    try:
        before = parse(text, Setup)
    except InputError:
        return Edited(to_toml(setup), tuple(comments_in(text)))
    if before == setup:
        return Edited(text)
    found = _in_place(text, before, setup) if text.count("\n") <= _MOST_LINES else None
    return found or Edited(
        to_toml(setup), (*comments_in(text), *([_LAYOUT] if text != to_toml(before) else []))
    )


def _in_place(text: str, before: Setup, setup: Setup) -> Edited | None:
    """The edited text; None where it cannot be done without loss."""
    windows = text.count("\r\n") == text.count("\n")
    try:
        new = _brought_up(text.replace("\r\n", "\n") if windows else text, before, setup)
        whole = parse(new, Setup) == setup
    except Exception:  # noqa: BLE001 - whatever is wrong, the file is written anew, and that is said before
        return None
    if not whole or Counter(comments_in(text)) - Counter(comments_in(new)):
        return None
    return Edited(new.replace("\n", "\r\n") if windows else new)


def _brought_up(text: str, before: Setup, setup: Setup) -> str:
    """The text with all changes made: first in the tables that are there, then in new ones."""
    document = tomlkit.parse(text)
    if document.as_string() != text:
        raise ValueError("this text does not come out as it went in")
    missing: dict[str, dict[str, Any]] = {}
    for change in _changes(before, setup):
        if bodies := _bodies(document, change.table):
            _make(document, bodies, change)
        else:
            missing.setdefault(change.table, {})[change.key] = change.value
    text = document.as_string()
    for table, values in missing.items():
        text = _with_table(text, table, values)
    return text


def _changes(before: Setup, setup: Setup) -> Iterator[_Change]:
    """What differs, in the order of the model."""
    for name in Setup.model_fields:
        old, new = getattr(before, name), getattr(setup, name)
        if isinstance(new, Section):
            yield from (_Change(name, key, value) for key, value in _differing(old, new))
        elif old != new:
            yield _Change("", name, new)


def _differing(old: BaseModel, new: BaseModel) -> Iterator[tuple[str, Any]]:
    for key in type(new).model_fields:
        if getattr(old, key) != getattr(new, key):
            yield key, getattr(new, key)


#: The keys of a table, or of the document, and what stands between them, in the order of the file. It is
#: changed in place; what else tomlkit knows of a table is stale then, so nothing here asks for it.
_Body = list[tuple[Key | None, Item]]


def _bodies(document: Container, table: str) -> list[_Body]:
    """The places of a table: one, or several where its keys are dotted ones, and none where it is missing."""
    if not table:
        return [document.body]
    named = (item for key, item in document.body if key is not None and key.key == table)
    return [item.value.body for item in named if isinstance(item, Table | InlineTable)]


def _make(document: Container, bodies: list[_Body], change: _Change) -> None:
    """Make a change where its table stands."""
    body, at = next(
        ((each, at) for each in bodies if (at := _place(each, change.key)) is not None), ([], None)
    )
    inline = next((at for at in range(len(document.body)) if _is_inline(document, at, change.table)), None)
    if at is not None and change.value is not None:
        key, old = body[at]
        body[at] = (key, _like(_item(change.value, old), old))
    elif inline is not None:
        key, old = document.body[inline]
        assert isinstance(old, InlineTable)
        document.body[inline] = (key, _like(_rebuilt(old.value.body, change), old))
    elif at is not None:
        _take_out(body, at)
    else:
        _put_in(bodies, change)


def _is_inline(document: Container, at: int, table: str) -> bool:
    key, item = document.body[at]
    return key is not None and key.key == table and isinstance(item, InlineTable)


def _place(body: _Body, name: str) -> int | None:
    """Where a key stands in a table; None where it does not."""
    return next((at for at, (key, _) in enumerate(body) if key is not None and key.key == name), None)


def _item(value: Any, old: Item) -> Item:
    """A value for the document; a list in the text of the old one, with its comments."""
    text = literal(value)
    if isinstance(value, tuple) and isinstance(old, Array):
        numbers = list(old.unwrap())
        ordered = in_the_order_of(numbers, value) if _is_a_set(value) else value
        text = with_elements(old.as_string(), [literal(one) for one in ordered])
    return _parsed(text)


def _parsed(text: str) -> Item:
    item = tomlkit.parse(f"x = {text}\n").item("x")
    assert isinstance(item, Item)
    return item


def _like(item: Item, old: Item) -> Item:
    """A value set as the one whose place it takes, with the comment behind that."""
    trivia = old.trivia
    item.trivia.indent, item.trivia.trail = trivia.indent, trivia.trail
    item.trivia.comment_ws, item.trivia.comment = trivia.comment_ws, trivia.comment
    return item


def _is_a_set(value: tuple[Any, ...]) -> bool:
    """Whether it is a list of sprockets, which the model puts in order: teeth are whole numbers."""
    return all(isinstance(one, int) for one in value) and list(value) == sorted(value)


def _rebuilt(body: _Body, change: _Change) -> Item:
    """An inline table with a key more or less, which has no comments to be kept."""
    texts = {
        key.key: f"{key.as_string().strip()} = {item.as_string()}" for key, item in body if key is not None
    }
    texts.pop(change.key, None)
    if change.value is not None:
        texts[change.key] = f"{change.key} = {literal(change.value)}"
    return _parsed(f"{{ {', '.join(texts.values())} }}")


def _take_out(body: _Body, at: int) -> None:
    """Take a key out; its comments stay, on lines of their own."""
    item = body[at][1]
    said = [*comments_in(item.as_string()), *([item.trivia.comment] if item.trivia.comment else [])]
    indent = item.trivia.indent.rpartition("\n")[2]
    body[at : at + 1] = [(None, Comment(Trivia(indent, "", one, "\n"))) for one in said]


def _put_in(bodies: list[_Body], change: _Change) -> None:
    """Put a key in after the one that stands before it in the model, or before all others."""
    for known in reversed(_before(change.table, change.key)):
        for body in bodies:
            if (at := _place(body, known)) is not None:
                _put_after(body, at, change)
                return
    first = next((at for at, (key, _) in enumerate(bodies[0]) if key is not None), 0)
    bodies[0].insert(first, (tomlkit.key(change.key), _parsed(literal(change.value))))


def _put_after(body: _Body, at: int, change: _Change) -> None:
    beside_key, beside = body[at]
    item = _parsed(literal(change.value))
    item.trivia.indent = beside.trivia.indent.rpartition("\n")[2]
    if "\n" not in beside.trivia.trail:  # the last line of the file, without its end
        beside.trivia.trail, item.trivia.trail = "\n", beside.trivia.trail
    key = tomlkit.key(change.key)
    key.sep = "=" if beside_key is not None and beside_key.sep == "=" else " = "
    body.insert(at + 1, (key, item))


def _before(table: str, key: str) -> list[str]:
    """The names that the model has before a key of a table, or before a table."""
    kind: Any = Setup.model_fields[table].annotation if table else Setup
    assert issubclass(kind, BaseModel)
    names = list(kind.model_fields)
    return names[: names.index(key)]


def _with_table(text: str, table: str, values: dict[str, Any]) -> str:
    """The text with a new table, after the one that stands before it in the model."""
    body = tomlkit.parse(text).body
    before = tomlkit.document()
    before.body.extend(body[: _place_of(body, table)])
    head = before.as_string()
    assert text.startswith(head)
    head, rest = _above(head, text[len(head) :])
    lines = [f"[{table}]", *(f"{key} = {literal(value)}" for key, value in values.items())]
    end = "\n" if rest or text.endswith("\n") else ""
    gap = "" if head.endswith("\n\n") or not head else "\n" if head.endswith("\n") else "\n\n"
    after = "\n" if rest and not rest.startswith("\n") else ""
    return head + gap + "\n".join(lines) + end + after + rest


def _place_of(body: _Body, table: str) -> int:
    """Where in the document a table goes: after what has no header and what the model has before it."""
    before = _before("", table)
    return max(
        at + 1
        for at, (key, item) in enumerate(body)
        if key is not None and (key.key in before or key.is_dotted() or not isinstance(item, Table))
    )


def _above(head: str, rest: str) -> tuple[str, str]:
    """Comments right above the header of a table go with it."""
    if not rest:
        return head, rest
    lines = head.splitlines(keepends=True)
    kept = len(lines)
    while kept and _COMMENT.match(lines[kept - 1]):
        kept -= 1
    return "".join(lines[:kept]), "".join(lines[kept:]) + rest
