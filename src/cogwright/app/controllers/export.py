"""Taking the picture along: the screen as SVG, the chart as text, to a file or the clipboard."""

import re
from typing import TYPE_CHECKING

from cogwright.app.controllers.handlers import does
from cogwright.app.layout import whole_view
from cogwright.app.pickers.content import Choice, Content
from cogwright.core.common.safe_text import clean, shown_name
from cogwright.present.lines import Span, plain
from cogwright.present.panels.head import VIEWS
from cogwright.store.exports import write_export
from cogwright.store.files import StoreError
from cogwright.store.paths import suggested_name

if TYPE_CHECKING:
    from cogwright.app.main import BenchApp


@does("export")
def export(app: "BenchApp") -> None:
    """Ask what to take along, and do it."""
    choices = [
        Choice((Span("the whole view as text, to a file"),), _text_file),
        Choice((Span("the whole view as text, to the clipboard (OSC 52)"),), _clipboard),
        Choice((Span("this screen as a picture (SVG), to a file"),), _svg_file),
    ]
    app.drawer_open(Content("Take along", choices, pick=lambda then: then(app)))


def view_text(app: "BenchApp") -> str:
    """The whole view with its head, however long, as plain text."""
    return "\n".join(clean(plain(each)) for each in whole_view(app)) + "\n"


def _name(app: "BenchApp", ending: str) -> str:
    stem = suggested_name(app.session.bench.name).removesuffix(".toml")
    return f"{stem}-{VIEWS[app.session.view - 1].lower()}{ending}"


def _text_file(app: "BenchApp") -> None:
    _write(app, _name(app, ".txt"), view_text(app))


def _svg_file(app: "BenchApp") -> None:
    """The drawer is closed by now; the picture is taken once the screen without it is drawn."""
    app.draw()
    app.call_after_refresh(lambda: _write(app, _name(app, ".svg"), picture(app)))


def picture(app: "BenchApp") -> str:
    """The screen as SVG. The library would have the viewer fetch a font from the web: take its own."""
    return re.sub(r"@font-face\s*\{.*?\}", "", app.export_screenshot(simplify=True), flags=re.DOTALL)


def _write(app: "BenchApp", name: str, text: str) -> None:
    try:
        path = write_export(name, text)
    except StoreError as error:
        app.say(str(error))
        return
    app.say(f"Written to {shown_name(str(path))}.")


def _clipboard(app: "BenchApp") -> None:
    text = view_text(app)
    app.copy_to_clipboard(text)
    count = text.count("\n")
    app.say(f"{count} lines sent to the terminal's clipboard (OSC 52); tmux and some others must allow it.")
