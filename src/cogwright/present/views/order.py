"""The Order view: the order sheet as lines, for the screen and for one printed page."""

from collections.abc import Iterator, Sequence
from typing import Final

from cogwright.core.common.safe_text import cells, cut
from cogwright.core.common.words import count, few
from cogwright.core.worksheet.sheet import Item, OrderSheet, Source, WorkStep
from cogwright.present.lines import Column, Line, Look, Role, Span, clip, line, table, wrap
from cogwright.present.panels.head import FIT
from cogwright.present.views.quote import amount_line, quote_amounts
from cogwright.present.views.wear import costs_lines

NO_BASELINE: Final = "Set a baseline first (b): the order sheet lists what the change from it takes."
NO_CHANGE: Final = "Nothing to order: the bench takes the same parts as its baseline."
RENEW: Final = "What is worn is renewed with i: a part of the bin, or the same one new."
_WORN: Final = ("chain wear", "new on worn", "ring wear")
DEFER: Final = (
    "Prices and times are the shop's own or estimates. The component makers' instructions and limits come"
    " first; what is in doubt goes to a qualified mechanic."
)
#: Cells of the lines of the quote: far from its name an amount is hard to read.
_QUOTE: Final = 66
_INDENT: Final = " " * 6
SIGN: Final = "Checked by: ______________________________  Date: ______________"


def order_verdict(sheet: OrderSheet | None) -> Span:
    """What the change costs in all."""
    if sheet is None:
        return Span(NO_BASELINE, Role.DIM)
    if not sheet.changes:
        return Span(NO_CHANGE, Role.OK)
    if len(sheet.unpriced) == len(sheet.on) > 0:
        return Span(f"{count(len(sheet.on), 'part')}, of unknown price.", Role.TITLE)
    unpriced = f", and {count(len(sheet.unpriced), 'part')} of unknown price" if sheet.unpriced else ""
    if sheet.to_pay is not None:
        tax = "" if sheet.tax is None else " and tax"
        return Span(f"In all {sheet.to_pay:.2f} {sheet.currency}, with labour{tax}{unpriced}.", Role.TITLE)
    return Span(f"Parts in all {sheet.parts_cost:.2f} {sheet.currency}{unpriced}.", Role.TITLE)


def order_lines(sheet: OrderSheet | None, look: Look, used: Sequence[str] = ()) -> list[Line]:
    """The sheet in lines of at most the look's width; `used` says what it was made with, on paper."""
    if sheet is None:
        return wrap(NO_BASELINE, look.width, Role.DIM)
    return [clip(row, look.width) for row in _lines(sheet, look, used)]


def _lines(sheet: OrderSheet, look: Look, used: Sequence[str]) -> Iterator[Line]:
    yield from wrap(f"Order sheet: {sheet.bench}", look.width, Role.TITLE, "  ")
    for said in used or (f"from {sheet.baseline}{bin_words(sheet)}",):
        yield from wrap(said, look.width, Role.BASE, "  ")
    if sheet.job.lines:
        yield from wrap("; ".join(sheet.job.lines), look.width, indent="  ")
    for text in warnings(sheet):
        yield from wrap(f"! {text}", look.width, Role.PROBLEM, "  ")
    if not sheet.changes:
        yield from wrap(NO_CHANGE, look.width)
        yield from wrap(RENEW, look.width) if any(p.startswith(_WORN) for p in sheet.problems) else ()
        return
    yield ()
    yield from _parts(sheet, look)
    yield ()
    for text in sums(sheet):
        yield from wrap(text, look.width, indent="  ")
    yield from (amount_line(amount, min(look.width, _QUOTE)) for amount in quote_amounts(sheet))
    yield ()
    yield line(Span("Work", Role.HEAD), Span(f"  about {sheet.minutes:.0f} min, an estimate", Role.DIM))
    for number, step in enumerate(sheet.steps, 1):
        yield from _step(number, step, look)
    if sheet.costs is not None:
        yield from costs_lines(sheet.costs, look)
    yield from wrap(DEFER, look.width, Role.DIM)
    yield line(SIGN)


def bin_words(sheet: OrderSheet) -> str:
    """Where the parts come from."""
    return f"; parts from {sheet.stock}" if sheet.stock else "; no parts bin"


def warnings(sheet: OrderSheet) -> list[str]:
    """Dangers, then whatever else will not go together even with these parts."""
    said, even = [*sheet.alarms], " even with these parts" if sheet.on else ""
    return said + [f"does not fit{even}, {text}" for text in sheet.problems if not _said_in(text, said)]


