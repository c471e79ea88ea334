"""A sheet over the screen, as lines: a question with the keys that answer it, or text to read."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Final

from cogwright.app.actions import key_name
from cogwright.app.pickers.drawer_frame import in_sight, rule_with
from cogwright.app.pickers.pick_list import LEAVING
from cogwright.app.state.opened import BACK, Question, Reading
from cogwright.app.state.session import Session
from cogwright.app.state.store import SessionStore
from cogwright.present.lines import Line, Look, clip, line, wrap
from cogwright.present.panels.foot import FootKey, key_rows, message_lines
from cogwright.present.panels.screen import Body
from cogwright.present.spots import SpotLine

#: Cells to the left of the text, and those that the scroll bar and a blank before it take.
_INDENT, _RIGHT = 3, 2
_SCROLL: Final = FootKey("Up Down PgUp PgDn", "scroll")
#: Rows that a text to read may take however small its share is.
_LEAST: Final = 11


@dataclass(frozen=True, slots=True)
class SheetFrame:
    """What a sheet shows: its text as far as there is room; `said` is the message before it."""

    said: tuple[Line, ...]
    title: Line
    text: Body
    keys: tuple[SpotLine, ...]


def sheet_of(session: Session) -> SheetFrame | None:
    """The sheet of a session, if one is topmost in it."""
    opened = session.open
    return sheet_frame(session, opened) if isinstance(opened, Question | Reading) else None


def sheet_frame(session: Session, of: Question | Reading) -> SheetFrame:
    """The sheet in the room there is."""
    look = session.room
    narrow = look.of_width(max(look.width - _INDENT - _RIGHT, 8))
    text: Sequence[Line] = _asked(of, narrow.width) if isinstance(of, Question) else of.lines(session, narrow)
    said = message_lines(session.message, look) if isinstance(of, Question) and session.message else []
    height = _most(of, look.height) - len(said)
    scrolls = len(text) > height - 1 - len(_keys(of, look, False))
    keys = _keys(of, look, scrolls)[: max(height - 2, 0)]
    room = max(min(len(text), height - 1 - len(keys)), 1)
    top = in_sight(of.top, None, len(text), room)
    place = f" {top + 1}-{min(top + room, len(text))} of {len(text)} " if len(text) > room else ""
    rows = tuple(line(" " * _INDENT, clip(row, narrow.width)) for row in text)
    shown = Body((), rows, room, top)
    return SheetFrame(tuple(said), rule_with(of.title, place, look), shown, tuple(keys))


def _most(of: Question | Reading, height: int) -> int:
    """Rows that a sheet may take of a screen."""
    return height if isinstance(of, Question) else max(int(height * of.share), min(_LEAST, height))


def _asked(of: Question, width: int) -> list[Line]:
    return [*wrap(of.text, width), *of.more]


def _keys(of: Question | Reading, look: Look, scrolls: bool) -> list[SpotLine]:
    if isinstance(of, Reading):
        keys = [*[_SCROLL] * scrolls, BACK]
    else:
        answers = [FootKey(key_name(each.key), each.word, each.key) for each in of.answers]
        keys = [*answers, BACK, *[FootKey("Up Down", "scroll")] * scrolls]
    return key_rows(keys, look)


def press_in_sheet(store: SessionStore, of: Question | Reading, key: str) -> None:
    """A key while a sheet is the topmost."""
    answers = {each.key: each.deed for each in of.answers} if isinstance(of, Question) else {}
    if key in answers:
        store.close()
        answers[key](store)
    elif key in LEAVING or key == "q":
        store.replace(store.session.popped().say(""))
    else:
        page = max(sheet_frame(store.session, of).text.room - 1, 1)
        by = {"up": -1, "k": -1, "down": 1, "j": 1, "pageup": -page, "pagedown": page, "space": page}
        by |= {"home": -len(_all(store.session, of)), "end": len(_all(store.session, of))}
        scroll_sheet(store, of, sheet_frame(store.session, of).text.top + by.get(key, 0))


def _all(session: Session, of: Question | Reading) -> tuple[Line, ...]:
    return sheet_frame(session, of).text.rows


def scroll_sheet(store: SessionStore, of: Question | Reading, top: int) -> None:
    """Its text moved so that row `top` comes first, as far as that goes."""
    text = sheet_frame(store.session, of).text
    top = min(max(top, 0), text.last_top)
    if top != of.top:
        store.replace(store.session.swapped(replace(of, top=top)))
