"""The facts of a bike in a form: those of a new one, those of the bench, the one that a check lacks."""

from dataclasses import dataclass, replace
from typing import Any, Final

from cogwright.app.controllers.order import load_bin
from cogwright.app.controllers.registry import does
from cogwright.app.controllers.shelf import other_setups
from cogwright.app.pickers.form import answered, form_at
from cogwright.app.pickers.scene import Scene, each
from cogwright.app.state.opened import Form, FormKind, ListKind, PickList
from cogwright.app.state.session import Session
from cogwright.app.state.store import SessionStore
from cogwright.core.common.errors import EditRefused, InputError
from cogwright.core.common.safe_text import cells, clean, pad
from cogwright.core.common.words import both_ends
from cogwright.core.fit.check import Check, Status
from cogwright.core.setup.intake import Asked, Several, asked_of, edit_of, given, read, said, suggested
from cogwright.core.setup.model import Setup
from cogwright.core.setup.teeth_lists import CassetteRange, fitting
from cogwright.core.setup.tyre_names import called
from cogwright.present.lines import Line, Role, Span, line, opening, told
from cogwright.store.problems import problems_in, wanted


@dataclass(frozen=True, slots=True)
class Asking:
    """What a form asks first, and which of the facts on the bench are an example that nobody has answered."""

    first: tuple[str, ...] = ()
    example: frozenset[str] = frozenset()


@dataclass(frozen=True, slots=True)
class Cassette:
    """A cassette that a range can mean: its cogs, what is riveted, and where it comes from."""

    cogs: tuple[int, ...]
    carriers: tuple[tuple[int, ...], ...]
    name: str


@does("facts")
def open_facts(store: SessionStore) -> None:
    """The facts of the bike on the bench, from the first."""
    open_form(store, Asking())


def begin_intake(store: SessionStore) -> None:
    """The facts of a new bike, whose wheel and teeth are an example until they are answered."""
    needed = frozenset(asked.key for asked in asked_of(store.session.bench) if asked.needed)
    open_form(store, Asking(example=needed))


def open_form(store: SessionStore, asking: Asking, key: str = "") -> None:
    """The form, at that fact."""
    title = "New bike" if asking.example else "Facts of the bike"
    form = Form(INTAKE_FORM, title, asking)
    keys = [asked.key for asked in _fields(store.session, asking)]
    store.open(form_at(store.session, form, keys.index(key) if key in keys else 0))


@does("edit-fact")
def find_fact(store: SessionStore) -> None:
    """All facts that a setup can give, with those that this one gives, to be found by their names."""
    asked = asked_of(store.session.bench)
    store.open(PickList(FACTS, "Find a fact", asked))


def fill_in(store: SessionStore, check: Check) -> None:
    """The form at the first fact that a check lacks; what else is lacking follows."""
    lacking = lacking_of(store.session)
    first = tuple(dict.fromkeys((*check.lacks, *lacking)))
    open_form(store, Asking(first), check.lacks[0])


def marked_unknown(session: Session) -> Check | None:
    """The check that cannot be made which the Fit view marks."""
    unknown = [check for check in session.study.fit if check.status is Status.UNKNOWN]
    return unknown[min(session.unknown, len(unknown) - 1)] if unknown else None


def lacking_of(session: Session) -> tuple[str, ...]:
    """The facts that checks cannot be made without, in the order in which they are shown."""
    unknown = [check for check in session.study.fit if check.status is Status.UNKNOWN]
    return tuple(dict.fromkeys(key for check in unknown for key in check.lacks))


# Finding one


def _fact_line(asked: Asked, scene: Scene) -> Line:
    value = given(scene.session.bench, asked.key)
    role = Role.DIM if value is None else Role.TEXT
    return line(pad(asked.key, 34), opening(clean(said(asked, value)), scene.look.width - 34, role))


def _fact_words(asked: Asked) -> str:
    return f"{asked.key} {asked.label}"


def _take_fact(store: SessionStore, asked: Asked, _: None) -> None:
    open_form(store, Asking(), asked.key)


# The form


def _fields(session: Session, asking: Asking) -> tuple[Asked, ...]:
    return asked_of(session.bench, asking.first)


