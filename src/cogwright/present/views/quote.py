"""The quote: what a change costs as lines of words and amounts, for order sheet, quote and hand-out."""

from typing import Final, NamedTuple

from cogwright.core.common.safe_text import cells, pad
from cogwright.core.common.words import few
from cogwright.core.worksheet.sheet import OrderSheet
from cogwright.present.lines import Line, Role, Span, line, spread

SIGN: Final = "Agreed: ______________________________  Date: ______________"
ESTIMATE: Final = (
    "Labour is an estimate: what it really takes may differ, and more is only done after asking you."
)


class Amount(NamedTuple):
    """A line of a quote: what it is for, and how much, in words where it is not known."""

    what: str
    amount: str
    sum: bool = False


def quote_amounts(sheet: OrderSheet) -> list[Amount]:
    """Parts, labour, their total, tax and what is to pay, with what is not known said in its place."""
    sums = [_sum(sheet, "Parts", sheet.price)]
    sums.append(_sum(sheet, _labour(sheet), sheet.labour_cost))
    if sheet.tax is not None:
        sums += [] if sheet.tax.included else [_sum(sheet, "Total without tax", sheet.total)]
        within = "of it " if sheet.tax.included else ""
        tax = f"{within}{sheet.tax.name}, {sheet.tax.rate_pct:g} %"
        sums.append(_sum(sheet, tax[0].upper() + tax[1:], sheet.tax_amount))
    return [*sums, _sum(sheet, "To pay", sheet.to_pay)._replace(sum=True)]


def _labour(sheet: OrderSheet) -> str:
    rate = sheet.rate_per_hour
    by = "" if rate is None else f" at {rate:.2f} {sheet.currency}/h"
    return f"Labour, about {sheet.minutes:.0f} min{by}"


def _sum(sheet: OrderSheet, what: str, amount: float | None) -> Amount:
    return Amount(what, "not known yet" if amount is None else f"{amount:.2f} {sheet.currency}")


def amount_line(of: Amount, room: int) -> Line:
    """A line of a quote in so many cells, the amount at its end."""
    what = line(Span(f"  {pad(of.what, max(room - 24, cells(of.what[:40])))}"))
    return spread(what, line(Span(of.amount, Role.TITLE if of.sum else Role.TEXT)), room)


def unknown_words(sheet: OrderSheet) -> str:
    """Why the sum is not known; empty where it is."""
    if sheet.to_pay is not None or not sheet.changes:
        return ""
    if sheet.unpriced:
        return f"No price is known yet for {few(sheet.unpriced, 3)}."
    return "No rate for labour is known."
