"""The parts bin: choose one; the Order view takes the folder's own."""

from typing import Final

from cogwright.app.controllers.registry import does
from cogwright.app.pickers.scene import Scene, each
from cogwright.app.state.opened import ListKind, PickList
from cogwright.app.state.store import SessionStore
from cogwright.core.common.errors import InputError, Problem
from cogwright.core.parts.bin import Bin
from cogwright.present.lines import Line, Role, Span, line
from cogwright.store.bins import bin_files, read_bin


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
        store.say("There is no parts bin here: put one into the folder bins, as the README says.")
        return
    store.open(PickList(BINS, "Parts bin", tuple(found)))


def _line(stock: Bin | Problem, _: Scene) -> Line:
    if isinstance(stock, Problem):
        return (Span(f"! {stock}", Role.PROBLEM),)
    return line(f"{stock.name}   ", Span(f"{sum(1 for _ in stock.parts)} kinds of parts", Role.DIM))


def _take(store: SessionStore, stock: Bin | Problem, _: None) -> None:
    if not isinstance(stock, Problem):
        store.change(stock=stock, message=f"Parts bin: {stock.name}.")


BINS: Final = ListKind(each(_line), _take)
