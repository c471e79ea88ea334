"""Any fact of the file: choose it, then type its value."""

import tomllib
from typing import Any, Final

from pydantic import BaseModel

from cogwright.app.controllers.registry import does
from cogwright.app.pickers.scene import Scene, each
from cogwright.app.state.opened import EntryKind, ListKind, PickList, TextEntry, Typed
from cogwright.app.state.store import SessionStore
from cogwright.core.common.errors import EditRefused
from cogwright.core.common.numbers import written
from cogwright.core.common.safe_text import clean, pad
from cogwright.core.setup.edits import SetField
from cogwright.core.setup.model import Setup
from cogwright.present.lines import Line, Role, Span, line
from cogwright.store.problems import problems_in, wanted


@does("edit-fact")
def edit_fact(store: SessionStore) -> None:
    """All facts that a setup can give, with those that this one gives."""
    keys = tuple(key for key, _ in facts(store.session.bench))
    store.open(PickList(FACTS, "Set a fact", keys, dict(facts(store.session.bench))))


def facts(section: BaseModel, within: str = "") -> list[tuple[str, Any]]:
    """Every fact with its dotted key, in the order of the file; the format and the log are none."""
    found: list[tuple[str, Any]] = []
    for name in type(section).model_fields:
        value = getattr(section, name)
        if isinstance(value, BaseModel):
            found += facts(value, f"{within}{name}.")
        elif within or name not in {"format", "log"}:
            found.append((within + name, value))
    return found


def _line(key: str, scene: Scene) -> Line:
    value = scene.note[key]
    text = "not given" if value is None else written(value)
    return line(pad(key, 34), Span(clean(text), Role.DIM if value is None else Role.TEXT))


def _words(key: str) -> str:
    return key


def _type_fact(store: SessionStore, key: str, given: dict[str, Any]) -> None:
    start = clean(written(given[key]))
    store.open(TextEntry(_FACT, key, Typed.ready(start), key))


def _head(scene: Scene) -> list[Line]:
    takes = wanted(Setup, scene.note) or "text"
    return [(Span(f" {takes[0].upper()}{takes[1:]}; empty takes the fact out.", Role.DIM),)]


def _take_fact(store: SessionStore, text: str, key: str) -> str | None:
    change = SetField(key, parsed(text, key))
    try:
        store.replace(store.session.edit(change))
    except EditRefused as refusal:
        return f"{_in_words(store.session.bench, change) or refusal}."
    return None


def _in_words(bench: Setup, change: SetField) -> str:
    """Why a value is refused, as a file with it would be told."""
    *tables, last = change.key.split(".")
    data = bench.model_dump()
    within = data
    for name in tables:
        within = within[name]
    within[last] = change.value
    found = problems_in(data, Setup, {})
    return f"{found[0].what}; {found[0].mend}" if found else ""


def parsed(text: str, key: str) -> object:
    """A typed value: a TOML number or list where it is one, text otherwise, None for nothing.

    >>> parsed("[11, 13]", "rear.cogs"), parsed("435", "frame.chainstay_mm"), parsed(" ", "chain.links")
    ([11, 13], 435, None)
    """
    text = text.strip()
    if not text:
        return "" if key == "notes" else None
    if key in {
        "name",
        "notes",
        "wheel.size",
        "baseline",
        "job.customer",
        "job.number",
        "job.note",
    } or key.endswith("family"):
        return text
    try:
        return tomllib.loads(f"value = {text}")["value"]
    except (tomllib.TOMLDecodeError, RecursionError):
        return text


FACTS: Final = ListKind(each(_line), _type_fact, words=_words, height=20)
_FACT: Final = EntryKind(_take_fact, _head)
