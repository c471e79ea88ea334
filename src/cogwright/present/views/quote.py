"""The quote: what a change costs as lines of words and amounts, for order sheet, quote and hand-out."""

from typing import Final, NamedTuple

from cogwright.core.common.words import few
from cogwright.core.worksheet.sheet import OrderSheet

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
    """Parts, labour, tax and what is to pay, with what is not known said in its place."""
    sums = [_sum(sheet, "Parts", sheet.price)]
    sums.append(_sum(sheet, f"Labour, about {sheet.minutes:.0f} min", sheet.labour_cost))
    if sheet.tax is not None:
        within = "of it " if sheet.tax.included else ""
        tax = f"{within}{sheet.tax.name}, {sheet.tax.rate_pct:g} %"
        sums.append(_sum(sheet, tax[0].upper() + tax[1:], sheet.tax_amount))
    return [*sums, _sum(sheet, "To pay", sheet.to_pay)._replace(sum=True)]


def _sum(sheet: OrderSheet, what: str, amount: float | None) -> Amount:
    return Amount(what, "not known yet" if amount is None else f"{amount:.2f} {sheet.currency}")


def unknown_words(sheet: OrderSheet) -> str:
    """Why the sum is not known; empty where it is."""
    if sheet.to_pay is not None or not sheet.changes:
        return ""
    if sheet.unpriced:
        return f"No price is known yet for {few(sheet.unpriced, 3)}."
    return "No rate for labour is known."
