"""The order sheet as lines for the screen and for one printed page, as Markdown, and as data."""

import json
from collections.abc import Iterator, Sequence
from typing import Final

from cogwright.core.common.safe_text import cells, cut
from cogwright.core.worksheet.sheet import Item, Order, Source, Step
from cogwright.present.lines import Column, Line, Look, Role, Span, clip, line, table, wrap
from cogwright.present.report.report import md

NO_BASELINE: Final = "Set a baseline first (b): the order sheet lists what the change from it takes."
NO_CHANGE: Final = "Nothing to order: the bench takes the same parts as its baseline."
DEFER: Final = (
    "Prices and times are the shop's own or estimates. The component makers' instructions and limits come"
    " first; what is in doubt goes to a qualified mechanic."
)
_INDENT: Final = " " * 6
SIGN: Final = "Checked by: ______________________________  Date: ______________"


def order_lines(order: Order | None, look: Look) -> list[Line]:
    """The sheet in lines of at most the look's width."""
    if order is None:
        return wrap(NO_BASELINE, look.width, Role.DIM)
    return [clip(row, look.width) for row in _lines(order, look)]


def _lines(order: Order, look: Look) -> Iterator[Line]:
    yield line(Span(f"Order sheet: {order.bench}", Role.TITLE))
    yield from wrap(f"from {order.baseline}{_bin(order)}", look.width, Role.BASE, "  ")
    for text in _warnings(order):
        yield from wrap(f"! {text}", look.width, Role.PROBLEM, "  ")
    if not order.changes:
        yield from wrap(NO_CHANGE, look.width)
        return
    yield ()
    yield from _parts(order, look)
    yield ()
    for text in sums(order):
        yield from wrap(text, look.width, indent="  ")
    yield ()
    yield line(Span("Work", Role.HEAD), Span(f"  about {order.minutes:.0f} min, an estimate", Role.DIM))
    for number, step in enumerate(order.steps, 1):
        yield from _step(number, step, look)
    yield from wrap(DEFER, look.width, Role.DIM)
    yield line(SIGN)


def _bin(order: Order) -> str:
    return f"; parts from {order.stock}" if order.stock else "; no parts bin"


def _warnings(order: Order) -> list[str]:
    """Dangers, then whatever else will not go together even with these parts."""
    said = [*order.alarms]
    return said + [f"does not fit yet, {text}" for text in order.problems if not _said_in(text, said)]


def _said_in(text: str, said: Sequence[str]) -> bool:
    return any(one in text for one in said)


def _parts(order: Order, look: Look) -> Iterator[Line]:
    """What comes off in a paragraph; what goes on as a table, cut down where there is no room for it."""
    if order.off:
        yield from wrap(f"Off: {'; '.join(map(_off, order.off))}.", look.width, Role.LOST, "  ")
    if not order.on:
        return
    kept = 2 if look.width < 64 else 5
    heads = [Column("On", False), Column("from", False), Column(order.currency), Column("g"), Column("days")]
    room = look.width - (8 if kept == 2 else 36)
    rows = [_row(item, room)[:kept] for item in order.on]
    head, *drawn = table(heads[:kept], rows)
    yield head
    for item, row in zip(order.on, drawn, strict=True):
        yield row
        if item.note:
            yield from (line("    ", part) for part in wrap(item.note, look.width - 4, Role.CAUTION))


def _off(item: Item) -> str:
    return item.what if item.mass_g is None else f"{item.what} ({item.mass_g:.0f} g)"


def _row(item: Item, room: int = 200) -> tuple[str | Span, ...]:
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


def sums(order: Order) -> list[str]:
    """Cost, labour, mass and wait as sentences; what is not known is named."""
    said = [_cost(order)]
    if order.labour_cost is not None:
        rate = f"{order.minutes:.0f} min at {order.rate_per_hour:.2f} {order.currency} an hour"
        whole = order.parts_cost + order.labour_cost
        total = f"; in all {whole:.2f} {order.currency}" if not order.unpriced else ""
        said.append(f"Labour about {order.labour_cost:.2f} {order.currency} ({rate}){total}.")
    said.append(f"{_mass(order)} {_waiting(order)}".rstrip())
    if order.unchecked:
        said.append(f"Not checked, for want of facts in the setup: {', '.join(order.unchecked)}.")
    return said


def _cost(order: Order) -> str:
    if len(order.unpriced) == len(order.on) > 0:
        return "Parts: no price known."
    unknown = f", and the unknown price of {_few(order.unpriced)}" if order.unpriced else ""
    split = f"{order.cost(Source.STOCK):.2f} from stock, {order.cost(Source.BUY):.2f} to buy"
    return f"Parts {order.parts_cost:.2f} {order.currency}: {split}{unknown}."


