"""Which gear for a hill? A form over the chart: what it needs is drawn there as a line."""

from dataclasses import replace
from typing import Final

from cogwright.app.controllers.order import choose_bin, load_bin
from cogwright.app.controllers.pairs import ask_pairs, goes_by_pairs
from cogwright.app.controllers.proposals import look_for
from cogwright.app.controllers.registry import does
from cogwright.app.pickers.scene import Scene, each
from cogwright.app.state.opened import MOVE, EntryKind, Key, ListKind, PickList, TextEntry, Typed, do
from cogwright.app.state.proposal_request import first_limits
from cogwright.app.state.session import Session
from cogwright.app.state.store import SessionStore
from cogwright.core.common.numbers import number_in, written
from cogwright.core.riding.needed import Climb, answer_on, needed_for
from cogwright.present.lines import Line, Role, Span
from cogwright.present.panels.climb_form import FIELDS, ClimbField, answer_head, effort_row, field_row
from cogwright.present.panels.foot import FootKey

_EFFORT, _KITS, _NONE = "effort", "look for kits out of the bin that reach it", "no hill"
_PAIRS: Final = "list pairs that need no tensioner"
#: What the form begins with. Our own choice.
FIRST: Final = Climb(10.0)
_NO_BIN: Final = "Kits come out of a parts bin: put one into the folder bins, as the README says."
ClimbRow = ClimbField | str


@does("climb")
def climb(store: SessionStore) -> None:
    """The form; what was asked last is still there."""
    store.replace(store.session.looked(1))
    store.change(climb=store.session.climb or FIRST)
    more = (_KITS, _PAIRS) if goes_by_pairs(store.session.bench) else (_KITS,)
    store.open(PickList(FORM, "Which gear for a hill?", (*FIELDS, _EFFORT, *more, _NONE)))


def _climb(session: Session) -> Climb:
    return session.climb or FIRST


def _line(row: ClimbRow, scene: Scene) -> Line:
    asked, bike = _climb(scene.session), scene.session.shown
    if isinstance(row, ClimbField):
        return field_row(row, asked, bike)
    return effort_row(asked, bike) if row == _EFFORT else (Span(row, Role.KEY),)


def _head(scene: Scene) -> list[Line]:
    bike = scene.session.shown
    return answer_head(answer_on(_climb(scene.session), bike), scene.session.room)


def _keys(_: Scene) -> tuple[Key, ...]:
    return (Key("left", "", do(_nudge, -1)), Key("right", "", do(_nudge, 1)))


def _nudge(store: SessionStore, steps: int) -> None:
    """The marked figure a step less or more; the other effort."""
    form = store.session.open
    assert isinstance(form, PickList)
    row: ClimbRow = form.shown[form.at]
    if isinstance(row, ClimbField):
        now = row.value(_climb(store.session), store.session.shown)
        store.change(climb=row.put(_climb(store.session), now + steps * row.step))
    elif row == _EFFORT:
        _other_effort(store)


def _other_effort(store: SessionStore) -> None:
    """The other effort, at its own cadence."""
    asked = _climb(store.session)
    store.change(climb=asked._replace(briefly=not asked.briefly, rpm=None))


def _take(store: SessionStore, row: ClimbRow, _: None) -> None:
    if isinstance(row, ClimbField):
        value = row.value(_climb(store.session), store.session.shown)
        store.open(TextEntry(_FIGURE, f"{row.name}, {row.unit}", Typed.ready(written(value)), row))
    elif row == _EFFORT:
        _other_effort(store)
    else:
        store.close()
        if row == _KITS:
            _look_for_kits(store)
        elif row == _PAIRS:
            load_bin(store)
            ask_pairs(store, needed_for(_climb(store.session), store.session.bench).development_m)
        else:
            store.change(climb=None, message="")


def _take_figure(store: SessionStore, text: str, field: ClimbField) -> str | None:
    low, high = field.bounds
    try:
        value = number_in(text, low)
    except ValueError:
        value = high + 1.0
    if value > high:
        return f"Type a number from {low:g} to {high:g} {field.unit}."
    store.change(climb=field.put(_climb(store.session), value))
    return None


def _look_for_kits(store: SessionStore) -> None:
    """A plan with the development needed as the limit of its lowest gear."""
    load_bin(store)
    session = store.session
    if session.stock is None:
        choose_bin(store)
        store.say(_NO_BIN)
        return
    base = session.baseline.setup if session.baseline else None
    goal = session.request.limits or first_limits(session.bench, base)
    low = needed_for(_climb(session), session.bench).development_m
    request = replace(session.request, kind="plan", limits=replace(goal, low_at_most_m=low))
    store.change(request=request)
    look_for(store)


FORM: Final = ListKind(
    each(_line),
    _take,
    head=_head,
    keys=_keys,
    stays=True,
    foot=(MOVE, FootKey("Left Right", "less, more"), FootKey("Enter", "type", "enter")),
    height=11,
    least=11,
)
_FIGURE: Final = EntryKind(_take_figure)