def _said_in(text: str, said: Sequence[str]) -> bool:
    return any(one in text for one in said)


def _parts(sheet: OrderSheet, look: Look) -> Iterator[Line]:
    """What comes off in a paragraph; what goes on as a table, cut down where there is no room for it."""
    if sheet.off:
        yield from wrap(f"Off: {'; '.join(map(_off, sheet.off))}.", look.width, Role.LOST, "  ")
    if not sheet.on:
        return
    kept = 2 if look.width < 64 else 5
    heads = [Column("On", False), Column("from", False), Column(sheet.currency), Column("g"), Column("days")]
    room = look.width - (8 if kept == 2 else 36)
    rows = [item_cells(item, room)[:kept] for item in sheet.on]
    head, *drawn = table(heads[:kept], rows)
    yield head
    for item, row in zip(sheet.on, drawn, strict=True):
        yield row
        if item.note:
            yield from (line("    ", part) for part in wrap(item.note, look.width - 4, Role.CAUTION))


def _off(item: Item) -> str:
    return item.what if item.mass_g is None else f"{item.what} ({item.mass_g:.0f} g)"


def item_cells(item: Item, room: int = 200) -> tuple[str | Span, ...]:
    """A part's row in the table: name, from where, price, mass in g, wait in days."""
    name = Span(cut(item.what, room), Role.GAINED)
    return (name, item.source.value, _money(item), _or_unknown(item.mass_g), _wait(item))


def _money(item: Item) -> str:
    if item.source is Source.OFF:
        return ""
    return "unknown" if item.price is None else f"{item.price:.2f}"


def _or_unknown(mass_g: float | None) -> str:
    return "unknown" if mass_g is None else f"{mass_g:.0f}"


def _wait(item: Item) -> str:
    if item.source is not Source.BUY:
        return ""
    return "unknown" if item.lead_days is None else str(item.lead_days)


def sums(sheet: OrderSheet) -> list[str]:
    """Where the parts come from and what they cost, mass and wait; what is not known is named."""
    said = [_cost(sheet), f"{_mass(sheet)} {_waiting(sheet)}".rstrip()]
    if sheet.unchecked:
        said.append(f"Not checked: {', '.join(sheet.unchecked)} (facts missing, see {FIT} Fit).")
    return said


def _cost(sheet: OrderSheet) -> str:
    if len(sheet.unpriced) == len(sheet.on) > 0:
        return "Parts: no price known."
    unknown = f", and the unknown price of {_few(sheet.unpriced)}" if sheet.unpriced else ""
    split = f"{sheet.cost(Source.STOCK):.2f} from stock, {sheet.cost(Source.BUY):.2f} to buy"
    return f"Parts {sheet.parts_cost:.2f} {sheet.currency}: {split}{unknown}."


def _mass(sheet: OrderSheet) -> str:
    """The mass change, as far as each part can be set against the one that it replaces."""
    if sheet.weighs_nothing:
        return "Mass: not known."
    without = f", without {_few(sheet.unweighed)} (not weighed)" if sheet.unweighed else ""
    return f"Mass about {sheet.mass_change_g:+.0f} g by like parts in the bin{without}."


def _waiting(sheet: OrderSheet) -> str:
    if not sheet.parts_from(Source.BUY):
        return ""
    unknown = f"unknown for {_few(sheet.unscheduled)}" if sheet.unscheduled else ""
    if sheet.wait_days is None:
        return f"Wait {unknown}."
    days = f"{sheet.wait_days} day{'' if sheet.wait_days == 1 else 's'}"
    return f"Longest wait {days}{f', {unknown}' if unknown else ''}."


def _few(names: Sequence[str]) -> str:
    return few([name.split(",", maxsplit=1)[0] for name in names], 3)


def _step(number: int, step: WorkStep, look: Look) -> Iterator[Line]:
    """One step with a box to tick; its cautions beside it where they fit, else below."""
    minutes = f" ({step.minutes:.0f} min)" if step.minutes else ""
    said = f"[ ] {number} {step.do}{minutes}"
    cautions = f"! {'; '.join(step.cautions)}"
    if not step.cautions:
        yield from wrap(said, look.width, indent=_INDENT)
    elif cells(said) + 2 + cells(cautions) <= look.width:
        yield line(said, "  ", Span(cautions, Role.CAUTION))
    else:
        yield from wrap(said, look.width, indent=_INDENT)
        room = look.width - len(_INDENT)
        yield from (line(_INDENT, row) for row in wrap(cautions, room, Role.CAUTION, "  "))
