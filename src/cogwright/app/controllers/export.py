"""Export: the view as text, to a file or the clipboard, and the chart as a drawing."""

from dataclasses import dataclass
from typing import Final

from cogwright.app.controllers.registry import does
from cogwright.app.layout import whole_view
from cogwright.app.pickers.scene import Scene, each
from cogwright.app.state.opened import Deed, ListKind, PickList
from cogwright.app.state.session import Session
from cogwright.app.state.store import SessionStore
from cogwright.app.views import VIEW
from cogwright.core.common.safe_text import clean, shown_name
from cogwright.present.lines import Line, Span, plain
from cogwright.present.palette import DARK, LIGHT
from cogwright.store.exports import write_export
from cogwright.store.files import StoreError
from cogwright.store.paths import suggested_name


@dataclass(frozen=True, slots=True)
class ExportWay:
    """One way to export something."""

    name: str
    deed: Deed


@does("export")
def export(store: SessionStore) -> None:
    """Ask what to export, and do it."""
    store.open(PickList(WAYS, "Export", _WAYS))


def view_text(session: Session) -> str:
    """The whole view with its head, however long, as plain text."""
    return "\n".join(clean(plain(each_line)) for each_line in whole_view(session)) + "\n"


def _name(session: Session, ending: str) -> str:
    stem = suggested_name(session.bench.name).removesuffix(".toml")
    return f"{stem}-{VIEW[session.view].name.lower()}{ending}"


def _text_file(store: SessionStore) -> None:
    _write(store, _name(store.session, ".txt"), view_text(store.session))


def _picture_file(store: SessionStore) -> None:
    """The chart as it is drawn on the screen, on paper unless the screen is known to be dark."""
    from cogwright.present.picture.chart import chart_picture

    session = store.session
    palette = DARK if session.colours == "dark" else LIGHT
    name = suggested_name(session.bench.name).removesuffix(".toml") + ".svg"
    _write(store, name, chart_picture(session.study, session.chart, palette))


def _write(store: SessionStore, name: str, text: str) -> None:
    try:
        path = write_export(name, text)
    except StoreError as error:
        store.say(str(error))
        return
    store.say(f"Written to {shown_name(str(path))}.")


def _clipboard(store: SessionStore) -> None:
    text = view_text(store.session)
    store.host.copy(text)
    count = text.count("\n")
    store.say(f"{count} lines sent to the terminal's clipboard (OSC 52); tmux and some others must allow it.")


def _line(way: ExportWay, _: Scene) -> Line:
    return (Span(way.name),)


def _take(store: SessionStore, way: ExportWay, _: None) -> None:
    way.deed(store)


WAYS: Final = ListKind(each(_line), _take)
_WAYS: Final = (
    ExportWay("the whole view as text, to a file", _text_file),
    ExportWay("the whole view as text, to the clipboard (OSC 52)", _clipboard),
    ExportWay("the chart of the gears as a drawing (SVG), to a file", _picture_file),
)
