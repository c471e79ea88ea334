"""Tables in a list, `[[so]]`, brought up to other entries: those that stay are left as they stand."""

from collections.abc import Sequence
from difflib import SequenceMatcher

import tomlkit
from tomlkit.items import AoT, Comment, Table, Trivia

from cogwright.core.setup.model import Section
from cogwright.store.toml_bodies import KeyChange, TableBody, literal_of, make
from cogwright.store.toml_lines import comments_in

Entries = Sequence[Section]


def entries_text(name: str, entries: Entries) -> str:
    """Entries as new tables."""
    return "\n".join(_entry_text(name, entry) for entry in entries)


def change_entries(document: TableBody, at: int, old: Entries, new: Entries) -> None:
    """Change the tables of a list, which stands at a place of the document, from some entries to others."""
    key, listed = document[at]
    assert key is not None
    assert isinstance(listed, AoT)
    tables = listed.body
    before, after = (list(map(repr, each)) for each in (old, new))
    steps = SequenceMatcher(None, before, after, autojunk=False).get_opcodes()
    for kind, low, high, start, end in reversed(steps):
        if kind == "equal":
            continue
        shared = min(high - low, end - start)
        for place in reversed(range(low + shared, high)):
            _take_out(document, at, tables, place)
        for place in range(shared, end - start):
            _put_in(tables, low + place, _entry_text(key.key, new[start + place]))
        for place in range(shared):
            _change(tables[low + place], old[low + place], new[start + place])
    if not tables:  # tomlkit would write `name = []` at the top
        document[:] = [each for each in document if each[1] is not listed]


def _entry_text(name: str, entry: Section) -> str:
    values = entry.model_dump(mode="python", exclude_defaults=True, exclude_none=True)
    lines = (f"{key} = {literal_of(value)}\n" for key, value in values.items())
    return f"[[{name}]]\n{''.join(lines)}"


def _change(table: Table, old: Section, new: Section) -> None:
    names = list(type(new).model_fields)
    for name in names:
        change = KeyChange(name, getattr(old, name), getattr(new, name))
        if change.old != change.new:
            make(change, [table.value.body], names)


def _put_in(tables: list[Table], at: int, text: str) -> None:
    entry = tomlkit.parse(text).body[0][1]
    assert isinstance(entry, AoT)
    (table,) = entry.body
    apart = table.value.body  # a blank line goes after the new one, or before it where there is none yet
    if at > 0:
        before = tables[at - 1].value.body
        last = before[-1][1]
        if "\n" not in last.as_string() and "\n" not in last.trivia.trail:
            last.trivia.trail = "\n"  # the last line of the file, without its end
        if last.as_string().strip(" \t\r\n"):
            apart = before
    apart.append((None, tomlkit.ws("\n")))
    tables.insert(at, table)


def _take_out(document: TableBody, at: int, tables: list[Table], place: int) -> None:
    """Take an entry out; its comments stay with the one before it, or where it stood."""
    table = tables.pop(place)
    said = [*([table.trivia.comment] if table.trivia.comment else []), *_comments(table)]
    kept: TableBody = [(None, Comment(Trivia("", "", one, "\n"))) for one in said]
    if place > 0:
        tables[place - 1].value.body.extend(kept)
    else:
        document[at:at] = kept


def _comments(table: Table) -> list[str]:
    return comments_in(table.value.as_string())
