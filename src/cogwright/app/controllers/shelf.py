"""The shelf: every setup of the folder, the bad ones with what is wrong; Enter puts one on the bench."""

from collections.abc import Iterator
from contextlib import suppress
from pathlib import Path
from typing import Final

from cogwright.app.controllers.asking import read_problems
from cogwright.app.controllers.leaving import leaving
from cogwright.app.controllers.registry import does
from cogwright.app.pickers.scene import Scene, each
from cogwright.app.state.beginning import begin
from cogwright.app.state.opened import ListKind, PickList, do
from cogwright.app.state.session import Session
from cogwright.app.state.store import SessionStore
from cogwright.core.common.errors import InputError
from cogwright.core.common.safe_text import shown_name
from cogwright.core.setup.model import Setup
from cogwright.present.lines import Line, line
from cogwright.present.panels.shelf import IS_BASELINE, ON_BENCH, Shelf, bad_line, setup_line, shelf_head
from cogwright.store.documents import read_setup
from cogwright.store.shelf import ShelfEntry, read_shelf


@does("open")
def open_shelf(store: SessionStore) -> None:
    """The shelf of setups; Enter puts one on the bench."""
    try:
        entries = shelf_now(store)
    except InputError as error:
        store.say(str(error))
        return
    session = store.session
    if not entries:
        where = shown_name(str(session.folder))
        store.say(f"No setup in {where} yet: s saves what is on the bench there, E opens another folder.")
        return
    here = next((i for i, entry in enumerate(entries) if entry.path == session.path), 0)
    title = f"Setups in {shown_name(session.folder.name or str(session.folder))}, ranges on one scale"
    shelf = Shelf.of([entry.setup for entry in entries if entry.setup])
    store.open(PickList(SHELF, title, entries, shelf, at=here))


def shelf_now(store: SessionStore) -> tuple[ShelfEntry, ...]:
    """The shelf as it is on the disk now. Raises InputError where the folder cannot be read."""
    store.change(shelf=read_shelf(store.session.folder, store.session.shelf))
    return store.session.shelf


def other_setups(store: SessionStore) -> Iterator[tuple[Path, Setup]]:
    """The files and good setups of the folder but the bench's own; none where the folder is gone."""
    with suppress(InputError):
        shelf_now(store)
    for entry in store.session.shelf:
        if entry.setup is not None and entry.path != store.session.path:
            yield entry.path, entry.setup


def _entry_line(entry: ShelfEntry, scene: Scene) -> Line:
    base = scene.session.baseline
    if entry.setup is None:
        return bad_line(entry.name, entry.problems, scene.look)
    setup = base.setup if base else None
    return setup_line(entry.setup, scene.note, setup, scene.look, _place(entry, scene.session))


def _place(entry: ShelfEntry, session: Session) -> str:
    """Whether it is what the bench was taken from, or what that is compared with."""
    if entry.path == session.path:
        return ON_BENCH
    return IS_BASELINE if session.baseline and session.baseline.setup == entry.setup else ""


def _head(scene: Scene) -> list[Line]:
    return [line("   ", shelf_head(scene.note, scene.look))]


def _words(entry: ShelfEntry) -> str:
    name = entry.setup.name if entry.setup else " ".join(problem.inside() for problem in entry.problems)
    return f"{entry.name} {name}"


def _open(store: SessionStore, entry: ShelfEntry, _: Shelf) -> None:
    if entry.document is None:
        read_problems(store, entry.path, entry.problems)
    else:
        leaving(store, do(_begin, entry.path))


def _begin(store: SessionStore, path: Path) -> None:
    # Read only now: the bench's own file may have been saved since the list was made.
    try:
        begun = begin(read_setup(path))
    except InputError as error:
        read_problems(store, path, error.problems)
        return
    store.replace(store.session.begun(begun.work, begun.message))


SHELF: Final = ListKind(each(_entry_line), _open, words=_words, head=_head, height=40, beside_chart=True)