def _row(asked: Asked, scene: Scene) -> Line:
    value, room = given(scene.session.bench, asked.key), min(34, scene.look.width // 2)
    text = clean(said(asked, value))
    if asked.key in scene.note.example:
        return line(pad(asked.label, room), *_example(text, scene.look.width - room))
    role = Role.UNKNOWN if value is None else Role.TEXT
    return line(pad(asked.label, room), opening(text, scene.look.width - room, role))


def _example(text: str, room: int) -> Line:
    """A figure that is nobody's yet, and the word for that, which is the last to be left out."""
    mark = "  example"
    return line(opening(text, room - len(mark), Role.CAUTION), Span(mark, Role.CAUTION))


def _begin(session: Session, asked: Asked, _: Asking) -> str:
    return clean(suggested(asked, session.bench))


def _about(asked: Asked, scene: Scene) -> list[Line]:
    """What to look at, and what may be typed."""
    takes = wanted(Setup, asked.key)
    usual = asked.usual(scene.session.bench)
    common = (
        ""
        if usual is None or given(scene.session.bench, asked.key) is not None
        else "; Enter takes what is usual"
    )
    parts = [asked.hint or asked.key, takes if asked.kind == "figure" else ""]
    return told(f"{'; '.join(part for part in parts if part)}{common}", scene.look.width, Role.DIM)


def take_answer(store: SessionStore, text: str, asked: Asked, _: Asking) -> str | None:
    """An answer onto the bench; a question where it can mean several; why not, in the words of `check`."""
    try:
        value = read(asked, text)
    except InputError as error:
        return "; ".join(problem.inside() for problem in error.problems)
    if isinstance(value, Several):
        return _ask_which(store, asked, value)
    return put_answer(store, asked, value)


def put_answer(store: SessionStore, asked: Asked, value: Any) -> str | None:
    """A value onto the bench, as one edit; why not."""
    change = edit_of(asked, value, _carriers(store.session.bench, value) if asked.kind == "cassette" else ())
    try:
        store.replace(store.session.edit(change))
    except EditRefused as refusal:
        return f"{refused(store.session.bench, asked.key, value) or refusal}."
    _no_example(store, asked)
    return None


def _no_example(store: SessionStore, asked: Asked) -> None:
    """An answer, even the example's own, is an example no more."""
    of = store.session.open
    if isinstance(of, Form) and isinstance(of.note, Asking) and asked.key in of.note.example:
        note = replace(of.note, example=of.note.example - {asked.key})
        store.replace(store.session.swapped(replace(of, note=note)))


def _carriers(bench: Setup, cogs: tuple[int, ...]) -> tuple[tuple[int, ...], ...]:
    """What stays riveted when the cogs are typed: the carriers that are there whole."""
    return tuple(carrier for carrier in bench.rear.carriers if set(carrier) <= set(cogs))


def refused(bench: Setup, key: str, value: object) -> str:
    """Why a value is refused, as a file with it would be told."""
    data = bench.model_dump()
    *tables, last = key.split(".")
    within = data
    for name in tables:
        within = within[name]
    within[last] = value
    found = problems_in(data, Setup, {})
    return f"{found[0].what}; {found[0].mend}" if found else ""


# What is to be asked about


def _ask_which(store: SessionStore, asked: Asked, several: Several) -> str | None:
    if several.cassette is None:
        store.open(PickList(TYRES, "Which one does the tyre's side say?", several.sizes, asked))
        return None
    found = cassettes_called(store, several.cassette)
    if not found:
        return (
            f"No cassette {several.cassette} is in the bin or on the shelf: type its cogs, such as 11 13 15."
        )
    if len(found) > 1:
        store.open(PickList(CALLED, f"Which cassette {several.cassette}?", found, asked))
        return None
    _put_cassette(store, asked, found[0])
    store.say(f"{found[0].name}: {' '.join(map(str, found[0].cogs))}.")
    return None


def cassettes_called(store: SessionStore, wanted: CassetteRange) -> tuple[Cassette, ...]:
    """The cassettes of the bin and of the shelf that a range can mean, alike ones once."""
    load_bin(store)
    stock = store.session.stock
    there = [Cassette(part.cogs, part.carriers, part.name) for part in (stock.cassettes if stock else ())]
    there += [Cassette(one.rear.cogs, one.rear.carriers, one.name) for _, one in other_setups(store)]
    alike = {(one.cogs, one.carriers): one for one in reversed(fitting(wanted, there))}
    return tuple(reversed(alike.values()))


def _tyre_line(size: str, _: Scene) -> Line:
    return line(pad(size, 10), Span(called(size), Role.DIM))


def _take_tyre(store: SessionStore, size: str, asked: Asked) -> None:
    put_answer(store, asked, size)
    answered(store)


def _cassette_line(one: Cassette, scene: Scene) -> Line:
    riveted = "".join(f" ({'-'.join(map(str, each))})" for each in one.carriers)
    room = max(scene.look.width - cells(one.name) - len(riveted) - 3, 9)
    return line(f"{both_ends(list(map(str, one.cogs)), room)}{riveted}   ", Span(one.name, Role.DIM))


def _take_cassette(store: SessionStore, one: Cassette, asked: Asked) -> None:
    _put_cassette(store, asked, one)
    answered(store)


def _put_cassette(store: SessionStore, asked: Asked, one: Cassette) -> None:
    store.replace(store.session.edit(edit_of(asked, one.cogs, one.carriers)))
    _no_example(store, asked)


FACTS: Final = ListKind(each(_fact_line), _take_fact, words=_fact_words, height=20)
TYRES: Final = ListKind(each(_tyre_line), _take_tyre)
CALLED: Final = ListKind(each(_cassette_line), _take_cassette)
INTAKE_FORM: Final = FormKind(_fields, _row, _begin, take_answer, _about)
