"""The parts bin: choose one; the Order view takes the folder's own."""

from pathlib import Path
from typing import Final

from cogwright.app.controllers.asking import read_problems
from cogwright.app.controllers.registry import does
from cogwright.app.controllers.walking import Walk, offer_folder, walk
from cogwright.app.pickers.scene import Scene, each
from cogwright.app.state.opened import Key, ListKind, PickList
from cogwright.app.state.store import SessionStore
from cogwright.core.common.errors import CogwrightError, InputError, Problem
from cogwright.core.common.safe_text import shown_name
from cogwright.core.parts.bin import Bin
from cogwright.present.lines import Line, Role, Span, line
from cogwright.present.panels.head import COMPARE
from cogwright.store.bins import FOLDER, bin_files, read_bin, save_bin
from cogwright.store.documents import Document
from cogwright.store.folders import make_folder

_ELSEWHERE: Final = "elsewhere"


def load_bin(store: SessionStore) -> None:
    """The folder's only bin, if none is chosen yet; of several one must be chosen, a bad one says why."""
    if store.session.stock is not None:
        return
    files = bin_files(store.session.folder)
    if len(files) > 1:
        store.say(f"{len(files)} parts bins are here: B chooses the one to price with.")
    for path in files if len(files) == 1 else ():
        try:
            store.change(stock=read_bin(path).value, stock_path=path)
        except InputError as error:
            store.say(f"This parts bin cannot be read: {error.problems[0]}")


@does("view-3")
def look_at_fit(store: SessionStore) -> None:
    """Will it go together: a bin has belts, and the prices of what wears."""
    store.replace(store.session.looked(3))
    load_bin(store)


@does("view-6")
def look_at_order(store: SessionStore) -> None:
    """The order sheet, with the bin's prices where there is a bin."""
    store.replace(store.session.looked(6))
    load_bin(store)


def new_bin(store: SessionStore) -> None:
    """An empty bin in the folder's own file, to be filled in its form."""
    folder = store.session.folder / FOLDER
    try:
        make_folder(folder)
        document = save_bin(folder / "parts.toml", Bin(name="Parts bin"), None)
    except CogwrightError as error:
        store.say(f"{error}.")
        return
    said = f"Made {shown_name(str(document.path))}: I adds parts and prices."
    store.change(stock=document.value, stock_path=document.path, message=said)


_NEW: Final = Key("n", "a new, empty bin", new_bin)


@does(f"view-{COMPARE}")
def look_at_candidates(store: SessionStore) -> None:
    """Candidates side by side, with prices where there is a bin."""
    store.replace(store.session.looked(COMPARE))
    load_bin(store)


@does("bin")
def choose_bin(store: SessionStore) -> None:
    """Choose the parts bin."""
    found: list[Document[Bin] | Problem] = []
    for path in bin_files(store.session.folder):
        try:
            found.append(read_bin(path))
        except InputError as error:
            found.append(error.problems[0])
    if not found:
        offer_folder(store, "parts bin", store.session.folder / FOLDER, _elsewhere, _NEW)
        return
    store.open(PickList(BINS, "Parts bin", (*found, _ELSEWHERE)))


def _elsewhere(store: SessionStore) -> None:
    """A bin in any folder."""
    walk(store, "A parts bin", Walk(store.session.folder / FOLDER, (".toml",), _take_path))


def _take_path(store: SessionStore, path: Path) -> None:
    try:
        _take(store, read_bin(path), None)
    except InputError as error:
        read_problems(store, path, error.problems)


def _line(stock: Document[Bin] | Problem | str, _: Scene) -> Line:
    if isinstance(stock, str):
        return (Span("a file elsewhere", Role.DIM),)
    if isinstance(stock, Problem):
        return (Span(f"! {stock}", Role.PROBLEM),)
    kinds = sum(1 for _ in stock.value.parts)
    return line(f"{stock.value.name}   ", Span(f"{kinds} kinds of parts", Role.DIM))


def _take(store: SessionStore, stock: Document[Bin] | Problem | str, _: None) -> None:
    if isinstance(stock, str):
        _elsewhere(store)
    elif not isinstance(stock, Problem):
        said = f"Parts bin: {stock.value.name}."
        store.change(stock=stock.value, stock_path=stock.path, message=said)


BINS: Final = ListKind(each(_line), _take)
