"""The parts bin: choose one; the Order view takes the folder's own."""

from pathlib import Path
from typing import Final

from cogwright.app.controllers.asking import read_problems
from cogwright.app.controllers.registry import does
from cogwright.app.controllers.walking import Walk, offer_folder, walk
from cogwright.app.pickers.scene import Scene, each
from cogwright.app.state.opened import ListKind, PickList
from cogwright.app.state.store import SessionStore
from cogwright.core.common.errors import InputError, Problem
from cogwright.core.parts.bin import Bin
from cogwright.present.lines import Line, Role, Span, line
from cogwright.store.bins import FOLDER, bin_files, read_bin

_ELSEWHERE: Final = "elsewhere"


def load_bin(store: SessionStore) -> None:
    """The first bin of the folder that can be read, if none is chosen yet; a bad one says what is wrong."""
    if store.session.stock is not None:
        return
    for path in bin_files(store.session.folder):
        try:
            store.change(stock=read_bin(path).value)
        except InputError as error:
            store.say(f"This parts bin cannot be read: {error.problems[0]}")
            continue
        return


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


@does("bin")
def choose_bin(store: SessionStore) -> None:
    """Choose the parts bin."""
    found: list[Bin | Problem] = []
    for path in bin_files(store.session.folder):
        try:
            found.append(read_bin(path).value)
        except InputError as error:
            found.append(error.problems[0])
    if not found:
        offer_folder(store, "parts bin", store.session.folder / FOLDER, _elsewhere)
        return
    store.open(PickList(BINS, "Parts bin", (*found, _ELSEWHERE)))


def _elsewhere(store: SessionStore) -> None:
    """A bin in any folder."""
    walk(store, "A parts bin", Walk(store.session.folder / FOLDER, (".toml",), _take_path))


def _take_path(store: SessionStore, path: Path) -> None:
    try:
        _take(store, read_bin(path).value, None)
    except InputError as error:
        read_problems(store, path, error.problems)


def _line(stock: Bin | Problem | str, _: Scene) -> Line:
    if isinstance(stock, str):
        return (Span("a file elsewhere", Role.DIM),)
    if isinstance(stock, Problem):
        return (Span(f"! {stock}", Role.PROBLEM),)
    return line(f"{stock.name}   ", Span(f"{sum(1 for _ in stock.parts)} kinds of parts", Role.DIM))


def _take(store: SessionStore, stock: Bin | Problem | str, _: None) -> None:
    if isinstance(stock, str):
        _elsewhere(store)
    elif not isinstance(stock, Problem):
        store.change(stock=stock, message=f"Parts bin: {stock.name}.")


BINS: Final = ListKind(each(_line), _take)
