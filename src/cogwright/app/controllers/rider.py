"""Edit rider and road in a table; the Ride view above it follows."""

from typing import Final

from cogwright.app.controllers.editing import edit
from cogwright.app.controllers.registry import does
from cogwright.app.pickers.scene import Scene, each
from cogwright.app.state.opened import MOVE, EntryKind, Key, ListKind, PickList, TextEntry, Typed, do
from cogwright.app.state.store import SessionStore
from cogwright.core.common.errors import EditRefused
from cogwright.core.common.numbers import number_in
from cogwright.core.riding.rider_fields import RIDER_FIELDS, RiderField, UsualValue
from cogwright.present.lines import Line, Role, Span, line
from cogwright.present.panels.foot import FootKey
from cogwright.present.panels.rider_table import rider_row, usual_lines


@does("rider")
def rider(store: SessionStore) -> None:
    """The table of all that the ride rests on."""
    store.replace(store.session.looked(4).scrolled(0))
    store.open(PickList(FIELDS, "Rider, bike and road", RIDER_FIELDS))


def _line(field: RiderField, scene: Scene) -> Line:
    return rider_row(scene.session.study, field, scene.look)


def _about(field: RiderField, scene: Scene) -> list[Line]:
    return usual_lines(scene.session.study, field, scene.look)


def _keys(_: Scene) -> tuple[Key, ...]:
    return (Key("left", "", do(_nudge, False)), Key("right", "", do(_nudge, True)))


def _nudge(store: SessionStore, more: bool) -> None:
    """One step less or more; what cannot be says why, and the table stays."""
    table = store.session.open
    assert isinstance(table, PickList)
    field: RiderField = table.shown[table.at]
    edit(store, field.nudge(store.session.bench, more))


def _pick_field(store: SessionStore, field: RiderField, _: None) -> None:
    """Type a number; where some are usual, choose one of them by its name."""
    if not field.usual:
        _type_figure(store, field)
        return
    now = field.usual_now(store.session.bench)
    at = field.usual.index(now) if now else len(field.usual)
    store.open(PickList(USUAL, field.label, (*field.usual, None), field, at=at))


def _usual_line(choice: UsualValue | None, scene: Scene) -> Line:
    if choice is None:
        return (Span("another figure", Role.KEY),)
    figure = f"{choice.value:<6g}{scene.note.unit:<3} "
    return line(figure, choice.label, Span(f"  ({choice.source})", Role.DIM))


def _take_usual(store: SessionStore, choice: UsualValue | None, field: RiderField) -> None:
    if choice is None:
        _type_figure(store, field)
    else:
        edit(store, field.edit(store.session.bench, choice.value))


def _type_figure(store: SessionStore, field: RiderField) -> None:
    value = f"{field.value(store.session.bench):g}"
    name = f"{field.label}, {field.unit}".strip(", ")
    store.open(TextEntry(_FIGURE, name, Typed.ready(value), field))


def _take_figure(store: SessionStore, text: str, field: RiderField) -> str | None:
    bench = store.session.bench
    try:
        value = number_in(text)
        store.replace(store.session.edit(field.edit(bench, value)))
    except ValueError:
        return f"Type a number of {field.unit or 'its unit'}, such as {field.value(bench):g}."
    except EditRefused as refusal:
        return f"{refusal}."
    return None


FIELDS: Final = ListKind(
    each(_line),
    _pick_field,
    about=_about,
    about_room=lambda _: 4,
    keys=_keys,
    stays=True,
    foot=(MOVE, FootKey("Left Right", "less, more"), FootKey("Enter", "type", "enter")),
    height=8,
    share=1 / 2,
)
USUAL: Final = ListKind(each(_usual_line), _take_usual)
_FIGURE: Final = EntryKind(_take_figure)
