"""The parts bin in a form: parts put in, changed and taken out, with their prices and counts."""

from dataclasses import dataclass, replace
from typing import Any, Final

from cogwright.app.controllers.bin_writing import write_bin
from cogwright.app.controllers.order import choose_bin, load_bin
from cogwright.app.controllers.registry import does
from cogwright.app.pickers.form import form_at
from cogwright.app.pickers.scene import Scene, each
from cogwright.app.state.opened import MOVE, Form, FormKind, Key, ListKind, PickList, Question, do
from cogwright.app.state.session import Session
from cogwright.app.state.store import SessionStore
from cogwright.core.common.errors import InputError
from cogwright.core.common.safe_text import cells, clean, cut, pad
from cogwright.core.parts.bin import Bin, CassettePart, ChainPart, Part
from cogwright.core.parts.changed import KINDS, kind_of, model_of, with_part, without_part
from cogwright.core.setup.intake import AnswerKind, Asked, Several, read, said, textual, typed
from cogwright.present.lines import Line, Role, Span, line, told
from cogwright.present.panels.foot import FootKey
from cogwright.store.problems import problems_in, wanted


@dataclass(frozen=True, slots=True)
class Drawer:
    """A part being put in or changed: its kind, the answers, and the part as it lies in the bin, if so."""

    kind: str
    answers: tuple[tuple[str, Any], ...]
    part: Part | None = None

    @property
    def values(self) -> dict[str, Any]:
        """The answers by their keys."""
        return dict(self.answers)


@does("bin-parts")
def bin_parts(store: SessionStore) -> None:
    """All parts of the bin: Enter changes one, F7 puts one in, F8 takes one out."""
    load_bin(store)
    stock = store.session.stock
    if stock is None:
        choose_bin(store)
        return
    _list(store)


def _list(store: SessionStore) -> None:
    stock = store.session.stock
    assert stock is not None
    store.open(PickList(PARTS, f"{stock.name}: what is in it", tuple(stock.parts), stock))


def _line(part: Part, scene: Scene) -> Line:
    stock: Bin = scene.note
    price = "no price" if part.price is None else f"{part.price:.2f} {stock.currency}"
    there = f"{part.count} in stock" if part.count else "to order"
    figures = f"{price:>14}  {there:>11}" if scene.look.width >= _WIDE else f" {price:>10} {there:>10}"
    name, kind = clean(part.name), KINDS[kind_of(stock, part)]
    said = "" if kind.split()[-1] in name.lower() else f"  {kind}"
    room = max(scene.look.width - cells(figures), 8)
    return line(cut(name, room), Span(pad(said, max(room - cells(name), 0)), Role.DIM), figures)


def _words(part: Part) -> str:
    return part.name


def _keys(scene: Scene) -> tuple[Key, ...]:
    out = (Key("f8", "take out", _ask_out),) if scene.values else ()
    return (Key("f7", "put in", _ask_kind), *out)


def _change(store: SessionStore, part: Part, stock: Bin) -> None:
    kind = kind_of(stock, part)
    answers = tuple((key, getattr(part, key)) for key in type(part).model_fields)
    _open(store, Drawer(kind, answers, part))


def _open(store: SessionStore, drawer: Drawer) -> None:
    title = f"{KINDS[drawer.kind].capitalize()} {'in the bin' if drawer.part else 'to put in'}"
    store.open(form_at(store.session, Form(BIN_FORM, title, drawer), 0))


# Put in and take out


def _ask_kind(store: SessionStore) -> None:
    store.close()
    store.open(PickList(WHICH, "Put in a", tuple(KINDS)))


def _kind_line(kind: str, _: Scene) -> Line:
    return (Span(KINDS[kind]),)


def _take_kind(store: SessionStore, kind: str, _: None) -> None:
    _open(store, Drawer(kind, ()))


def _ask_out(store: SessionStore) -> None:
    """Asked for by a key that no text holds, as everything that destroys something is."""
    of = store.session.open
    assert isinstance(of, PickList)
    part, stock = of.shown[of.at], of.note
    text = f"Take {part.name} out of {stock.name}? Its file keeps the version before beside it."
    store.open(Question("Take a part out", text, (Key("f8", "take out", do(_out, part)),)))


def _out(store: SessionStore, part: Part) -> None:
    stock = store.session.stock
    assert stock is not None
    store.close()
    write_bin(store, without_part(stock, kind_of(stock, part), part), f"Taken out: {part.name}.", _list)