def _mass(order: Order) -> str:
    """The mass change, as far as each part can be set against the one that it replaces."""
    if all(change.off and change.on and change.not_weighed for change in order.changes):
        return "Mass: not known."
    weighed = {item.what for change in order.changes for item in (*change.on, *change.off)}
    if len(order.unweighed) >= len(weighed):
        return "Mass: not known."
    without = f", without {_few(order.unweighed)} (not weighed)" if order.unweighed else ""
    return f"Mass about {order.mass_change_g:+.0f} g by like parts in the bin{without}."


def _waiting(order: Order) -> str:
    if not order.parts_from(Source.BUY):
        return ""
    unknown = f"unknown for {_few(order.unscheduled)}" if order.unscheduled else ""
    if order.wait_days is None:
        return f"Wait {unknown}."
    days = f"{order.wait_days} day{'' if order.wait_days == 1 else 's'}"
    return f"Longest wait {days}{f', {unknown}' if unknown else ''}."


def _few(names: Sequence[str]) -> str:
    shown = [name.split(",", maxsplit=1)[0] for name in names[:3]]
    more = f" and {len(names) - 3} more" if len(names) > 3 else ""
    return ", ".join(shown) + more


def _step(number: int, step: Step, look: Look) -> Iterator[Line]:
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


def order_markdown(order: Order) -> str:
    """The sheet for a ticket: headings, a table of parts, a list to tick off."""
    rows = [f"# Order sheet: {md(order.bench)}", "", f"From {md(order.baseline)}{md(_bin(order))}.", ""]
    rows += [f"**{md(text)}**\n" for text in _warnings(order)]
    if not order.changes:
        return "\n".join([*rows, NO_CHANGE]) + "\n"
    heads = ["part", "from", md(order.currency), "g", "days"]
    rows += ["## Parts", "", _md_row(heads), _md_row(["---", "---", "---:", "---:", "---:"])]
    rows += [_md_row([_plain(cell) for cell in _row(i)]) for i in (*order.off, *order.on)]
    notes = [f"{i.what}: {i.note}" for i in order.on if i.note]
    rows += ["", *(f"- {md(text)}" for text in [*notes, *sums(order)]), "", "## Work", ""]
    rows += [f"About {order.minutes:.0f} min, an estimate.", ""]
    for step in order.steps:
        minutes = f" ({step.minutes:.0f} min)" if step.minutes else ""
        rows.append(f"- [ ] {md(step.do)}{minutes}")
        rows += [f"    - {md(text)}" for text in step.cautions]
    return "\n".join([*rows, "", DEFER]) + "\n"


def _plain(cell: str | Span) -> str:
    return md(cell.text if isinstance(cell, Span) else cell)


def _md_row(row: Sequence[str]) -> str:
    return f"| {' | '.join(row)} |"


def order_json(order: Order) -> str:
    """The sheet as one JSON object, pure ASCII. Scripts rely on the keys: add, never rename."""
    return json.dumps(order_document(order), indent=2, allow_nan=False) + "\n"


def order_document(order: Order) -> dict[str, object]:
    """What `order_json` writes, as plain values. Money in the bin's currency, masses in g."""
    return {
        "format": 1,
        "bench": order.bench,
        "baseline": order.baseline,
        "bin": order.stock or None,
        "currency": order.currency,
        "remove": [_item(item) for item in order.off],
        "fit": [_item(item) for item in order.on],
        "buy": [item.what for item in order.parts_from(Source.BUY)],
        "from_stock": [item.what for item in order.parts_from(Source.STOCK)],
        "cost": {
            "parts": round(order.parts_cost, 2),
            "from_stock": round(order.cost(Source.STOCK), 2),
            "to_buy": round(order.cost(Source.BUY), 2),
            "labour": None if order.labour_cost is None else round(order.labour_cost, 2),
            "unknown": list(order.unpriced),
        },
        "mass_change_g": round(order.mass_change_g, 1),
        "mass_unknown": list(order.unweighed),
        "wait_days": order.wait_days,
        "labour_minutes": round(order.minutes, 1),
        "steps": [{"do": s.do, "minutes": s.minutes, "cautions": list(s.cautions)} for s in order.steps],
        "alarms": list(order.alarms),
        "problems": list(order.problems),
    }


def _item(item: Item) -> dict[str, object]:
    return {
        "what": item.what,
        "source": item.source.value,
        "price": item.price,
        "mass_g": item.mass_g,
        "lead_days": item.lead_days,
        "note": item.note,
    }
