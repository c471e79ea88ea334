"""A file's TOML text brought up to another setup in place: what a person wrote stays as it stands.

Only values that differ are written, keys that are new are put in where the model has them, keys whose fact
was taken out leave their comments behind. So comments, blank lines, the order of keys and the space around
them survive. tomlkit does it; what comes out is read again and compared, and where it is not the setup that
was meant, or a comment is missing, the text is written anew: then `lost` says what goes with the old one.
"""

import re
from collections import Counter
from dataclasses import dataclass
from typing import Final

import tomlkit
from tomlkit.items import AoT, InlineTable, Table

from cogwright.core.common.errors import InputError
from cogwright.core.setup.model import Section
from cogwright.store.documents import literal, parse, to_toml
from cogwright.store.toml_bodies import KeyChange, TableBody, bodies_of, make, make_inline, place_of
from cogwright.store.toml_entries import change_entries, entries_text
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


def edited(text: str, setup: Section) -> Edited:
    """The text with the setup in it; the same text where it says that already."""
    try:
        before = parse(text, type(setup))
    except InputError:
        return Edited(to_toml(setup), tuple(comments_in(text)))
    if before == setup:
        return Edited(text)
    found = _in_place(text, before, setup) if text.count("\n") <= _MOST_LINES else None
    return found or Edited(
        to_toml(setup), (*comments_in(text), *([_LAYOUT] if text != to_toml(before) else []))
    )


def _in_place(text: str, before: Section, setup: Section) -> Edited | None:
    """The edited text; None where it cannot be done without loss."""
    windows = text.count("\r\n") == text.count("\n")
    try:
        new = _brought_up(text.replace("\r\n", "\n") if windows else text, before, setup)
        whole = parse(new, type(setup)) == setup
    except Exception:  # noqa: BLE001 - whatever is wrong, the file is written anew, and that is said before
        return None
    if not whole or Counter(comments_in(text)) - Counter(comments_in(new)):
        return None
    return Edited(new.replace("\n", "\r\n") if windows else new)


def _brought_up(text: str, before: Section, setup: Section) -> str:
    """The text with all changes made: first in the tables that are there, then in new ones."""
    document = tomlkit.parse(text)
    if document.as_string() != text:
        raise ValueError("this text does not come out as it went in")
    missing: dict[str, str] = {}
    names = list(type(setup).model_fields)
    for name in names:
        old, new = getattr(before, name), getattr(setup, name)
        if old != new and (lines := _changed(document.body, KeyChange(name, old, new), names)):
            missing[name] = lines
    text = document.as_string()
    for name, lines in missing.items():
        text = _with_table(text, name, lines, names)
    return text


def _changed(document: TableBody, change: KeyChange, names: list[str]) -> str:
    """Change a key at the top of the file, or a table, where it stands; else what a new table would say."""
    name, old, new = change.key, change.old, change.new
    at = place_of(document, name)
    if isinstance(new, Section):
        changes = _differing(old, new)
        if at is None:
            return f"[{name}]\n" + "".join(f"{each.key} = {literal(each.new)}\n" for each in changes)
        for each in changes:
            _make(each, document, at, name, list(type(new).model_fields))
    elif at is not None and isinstance(document[at][1], AoT):
        change_entries(document, at, old, new)
    elif at is None and _is_entries(new):
        return entries_text(name, new)
    else:
        make(change, [document], names)
    return ""


def _is_entries(value: object) -> bool:
    return isinstance(value, tuple) and bool(value) and isinstance(value[0], Section)


def _differing(old: Section, new: Section) -> list[KeyChange]:
    """The keys whose values differ, in the order of the model."""
    pairs = (KeyChange(key, getattr(old, key), getattr(new, key)) for key in type(new).model_fields)
    return [change for change in pairs if change.old != change.new]


def _make(change: KeyChange, document: TableBody, at: int, table: str, names: list[str]) -> None:
    if isinstance(document[at][1], InlineTable):
        make_inline(change, document, at)
    else:
        make(change, bodies_of(document, table), names)


def _with_table(text: str, name: str, table: str, names: list[str]) -> str:
    """The text with a new table, after the one that stands before it in the model."""
    body = tomlkit.parse(text).body
    before = tomlkit.document()
    before.body.extend(body[: _place_for(body, name, names)])
    head = before.as_string()
    assert text.startswith(head)
    head, rest = _above(head, text[len(head) :])
    gap = "" if head.endswith("\n\n") or not head else "\n" if head.endswith("\n") else "\n\n"
    after = "\n" if rest and not rest.startswith("\n") else ""
    return head + gap + (table if rest or text.endswith("\n") else table.removesuffix("\n")) + after + rest


def _place_for(body: TableBody, name: str, names: list[str]) -> int:
    """Where in the document a table goes: after what has no header and what the model has before it."""
    before = names[: names.index(name)]
    return max(
        at + 1
        for at, (key, item) in enumerate(body)
        if key is not None and (key.key in before or key.is_dotted() or not isinstance(item, Table | AoT))
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
