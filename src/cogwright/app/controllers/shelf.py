"""The shelf: every setup of the folder, the bad ones with what is wrong; Enter puts one on the bench."""

from typing import TYPE_CHECKING

from cogwright.app.controllers.files import leaving, read_problems
from cogwright.app.controllers.handlers import does
from cogwright.app.pickers.content import Choice, Content
from cogwright.app.state.opening import begin
from cogwright.core.common.errors import InputError
from cogwright.core.common.safe_text import shown_name
from cogwright.present.lines import Look, line
from cogwright.present.panels.shelf import Scale, bad_line, scale_of, setup_line, shelf_head, strip_cells
from cogwright.store.shelf import ShelfEntry

if TYPE_CHECKING:
    from cogwright.app.main import BenchApp


@does("open")
def open_shelf(app: "BenchApp") -> None:
    """The shelf of setups; Enter puts one on the bench."""
    try:
        entries = app.other_entries()
    except InputError as error:
        app.say(str(error))
        return
    rows = shelf_choices(app, entries)
    if not rows:
        app.say(f"No setup in {shown_name(str(app.folder))} yet: s saves what is on the bench there.")
        return
    here = next((i for i, entry in enumerate(entries) if entry.path == app.session.path), 0)
    title = f"Setups in {shown_name(app.folder.name or str(app.folder))}, ranges on one scale"
    look = app.look.narrower(3)
    app.drawer_open(
        Content(
            title,
            rows,
            head=[line("   ", shelf_head(_scale(entries, look), look))],
            pick=lambda e: _open(app, e),
            filter=True,
            start=here,
            height=40,
        )
    )


def shelf_choices(app: "BenchApp", entries: tuple[ShelfEntry, ...]) -> list[Choice]:
    """A choice for every file, the bad ones with what is wrong."""
    look = app.look.narrower(3)
    scale = _scale(entries, look)
    base = app.session.baseline.setup if app.session.baseline else None
    return [
        Choice(
            setup_line(e.setup, scale, base, look) if e.setup else bad_line(e.name, e.problems, look),
            e,
        )
        for e in entries
    ]


def _scale(entries: tuple[ShelfEntry, ...], look: Look) -> Scale:
    return scale_of([e.setup for e in entries if e.setup], strip_cells(look))


def _open(app: "BenchApp", entry: ShelfEntry) -> None:
    if entry.document is None:
        read_problems(app, entry.path, entry.problems)
        return
    document = entry.document
    leaving(app, lambda: app.start(begin(document)))
