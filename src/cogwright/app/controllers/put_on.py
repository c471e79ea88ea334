"""Put a part of the bin on, or the cassette of another setup; each shows on the bench while looked at."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from cogwright.app.controllers.editing import edit
from cogwright.app.controllers.order import choose_bin, load_bin
from cogwright.app.controllers.registry import does
from cogwright.app.controllers.shelf import other_setups
from cogwright.app.pickers.scene import Scene, each
from cogwright.app.state.opened import ListKind, PickList
from cogwright.app.state.session import Session
from cogwright.app.state.store import SessionStore
from cogwright.core.common.errors import EditRefused, InputError
from cogwright.core.common.safe_text import cells
from cogwright.core.common.words import both_ends
from cogwright.core.parts.bin import CassettePart
from cogwright.core.parts.which_fit import SprocketPlace, TriedPart, cassette_of, try_parts
from cogwright.core.setup.model import Setup
from cogwright.core.setup.sprockets import Edit
from cogwright.core.setup.teeth_lists import CassetteRange, cassette_in, fits_range
from cogwright.core.study import Study
from cogwright.present.lines import Line, Role, Span, line
from cogwright.present.panels.part_rows import part_line, why_not


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
        Taken(setup, cassette_of(setup, session.study, _place(session))) for _, setup in other_setups(store)
    ]
    if stock is not None:
        of_bin = try_parts(stock, session.study, _place(session))
        found += [pick for pick in of_bin if isinstance(pick.part, CassettePart)]
    trying = Trying(session.study, _place(session), stock.currency if stock else "")
    store.open(PickList(CASSETTES, "Put another cassette on", tuple(found), trying))


@dataclass(frozen=True, slots=True)
class Trying:
    """What a typed cassette is tried on, and the currency of the bin's prices."""

    study: Study
    place: SprocketPlace
    currency: str

    def typed(self, cogs: tuple[int, ...]) -> "Taken":
        """The cassette of these cogs."""
        bench = self.study.bench
        named = bench.model_copy(
            update={"name": "as typed", "rear": bench.rear.model_copy(update={"cogs": cogs, "carriers": ()})}
        )
        return Taken(named, cassette_of(named, self.study, self.place))


@dataclass(frozen=True, slots=True)
class Taken:
    """The cassette of another setup."""

    setup: Setup
    pick: TriedPart


def _place(session: Session) -> SprocketPlace:
    return SprocketPlace(session.cursor.where, session.cursor.teeth)


def _line(pick: TriedPart | Taken, scene: Scene) -> Line:
    if isinstance(pick, TriedPart):
        currency = scene.note.currency if isinstance(scene.note, Trying) else scene.note
        return part_line(pick, currency, scene.look)
    mark = Span("fits  ", Role.OK) if pick.pick.fits else Span("! no  ", Role.CAUTION)
    room = max(scene.look.width - len(mark.text) - cells(pick.setup.name) - 3, 9)
    cogs = both_ends(list(map(str, pick.setup.rear.cogs)), room)  # the name wins
    return line(mark, f"{cogs}   ", Span(pick.setup.name, Role.DIM))


def _words(pick: TriedPart | Taken) -> str:
    if isinstance(pick, TriedPart):
        return f"{pick.part.name} {'fits' if pick.fits else 'no ' + ' '.join(pick.why_not)}"
    return f"{pick.setup.name} {pick.setup.rear.cogs[0]}-{pick.setup.rear.cogs[-1]}"


def _cogs(pick: TriedPart | Taken) -> tuple[int, ...]:
    part = _picked(pick).part
    return part.cogs if isinstance(part, CassettePart) else ()


def _typed(text: str, trying: Trying, there: Sequence[TriedPart | Taken]) -> list[TriedPart | Taken] | None:
    """A cassette by its cogs, or all that its ends can mean; None where a name is typed."""
    try:
        wanted = cassette_in(text)
    except InputError:
        return None
    if isinstance(wanted, CassetteRange):
        return [one for one in there if fits_range(wanted, _cogs(one))]
    return [trying.typed(wanted)] if len(wanted) > 1 else None


def _typing_head(_: Scene) -> list[Line]:
    return [(Span(" type a name, its ends such as 11-32, or its cogs such as 11 13 15", Role.DIM),)]


def _picked(of: TriedPart | Taken) -> TriedPart:
    return of if isinstance(of, TriedPart) else of.pick


def _take(store: SessionStore, of: TriedPart | Taken, _: object) -> None:
    pick = _picked(of)
    _unlook(store)
    edit(store, pick.edit)
    if pick.why_not:
        store.say(f"{pick.part.name} is on, but: {'; '.join(pick.why_not)}.")


def _show(store: SessionStore, of: TriedPart | Taken, _: object) -> None:
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


def _leave(store: SessionStore, _: object) -> None:
    _unlook(store)


def _unlook(store: SessionStore) -> None:
    store.replace(store.session.unlooked().say(""))


PARTS: Final = ListKind(each(_line), _take, _show, _leave, _words, height=14)
CASSETTES: Final = ListKind(
    each(_line),
    _take,
    _show,
    _leave,
    _words,
    made=_typed,
    nothing="no such cassette in the bin or on the shelf: type its cogs, such as 11 13 15",
    head=_typing_head,
)
