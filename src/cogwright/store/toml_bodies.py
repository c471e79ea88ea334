"""Keys of a TOML table changed where they stand.

A body is what tomlkit has between two headers: keys with their values, and what stands between them. It is
changed in place; what else tomlkit knows of a table is stale then, so nothing here asks for it.
"""

from collections import Counter
from collections.abc import Mapping, Sequence
from typing import Any, NamedTuple

import tomlkit
from pydantic import BaseModel
from tomlkit.items import Array, Comment, InlineTable, Item, Key, Table, Trivia

from cogwright.store.documents import literal
from cogwright.store.list_text import in_the_order_of, with_elements
from cogwright.store.toml_lines import comments_in

TableBody = list[tuple[Key | None, Item]]


class KeyChange(NamedTuple):
    """A key, and what the model has of it before and after; None for a fact that is not given."""

    key: str
    old: Any
    new: Any


def place_of(body: TableBody, name: str) -> int | None:
    """Where a key stands in a body; None where it does not."""
    return next((at for at, (key, _) in enumerate(body) if key is not None and key.key == name), None)


def bodies_of(document: TableBody, table: str) -> list[TableBody]:
    """The places of a table: one, or several where its keys are dotted ones, and none where it is missing."""
    named = (item for key, item in document if key is not None and key.key == table)
    return [item.value.body for item in named if isinstance(item, Table | InlineTable)]


def make(change: KeyChange, bodies: Sequence[TableBody], names: Sequence[str]) -> None:
    """Give a key another value, put it in after those that the model has before it, or take it out."""
    for body in bodies:
        if (at := place_of(body, change.key)) is not None:
            if change.new is None:
                _take_out(body, at)
            else:
                _exchange(body, at, change)
            return
    _put_in(bodies, change, names)


def make_inline(change: KeyChange, document: TableBody, at: int) -> None:
    """The same in a table in braces: a key more or less makes it anew, for it has no comments to be kept."""
    key, old = document[at]
    assert isinstance(old, InlineTable)
    body = old.value.body
    there = place_of(body, change.key)
    if there is not None and change.new is not None:
        _exchange(body, there, change)
    else:
        document[at] = (key, _set_like(_rebuilt(body, change), old))


def parsed(text: str) -> Item:
    """A literal as tomlkit has it."""
    item = tomlkit.parse(f"x = {text}\n").item("x")
    assert isinstance(item, Item)
    return item


def literal_of(value: Any) -> str:
    """A value as a literal; a table as one in braces."""
    if isinstance(value, BaseModel):
        value = value.model_dump(mode="python", exclude_defaults=True, exclude_none=True)
    if isinstance(value, Mapping):
        return "{ " + ", ".join(f"{key} = {literal(part)}" for key, part in value.items()) + " }"
    return literal(value)


def _exchange(body: TableBody, at: int, change: KeyChange) -> None:
    """Another value in the place of one; a comment inside the old one that the new one has no room for stays
    before it."""
    key, old = body[at]
    new = _in_the_text_of(old, change)
    lost = Counter(comments_in(old.as_string())) - Counter(comments_in(new.as_string()))
    body[at] = (key, _set_like(new, old))
    body[at:at] = _comments(list(lost.elements()), old)


def _in_the_text_of(old: Item, change: KeyChange) -> Item:
    if not isinstance(change.new, tuple) or not isinstance(old, Array):
        return parsed(literal_of(change.new))
    values, before = list(change.new), list(old.unwrap())
    if list(change.old) != before and all(isinstance(one, int) for one in (*before, *values)):
        values = in_the_order_of(before, values)  # sprockets, which the model has put in order
    return parsed(with_elements(old.as_string(), [literal_of(one) for one in values]))


def _set_like(item: Item, old: Item) -> Item:
    """A value set as the one whose place it takes, with the comment behind that."""
    trivia = old.trivia
    item.trivia.indent, item.trivia.trail = trivia.indent, trivia.trail
    item.trivia.comment_ws, item.trivia.comment = trivia.comment_ws, trivia.comment
    return item


def _rebuilt(body: TableBody, change: KeyChange) -> Item:
    texts = {
        key.key: f"{key.as_string().strip()} = {item.as_string()}" for key, item in body if key is not None
    }
    texts.pop(change.key, None)
    if change.new is not None:
        texts[change.key] = f"{change.key} = {literal_of(change.new)}"
    return parsed(f"{{ {', '.join(texts.values())} }}")


def _take_out(body: TableBody, at: int) -> None:
    """Take a key out; its comments stay, on lines of their own."""
    item = body[at][1]
    said = [*comments_in(item.as_string()), *([item.trivia.comment] if item.trivia.comment else [])]
    body[at : at + 1] = _comments(said, item)


def _comments(said: Sequence[str], beside: Item) -> TableBody:
    indent = beside.trivia.indent.rpartition("\n")[2]
    return [(None, Comment(Trivia(indent, "", one, "\n"))) for one in said]


def _put_in(bodies: Sequence[TableBody], change: KeyChange, names: Sequence[str]) -> None:
    for known in reversed(names[: names.index(change.key)]):
        for body in bodies:
            if (at := place_of(body, known)) is not None:
                _put_after(body, at, change)
                return
    first = next((at for at, (key, _) in enumerate(bodies[0]) if key is not None), 0)
    bodies[0].insert(first, (tomlkit.key(change.key), parsed(literal_of(change.new))))


def _put_after(body: TableBody, at: int, change: KeyChange) -> None:
    beside_key, beside = body[at]
    item = parsed(literal_of(change.new))
    item.trivia.indent = beside.trivia.indent.rpartition("\n")[2]
    if "\n" not in beside.trivia.trail:  # the last line of the file, without its end
        beside.trivia.trail, item.trivia.trail = "\n", beside.trivia.trail
    key = tomlkit.key(change.key)
    key.sep = "=" if beside_key is not None and beside_key.sep == "=" else " = "
    body.insert(at + 1, (key, item))
