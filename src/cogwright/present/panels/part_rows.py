"""The parts bin as rows to choose from."""

from collections.abc import Sequence

from cogwright.core.common.safe_text import pad
from cogwright.core.common.words import count
from cogwright.core.parts.bin import HubPart
from cogwright.core.parts.which_fit import TriedPart
from cogwright.present.lines import Line, Look, Role, Span, clip, line, opening, width

_NAME = 40
#: From this width there is room for the mass and for a reason too.
_WIDE = 96


def part_line(tried: TriedPart, currency: str, look: Look) -> Line:
    """One part: name, price, how many lie there, and whether it fits; mass and why not where there is room.

    What speaks against the marked one stands in full below the list's bench (`why_not`).
    """
    part = tried.part
    price = "no price" if part.price is None else f"{part.price:.2f} {currency}"
    wait = "" if part.lead_days is None else f", {count(part.lead_days, 'day')}"
    there = f"{part.count} in stock" if part.count else f"order{wait}"
    name = pad(part.name, min(_NAME, max(look.width - 38, 10)))
    mass = "" if look.width < _WIDE else f"{'-' if part.mass_g is None else f'{part.mass_g:.0f} g':>7}"
    row = line(" ", name, f"{price:>12}{mass}  ", Span(f"{there:<13}", Role.TEXT if part.count else Role.DIM))
    if tried.fits:
        return clip(line(row, Span("fits", Role.OK)), look.width)
    why = tried.why_not[0] if look.width >= _WIDE else "no"
    return clip(line(row, opening(f"! {why}", look.width - width(row), Role.CAUTION)), look.width)


def part_lines(tried: Sequence[TriedPart], currency: str, look: Look) -> list[Line]:
    """All rows, in order."""
    return [part_line(one, currency, look) for one in tried]


def why_not(tried: TriedPart) -> str:
    """Every reason against a part in one sentence, or that it fits."""
    said = list(tried.why_not) or ["fits, as far as the file says"]
    said += [tried.part.said] if isinstance(tried.part, HubPart) else []
    return f"{tried.part.name}: {'; '.join(said)}."
