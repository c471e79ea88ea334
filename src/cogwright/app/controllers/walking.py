"""A list that walks folders to a file, or to a folder; a path can be typed in it too."""

import os
from collections.abc import Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Final

from cogwright.app.pickers.scene import Scene, each
from cogwright.app.state.opened import Deed, Key, ListKind, PickList, Question, do
from cogwright.app.state.store import SessionStore
from cogwright.core.common.errors import CogwrightError
from cogwright.core.common.safe_text import cells, shown_name
from cogwright.present.lines import Line, Role, Span, line
from cogwright.store.folders import at_typed_path, inside, make_folder


@dataclass(frozen=True, slots=True)
class Walk:
    """Where a walk has come to, what it looks for, and what is done with it: `take(store, path)`.

    Without endings a folder is looked for.
    """

    folder: Path
    endings: tuple[str, ...]
    take: Deed


@dataclass(frozen=True, slots=True)
class FolderRow:
    """A row of the list. `goes` says whether it is walked into."""

    path: Path
    name: str
    goes: bool


def walk(store: SessionStore, title: str, where: Walk) -> None:
    """Walk from a folder, or from the nearest one above it that is there."""
    folder = where.folder
    while not os.path.isdir(folder) and folder != folder.parent:
        folder = folder.parent
    try:
        store.open(_listed(title, replace(where, folder=folder)))
    except CogwrightError as error:
        store.say(f"{error}.")


def _listed(title: str, where: Walk) -> PickList:
    """Raises StoreError for a folder that cannot be looked into."""
    rows = [FolderRow(where.folder, "this folder", False)] if not where.endings else []
    up = where.folder.parent
    rows += [FolderRow(up, ".. (up)", True)] if up != where.folder else []
    rows += _places(inside(where.folder, where.endings), where)
    first = min(len(rows) - 1, 1) if where.endings else 0
    return PickList(WALK, title, tuple(rows), (title, where), at=max(first, 0))


def _places(paths: Sequence[Path], where: Walk) -> list[FolderRow]:
    found = [FolderRow(path, shown_name(path.name), os.path.isdir(path)) for path in paths]
    return [one for one in found if one.goes or where.endings]


def _typed(text: str, note: tuple[str, Walk], _: Sequence[FolderRow]) -> list[FolderRow] | None:
    """A path in the place of a name; None where a name is typed."""
    if "/" not in text and not text.startswith(("~", "..")):
        return None
    where = note[1]
    return _places(at_typed_path(text.strip(), where.folder, where.endings), where)


def _line(place: FolderRow, _: Scene) -> Line:
    return line(Span(f"{place.name}/" if place.goes and not place.name.startswith("..") else place.name))


def _words(place: FolderRow) -> str:
    return place.name


def _head(scene: Scene) -> list[Line]:
    where: Walk = scene.note[1]
    said = "; a path can be typed"
    name, room = shown_name(str(where.folder)), scene.look.width - len(said) - 4
    name = name if cells(name) <= room else f"...{name[-room + 3 :]}"
    return [(Span(f" in {name}{said}", Role.DIM),)]


def _take(store: SessionStore, place: FolderRow, note: tuple[str, Walk]) -> None:
    title, where = note
    if place.goes:
        walk(store, title, replace(where, folder=place.path))
    else:
        where.take(store, place.path)


WALK: Final = ListKind(
    each(_line),
    _take,
    words=_words,
    made=_typed,
    nothing="there is no such file or folder here",
    head=_head,
    height=14,
)


def offer_folder(store: SessionStore, what: str, folder: Path, elsewhere: Deed, *more: Key) -> None:
    """Nothing of a kind is in its folder: name that in full, make it on request, or go elsewhere."""
    there = os.path.isdir(folder)
    name = shown_name(str(folder))
    text = f"There is no {what} in {name}." if there else f"There is no folder {name} yet."
    making = () if there else (Key("m", "make the folder", do(_make, folder, what)),)
    answers = (*making, Key("f", f"a {what} elsewhere", elsewhere), *more)
    store.open(Question(f"No {what} here", text, answers))


def _make(store: SessionStore, folder: Path, what: str) -> None:
    try:
        make_folder(folder)
    except CogwrightError as error:
        store.say(f"{error}.")
        return
    store.say(f"Made {shown_name(str(folder))}: put a {what} into it.")