# The form


def _fields(_: Session, drawer: Drawer) -> tuple[Asked, ...]:
    """What a part of that kind says: what it needs first."""
    model = model_of(drawer.kind)
    asked = [_asked(model, key) for key in model.model_fields]
    return tuple(sorted(asked, key=lambda one: not one.needed))


def _asked(model: type[Part], key: str) -> Asked:
    field = model.model_fields[key]
    kind: AnswerKind = "text" if textual(field.annotation) else "figure"
    if key == "cogs" and model is not ChainPart:  # a chain says for how many cogs it is made
        kind = "cassette" if model is CassettePart else "teeth"
    label = key.replace("_", " ")
    return Asked(key, label, label, _UNITS.get(key, ""), kind, needed=field.is_required())


def _row(asked: Asked, scene: Scene) -> Line:
    values = scene.note.values
    value = values.get(asked.key)
    if value is None:
        text = "needed" if asked.needed else "unknown"
        return line(pad(asked.label, 26), Span(text, Role.CAUTION if asked.needed else Role.UNKNOWN))
    return line(pad(asked.label, 26), clean(said(asked, value)), _currency(asked, scene.session))


def _currency(asked: Asked, session: Session) -> str:
    return f" {session.stock.currency}" if asked.key == "price" and session.stock else ""


def _begin(_: Session, asked: Asked, drawer: Drawer) -> str:
    return clean(typed(drawer.values.get(asked.key)))


def _about(asked: Asked, scene: Scene) -> list[Line]:
    takes = wanted(model_of(scene.note.kind), asked.key) or "text"
    more = "needed" if asked.needed else "? for unknown"
    return told(f"{takes}; {more}", scene.look.width, Role.DIM)


def _take(store: SessionStore, text: str, asked: Asked, drawer: Drawer) -> str | None:
    """An answer into the part, and the part into the bin as soon as nothing is missing; why not."""
    try:
        value = read(asked, text)
    except InputError as error:
        return "; ".join(problem.inside() for problem in error.problems)
    if isinstance(value, Several):
        return f"{value.cassette} are its ends alone: type all its cogs, such as 11 13 15."
    answers = drawer.values | {asked.key: value}
    model = model_of(drawer.kind)
    given = {key: one for key, one in answers.items() if one is not None}
    wrong = problems_in(given, model, {})
    mine = [one for one in wrong if one.key.partition("[")[0] == asked.key]
    if mine:
        return f"{mine[0].what}; {mine[0].mend}."
    changed = replace(drawer, answers=tuple(answers.items()))
    _note(store, changed)
    if not wrong:
        _put_in(store, changed, model.model_validate(given))
    return None


def _note(store: SessionStore, drawer: Drawer) -> None:
    of = store.session.open
    assert isinstance(of, Form)
    store.replace(store.session.swapped(replace(of, note=drawer)))


def _put_in(store: SessionStore, drawer: Drawer, part: Part) -> None:
    stock = store.session.stock
    assert stock is not None
    if part != drawer.part:
        said = f"In the bin: {part.name}."
        write_bin(store, with_part(stock, drawer.kind, part, drawer.part), said, do(_is_in, drawer, part))


def _is_in(store: SessionStore, drawer: Drawer, part: Part) -> None:
    _note(store, replace(drawer, part=part))


def _leave(store: SessionStore, drawer: Drawer) -> None:
    """Back to the list; a part that lacks something is not in the bin, and that is said."""
    if drawer.part is None and drawer.answers:
        missing = [key for key, field in model_of(drawer.kind).model_fields.items() if field.is_required()]
        lacks = [key.replace("_", " ") for key in missing if drawer.values.get(key) is None]
        store.say(f"Not put into the bin: it needs {' and '.join(lacks)}.")
    said = store.session.message
    _list(store)
    store.say(said)


_UNITS: Final = {"mass_g": "g", "lead_days": "days", "links": "links", "bolt_circle_mm": "mm"}
#: Under this width figures stand closer together.
_WIDE: Final = 48
BIN_FORM: Final = FormKind(_fields, _row, _begin, _take, _about, leave=_leave)
PARTS: Final = ListKind(
    each(_line),
    _change,
    words=_words,
    keys=_keys,
    foot=(MOVE, FootKey("Enter", "change", "enter")),
    nothing="no part is called that: F7 puts one in",
    height=16,
)
WHICH: Final = ListKind(each(_kind_line), _take_kind)
