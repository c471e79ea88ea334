"""The parts bin from the Order view: what is not known of a part is typed in place."""

from pathlib import Path
from typing import Final

from cogwright.app.controllers.asking import shown
from cogwright.app.controllers.registry import does
from cogwright.app.pickers.scene import Scene, each
from cogwright.app.state.opened import EntryKind, ListKind, PickList, TextEntry
from cogwright.app.state.store import SessionStore
from cogwright.core.common.errors import CogwrightError
from cogwright.core.common.numbers import number_in, whole_in
from cogwright.core.common.safe_text import pad
from cogwright.core.worksheet.sheet import OrderSheet
from cogwright.core.worksheet.stock import Unknown, unknowns, with_fact
from cogwright.present.lines import Line, Role, Span
from cogwright.store.bin_updates import change_bin

_NAMES: Final = {"price": "price", "mass_g": "mass", "lead_days": "wait"}
_NO_BIN: Final = "There is no parts bin to keep it in: put one into the folder bins, or choose one with B."


def _sheet(store: SessionStore) -> tuple[OrderSheet, Path] | None:
    """The sheet and the file of its bin; None after saying what is missing."""
    session = store.session
    sheet = session.order_sheet
    if sheet is None:
        store.say("Set a baseline first (b): there is no order without one.")
    elif session.stock is None or session.stock_path is None:
        store.say(_NO_BIN)
    else:
        return sheet, session.stock_path
    return None


@does("type-price")
def type_price(store: SessionStore) -> None:
    """Choose what is not known of the order, and type it; the bin keeps it."""
    found = _sheet(store)
    if found is None:
        return
    missing = tuple(unknowns(found[0]))
    if missing:
        store.open(PickList(UNKNOWNS, "Not known yet: type it, the bin keeps it", missing))
    else:
        store.say("Every price, mass and wait of this order is known.")


def _line(one: Unknown, _: Scene) -> Line:
    return Span(f"{pad(_NAMES[one.fact], 7)}", Role.KEY), Span(one.item.what)


def _unit(store: SessionStore, one: Unknown) -> str:
    stock = store.session.stock
    return {"price": stock.currency if stock else "", "mass_g": "g", "lead_days": "days"}[one.fact]


def _type(store: SessionStore, one: Unknown, _: None) -> None:
    name = one.item.what.split(",", maxsplit=1)[0]
    store.open(TextEntry(_FACT, f"{_NAMES[one.fact].capitalize()} of {name}, {_unit(store, one)}", note=one))


def _take(store: SessionStore, text: str, one: Unknown) -> str | None:
    found = _sheet(store)
    assert found is not None
    sheet, file = found
    try:
        value = whole_in(text, 0, 1000) if one.fact == "lead_days" else number_in(text, 0.0)
        stock = change_bin(file, lambda now: with_fact(now, one, sheet.after, value))
    except ValueError as error:
        return f"{error}."
    except CogwrightError as error:
        return f"{error}."
    store.change(stock=stock)
    still = [
        left for left in unknowns(_now(store)) if (left.item.what, left.fact) == (one.item.what, one.fact)
    ]
    kept = f"Kept in {shown(file)}"
    store.say(f"{kept}, but the order does not find it there: see its entry." if still else f"{kept}.")
    return None


def _now(store: SessionStore) -> OrderSheet:
    sheet = store.session.order_sheet
    assert sheet is not None
    return sheet


UNKNOWNS: Final = ListKind(each(_line), _type, words=lambda one: f"{_NAMES[one.fact]} {one.item.what}")
_FACT: Final = EntryKind(_take)
