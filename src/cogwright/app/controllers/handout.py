"""The hand-out for the rider: read on the screen, or written as a page for a browser and a printer."""

from typing import Final

from cogwright.app.controllers.order import load_bin
from cogwright.app.controllers.registry import does
from cogwright.app.pickers.scene import Scene, each
from cogwright.app.state.opened import Deed, ListKind, PickList, Reading
from cogwright.app.state.session import Session
from cogwright.app.state.store import SessionStore
from cogwright.core.common.safe_text import shown_name
from cogwright.present.lines import Line, Look, Span, plain, wrap
from cogwright.present.report.handout import Handout, handout_of
from cogwright.present.report.handout_html import handout_html
from cogwright.present.report.handout_text import handout_lines, handout_markdown
from cogwright.store.exports import write_export
from cogwright.store.files import StoreError
from cogwright.store.paths import suggested_name

NO_BASELINE: Final = "A hand-out tells of a change: set what the bench is compared with first (b)."


@does("hand-out")
def hand_out(store: SessionStore) -> None:
    """Ask how it is wanted."""
    load_bin(store)
    if store.session.baseline is None:
        store.say(NO_BASELINE)
        return
    store.open(PickList(WAYS, "Hand-out for the rider", tuple(_WAYS)))


def page_of(session: Session) -> Handout:
    """The page of what stands on the bench."""
    used = [f"Compared with {session.baseline.name}." if session.baseline else ""]
    used.append(f"Parts and prices: {session.stock.name}." if session.stock else "No parts bin: no prices.")
    return handout_of(session.study, session.course, session.stock, tuple(filter(None, used)))


def _read(store: SessionStore) -> None:
    store.open(Reading("Hand-out for the rider", _lines))


def _lines(session: Session, look: Look) -> list[Line]:
    if session.baseline is None:
        return wrap(NO_BASELINE, look.width)
    return handout_lines(page_of(session), look)


def _html(store: SessionStore) -> None:
    _write(store, ".html", handout_html(page_of(store.session)))


def _markdown(store: SessionStore) -> None:
    _write(store, ".md", handout_markdown(page_of(store.session)))


def _text(store: SessionStore) -> None:
    rows = handout_lines(page_of(store.session), Look(80))
    _write(store, ".txt", "".join(f"{plain(row)}\n" for row in rows))


def _write(store: SessionStore, ending: str, text: str) -> None:
    stem = suggested_name(store.session.bench.name).removesuffix(".toml")
    try:
        path = write_export(f"{stem}-hand-out{ending}", text)
    except StoreError as error:
        store.say(str(error))
        return
    store.say(f"Written to {shown_name(str(path))}.")


def _line(way: str, _: Scene) -> Line:
    return (Span(way),)


def _take(store: SessionStore, way: str, _: None) -> None:
    _WAYS[way](store)


WAYS: Final = ListKind(each(_line), _take)
_WAYS: Final[dict[str, Deed]] = {
    "read it here": _read,
    "a page to print or mail (HTML file)": _html,
    "Markdown, to a file": _markdown,
    "plain text, to a file": _text,
}
