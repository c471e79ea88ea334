"""Booking the work of the order in one: parts on the bench and out of the bin, an entry in the log."""

import datetime
from collections import Counter
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path
from typing import Final

from cogwright.app.controllers.asking import shown
from cogwright.app.controllers.order import load_bin
from cogwright.app.controllers.registry import does
from cogwright.app.pickers.scene import Scene
from cogwright.app.state.opened import EntryKind, TextEntry
from cogwright.app.state.session import Session
from cogwright.app.state.store import SessionStore
from cogwright.app.state.work import Booked
from cogwright.core.common.errors import CogwrightError
from cogwright.core.common.numbers import whole_in
from cogwright.core.common.words import count, listed
from cogwright.core.parts.bin import Bin, Part
from cogwright.core.worksheet.booking import BookWork, work_in_words
from cogwright.core.worksheet.sheet import OrderSheet
from cogwright.core.worksheet.stock import counted, from_stock
from cogwright.present.lines import Line, Role, Span, wrap
from cogwright.store.bin_updates import change_bin

_MOST_KM: Final = 1_000_000
NOTHING: Final = "There is no work to book: the bench takes the same parts as its baseline."


@does("book")
def book(store: SessionStore) -> None:
    """Say what will be booked, ask how far the bike has gone, then book."""
    load_bin(store)
    sheet = store.session.order_sheet
    if sheet is None or not sheet.changes:
        store.say(NOTHING)
        return
    store.open(TextEntry(_KM, "Book the work: km of the bike", note=(*_told(store.session, sheet),)))


def _told(session: Session, sheet: OrderSheet) -> Iterator[str]:
    """What will be done, the shortest first: a small screen has no room for the names of parts."""
    parts = _to_take(session, sheet)
    if session.stock_path is None:
        yield "No parts bin: nothing is counted out of stock."
    elif parts:
        yield f"{count(len(parts), 'part')} out of {shown(session.stock_path)}; the work into the log."
    else:
        yield f"Nothing of it lies in {shown(session.stock_path)}; the work goes into the log."
    yield "Empty where nobody knows the km. u takes all of it back, s saves the log."
    if parts:
        yield f"Out of stock: {listed(part.name.partition(',')[0] for part in parts)}."
    yield f"Into the log of today: {work_in_words(sheet.changes)}."


def _to_take(session: Session, sheet: OrderSheet) -> tuple[Part, ...]:
    """The bin's parts of the order, without those that were booked out of it in this session already."""
    if session.stock_path is None:
        return ()
    had = Counter[str]()
    for booked in session.work.in_force:
        had.update(part.model_dump_json(exclude=_MAY_CHANGE) for part in booked.parts)
    left = list[Part]()
    for part in from_stock(sheet):
        key = part.model_dump_json(exclude=_MAY_CHANGE)
        if had[key]:
            had[key] -= 1
        else:
            left.append(part)
    return tuple(left)


def _head(scene: Scene) -> list[Line]:
    return [(Span(" "), *row) for text in scene.note for row in wrap(text, scene.look.width - 1, Role.DIM)]


def _take(store: SessionStore, text: str, _: object) -> str | None:
    try:
        km = whole_in(text, 0, _MOST_KM) if text.strip() else None
    except ValueError as error:
        return f"{error}."
    _book(store, km)
    return None


def _book(store: SessionStore, km: float | None) -> None:
    """Count the parts out, then put them on the bench; where the one cannot be, neither is done."""
    session, sheet = store.session, store.session.order_sheet
    assert sheet is not None
    try:
        done = session.edit(BookWork(sheet, datetime.date.today(), km))
        booked = Booked(session.bench, done.bench, _to_take(session, sheet), session.stock_path or Path())
        stock = _counted(session, booked, -1)
    except CogwrightError as error:
        store.say(f"{error}.")
        return
    done = done.working(booked=(*done.work.booked, booked))
    store.replace(replace(done, stock=stock).say(f"The work is booked{_out_of(booked)}; u takes it back."))


def _out_of(booked: Booked) -> str:
    if not booked.parts:
        return ""
    return f", {count(len(booked.parts), 'part')} out of {shown(booked.file)}"


def _counted(session: Session, booked: Booked, by: int) -> Bin | None:
    """The session's bin after the parts of a booking are counted in its file. Raises CogwrightError."""
    if not booked.parts:
        return session.stock
    stock = change_bin(booked.file, lambda now: counted(now, booked.parts, by))
    return stock if session.stock_path == booked.file else session.stock


def unbook(store: SessionStore, booked: Booked) -> None:
    """Undo a booking: the parts into the bin again, the bench as it was."""
    _recount(store, booked, 1, store.session.undo(), f"{count(len(booked.parts), 'part')} put back into")


def book_again(store: SessionStore, booked: Booked) -> None:
    """Do a booking again that was undone: the parts out of the bin, the bench as it was booked."""
    _recount(store, booked, -1, store.session.redo(), f"{count(len(booked.parts), 'part')} booked out of")


def _recount(store: SessionStore, booked: Booked, by: int, then: Session, said: str) -> None:
    try:
        stock = _counted(store.session, booked, by)
    except CogwrightError as error:
        store.say(f"{'Not undone' if by > 0 else 'Not done again'}: {error}.")
        return
    words = f"{said} {shown(booked.file)}." if booked.parts else then.message
    store.replace(replace(then, stock=stock).say(words))


#: What of a part may change in its bin while it is the same part.
_MAY_CHANGE: Final = {"count", "price", "mass_g", "lead_days"}
_KM: Final = EntryKind(_take, _head)
