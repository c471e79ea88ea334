"""Put a part of the bin on, or the cassette of another setup; each shows on the bench while looked at."""

from dataclasses import dataclass
from typing import Final

from cogwright.app.controllers.bench import edit
from cogwright.app.controllers.order import choose_bin, load_bin
from cogwright.app.controllers.registry import does
from cogwright.app.controllers.shelf import other_setups
from cogwright.app.pickers.scene import Scene, each
from cogwright.app.state.opened import ListKind, PickList
from cogwright.app.state.session import Session
from cogwright.app.state.store import SessionStore
from cogwright.core.common.errors import EditRefused
from cogwright.core.parts.bin import CassettePart
from cogwright.core.parts.which_fit import Place, TriedPart, cassette_of, try_parts
from cogwright.core.setup.edits import Edit
from cogwright.core.setup.model import Setup
from cogwright.present.lines import Line, Role, Span, line
from cogwright.present.panels.parts import part_line, why_not


@does("part")
def part(store: SessionStore) -> None:
    """Pick a part of the bin."""
    load_bin(store)
    stock, here = store.session.stock, store.session.cursor
    if stock is None:
        choose_bin(store)
        return
    found = tuple(try_parts(stock, store.session.study, _place(store.session)))
    store.open(PickList(PARTS, f"{stock.name}: in place of {here.where} {here.teeth}", found, stock.currency))


@does("cassette")
def cassette(store: SessionStore) -> None:
    """Replace the whole cassette by one of another setup, or of the parts bin."""
    load_bin(store)
    session, stock = store.session, store.session.stock
    found: list[TriedPart | Taken] = [
        Taken(setup, cassette_of(setup, session.study, _place(session))) for setup in other_setups(store)
    ]
    if stock is not None:
        of_bin = try_parts(stock, session.study, _place(session))
        found += [pick for pick in of_bin if isinstance(pick.part, CassettePart)]
    if not found:
        store.say("There is no other setup in this folder, and no parts bin, to take a cassette from.")
        return
    currency = stock.currency if stock else ""
    store.open(PickList(CASSETTES, "Put another cassette on", tuple(found), currency))


@dataclass(frozen=True, slots=True)
class Taken:
    """The cassette of another setup."""

    setup: Setup
    pick: TriedPart


def _place(session: Session) -> Place:
    return Place(session.cursor.where, session.cursor.teeth)


def _line(pick: TriedPart | Taken, scene: Scene) -> Line:
    if isinstance(pick, TriedPart):
        return part_line(pick, scene.note, scene.look)
    cogs = " ".join(map(str, pick.setup.rear.cogs))
    mark = Span("fits  ", Role.OK) if pick.pick.fits else Span("! no  ", Role.CAUTION)
    return line(mark, f"{cogs}   ", Span(pick.setup.name, Role.DIM))


def _words(pick: TriedPart | Taken) -> str:
    if isinstance(pick, TriedPart):
        return f"{pick.part.name} {'fits' if pick.fits else 'no ' + ' '.join(pick.why_not)}"
    return f"{pick.setup.name} {pick.setup.rear.cogs[0]}-{pick.setup.rear.cogs[-1]}"


def _picked(of: TriedPart | Taken) -> TriedPart:
    return of if isinstance(of, TriedPart) else of.pick


def _take(store: SessionStore, of: TriedPart | Taken, _: str) -> None:
    pick = _picked(of)
    _unlook(store)
    edit(store, pick.edit)
    if pick.why_not:
        store.say(f"{pick.part.name} is on, but: {'; '.join(pick.why_not)}.")


def _show(store: SessionStore, of: TriedPart | Taken, _: str) -> None:
    """The bench as it would be, and what speaks against it; one that cannot be leaves it as it is."""
    pick = _picked(of)
    shown = _tried(store.session.bench, pick.edit)
    looking = pick.edit.say() if shown not in (None, store.session.bench) else ""
    store.change(preview=shown, looking=looking, message=why_not(pick))


def _tried(bench: Setup, change: Edit) -> Setup | None:
    try:
        return change.apply(bench)
    except EditRefused:
        return None


def _leave(store: SessionStore, _: str) -> None:
    _unlook(store)


def _unlook(store: SessionStore) -> None:
    store.replace(store.session.unlooked().say(""))


PARTS: Final = ListKind(each(_line), _take, _show, _leave, _words, height=14)
CASSETTES: Final = ListKind(each(_line), _take, _show, _leave, _words)
