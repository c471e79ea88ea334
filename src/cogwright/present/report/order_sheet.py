"""The order sheet as Markdown for a ticket, and as JSON; its text is that of the Order view."""

import json
from collections.abc import Sequence

from cogwright.core.worksheet.sheet import Item, OrderSheet, Source
from cogwright.present.lines import Look, Span, plain
from cogwright.present.report.fit_data import costs_json
from cogwright.present.report.markdown import md, md_row
from cogwright.present.views.order import DEFER, NO_CHANGE, bin_words, item_cells, sums, warnings
from cogwright.present.views.quote import quote_amounts
from cogwright.present.views.wear import costs_lines


def order_markdown(sheet: OrderSheet, used: Sequence[str] = ()) -> str:
    """The sheet for a ticket: headings, a table of parts, a list to tick off."""
    rows = [f"# Order sheet: {md(sheet.bench)}", "", f"From {md(sheet.baseline)}{md(bin_words(sheet))}.", ""]
    rows += [f"{md(said)}\n" for said in used]
    rows += [f"{md(said)}\n" for said in sheet.job.lines]
    rows += [f"**{md(text)}**\n" for text in warnings(sheet)]
    if not sheet.changes:
        return "\n".join([*rows, NO_CHANGE]) + "\n"
    heads = ["part", "from", md(sheet.currency), "g", "days"]
    rows += ["## Parts", "", md_row(heads), md_row(["---", "---", "---:", "---:", "---:"])]
    rows += [md_row([_plain(cell) for cell in item_cells(i)]) for i in (*sheet.off, *sheet.on)]
    notes = [f"{i.what}: {i.note}" for i in sheet.on if i.note]
    rows += ["", *(f"- {md(text)}" for text in [*notes, *sums(sheet)]), ""]
    rows += ["## Quote", "", *(f"- {md(one.what)}: {md(one.amount)}" for one in quote_amounts(sheet)), ""]
    rows += ["## Work", ""]
    rows += [f"About {sheet.minutes:.0f} min, an estimate.", ""]
    for step in sheet.steps:
        minutes = f" ({step.minutes:.0f} min)" if step.minutes else ""
        rows.append(f"- [ ] {md(step.do)}{minutes}")
        rows += [f"    - {md(text)}" for text in step.cautions]
    if sheet.costs is not None:
        rows += [f"    {plain(row)}" if row else "" for row in costs_lines(sheet.costs, Look())]
    return "\n".join([*rows, "", DEFER]) + "\n"


def _plain(cell: str | Span) -> str:
    return md(cell.text if isinstance(cell, Span) else cell)


def order_json(sheet: OrderSheet, used: Sequence[str] = ()) -> str:
    """The sheet as one JSON object, pure ASCII. Scripts rely on the keys: add, never rename."""
    return json.dumps(order_document(sheet) | {"used": list(used)}, indent=2, allow_nan=False) + "\n"


def order_document(sheet: OrderSheet) -> dict[str, object]:
    """What `order_json` writes, as plain values. Money in the bin's currency, masses in g."""
    return {
        "format": 1,
        "bench": sheet.bench,
        "baseline": sheet.baseline,
        "bin": sheet.stock or None,
        "currency": sheet.currency,
        "remove": [_item(item) for item in sheet.off],
        "fit": [_item(item) for item in sheet.on],
        "buy": [item.what for item in sheet.parts_from(Source.BUY)],
        "from_stock": [item.what for item in sheet.parts_from(Source.STOCK)],
        "cost": {
            "parts": round(sheet.parts_cost, 2),
            "from_stock": round(sheet.cost(Source.STOCK), 2),
            "to_buy": round(sheet.cost(Source.BUY), 2),
            "labour": _cents(sheet.labour_cost),
            "unknown": list(sheet.unpriced),
        },
        "parts_cost": _cents(sheet.price),
        "labour_cost": _cents(sheet.labour_cost),
        "total": _cents(sheet.total),
        "tax": None if sheet.tax is None else sheet.tax.model_dump() | {"amount": _cents(sheet.tax_amount)},
        "to_pay": _cents(sheet.to_pay),
        "job": sheet.job.model_dump(mode="json", exclude_none=True),
        "mass_change_g": round(sheet.mass_change_g, 1),
        "mass_unknown": list(sheet.unweighed),
        "wait_days": sheet.wait_days,
        "labour_minutes": round(sheet.minutes, 1),
        "steps": [{"do": s.do, "minutes": s.minutes, "cautions": list(s.cautions)} for s in sheet.steps],
        "alarms": list(sheet.alarms),
        "problems": list(sheet.problems),
        "wear_costs": None if sheet.costs is None else costs_json(sheet.costs),
    }


def _cents(amount: float | None) -> float | None:
    """Money as it is paid; None while a part of it is not known."""
    return None if amount is None else round(amount, 2)


def _item(item: Item) -> dict[str, object]:
    return {
        "what": item.what,
        "source": item.source.value,
        "price": item.price,
        "mass_g": item.mass_g,
        "lead_days": item.lead_days,
        "note": item.note,
        "part": item.part.name if item.part else None,
    }
