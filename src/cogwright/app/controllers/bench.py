"""Actions on the bench: pick a sprocket, change its teeth, add, remove, undo."""

from collections.abc import Callable
from typing import TYPE_CHECKING

from cogwright.app.controllers.delete import bring_back
from cogwright.app.controllers.handlers import does
from cogwright.app.pickers.content import Content
from cogwright.app.state.session import riveted
from cogwright.core.common.errors import EditRefused
from cogwright.core.common.numbers import whole_in
from cogwright.core.setup.edits import (
    AddSprocket,
    Edit,
    RemoveSprocket,
    SetTeeth,
    riveted_with,
)
from cogwright.core.setup.model import MAX_TEETH, MIN_TEETH
from cogwright.present.panels.head import Cursor

if TYPE_CHECKING:
    from cogwright.app.main import BenchApp


def edit(app: "BenchApp", change: Edit, follow: Cursor | None = None) -> None:
    """Make an edit on the bench, or say why not."""
    try:
        app.become(app.session.edit(change, follow))
    except EditRefused as refusal:
        app.say(f"{refusal}.")


@does("pick-left")
def pick_left(app: "BenchApp") -> None:
    """The sprocket to the left."""
    app.become(app.session.picked(-1))


@does("pick-right")
def pick_right(app: "BenchApp") -> None:
    """The sprocket to the right."""
    app.become(app.session.picked(1))


@does("pick-other")
def pick_other(app: "BenchApp") -> None:
    """From rings to cogs and back."""
    app.become(app.session.crossed())


@does("teeth-up")
def teeth_up(app: "BenchApp") -> None:
    """The next larger tooth count."""
    _step(app, True)


@does("teeth-down")
def teeth_down(app: "BenchApp") -> None:
    """The next smaller tooth count."""
    _step(app, False)


def _step(app: "BenchApp", up: bool) -> None:
    teeth = app.session.neighbour(up)
    if teeth is None:
        app.say(f"Sprockets here have {MIN_TEETH} to {MAX_TEETH} teeth.")
        return
    put(app, teeth)


def put(app: "BenchApp", teeth: int) -> None:
    """Another sprocket in the place of the chosen one; a riveted cog says so. Raises EditRefused."""
    here = app.session.cursor
    others = riveted_with(app.session.bench, here.teeth) if here.where == "cog" else ()
    changed = app.session.edit(SetTeeth(here.where, here.teeth, teeth), Cursor(here.where, teeth))
    app.become(changed.say(riveted(here.teeth, others)) if others else changed)


@does("type-teeth")
def type_teeth(app: "BenchApp") -> None:
    """Type the tooth count of the chosen sprocket."""
    here = app.session.cursor
    _ask_teeth(app, f"Teeth in place of {here.where} {here.teeth}", lambda teeth: put(app, teeth))


@does("add")
def add(app: "BenchApp") -> None:
    """Add a ring or cog; type its teeth."""
    where = app.session.cursor.where
    near = app.session.neighbour(True) or app.session.neighbour(False)

    def put_on(teeth: int) -> None:
        app.become(app.session.edit(AddSprocket(where, teeth), Cursor(where, teeth)))

    _ask_teeth(app, f"Teeth of the {where} to add", put_on, str(near or ""))


def _ask_teeth(app: "BenchApp", title: str, then: Callable[[int], None], value: str = "") -> None:
    """Ask for a tooth count, until one is typed that can be put on."""

    def typed(text: str) -> str | None:
        try:
            teeth = whole_in(text, MIN_TEETH, MAX_TEETH)
        except ValueError:
            return f"Type a whole number of teeth from {MIN_TEETH} to {MAX_TEETH}."
        try:
            then(teeth)
        except EditRefused as refusal:
            return f"{refusal}."
        return None

    app.drawer_open(Content(title, typed=typed, value=value))


@does("remove")
def remove(app: "BenchApp") -> None:
    """Take the chosen sprocket off."""
    here = app.session.cursor
    edit(app, RemoveSprocket(here.where, here.teeth))


@does("undo")
def undo(app: "BenchApp") -> None:
    """One edit back; a file that was deleted after the last one comes back first."""
    deleted = app.session.deleted
    if deleted is not None and len(app.session.history.past) <= deleted.edits:
        bring_back(app, deleted)
    else:
        app.become(app.session.undo())


@does("redo")
def redo(app: "BenchApp") -> None:
    """One edit forward."""
    app.become(app.session.redo())
