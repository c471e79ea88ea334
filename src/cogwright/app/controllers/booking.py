"""Booking the work of the order: its parts on the bench, and the day's entry in the bike's log."""

import datetime
from typing import Final

from cogwright.app.controllers.editing import edit
from cogwright.app.controllers.order import load_bin
from cogwright.app.controllers.registry import does
from cogwright.app.pickers.scene import Scene
from cogwright.app.state.opened import EntryKind, TextEntry
from cogwright.app.state.store import SessionStore
from cogwright.core.common.numbers import whole_in
from cogwright.core.worksheet.booking import BookWork, work_in_words
from cogwright.present.lines import Line, Role, Span, wrap

_MOST_KM: Final = 1_000_000
NOTHING: Final = "There is no work to book: the bench takes the same parts as its baseline."


@does("book")
def book(store: SessionStore) -> None:
    """Ask how far the bike has gone, then book."""
    load_bin(store)
    sheet = store.session.order_sheet
    if sheet is None or not sheet.changes:
        store.say(NOTHING)
        return
    store.open(TextEntry(_KM, "Book the work: km of the bike", note=work_in_words(sheet.changes)))


def _head(scene: Scene) -> list[Line]:
    said = "Empty where nobody knows. Its parts go on the bench; u takes that back, s saves it."
    work = f"Into the log of today: {scene.note}."
    return [(Span(" "), *row) for text in (work, said) for row in wrap(text, scene.look.width - 1, Role.DIM)]


def _take(store: SessionStore, text: str, _: str) -> str | None:
    sheet = store.session.order_sheet
    assert sheet is not None
    try:
        km = whole_in(text, 0, _MOST_KM) if text.strip() else None
    except ValueError as error:
        return f"{error}."
    edit(store, BookWork(sheet, datetime.date.today(), km))
    return None


_KM: Final = EntryKind(_take, _head)
