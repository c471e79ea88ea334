"""Actions with the parts bin: choose one, pick a part of it onto the bench."""

from dataclasses import replace
from typing import TYPE_CHECKING

from cogwright.app.controllers.bench import edit
from cogwright.app.controllers.handlers import does
from cogwright.app.pickers.content import Choice, Content
from cogwright.core.common.errors import EditRefused, InputError
from cogwright.core.parts.bin import Bin, CassettePart
from cogwright.core.parts.which_fit import Place, TriedPart, cassette_of, try_parts
from cogwright.core.setup.edits import Edit
from cogwright.core.setup.model import Setup
from cogwright.present.lines import Role, Span, line
from cogwright.present.panels.parts import part_line, why_not
from cogwright.store.bins import bin_files, read_bin

if TYPE_CHECKING:
    from cogwright.app.main import BenchApp


def load_bin(app: "BenchApp") -> None:
    """The first bin of the folder that can be read, if none is chosen yet; a bad one says what is wrong."""
    if app.session.stock is not None:
        return
    for path in bin_files(app.folder):
        try:
            app.session = replace(app.session, stock=read_bin(path).value)
        except InputError as error:
            app.say(f"This parts bin cannot be read: {error.problems[0]}")
            continue
        return


@does("view-6")
def look_at_order(app: "BenchApp") -> None:
    """The order sheet, with the bin's prices where there is a bin."""
    app.session = app.session.looked(6)
    load_bin(app)
    app.redraw()


@does("bin")
def choose_bin(app: "BenchApp") -> None:
    """Choose the parts bin."""
    found: list[Choice] = []
    for path in bin_files(app.folder):
        try:
            stock = read_bin(path).value
            text = line(f"{stock.name}   ", Span(f"{sum(1 for _ in stock.parts)} kinds of parts", Role.DIM))
            found.append(Choice(text, stock))
        except InputError as error:
            found.append(Choice((Span(f"! {error.problems[0]}", Role.PROBLEM),), None))
    if not found:
        app.say("There is no parts bin here: put one into the folder bins, as the README says.")
        return
    app.drawer_open(Content("Parts bin", found, pick=lambda stock: _take_bin(app, stock)))


def _take_bin(app: "BenchApp", stock: Bin | None) -> None:
    if stock is not None:
        app.become(replace(app.session, stock=stock, message=f"Parts bin: {stock.name}."))


@does("part")
def part(app: "BenchApp") -> None:
    """Pick a part of the bin; each shows on the bench while it is looked at."""
    load_bin(app)
    session = app.session
    if session.stock is None:
        choose_bin(app)
        return
    stock, here = session.stock, session.cursor
    look = app.look.narrower(3)
    choices = [
        Choice(part_line(each, stock.currency, look), each)
        for each in try_parts(stock, session.study, _place(app))
    ]
    app.drawer_open(
        Content(
            f"{stock.name}: in place of {here.where} {here.teeth}",
            choices,
            pick=lambda each: _put(app, each),
            move=lambda each: _show(app, each),
            leave=app.unpreview,
            filter=True,
            height=14,
        )
    )


def _put(app: "BenchApp", pick: TriedPart) -> None:
    app.unpreview()
    edit(app, pick.edit)
    if pick.why_not:
        app.say(f"{pick.part.name} is on, but: {'; '.join(pick.why_not)}.")


def _show(app: "BenchApp", pick: TriedPart) -> None:
    """The bench as it would be, and what speaks against it; one that cannot be leaves it as it is."""
    _try_on(app, pick.edit, why_not(pick))


def _try_on(app: "BenchApp", change: Edit, message: str = "") -> None:
    try:
        shown: Setup | None = change.apply(app.session.bench)
    except EditRefused:
        shown = None
    looking = change.say() if shown not in (None, app.session.bench) else ""
    app.become(replace(app.session, preview=shown, looking=looking, message=message))


@does("cassette")
def cassette(app: "BenchApp") -> None:
    """Replace the whole cassette by one of another setup, or of the parts bin."""
    load_bin(app)
    choices = [*(_cassette(app, setup) for setup in app.other_setups()), *_bin_cassettes(app)]
    if not choices:
        app.say("There is no other setup in this folder, and no parts bin, to take a cassette from.")
        return
    app.drawer_open(
        Content(
            "Put another cassette on",
            choices,
            pick=lambda pick: _put(app, pick),
            move=lambda pick: _show(app, pick),
            leave=app.unpreview,
            filter=True,
        )
    )


def _cassette(app: "BenchApp", setup: Setup) -> Choice:
    cogs = " ".join(map(str, setup.rear.cogs))
    pick = cassette_of(setup, app.session.study, _place(app))
    mark = Span("fits  ", Role.OK) if pick.fits else Span("! no  ", Role.CAUTION)
    return Choice(line(mark, f"{cogs}   ", Span(setup.name, Role.DIM)), pick)


def _bin_cassettes(app: "BenchApp") -> list[Choice]:
    stock = app.session.stock
    if stock is None:
        return []
    found = try_parts(stock, app.session.study, _place(app))
    look = app.look.narrower(3)
    whole = [pick for pick in found if isinstance(pick.part, CassettePart)]
    return [Choice(part_line(pick, stock.currency, look), pick) for pick in whole]


def _place(app: "BenchApp") -> Place:
    return Place(app.session.cursor.where, app.session.cursor.teeth)
